// A | B: this setting and another beside it, in the same waves. The difference comes first, in words.
"use strict";
const boardCompare = (board, place, judge, kept, answer, changed) => {
  const W = boardWords, { byId } = boardElements, state = kept.state;
  const ROWS = ["setting", "act", "reverse", "normal", "odds", "speed", "wear"];
  const NONE = "\u2013";

  function moveThatLeads(there) {
    return board.moves.find((move) => board.axes.every((axis) =>
      Math.abs(there[axis.name] - place[axis.name] - (move.changes[axis.name] || 0)) < 1e-6));
  }
  function speedWords(change) {
    if (Math.abs(change) < 0.05) return "the same speed";
    return Math.abs(change).toFixed(1) + " kn " + (change < 0 ? "slower" : "faster");
  }
  // "12 points less reverse load, 3 points less normal load; 2.0 kn slower; 5 minutes, only below 15 kn"
  function differenceWords(a, b, there) {
    const parts = judge.SIDES.map((side) =>
      judge.pointsWords(a[side + "_worst"], b[side + "_worst"]) + " " + side + " load");
    const told = [parts.join(", "), speedWords(b.speed_knots - a.speed_knots)];
    const move = moveThatLeads(there);
    if (move) told.push(takesWords(move, a));
    const [from, to] = [judge.act(a).word, judge.act(b).word];
    const act = from === to ? "To do, as in A: " + from : from + " becomes " + to;
    return "B against A: " + told.join("; ") + ". " + act + ".";
  }
  function takesWords(move, now) {
    const slow = move.only_below && now.speed_knots >= move.only_below - 0.05;
    return move.takes + (slow ? ": slow down first" : "");
  }
  function cells(column, there, reading) {
    const put = (row, text) => { byId(column + "-" + row).textContent = text; };
    if (!reading || reading.outside) {
      for (const row of ROWS) put(row, NONE);
      if (reading) put("setting", answer.reason(reading.outside, there));
      return;
    }
    const angle = board.axes.find((a) => a.name === "waves_from_bow_deg" && a.values.length > 1);
    const turned = angle ? ", waves at " + boardElements.shown(angle, there[angle.name]) : "";
    put("setting", answer.settingWords(there) + turned);
    put("act", judge.act(reading).word);
    for (const side of judge.SIDES) {
      const worst = judge.worstIn(reading, side, state.hours), share = (v) => Math.round(v) + "\u00a0%";
      const twenty = share(worst.twenty);
      put(side, worst.median === null ? twenty : share(worst.median) + "; 1 in 20: " + twenty);
    }
    put("odds", answer.oddsLine(reading, "reverse"));
    put("speed", reading.speed_knots.toFixed(1) + " kn");
    put("wear", (reading.wear < 0.01 ? "under 0.01" : W.significant(reading.wear)) + " an hour");
  }
  function disable(id, off) { byId(id).setAttribute("aria-disabled", String(off)); }
  function show(reading) {
    const there = kept.otherPlace(), other = there ? W.interpolate(board, there) : null;
    byId("difference").textContent = !there ? "Press a move below, or set B, to see what it does before it is done." :
      other.outside ? "B: " + answer.reason(other.outside, there) : reading.outside ? "" :
        differenceWords(reading, other, there);
    cells("a", place, reading);
    cells("b", there, other);
    byId("ab-hours").textContent = judge.hoursWords(state.hours);
    disable("take", !there || Boolean(other.outside));
    disable("clear", !there);
    disable("undo", !kept.canUndo());
  }
  byId("take").addEventListener("click", () => {
    const there = kept.otherPlace();
    if (!there || W.interpolate(board, there).outside) return;
    kept.remember(null);
    Object.assign(place, there);
    Object.assign(state, { other: null, sets: "a" });
    changed(null);
  });
  byId("clear").addEventListener("click", () => {
    if (!state.other) return;
    kept.remember(null);
    Object.assign(state, { other: null, sets: "a" });
    changed(null);
  });
  byId("undo").addEventListener("click", kept.undo);
  return { show, takesWords };
};
