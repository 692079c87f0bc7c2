// The board itself: controls in, readings out.
"use strict";
(() => {
  const W = boardWords, { byId, empty, shown } = boardElements;
  const board = JSON.parse(byId("board-data").textContent), place = {};
  let moved = null, ready = false;  // moved: the axis that was moved last, the one the chart shows

  const controls = boardControls(board, place, (name) => { moved = name || moved; if (ready) show(); });
  const sentences = boardSentences(board, place);
  const parts = [sentences.show, boardOdds(board), boardTiles(board, place), boardFoil(board),
    boardMoves(board, place, controls.go, sentences.verdict)];
  const chart = boardCharts(board, shown);

  function showNothing(outside) {
    byId("question").textContent = sentences.reason(outside);
    for (const id of ["verdict", "said", "nearest", "level", "wear-range", "speed-given", "foil-words"]) {
      byId(id).textContent = "";
    }
    for (const id of ["wear", "speed"]) byId(id).textContent = "no data";
    for (const id of ["odds", "moves"]) empty(byId(id).tBodies[0]);
    empty(byId("foil"));
    chart.clear();
  }
  function show() {
    const reading = W.interpolate(board, place);
    byId("answers").classList.toggle("off", Boolean(reading.outside));
    sentences.showAssumed(reading.outside ? null : reading);
    if (reading.outside) return showNothing(reading.outside);
    for (const part of parts) part(reading);
    chart.update(place, moved);
  }

  byId("hours").addEventListener("input", show);
  byId("controls").addEventListener("submit", (event) => event.preventDefault());
  byId("ground").addEventListener("click", () => {
    const root = document.documentElement, told = root.dataset.ground;
    const dark = told ? told === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
    root.dataset.ground = dark ? "light" : "dark";
    byId("ground").setAttribute("aria-pressed", String(!dark));
  });
  window.seaboard = { place: place, reading: (at) => W.interpolate(board, at || place), words: W, show: show };
  ready = true;
  show();
})();
