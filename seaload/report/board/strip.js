// The hand-over strip for the next watch: printed at the head of the page, with room for a pencil.
"use strict";
const boardStrip = (board, place, judge, kept, answer) => {
  const { byId, element, empty } = boardElements;
  return (reading) => {
    const strip = byId("strip"), { word, why } = judge.act(reading), other = kept.otherPlace();
    empty(strip);
    const line = (text) => element("p", {}, strip, text);
    element("h2", {}, strip, "Hand-over to the next watch");
    line("A, as set: " + answer.settingWords() + ". " + answer.seaWords(reading) + ".");
    const margins = judge.SIDES.map((side) =>
      answer.marginWords(judge.worstIn(reading, side, kept.state.hours), side).replace("worst", "Worst"));
    line(word + ": " + why + " " + margins.join(". ") + ". " + byId("said").textContent);
    if (other) line("B, ready: " + answer.settingWords(other) + ". " + byId("difference").textContent);
    line(byId("builds-words").textContent + " " + byId("slowest").textContent);
    line("Time ________  Hs seen ________  highest gauge ________  sails ________________  from ________ to ________");
  };
};
