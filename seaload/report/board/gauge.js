// "My gauge reads": the display's highest and lowest of the last minutes against what the sea as assumed would show.
"use strict";
const boardGauge = (board, place, answer) => {
  const { byId, element, empty } = boardElements, gauge = board.gauge, station = byId("gauge-station");
  const typed = { highest: byId("gauge-highest"), lowest: byId("gauge-lowest") };
  const number = (input) => {
    const text = input.value.trim().replace(",", ".").replace(/[\u2212\u2013]/g, "-");
    return text === "" ? null : Number(text);
  };
  const said = (v) => v.toFixed(gauge.digits) + (gauge.unit.startsWith("%") ? "\u00a0" : " ") + gauge.unit;
  let now = null, filled = "";

  function fill(sea) {
    const all = sea.stations.map((s) => s.station).join();
    if (all === filled) return;
    filled = all;
    const before = station.value, first = sea.trigger ? String(sea.trigger.station) : "";
    empty(station);
    for (const each of sea.stations) element("option", { value: each.station }, station, "gauge " + each.station);
    const wanted = [before, first].find((v) => sea.stations.some((s) => String(s.station) === v));
    if (wanted) station.value = wanted;
  }
  function verdict(sea, shown) {
    const trigger = sea.trigger, mine = trigger && String(trigger.station) === station.value;
    const at = mine && trigger.single ? trigger : null;
    const read = { highest: number(typed.highest), lowest: number(typed.lowest) };
    for (const name in read) {
      if (Number.isNaN(read[name])) return "\u201c" + typed[name].value.trim().slice(0, 12) + "\u201d is no number.";
    }
    if (read.highest === null && read.lowest === null) return "";
    const past = at && (at.low ? read.lowest !== null && read.lowest < at.threshold :
      read.highest !== null && read.highest > at.threshold);
    if (past) {
      const times = at.times > 1 ? " if it comes " + at.times + " times in " + at.minutes + " minutes" : "";
      return "A reason to step back" + times + ": past " + said(at.threshold) + ". In a worse sea this is missed " +
        at.missed + "; in this one it is a false alarm " + at.false + ".";
    }
    const seldom = ", which 1 in 20 spells of " + gauge.minutes + " minutes passes in this sea. The sea may be worse " +
      "than assumed: look again.";
    if (read.highest !== null && read.highest > shown.highest[2]) {
      return "High: above " + said(shown.highest[2]) + seldom;
    }
    if (read.lowest !== null && read.lowest < shown.lowest[0]) return "Low: below " + said(shown.lowest[0]) + seldom;
    return "Ordinary in this sea.";
  }
  function show() {
    const words = byId("gauge-words"), rule = byId("gauge-rule");
    if (!now || now.outside) { words.textContent = rule.textContent = ""; return; }
    const near = now.found.reduce((best, corner) => (corner[1] > best[1] ? corner : best))[0];
    const sea = gauge.seas[board.sea_of_cell[near]];
    if (!sea.stations.length) {
      words.textContent = "";
      rule.textContent = "No data: no gauge reading is known in this sea.";
      return;
    }
    fill(sea);
    const shown = sea.stations.find((s) => String(s.station) === station.value);
    words.textContent = verdict(sea, shown);
    const span = (ends) => said(ends[0]) + " to " + said(ends[2]);
    rule.textContent = "Ordinary here, 9 of 10 spells of " + gauge.minutes + " minutes: highest " +
      span(shown.highest) + ", lowest " + span(shown.lowest) + ", with " + sea.setting + ". " +
      (sea.trigger ? sea.trigger.words : "No display reading tells a worse sea in time.");
  }
  for (const input of [typed.highest, typed.lowest]) input.addEventListener("input", show);
  station.addEventListener("change", show);
  return (reading) => { now = reading; show(); };
};
