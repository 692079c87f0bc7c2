// The controls: a field, two step buttons and a slider an axis. They set A, or B where that is chosen; a bad entry is
// set to the nearest that was simulated, and says so. changed(axis name) is told after something has moved.
"use strict";
const boardControls = (board, place, kept, changed) => {
  const { byId, element, shown, range } = boardElements, refreshers = [];
  const state = kept.state;
  const setsOther = (axis) => !axis.sea && state.sets === "b";
  const value = (axis) => (setsOther(axis) && state.other ? state.other[axis.name] : place[axis.name]);

  // "80,5" is 80.5; a unit behind the number does not matter
  function parsed(text) {
    const plain = text.trim().replace(",", ".").replace(/[\u2212\u2013]/g, "-");
    const number = /^[-+]?(\d+\.?\d*|\.\d+)\s*[^\d.,\s-]*$/.exec(plain);
    return number ? parseFloat(plain) : NaN;
  }
  // {value, said}: the entry as it can be set, and what is said when that is another one
  function entered(text, first, last, words, before) {
    const number = parsed(text);
    if (!Number.isFinite(number)) {
      return { value: before, said: (text.trim() ? "\u201c" + text.trim().slice(0, 12) + "\u201d is no number" :
        "Nothing typed") + ": " + words(before) + " stays." };
    }
    const near = Math.min(Math.max(number, first), last);
    if (Math.abs(near - number) < 1e-9) return { value: near, said: "" };
    return { value: near, said: words(number) + " lies outside " + words(first) + " to " + words(last) + ": set to " +
      words(near) + "." };
  }
  // a text field with its note; take(value) is told of every entry that can be set
  function field(input, note, first, last, words, now, take) {
    const say = (text) => { note.textContent = text; note.hidden = !text; };
    let before = now();
    input.addEventListener("focus", () => { before = now(); });
    input.addEventListener("input", () => {
      const number = parsed(input.value);
      say("");
      if (number >= first && number <= last) take(number);
    });
    input.addEventListener("change", () => {
      const found = entered(input.value, first, last, words, before);
      take(found.value);
      input.value = String(found.value);
      say(found.said);
    });
    return say;
  }
  function addSea(row) {
    element("label", { for: "axis-sea" }, row, "Which sea");
    const choice = element("select", { id: "axis-sea" }, row);
    board.sea_names.forEach((name, i) => element("option", { value: i }, choice, name));
    choice.addEventListener("change", () => {
      kept.remember("sea");
      place.sea = Number(choice.value);
      changed(null);
    });
    refreshers.push(() => { choice.value = String(place.sea); });
  }
  function stepButton(axis, way, word) {
    const said = shown(axis, axis.step), label = axis.label + ": one step " + word + ", " + said;
    const more = { type: "button", class: "step", id: "step-" + axis.name + "-" + word, "aria-label": label };
    const button = element("button", more, null, (way < 0 ? "\u2212" : "+") + said);
    button.addEventListener("click", () => set(axis, value(axis) + way * axis.step));
    return button;
  }
  function add(axis) {
    const row = element("div", { class: "axis" }, byId(axis.sea ? "sea-controls" : "setting-controls"));
    const [first, last] = range(axis);
    place[axis.name] = axis.start;
    if (axis.name === "sea") return addSea(row);
    if (first === last) {
      element("span", {}, row, axis.label);
      element("span", { class: "entry" }, row, shown(axis, first));
      return;
    }
    element("label", { for: "axis-" + axis.name }, row, axis.label);
    const entry = element("span", { class: "entry" }, row);
    const less = stepButton(axis, -1, "less"), more = stepButton(axis, 1, "more");
    entry.appendChild(less);
    const typed = element("input", { type: "text", class: "number", id: "axis-" + axis.name, inputmode: "decimal",
      "aria-describedby": "range-" + axis.name }, entry);
    element("span", { class: "unit" }, entry, axis.unit);
    entry.appendChild(more);
    const slider = element("input", { type: "range", min: first, max: last, step: axis.slide,
      "aria-label": axis.label + ", slider" }, row);
    const note = element("span", { class: "mend", role: "status", id: "note-" + axis.name, hidden: "" }, row);
    const sailed = "simulated: " + shown(axis, first) + " to " + shown(axis, last) + axis.hint;
    element("span", { class: "only", id: "range-" + axis.name }, row, sailed);
    slider.addEventListener("input", () => set(axis, Number(slider.value)));
    const say = field(typed, note, first, last, (v) => shown(axis, v), () => value(axis), (v) => set(axis, v));
    refreshers.push(() => {
      const now = value(axis);
      if (document.activeElement !== typed) { typed.value = String(+now.toFixed(axis.digits + 1)); say(""); }
      slider.value = now;
      for (const [button, way] of [[less, -1], [more, 1]]) {
        const off = !kept.within(axis, now + way * axis.step);
        button.setAttribute("aria-disabled", String(off));  // stays in reach of the keyboard: focus never jumps
      }
    });
  }
  function set(axis, to) {
    if (!kept.within(axis, to) || Math.abs(to - value(axis)) < 1e-9) return;
    kept.remember("set " + axis.name + state.sets);
    if (setsOther(axis)) {
      if (!state.other) kept.setOther(place);
      state.other[axis.name] = +to.toFixed(6);
    } else place[axis.name] = +to.toFixed(6);
    changed(axis.name);
  }
  board.axes.forEach(add);
  for (const which of ["a", "b"]) {
    byId("sets-" + which).addEventListener("click", () => {
      state.sets = which;
      changed(null);
    });
    refreshers.push(() => byId("sets-" + which).setAttribute("aria-pressed", String(state.sets === which)));
  }
  return { refresh: () => refreshers.forEach((each) => each()), field };
};
