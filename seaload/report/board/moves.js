// What each move buys: one row a move, read where the move leads, over the same waves.
"use strict";
const boardMoves = (board, place, go, verdict) => {
  const W = boardWords, { byId, element, empty, shown } = boardElements;
  const SIDES = [["reverse", "Reverse, next hour"], ["normal", "Normal, next hour"]];

  // what a move does to the worst load: all settings met the same waves, so this compares where odds are too rare to
  function nearer(now, then) {
    if (now === null || now === undefined || then === null || then === undefined) return "";
    const [from, to] = [Math.round(now), Math.round(then)];
    return "worst " + to + "\u00a0% of limit, " + (from === to ? "as now" : "now " + from + "\u00a0%");
  }
  function speedWords(change) {
    return Math.abs(change) < 0.05 ? "the same" : (change > 0 ? "+" : "\u2212") + Math.abs(change).toFixed(1) + " kn";
  }
  function add(body, move, now) {
    const there = Object.assign({}, place), names = Object.keys(move.changes);
    for (const name of names) there[name] = +(place[name] + move.changes[name]).toFixed(6);
    const reading = W.interpolate(board, there), row = element("tr", {}, body);
    const head = element("th", { scope: "row" }, row);
    const button = element("button", { type: "button", class: "move" }, head, move.words);
    button.disabled = Boolean(reading.outside);
    button.addEventListener("click", () => go(there, names));
    const slow = move.only_below && now.speed_knots >= move.only_below - 0.05;
    element("td", {}, row, move.takes + (slow ? ": slow down first" : ""));
    if (reading.outside) {
      const missing = board.axes.find((a) => a.name === reading.outside);
      const said = missing ? "no data: not simulated at " + shown(missing, there[missing.name]) : "no data there";
      element("td", { class: "muted", colspan: 4 }, row, said);
      return;
    }
    for (const [side, words] of SIDES) {
      const odds = W.oddsWords(reading[side + "_rate"], reading[side + "_rate_high"], 1);
      const cell = element("td", { "data-side": words }, row, odds);
      element("span", { class: "against" }, cell, nearer(now[side + "_worst"], reading[side + "_worst"]));
    }
    element("td", { "data-side": "Your risk limit" }, row, verdict(reading));
    element("td", { "data-side": "Speed" }, row, speedWords(reading.speed_knots - now.speed_knots));
  }
  return (now) => {
    const body = byId("moves").tBodies[0];
    empty(body);
    for (const move of board.moves) add(body, move, now);
  };
};
