// What each move buys: one row a move, read where the move leads, over the same waves. The rows stay where they are, so
// that focus stays on the move that was pressed; pressing one puts it into B.
"use strict";
const boardMoves = (board, place, judge, kept, compare, changed) => {
  const W = boardWords, { byId, element, shown } = boardElements;
  const body = byId("moves").tBodies[0], COLUMNS = [["buys", "Worst load"], ["odds", "Reverse odds"],
    ["act", "To do then"], ["speed", "Speed"], ["takes", "Takes"]];

  function leadsTo(move) {
    const there = Object.assign({}, place);
    for (const name in move.changes) there[name] = +(place[name] + move.changes[name]).toFixed(6);
    return there;
  }
  const rows = board.moves.map((move, i) => {
    const row = element("tr", {}, body), head = element("th", { scope: "row" }, row), cells = {};
    const button = element("button", { type: "button", class: "move", id: "move-" + i }, head, move.words);
    for (const [name, words] of COLUMNS) cells[name] = element("td", { "data-side": words }, row);
    button.addEventListener("click", () => {
      const there = leadsTo(move);
      if (W.interpolate(board, there).outside) return;
      kept.remember(null);
      kept.setOther(there);
      changed(Object.keys(move.changes)[0]);
    });
    return { move, row, button, cells };
  });
  function speedWords(change) {
    return Math.abs(change) < 0.05 ? "the same" : (change > 0 ? "+" : "\u2212") + Math.abs(change).toFixed(1) + " kn";
  }
  function missing(reading, there) {
    const axis = board.axes.find((a) => a.name === reading.outside);
    return axis ? "no data: not simulated at " + shown(axis, there[axis.name]) : "no data there";
  }
  function buys(now, then) {
    return judge.SIDES.map((side) => side + " " + judge.pointsWords(now[side + "_worst"], then[side + "_worst"]) +
      " (" + Math.round(then[side + "_worst"]) + "\u00a0%)").join(", ");
  }
  return (now) => {
    const other = kept.otherPlace();
    for (const { move, row, button, cells } of rows) {
      const there = leadsTo(move), then = now.outside ? now : W.interpolate(board, there), off = Boolean(then.outside);
      const chosen = Boolean(other) && board.axes.every((a) => Math.abs(other[a.name] - there[a.name]) < 1e-6);
      button.setAttribute("aria-disabled", String(off));
      button.setAttribute("aria-pressed", String(chosen && !off));
      row.classList.toggle("none", off);
      for (const name in cells) cells[name].textContent = "";
      if (now.outside) continue;
      if (off) { cells.buys.textContent = missing(then, there); continue; }
      cells.buys.textContent = buys(now, then);
      cells.odds.textContent = W.oddsInWords(board, then, "reverse", kept.state.hours);
      cells.act.textContent = judge.act(then).word;
      cells.speed.textContent = speedWords(then.speed_knots - now.speed_knots);
      cells.takes.textContent = compare.takesWords(move, now);
    }
  };
};
