// A small curve of the worst load: shares of both limits over one thing, with the limit itself and marks.
"use strict";
const boardCurve = (svg, labels) => {
  const { drawn, empty } = boardElements, LEFT = 46, RIGHT = 376, TOP = 12, BOTTOM = 190, TYPE = 13;
  const LINES = [["reverse", "var(--reverse)", ""], ["normal", "var(--normal)", "7 4"]];
  const text = (x, y, what, anchor, colour) => drawn("text", { x, y, "font-size": TYPE,
    "text-anchor": anchor || "middle", fill: colour || "var(--ink)" }, svg, what);

  // points : [{x, reverse, normal}] of [% of the limit], null where there is nothing; ticks : [[x, words]];
  // marks : [[x, words]] upright lines
  return (points, ticks, marks, title) => {
    empty(svg);
    const known = points.filter((p) => p.reverse !== null);
    if (!known.length) return;
    const most = Math.max(120, 1.06 * Math.max(...known.map((p) => Math.max(p.reverse, p.normal))));
    const from = points[0].x, to = points[points.length - 1].x;
    const x = (v) => LEFT + (RIGHT - LEFT) * (v - from) / Math.max(to - from, 1e-9);
    const y = (v) => BOTTOM - (BOTTOM - TOP) * Math.max(v, 0) / most;
    for (let share = 0; share <= most; share += 50) {
      drawn("line", { x1: LEFT, x2: RIGHT, y1: y(share), y2: y(share), stroke: "var(--grid)" }, svg);
      text(LEFT - 5, y(share) + 4, share + " %", "end", "var(--muted)");
    }
    drawn("line", { x1: LEFT, x2: RIGHT, y1: y(100), y2: y(100), stroke: "var(--ink)", "stroke-width": 2 }, svg);
    text(RIGHT, y(100) - 5, "limit", "end");
    for (const [side, stroke, dash] of LINES) {
      const runs = [[]];
      for (const p of points) {
        const run = runs[runs.length - 1];
        if (p[side] !== null) run.push(x(p.x).toFixed(1) + "," + y(p[side]).toFixed(1));
        else if (run.length) runs.push([]);
      }
      for (const run of runs.filter((r) => r.length)) {
        drawn("polyline", { points: run.join(" "), fill: "none", stroke, "stroke-width": 2.5,
          "stroke-dasharray": dash }, svg);
      }
    }
    for (const [at, words] of ticks) text(x(at), BOTTOM + 17, words, "middle", "var(--muted)");
    for (const [at, words, row] of marks) {
      drawn("line", { x1: x(at), x2: x(at), y1: TOP, y2: BOTTOM, stroke: "var(--ink)",
        "stroke-dasharray": "2 3" }, svg);
      const left = x(at) > 0.6 * RIGHT;
      text(x(at) + (left ? -4 : 4), BOTTOM - 6 - 15 * (row || 0), words, left ? "end" : "start");
    }
    text((LEFT + RIGHT) / 2, BOTTOM + 36, title, "middle", "var(--muted)");
    svg.setAttribute("aria-label", labels + ": " + title);
  };
};
