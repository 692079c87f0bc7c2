// The controls: a slider, a field and two step buttons an axis. `place` is where the board stands; changed(axis name)
// is told after it has moved.
"use strict";
const boardControls = (board, place, changed) => {
  const { byId, element, shown, range } = boardElements, inputs = {};

  function addSea(row) {
    element("label", { for: "axis-sea" }, row, "Which sea");
    const choice = element("select", { id: "axis-sea" }, row);
    board.sea_names.forEach((name, i) => element("option", { value: i }, choice, name));
    choice.addEventListener("change", () => { place.sea = Number(choice.value); changed(null); });
  }
  function stepButton(axis, way, word) {
    const said = shown(axis, axis.step), label = axis.label + ": one step " + word + ", " + said;
    const more = { type: "button", class: "step", id: "step-" + axis.name + "-" + word, "aria-label": label };
    const button = element("button", more, null, (way < 0 ? "\u2212" : "+") + said);
    button.addEventListener("click", () => set(axis, place[axis.name] + way * axis.step));
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
    const typed = element("input", { type: "number", id: "axis-" + axis.name, step: "any", inputmode: "decimal",
      "aria-describedby": "range-" + axis.name }, entry);
    element("span", {}, entry, axis.unit);
    entry.appendChild(more);
    const slider = element("input", { type: "range", min: first, max: last, step: axis.slide,
      "aria-label": axis.label + ", slider" }, row);
    const sailed = "simulated: " + shown(axis, first) + " to " + shown(axis, last) + axis.hint;
    element("span", { class: "only", id: "range-" + axis.name }, row, sailed);
    slider.addEventListener("input", () => set(axis, Number(slider.value)));
    typed.addEventListener("input", () => set(axis, typed.value.trim() === "" ? NaN : Number(typed.value), true));
    inputs[axis.name] = (keepTyped) => {
      const value = place[axis.name];
      if (!keepTyped) typed.value = Number.isFinite(value) ? +value.toFixed(axis.digits + 1) : "";
      if (Number.isFinite(value)) slider.value = value;
      for (const [button, way] of [[less, -1], [more, 1]]) {
        const there = value + way * axis.step;
        button.disabled = !(there >= first - 1e-9 && there <= last + 1e-9);
      }
    };
    inputs[axis.name]();
  }
  function set(axis, value, keepTyped) {
    place[axis.name] = Number.isFinite(value) ? +value.toFixed(6) : value;
    inputs[axis.name](keepTyped);
    changed(axis.name);
  }
  // several axes at once, as a move does
  function go(there, names) {
    for (const name of names) {
      place[name] = there[name];
      inputs[name]();
    }
    changed(names[0]);
  }
  board.axes.forEach(add);
  return { go };
};
