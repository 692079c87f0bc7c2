// Odds, rates and readings for the board: the same sums and the same words as the program's own (a test compares).
"use strict";
const boardWords = (() => {
  function significant(value, digits) {
    digits = digits || 2;
    if (!Number.isFinite(value)) return "unknown";
    if (value === 0) return "0";
    const places = digits - 1 - Math.floor(Math.log10(Math.abs(value)));
    if (places > 0) {
      const text = value.toFixed(Math.min(places, 12)).replace(/0+$/, "").replace(/\.$/, "");
      return text === "-0" || text === "" ? "0" : text;
    }
    const step = Math.pow(10, -places);
    return String(Math.round(value / step) * step).replace(/\B(?=(\d{3})+(?!\d))/g, ",");
  }
  function directed(value, way) {
    if (!Number.isFinite(value) || value === 0) return significant(value);
    const step = Math.pow(10, Math.floor(Math.log10(Math.abs(value))) - 1);
    const ratio = value / step, near = Math.round(ratio);
    return significant((Math.abs(ratio - near) < 1e-9 * Math.abs(ratio) ? near : way(ratio)) * step);
  }
  function oneIn(odds, risk) {
    if (!Number.isFinite(odds)) return "unknown";
    if (odds <= 0 && !risk) return "none";
    if (odds < 1e-4) return risk ? "1 in 10,000" : "under 1 in 10,000";
    if (odds > 0.95) return "almost certain";
    if (odds < 0.4) {
      const value = 1 / odds, step = Math.pow(10, Math.max(Math.floor(Math.log10(value)) - 1, 0));
      const whole = Math.max(Math.trunc((risk ? Math.floor(value / step + 1e-9) : Math.round(value / step)) * step), 1);
      if (whole > 2) return "1 in " + String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, ",");
    }
    const tenths = risk ? Math.ceil(odds * 10) : Math.round(odds * 10);
    return tenths < 10 ? Math.min(Math.max(tenths, 4), 9) + " in 10" : "almost certain";
  }
  const oddsOf = (rate, hours) => -Math.expm1(-rate * hours);
  function oddsWords(rate, high, hours) {
    const best = oneIn(oddsOf(rate, hours)), bound = oneIn(oddsOf(high, hours), true);
    if (rate === 0) {
      return bound === "almost certain" ? "none seen: too few hours to tell" : "none seen; at worst " + bound;
    }
    return bound === best || best === "under " + bound ? best : best + " (at worst " + bound + ")";
  }
  // corners of the cell round a place, or the name of the axis it lies outside
  function corners(axes, place) {
    let found = [[0, 1]];
    for (const axis of axes) {
      const values = axis.values, last = values.length - 1, span = Math.max(values[last] - values[0], 1);
      let value = place[axis.name];
      if (!(values[0] - 1e-9 * span <= value && value <= values[last] + 1e-9 * span)) return { outside: axis.name };
      value = Math.min(Math.max(value, values[0]), values[last]);
      let i = 0;
      while (i < last - 1 && value > values[i + 1]) i++;
      const weight = last > 0 ? shareBetween(axis.name, values[i], values[i + 1], value) : 0;
      if (axis.name === "sea" && weight !== 0 && weight !== 1) return { outside: "sea" };
      const steps = [[i, 1 - weight], [Math.min(i + 1, last), weight]], next = [];
      for (const [n, w] of found) for (const [k, v] of steps) if (v !== 0) next.push([n * values.length + k, w * v]);
      found = next;
    }
    return { found: found };
  }
  function shareBetween(name, first, last, value) {
    const bent = (x) => (name === "hs_m" && first > 0 ? -1 / (x * x) : x);
    return (bent(value) - bent(first)) / (bent(last) - bent(first));
  }
  const LEAST = 1e-7, curved = (name) => name.includes("_rate") || name.startsWith("wear");
  function blend(name, fields, found) {
    const list = fields[name];
    for (const [index] of found) if (list[index] === null) return null;
    if (found.length === 1) return list[found[0][0]];
    const bent = curved(name);
    let total = 0;
    for (const [index, weight] of found) {
      total += weight * (bent ? Math.log(Math.max(list[index], LEAST)) : list[index]);
    }
    return bent ? (total > Math.log(LEAST) + 1e-9 ? Math.exp(total) : 0) : total;
  }
  // the steady rate [1/h] that has the odds of a reading in so many hours: all told, odds grow slower than one rate's
  function rateIn(board, reading, name, hours) {
    const times = board.durations_h || [];
    if (!times.length) return reading[name];
    const within = Math.min(Math.max(hours, times[0]), times[times.length - 1]);
    let k = 0;
    while (k < times.length - 2 && within > times[k + 1]) k++;
    const share = Math.log(within / times[k]) / Math.log(times[k + 1] / times[k]);
    const ends = [k, k + 1].map((n) => blend(name + n, board.in_durations, reading.found));
    if (ends[0] === null || ends[1] === null) return null;
    const total = (1 - share) * Math.log(Math.max(ends[0], LEAST)) + share * Math.log(Math.max(ends[1], LEAST));
    return total > Math.log(LEAST) + 1e-9 ? Math.exp(total) : 0;
  }
  // the odds of one side in so many hours, in words
  const oddsInWords = (board, reading, side, hours) => oddsWords(rateIn(board, reading, side + "_rate", hours),
    rateIn(board, reading, side + "_rate_high", hours), hours);
  function interpolate(board, place) {
    const cell = corners(board.axes, place);
    if (cell.outside) return { outside: cell.outside };
    const reading = {};
    for (const name in board.fields) reading[name] = blend(name, board.fields, cell.found);
    if (reading.reverse_rate_high === null) return { outside: "gap" };
    reading.found = cell.found;
    return reading;
  }
  return { significant, directed, oneIn, oddsOf, oddsWords, rateIn, oddsInWords, corners, blend, interpolate,
    upwards: (value) => directed(value, Math.ceil), downwards: (value) => directed(value, Math.floor) };
})();
