// Where the board stands: A (`place`), B beside it, the time asked for, what was typed. Every change can be undone; a
// reload finds it again in the address and in the browser's storage, and does without either.
"use strict";
const boardState = (board, place, restored) => {
  const KEEP = 60, SAME = 700;  // steps that can be undone; [ms] within which one control's changes are one step
  const state = { other: null, sets: "a", hours: 1, own: board.own_hours, growth: 0.5, ground: "" };
  const past = [];
  let last = { key: null, time: 0 };
  const axisOf = (name) => board.axes.find((axis) => axis.name === name);
  const within = (axis, value) => Number.isFinite(value) && value >= axis.values[0] - 1e-9 &&
    value <= axis.values[axis.values.length - 1] + 1e-9;

  // B as a place: its own setting, in the same waves; a move of the course stands as a turn from A's
  function otherPlace() {
    if (!state.other) return null;
    const there = Object.assign({}, place);
    for (const name in state.other) there[name] = state.other[name] + (axisOf(name).sea ? place[name] : 0);
    return there;
  }
  function setOther(there) {
    state.other = {};
    for (const axis of board.axes) {
      const turn = +(there[axis.name] - place[axis.name]).toFixed(6);
      if (!axis.sea) state.other[axis.name] = there[axis.name];
      else if (turn) state.other[axis.name] = turn;
    }
  }
  const snapshot = () => JSON.stringify({ place, state });
  function remember(key) {
    const now = Date.now(), same = key !== null && key === last.key && now - last.time < SAME;
    last = { key, time: now };
    if (same) return;
    past.push(snapshot());
    if (past.length > KEEP) past.shift();
  }
  function undo() {
    if (!past.length) return;
    const before = JSON.parse(past.pop());
    Object.assign(place, before.place);
    Object.assign(state, before.state, { ground: state.ground });
    last.key = null;
    restored();
  }
  function asText() {
    const told = new URLSearchParams();
    for (const axis of board.axes) if (axis.values.length > 1) told.set(axis.name, String(place[axis.name]));
    for (const name in state.other || {}) {
      if (axisOf(name).values.length > 1) told.set("b." + name, String(state.other[name]));
    }
    for (const name of ["sets", "hours", "own", "growth", "ground"]) told.set(name, String(state[name]));
    return told.toString();
  }
  function save() {
    const text = asText();
    try { history.replaceState(null, "", "#" + text); } catch (error) { /* an address that cannot change */ }
    try { localStorage.setItem(board.key, text); } catch (error) { /* no storage here */ }
  }
  function read(text) {
    const told = new URLSearchParams(text);
    if (!board.axes.some((axis) => told.has(axis.name))) return false;
    for (const axis of board.axes) {
      const value = Number(told.get(axis.name));
      if (told.has(axis.name) && within(axis, value)) place[axis.name] = value;
    }
    const other = {};
    for (const axis of board.axes) {
      const value = Number(told.get("b." + axis.name));
      if (told.has("b." + axis.name) && within(axis, axis.sea ? place[axis.name] + value : value)) {
        other[axis.name] = value;
      }
    }
    if (Object.keys(other).length) {
      state.other = Object.fromEntries(board.axes.filter((a) => !a.sea).map((a) => [a.name, place[a.name]]));
      Object.assign(state.other, other);
    }
    for (const [name, least, top] of [["hours", 0.1, 240], ["own", 0.1, 240], ["growth", 0, 5]]) {
      const value = Number(told.get(name));
      if (told.has(name) && value >= least && value <= top) state[name] = value;
    }
    if (told.get("sets") === "b" && state.other) state.sets = "b";
    if (told.get("ground") === "night" || told.get("ground") === "day") state.ground = told.get("ground");
    return true;
  }
  function load() {
    let stored = "";
    try { stored = localStorage.getItem(board.key) || ""; } catch (error) { /* no storage here */ }
    if (!read(location.hash.slice(1))) read(stored);
  }
  return { state, axisOf, within, otherPlace, setOther, remember, undo, canUndo: () => past.length > 0, save, load };
};
