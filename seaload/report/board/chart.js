// The chart of the board: odds in the next hour over the control that was moved last, and the same as a table.
"use strict";
const boardCharts = (board, shown) => {
  const W = boardWords, LEAST = 1e-4, SAMPLES = 60, SIDES = ["reverse", "normal"];
  const MARKS = { reverse: "circle", normal: "square" };
  const byId = (id) => document.getElementById(id);
  const choice = byId("chart-axis"), axes = board.axes.filter((a) => a.values.length > 1 && a.name !== "sea");
  let find = null, here = null, last = null;
  const clipped = (rate) => Math.min(Math.max(W.oddsOf(rate, 1), LEAST), 1);
  axes.forEach((axis) => {
    const option = document.createElement("option");
    option.value = axis.name;
    option.textContent = axis.label.toLowerCase().replace("hs", "Hs");
    choice.appendChild(option);
  });
  const first = ["waves_from_bow_deg", "extension_percent"].map((name) => axes.find((a) => a.name === name))
    .find((a) => a) || axes[0];
  if (first) choice.value = first.name; else byId("chart-figure").hidden = true;

  function fill() {
    const axis = axes.find((a) => a.name === choice.value);
    if (!axis || !here) return;
    const from = axis.values[0], to = axis.values[axis.values.length - 1];
    const at = (x) => W.interpolate(board, Object.assign({}, here, { [axis.name]: x }));
    const steps = [...Array(SAMPLES + 1).keys()].map((i) => from + (to - from) * i / SAMPLES);
    const sailed = axis.values.map((x) => [x, at(x)]);
    table(axis, sailed);
    if (!find) return;
    for (const side of SIDES) {
      const name = side + "_rate", rate = (r, end) => W.rateIn(board, r, name + end, 1);
      const odds = (r) => (r.outside ? NaN : clipped(rate(r, "")));
      find(side + "-line").data = { x: steps, odds: steps.map((x) => odds(at(x))) };
      const known = sailed.filter(([, r]) => !r.outside);
      const rates = (end) => known.map(([, r]) => clipped(rate(r, end)));
      const says = known.map(([x, r]) => shown(axis, x) + ": " + W.oddsInWords(board, r, side, 1));
      find(side + "-points").data = { x: known.map(([x]) => x), odds: rates(""), low: rates("_low"),
        high: rates("_high"), says, mark: known.map(([, r]) => (r[name] > 0 ? MARKS[side] : "inverted_triangle")) };
    }
    const pad = 0.04 * (to - from), range = find("odds-range");
    range.start = from - pad;
    range.end = to + pad;
    find("odds-axis").axis_label = axis.label + (axis.unit ? " [" + axis.unit + "]" : "");
    find("here").location = here[axis.name];
    const level = board.levels.find((l) => l.side === "reverse");
    find("accepted").location = level ? 1 - Math.pow(1 - level.odds, 1 / level.hours) : 1e-9;
  }
  function table(axis, sailed) {
    const whole = byId("chart-table"), head = whole.tHead, body = whole.tBodies[0], cells = [];
    whole.caption.textContent = "Odds in the next hour over " + axis.label.toLowerCase() + ", the rest as set";
    const row = (section, kind, texts) => {
      const line = document.createElement("tr");
      texts.forEach((text, i) => {
        const cell = document.createElement(i && kind === "td" ? "td" : "th");
        cell.textContent = text;
        line.appendChild(cell);
      });
      section.appendChild(line);
    };
    head.textContent = body.textContent = "";
    row(head, "th", [axis.label, "Reverse load past the limit", "Load past the normal limit"]);
    for (const [x, reading] of sailed) {
      const said = SIDES.map((side) => (reading.outside ? "no data" : W.oddsInWords(board, reading, side, 1)));
      row(body, "td", [shown(axis, x), ...said]);
      cells.push(shown(axis, x) + ", reverse " + said[0]);
    }
    const label = "Odds in the next hour over " + axis.label.toLowerCase() + ": " + cells.join("; ");
    byId("chart-odds").setAttribute("aria-label", label);
  }
  choice.addEventListener("change", fill);
  seacharts.show("odds", JSON.parse(byId("board-chart").textContent), (finder) => { find = finder; fill(); });
  return {
    update(place, moved) {
      here = Object.assign({}, place);
      if (moved !== last && axes.some((a) => a.name === moved)) { choice.value = moved; last = moved; }
      fill();
    },
    clear() { here = null; },
  };
};
