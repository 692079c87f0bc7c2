// Small makers of page elements. Text from the result only ever becomes text, never markup.
"use strict";
const boardElements = (() => {
  const byId = (id) => document.getElementById(id);
  function element(name, more, parent, text) {
    const made = document.createElement(name);
    for (const key in more || {}) made.setAttribute(key, more[key]);
    if (text !== undefined) made.textContent = text;
    if (parent) parent.appendChild(made);
    return made;
  }
  function drawn(name, more, parent, text) {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const key in more) made.setAttribute(key, more[key]);
    if (text !== undefined) made.textContent = text;
    parent.appendChild(made);
    return made;
  }
  const empty = (node) => { while (node.firstChild) node.removeChild(node.firstChild); };
  const shown = (axis, value) => (+value.toFixed(axis.digits)).toString() + axis.gap + axis.unit;
  const range = (axis) => [axis.values[0], axis.values[axis.values.length - 1]];
  return { byId, element, drawn, empty, shown, range };
})();
