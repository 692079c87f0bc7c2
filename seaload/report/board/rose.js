// All round: the word to act on over wave angle and speed, the rest as set. The bow is up, rings are speeds; where
// nothing was simulated nothing is drawn.
"use strict";
const boardRose = (board, place, judge) => {
  const W = boardWords, { byId, drawn, empty, shown, range } = boardElements;
  const CENTRE = [195, 196], INNER = 46, OUTER = 148, STEP = 5, TYPE = 13, SMALL = 12;
  const ACTS = ["keep", "watch", "back off", "back off"];
  const LOOKS = [["var(--band-muted)", "var(--muted)"], ["var(--band-reverse)", "var(--reverse)"],
    ["var(--reverse)", "var(--reverse)"], ["var(--reverse)", "var(--reverse)"]];
  const angle = board.axes.find((a) => a.name === "waves_from_bow_deg" && a.values.length > 1);
  const speed = board.axes.find((a) => a.name === "speed_knots" && a.values.length > 1);
  const svg = byId("rose"), side = board.windward === "left" ? -1 : 1;
  if (!angle) {
    byId("rose-figure").hidden = true;
    byId("rose-words").textContent = "No data: this board holds a single wave angle.";
    return () => {};
  }
  const speeds = speed ? speed.values : [null], [first, last] = range(angle);
  const radius = (part) => INNER + (OUTER - INNER) * part;
  // share of the way out of a speed: every ring as wide, straight between the middles of two rings
  function outward(v) {
    if (!speed) return 0.5;
    let i = 0;
    while (i < speeds.length - 2 && v > speeds[i + 1]) i++;
    const at = i + (v - speeds[i]) / (speeds[i + 1] - speeds[i]);
    return (at + 0.5) / speeds.length;
  }
  const point = (r, degrees) => [CENTRE[0] + side * r * Math.sin(degrees * Math.PI / 180),
    CENTRE[1] - r * Math.cos(degrees * Math.PI / 180)].map((x) => x.toFixed(1));
  function cell(inner, outer, from, to, look) {
    const turns = (way) => (way * side > 0 ? 1 : 0);
    const path = "M" + point(outer, from) + "A" + outer + " " + outer + " 0 0 " + turns(1) + " " + point(outer, to) +
      "L" + point(inner, to) + "A" + inner + " " + inner + " 0 0 " + turns(-1) + " " + point(inner, from) + "Z";
    drawn("path", { d: path, fill: look[0], stroke: look[0], "stroke-width": 0.6 }, svg);
  }
  // the rim of a ring, as far round as was simulated
  function rim(r) {
    const whole = last - first > 360 - 1e-9, far = last - first > 180 ? 1 : 0;
    const look = { fill: "none", stroke: "var(--muted)" };
    if (whole) drawn("circle", Object.assign({ cx: CENTRE[0], cy: CENTRE[1], r }, look), svg);
    else drawn("path", Object.assign({ d: "M" + point(r, first) + "A" + r + " " + r + " 0 " + far + " " +
      (side > 0 ? 1 : 0) + " " + point(r, last) }, look), svg);
  }
  const text = (x, y, what, anchor, size) => drawn("text", { x, y, "font-size": size || TYPE,
    "text-anchor": anchor || "middle", fill: "var(--ink)" }, svg, what);
  const standing = (degrees, v) => {
    const there = Object.assign({}, place, { waves_from_bow_deg: degrees });
    if (speed) there.speed_knots = v;
    const reading = W.interpolate(board, there);
    return reading.outside ? null : judge.worstStanding(reading);
  };
  const cells = () => {
    const found = [];
    for (let from = first; from < last - 1e-9; from += STEP) found.push([from, Math.min(from + STEP, last)]);
    return found;
  };
  // "keep from 60 to 120 degrees; back off from 0 to 60": the acts over the angle at the speed as set
  function words() {
    const runs = [];
    for (const [from, to] of cells()) {
      const found = standing(0.5 * (from + to), place.speed_knots), act = found === null ? "no data" : ACTS[found];
      if (runs.length && runs[runs.length - 1].act === act) runs[runs.length - 1].to = to;
      else runs.push({ act, from, to });
    }
    const at = speed ? "At " + shown(speed, place.speed_knots) + ": " : "";
    const beyond = first > -180 + 1e-9 || last < 180 - 1e-9 ? " Not simulated outside " + shown(angle, first) + " to " +
      shown(angle, last) + "." : "";
    if (runs.length === 1 && !beyond) return at + runs[0].act + " all round.";
    return at + runs.map((r) => r.act + " from " + shown(angle, r.from) + " to " + shown(angle, r.to)).join("; ") +
      "." + beyond;
  }
  function frame() {
    speeds.forEach((v, i) => {
      const middle = radius((i + 0.5) / speeds.length);
      rim(radius((i + 1) / speeds.length));
      if (speed) {
        const [x, y] = point(middle, 180).map(Number);
        drawn("rect", { x: x - 21, y: y - 9, width: 42, height: 17, fill: "var(--paper)" }, svg);
        text(x, y + 4, shown(speed, v), "middle", SMALL);
      }
    });
    const [x, y] = CENTRE;
    const hull = `M${x} ${y - 26} C${x + 15} ${y - 8} ${x + 10} ${y + 18} ${x + 8} ${y + 26} L${x - 8} ${y + 26} ` +
      `C${x - 10} ${y + 18} ${x - 15} ${y - 8} ${x} ${y - 26}Z`;
    drawn("path", { d: hull, fill: "none", stroke: "var(--ink)", "stroke-width": 2 }, svg);
    text(x, 22, "0° ahead");
    text(side > 0 ? 388 : 2, y - 8, "90°", side > 0 ? "end" : "start");
    text(side > 0 ? 388 : 2, y + 8, "wind", side > 0 ? "end" : "start", SMALL);
    text(side > 0 ? 2 : 388, y - 8, "−90°", side > 0 ? "start" : "end");
    text(side > 0 ? 2 : 388, y + 8, "lee", side > 0 ? "start" : "end", SMALL);
    text(x, 380, "180° astern");
  }
  function legend() {
    [["keep", 0], ["watch", 1], ["back off", 2]].forEach(([word, look], i) => {
      const x = 62 + 98 * i;
      drawn("rect", { x, y: 396, width: 20, height: 14, fill: LOOKS[look][0], stroke: LOOKS[look][1] }, svg);
      text(x + 26, 408, word, "start");
    });
  }
  function here() {
    const [x, y] = point(radius(outward(place.speed_knots)), place.waves_from_bow_deg).map(Number);
    drawn("circle", { cx: x, cy: y, r: 7, fill: "var(--paper)", stroke: "var(--ink)", "stroke-width": 3 }, svg);
    const left = x > CENTRE[0], label = text(x + (left ? -12 : 12), y + 5, "you are here", left ? "end" : "start");
    label.setAttribute("font-weight", "700");
    label.setAttribute("paint-order", "stroke");
    label.setAttribute("stroke", "var(--paper)");
    label.setAttribute("stroke-width", "4");
  }
  return () => {
    empty(svg);
    speeds.forEach((v, i) => {
      for (const [from, to] of cells()) {
        const found = standing(0.5 * (from + to), v);
        if (found !== null) cell(radius(i / speeds.length), radius((i + 1) / speeds.length), from, to, LOOKS[found]);
      }
    });
    frame();
    here();
    legend();
    byId("rose-words").textContent = words();
  };
};
