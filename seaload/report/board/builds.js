// A sea that builds: the margin against time for a growth of the height, and when each move has to start at the latest.
"use strict";
const boardBuilds = (board, place, judge, kept, controls, compare, changed) => {
  const W = boardWords, { byId, element, empty } = boardElements, STEPS = 120, LONGEST = 24, STEP = 0.1, MOST = 5;
  const height = board.axes.find((a) => a.name === "hs_m" && a.values.length > 1), state = kept.state;
  if (!height) {
    for (const part of byId("builds").querySelectorAll(".controls, figure, ul")) part.hidden = true;
    byId("builds-words").textContent = "No data: this board holds no range of wave heights to build along.";
    return () => {};
  }
  const TOP = height.values[height.values.length - 1];
  const draw = boardCurve(byId("builds-curve"), "Worst load while the sea builds");
  const words = (growth) => growth.toFixed(1) + " m an hour", axisWords = (v) => boardElements.shown(height, v);
  const say = controls.field(byId("growth"), byId("note-growth"), 0, MOST, words, () => state.growth, set);
  byId("growth-less").addEventListener("click", () => set(state.growth - STEP));
  byId("growth-more").addEventListener("click", () => set(state.growth + STEP));
  function set(growth) {
    const value = Math.min(Math.max(+growth.toFixed(2), 0), MOST);
    if (value === state.growth) return;
    kept.remember("growth");
    state.growth = value;
    changed(null);
  }
  const clock = (hours) => {
    const minutes = Math.floor(hours * 60 + 1e-6);
    const rest = minutes % 60 ? " " + minutes % 60 + " min" : "";
    return minutes < 60 ? minutes + " min" : Math.floor(minutes / 60) + " h" + rest;
  };
  const at = (there, hours) =>
    W.interpolate(board, Object.assign({}, there, { hs_m: place.hs_m + state.growth * hours }));
  // first time [h] from which on a reading is past the risk limit by more than `level`, or null within the data
  function first(there, end, level) {
    const bad = (t) => { const r = at(there, t); return !r.outside && judge.worstStanding(r) >= level; };
    let before = 0;
    if (bad(0)) return 0;
    for (let i = 1; i <= STEPS; i++) {
      let low = before, high = end * i / STEPS;
      before = high;
      if (!bad(high)) continue;
      for (let k = 0; k < 30; k++) { const half = 0.5 * (low + high); if (bad(half)) high = half; else low = half; }
      return low;
    }
    return null;
  }
  function leadsTo(move) {
    const there = Object.assign({}, place);
    for (const name in move.changes) there[name] = +(place[name] + move.changes[name]).toFixed(6);
    return there;
  }
  // every move that still is no worse than Watch when A has become Back off, the slowest first
  function helping(when) {
    return board.moves.map((move) => ({ move, then: at(leadsTo(move), when) }))
      .filter(({ then }) => !then.outside && judge.worstStanding(then) < 2)
      .map(({ move }) => ({ move, start: when - move.hours })).sort((a, b) => a.start - b.start);
  }
  function latest(list, when) {
    empty(list);
    if (when === null) return;
    const found = helping(when);
    for (const { move, start } of found) {
      const words = start <= 0 ? "now" : "in " + clock(start);
      const takes = compare.takesWords(move, at(place, 0));
      element("li", {}, list, move.words + " (" + takes + "): start " + words + " at the latest.");
    }
    if (!found.length) element("li", {}, list, "No single move is enough " + (when ? "by then" : "now") +
      ": set B by hand to try more than one.");
  }
  function sentence(end, keep, back) {
    const stops = end < LONGEST ? "The data end at Hs " + axisWords(TOP) + ", in " + clock(end) + "." : "";
    if (!state.growth) return "The sea stays as it is.";
    if (end <= 0) return "The data end at this height: nothing is known of a higher sea.";
    if (back === 0) return "Back off now: past your risk limit already.";
    const parts = [keep === 0 ? "Watch now" : keep === null ? "Keep" : "Keep for " + clock(keep) + ", then watch"];
    parts.push(back === null ? "by the best estimate not past your risk limit within the data" :
      "back off in " + clock(back));
    return parts.join("; ") + ". " + stops;
  }
  return (reading) => {
    if (document.activeElement !== byId("growth")) { byId("growth").value = String(state.growth); say(""); }
    const end = state.growth ? Math.min((TOP - place.hs_m) / state.growth, LONGEST) : 0;
    const there = !reading.outside, keep = there && end > 0 ? first(place, end, 1) : null;
    const back = there ? (end > 0 ? first(place, end, 2) : judge.worstStanding(reading) >= 2 ? 0 : null) : null;
    byId("builds-words").textContent = there ? sentence(end, keep, back) : "No data here.";
    const slowest = there && back !== null ? helping(back)[0] : null;
    byId("slowest").textContent = !slowest ? "" : slowest.start <= 0 ? "The slowest move that is enough, " +
      slowest.move.words + ", should have started: start it now." : "The slowest move that is enough, " +
      slowest.move.words + ", must start in " + clock(slowest.start) + " at the latest.";
    latest(byId("latest"), there ? back : null);
    byId("builds-figure").hidden = !(there && end > 0);
    if (!(there && end > 0)) return;
    const points = [...Array(61).keys()].map((i) => {
      const x = end * i / 60, r = at(place, x);
      return r.outside ? { x, reverse: null, normal: null } : { x, reverse: r.reverse_worst, normal: r.normal_worst };
    });
    const marks = [];
    if (back) marks.push([back, "back off", 0]);
    if (slowest && slowest.start > 0) marks.push([slowest.start, "start", 1]);
    draw(points, [0, 0.5, 1].map((k) => [k * end, k ? clock(k * end) : "now"]), marks, "time from now");
    const odds = (hours) => W.oneIn(W.oddsOf(W.rateIn(board, at(place, hours), "reverse_rate", 1), 1));
    byId("builds-odds").textContent = "Reverse odds in an hour: now " + odds(0) + ", half way " + odds(0.5 * end) +
      ", at the end " + odds(end * (1 - 1e-9)) + ".";
  };
};
