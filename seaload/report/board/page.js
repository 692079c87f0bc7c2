// The board itself: controls in, readings out.
"use strict";
(() => {
  const W = boardWords, { byId, empty, shown } = boardElements, root = document.documentElement;
  const board = JSON.parse(byId("board-data").textContent), place = {};
  let moved = null, ready = false;  // moved: the axis that was moved last, the one the chart shows

  const changed = (name) => { moved = name || moved; if (ready) show(); };
  const kept = boardState(board, place, () => changed(null)), judge = boardJudge(board);
  const controls = boardControls(board, place, kept, changed);
  kept.load();
  const answer = boardAnswer(board, place, judge, kept);
  const compare = boardCompare(board, place, judge, kept, answer, changed);
  const chart = boardCharts(board, shown), along = boardAlong(board, place, judge);
  const both = [controls.refresh, boardTimes(board, kept, controls, changed), compare.show,
    boardMoves(board, place, judge, kept, compare, changed),
    boardBuilds(board, place, judge, kept, controls, compare, changed), boardGauge(board, place, answer)];
  const parts = [answer.show, boardOdds(board, kept), boardTiles(board, place), boardFoil(board), along,
    boardRose(board, place, judge), boardStrip(board, place, judge, kept, answer)];

  function showNothing(outside) {
    answer.showNothing(outside);
    for (const id of ["wear-range", "speed-given", "foil-words", "along-words", "rose-words", "strip"]) {
      byId(id).textContent = "";
    }
    for (const id of ["wear", "speed"]) byId(id).textContent = "no data";
    empty(byId("odds").tBodies[0]);
    for (const id of ["foil", "along", "rose"]) empty(byId(id));
    chart.clear();
  }
  function show() {
    const reading = W.interpolate(board, place);
    byId("answers").classList.toggle("off", Boolean(reading.outside));
    for (const part of both) part(reading);
    if (ready) kept.save();
    if (reading.outside) return showNothing(reading.outside);
    chart.update(place, moved);
    for (const part of parts) part(reading);
  }
  function ground() {
    const told = kept.state.ground;
    if (told === "night") root.dataset.ground = "night";
    else if (told === "day") root.dataset.ground = "light";
    else delete root.dataset.ground;
    byId("ground").setAttribute("aria-pressed", String(told === "night"));
  }
  byId("controls").addEventListener("submit", (event) => event.preventDefault());
  byId("print").addEventListener("click", () => window.print());
  byId("chart-axis").addEventListener("change", show);
  byId("ground").addEventListener("click", () => {
    kept.state.ground = kept.state.ground === "night" ? "day" : "night";
    ground();
    kept.save();
  });
  const reading = (at) => W.interpolate(board, at || place);
  window.seaboard = { place, state: kept.state, reading, words: W, show, judge };
  let width = innerWidth;
  addEventListener("resize", () => { if (innerWidth !== width) { width = innerWidth; show(); } });
  ready = true;
  ground();
  show();
})();
