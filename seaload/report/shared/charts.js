// Puts the page's charts on it and keeps them in the page's own colours, also when the ground turns dark.
"use strict";
const seacharts = (() => {
  const views = {};
  if (typeof Bokeh !== "undefined") Bokeh.logger.set_level("error");

  function recolour(root) {
    const style = getComputedStyle(document.documentElement);
    for (const model of root.references()) {
      for (const tag of model.tags || []) {
        if (!tag || typeof tag !== "object") continue;
        const found = tag instanceof Map ? tag.get("colours") || [] : tag.colours;
        const colours = found instanceof Map || Array.isArray(found) ? Object.fromEntries(found) : found;
        for (const key in colours || {}) {
          const colour = style.getPropertyValue(colours[key]).trim(), now = key in model && model[key];
          model[key] = now && typeof now === "object" && "value" in now ? { value: colour } : colour;
        }
      }
    }
  }
  const listeners = [];
  const all = () => {
    for (const name in views) recolour(views[name]);
    for (const told of listeners) told();
  };

  // item : one chart; it goes into the element "chart-NAME"; done(find) is called with a finder of parts
  async function show(name, item, done) {
    const target = document.getElementById("chart-" + name);
    if (typeof Bokeh === "undefined" || !target) return;
    const found = await Bokeh.embed.embed_item(item, target.id);
    const view = found.roots ? found.roots[0] : Object.values(found)[0];
    views[name] = view.model;
    recolour(view.model);
    document.documentElement.classList.add("charts");
    if (done) done((part) => [...view.model.references()].find((m) => m.name === part));
    target.dataset.ready = "yes";
  }
  // the page's own buttons: nearer, farther, all of what the chart began with
  const began = {}, SHARE = { nearer: 0.5, farther: 2 };
  function zoom(button) {
    const { chart, range: name, zoom: how } = button.dataset, view = views[chart];
    const range = view && [...view.references()].find((m) => m.name === name);
    if (!range) return;
    const all = began[name] || (began[name] = [range.start, range.end]), middle = 0.5 * (range.start + range.end);
    const half = how === "all" ? Infinity : 0.5 * SHARE[how] * (range.end - range.start);
    [range.start, range.end] = [Math.max(all[0], middle - half), Math.min(all[1], middle + half)];
  }
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-zoom]");
    if (button) zoom(button);
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", all);
  new MutationObserver(all).observe(document.documentElement, { attributes: true, attributeFilter: ["data-ground"] });
  return { show, all, views, listen: (told) => listeners.push(told) };
})();
