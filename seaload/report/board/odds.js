// The table of odds for the next hour, the watch and a time of one's own, each with its bar.
"use strict";
const boardOdds = (board, kept) => {
  const W = boardWords, { byId, element, drawn, empty } = boardElements;
  const SIDES = { reverse: "Reverse load past the limit", normal: "Load past the normal limit" };
  const LOW = -4, ENDS = ["", "_low", "_high"];  // the left end is 1 in 10,000

  function bar(cell, rates, hours, level) {
    const svg = drawn("svg", { viewBox: "0 0 300 34", "aria-hidden": "true" }, cell);
    const x = (odds) => 6 + 288 * (Math.max(Math.log10(Math.max(odds, 1e-9)), LOW) - LOW) / -LOW;
    const upright = (at, y1, y2, more) => drawn("line", { x1: at, x2: at, y1, y2, ...more }, svg);
    const across = (from, to, stroke, width) =>
      drawn("line", { x1: from, x2: to, y1: 20, y2: 20, stroke, "stroke-width": width }, svg);
    across(6, 294, "var(--grid)", 2);
    for (let power = LOW; power <= 0; power++) upright(x(Math.pow(10, power)), 16, 24, { stroke: "var(--muted)" });
    if (level) {
      upright(x(level), 2, 32, { stroke: "var(--reverse)", "stroke-width": 2, "stroke-dasharray": "4 3" });
    }
    const [best, down, up] = rates.map((rate) => W.oddsOf(rate, hours));
    across(x(down), x(up), "var(--ink)", 6);
    if (best > 0) {
      const ring = { cx: x(best), cy: 20, r: 7, fill: "var(--paper)", stroke: "var(--ink)", "stroke-width": 3 };
      drawn("circle", ring, svg);
    } else {
      const none = { points: "0,13 14,13 7,26", fill: "var(--paper)", stroke: "var(--ink)", "stroke-width": 2 };
      drawn("polygon", none, svg);
    }
  }
  function cellOf(row, reading, side, hours) {
    const cell = element("td", { "data-side": SIDES[side] }, row);
    const rates = ENDS.map((end) => W.rateIn(board, reading, side + "_rate" + end, hours));
    element("span", { class: "best" }, cell, W.oddsWords(rates[0], rates[2], hours));
    const level = board.levels.find((l) => l.side === side && Math.abs(l.hours - hours) < 1e-9);
    bar(cell, rates, hours, level ? level.odds : 0);
  }
  function scale(body) {
    const row = element("tr", { class: "scale", "aria-hidden": "true" }, body);
    const marks = [[6, "start", "1 in 10,000"], [150, "middle", "1 in 100"], [294, "end", "certain"]];
    element("td", {}, row, "");
    for (const _ of Object.keys(SIDES)) {
      const svg = drawn("svg", { viewBox: "0 0 300 18", "aria-hidden": "true" }, element("td", {}, row));
      for (const [x, anchor, text] of marks) {
        drawn("text", { x, y: 12, "font-size": 12, fill: "var(--muted)", "text-anchor": anchor }, svg, text);
      }
    }
  }
  return (reading) => {
    const body = byId("odds").tBodies[0], own = kept.state.own;
    const rows = [[1, "the next hour"], [3, "the watch, 3 h"], [own, W.significant(own, 3) + " h"]];
    empty(body);
    for (const [hours, words] of rows) {
      const row = element("tr", {}, body);
      element("th", { scope: "row" }, row, words);
      for (const side in SIDES) cellOf(row, reading, side, hours);
    }
    scale(body);
  };
};
