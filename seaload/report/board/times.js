// For how long: the next hour, the watch, or a time of one's own.
"use strict";
const boardTimes = (board, kept, controls, changed) => {
  const { byId } = boardElements, state = kept.state, own = byId("hours"), LEAST = 0.1, MOST = 240;
  const words = (hours) => +hours.toFixed(2) + " h";
  function choose(hours) {
    if (hours === state.hours) return;
    kept.remember("hours");
    state.hours = hours;
    changed(null);
  }
  for (const hours of [1, 3]) byId("for-" + hours).addEventListener("click", () => choose(hours));
  byId("for-own").addEventListener("click", () => choose(state.own));
  const say = controls.field(own, byId("note-hours"), LEAST, MOST, words, () => state.own, (hours) => {
    state.own = hours;
    choose(hours);
  });
  return () => {
    for (const hours of [1, 3]) byId("for-" + hours).setAttribute("aria-pressed", String(state.hours === hours));
    byId("for-own").setAttribute("aria-pressed", String(![1, 3].includes(state.hours)));
    byId("for-own").textContent = words(state.own);
    if (document.activeElement !== own) { own.value = String(state.own); say(""); }
  };
};
