// Shares of both limits along the foil: the worst moment at each place, the bearing, the stations.
"use strict";
const boardFoil = (board) => {
  const { byId, drawn, empty } = boardElements, m = board.material_m, last = m[m.length - 1];
  const LEFT = 58, TOP = 14, BOTTOM = 252, MOST = 130, NARROW = 340, WIDE = 640;
  let RIGHT = 626;  // as wide as the page allows, so that type keeps its size
  const LEVELS = [[100, "var(--normal)", "normal limit"], [0, "var(--muted)", ""],
    [-100, "var(--reverse)", "reverse limit"]];
  const WAYS = [["up", "var(--normal)", "var(--band-normal)"], ["down", "var(--reverse)", "var(--band-reverse)"]];
  const x = (s) => LEFT + (RIGHT - LEFT) * s / last;
  const y = (share) => TOP + (BOTTOM - TOP) * (MOST - share) / (2 * MOST);
  let svg = null;
  const text = (px, py, what, colour, anchor, weight) => drawn("text", { x: px, y: py, "font-size": 13,
    fill: colour || "var(--ink)", "text-anchor": anchor || "start", "font-weight": weight || 400 }, svg, what);

  function ground(bearing) {
    const width = Math.max(x(bearing) - x(0), 0);
    drawn("rect", { x: x(0), y: TOP, width, height: BOTTOM - TOP, fill: "var(--band-muted)" }, svg);
    for (const [share, colour, word] of LEVELS) {
      const at = y(share), thick = share ? 2.5 : 1;
      drawn("line", { x1: LEFT, x2: RIGHT, y1: at, y2: at, stroke: colour, "stroke-width": thick }, svg);
      text(LEFT - 6, at + 4, Math.abs(share) + " %", colour, "end");
      if (word) text(RIGHT, at + (share > 0 ? -6 : 16), word, colour, "end");
    }
  }
  // [place, share] outside the bearing, read between the sailed points
  function pointsOf(reading, way) {
    const points = [];
    m.forEach((s, i) => {
      if (s < reading.bearing_m - 1e-6) return;
      let total = 0;
      for (const [index, weight] of reading.found) {
        const list = board[way][index];
        if (!list || list[i] === null) return;
        total += weight * list[i];
      }
      points.push([s, way === "up" ? Math.max(total, 0) : Math.min(total, 0)]);
    });
    return points;
  }
  // draws one way and gives its words
  function drawWay(points, way, colour, band, bearing) {
    const at = (p) => x(p[0]).toFixed(1) + "," + y(Math.max(Math.min(p[1], MOST), -MOST)).toFixed(1);
    const line = points.map(at).join(" "), foot = (p) => x(p[0]).toFixed(1) + "," + y(0);
    const shape = foot(points[0]) + " " + line + " " + foot(points[points.length - 1]);
    drawn("polygon", { points: shape, fill: band }, svg);
    drawn("polyline", { points: line, fill: "none", stroke: colour, "stroke-width": 2 }, svg);
    const worst = points.reduce((a, b) => (Math.abs(b[1]) > Math.abs(a[1]) ? b : a));
    if (Math.abs(worst[1]) < 0.5) return "none " + way;
    const said = Math.abs(worst[1]).toFixed(0) + " % " + way, close = x(worst[0]) < x(bearing) + 40;
    const shift = way === "up" ? (worst[1] > 80 ? 16 : -6) : (worst[1] < -80 ? -8 : 16);
    text(x(worst[0]) + (close ? 6 : 0), y(worst[1]) + shift, said, colour, close ? "start" : "middle", 600);
    return said + " at " + worst[0].toFixed(1) + " m";
  }
  function marks(bearing) {
    const at = x(bearing);
    drawn("line", { x1: at, x2: at, y1: TOP, y2: BOTTOM, stroke: "var(--ink)", "stroke-width": 2 }, svg);
    text(at + 5, TOP + 12, "bearing", "var(--ink)", "start", 600);
    if (at - x(0) > 70) text((x(0) + at) / 2, BOTTOM - 8, "inside", "var(--muted)", "middle");
    board.stations_m.forEach((s, i) => {
      const square = { x: x(s) - 4, y: y(0) - 4, width: 8, height: 8, fill: "var(--paper)", stroke: "var(--ink)" };
      drawn("rect", square, svg);
      text(x(s), y(0) + 18, String(i + 1), "var(--ink)", "middle");
    });
    for (let s = 0; s <= last + 1e-9; s += 1) text(x(s), BOTTOM + 18, s.toFixed(0), "var(--muted)", "middle");
    const label = "root to tip [m]; squares: stations";
    text((LEFT + RIGHT) / 2, BOTTOM + 38, label, "var(--muted)", "middle");
  }
  return (reading) => {
    svg = byId("foil");
    empty(svg);
    const wide = Math.min(Math.max(svg.clientWidth || WIDE, NARROW), WIDE);
    svg.setAttribute("viewBox", "0 0 " + wide + " 300");
    RIGHT = wide - 14;
    if (!m.length) return;
    const bearing = reading.bearing_m, words = [];
    ground(bearing);
    for (const [way, colour, band] of WAYS) {
      const points = pointsOf(reading, way);
      if (points.length) words.push(drawWay(points, way, colour, band, bearing));
    }
    marks(bearing);
    byId("foil-words").textContent = "Worst moment of the hours simulated at each place: " + words.join(", ") +
      ". Up is a share of the normal limit, down of the reverse limit. Not shown: when it happens.";
  };
};
