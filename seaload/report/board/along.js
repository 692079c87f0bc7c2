// The worst load over one control, the rest as set: drawn, and in words where turning that control hurts.
"use strict";
const boardAlong = (board, place, judge) => {
  const W = boardWords, { byId, shown, range } = boardElements, SAMPLES = 72;
  const draw = boardCurve(byId("along"), "Worst load that 1 in 20 spells pass");
  const choice = byId("chart-axis");

  const readAt = (axis) => (x) => W.interpolate(board, Object.assign({}, place, { [axis.name]: x }));
  function sampled(axis) {
    const [first, last] = range(axis), read = readAt(axis), at = new Set(axis.values);
    for (let i = 0; i <= SAMPLES; i++) at.add(first + (last - first) * i / SAMPLES);
    return [...at].sort((a, b) => a - b).map((x) => {
      const reading = read(x);
      if (reading.outside) return { x, reverse: null, normal: null, most: null };
      return { x, reverse: reading.reverse_worst, normal: reading.normal_worst, most: judge.most(reading) };
    });
  }
  const share = (p) => Math.round(p.most) + "\u00a0%";
  // "Bearing away hurts: 62 % now, 85 % at 60 degrees; beyond it falls, to 50 % at 90 degrees."
  function turnWords(axis, points, here, name) {
    const beyond = points.filter((p) => p.x > here.x + 1e-9), last = beyond[beyond.length - 1];
    if (!beyond.length) return name + ": not simulated beyond " + shown(axis, here.x) + ".";
    if (beyond.some((p) => p.most === null)) return name + ": no data on the way.";
    const peak = beyond.reduce((a, b) => (b.most > a.most ? b : a));
    if (peak.most - here.most < board.told_points) {
      const falls = here.most - last.most >= board.told_points ? ", it falls to " + share(last) + " there" : "";
      return name + " does not hurt up to " + shown(axis, last.x) + falls + ".";
    }
    const after = peak.most - last.most >= board.told_points ? "; beyond it falls, to " + share(last) + " at " +
      shown(axis, last.x) : "; not simulated beyond " + shown(axis, last.x);
    return name + " hurts: " + share(here) + " now, " + share(peak) + " at " + shown(axis, peak.x) + after + ".";
  }
  function words(axis, points) {
    const known = points.filter((p) => p.most !== null);
    if (!known.length) return "";
    const at = { x: place[axis.name], most: judge.most(readAt(axis)(place[axis.name])) };
    if (axis.name === "waves_from_bow_deg") return turnWords(axis, points, at, "Bearing away");
    const low = known.reduce((a, b) => (b.most < a.most ? b : a));
    const high = known.reduce((a, b) => (b.most > a.most ? b : a));
    if (high.most - low.most < board.told_points) return "It makes no difference that the sample supports.";
    return "Least at " + shown(axis, low.x) + " (" + share(low) + "), most at " + shown(axis, high.x) + " (" +
      share(high) + "); here " + share(at) + ".";
  }
  return () => {
    const axis = board.axes.find((a) => a.name === choice.value);
    byId("along").closest("figure").hidden = !axis;
    if (!axis) {
      byId("along-words").textContent = "No data: nothing was simulated at more than one value.";
      return;
    }
    const points = sampled(axis), unit = axis.unit ? " [" + axis.unit + "]" : "";
    byId("along-words").textContent = words(axis, points);
    const ticks = axis.values.map((v) => [v, String(+v.toFixed(axis.digits))]);
    draw(points, ticks, [[place[axis.name], "here"]], axis.label + unit);
  };
};
