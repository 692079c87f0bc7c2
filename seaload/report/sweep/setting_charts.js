// Charts of a sweep: one sea at a time, chosen above them.
"use strict";
(() => {
  const place = document.getElementById("speed-data");
  if (!place) return;
  const data = JSON.parse(place.textContent), found = {}, LEAST = 1e-4;
  const choice = document.getElementById("speed-choice"), kind = document.getElementById("map-choice");
  const CODES = ["within", "undecided", "outside", "not_shown"];
  const clipped = (odds) => Math.min(Math.max(odds, LEAST), 1);
  const columns = (rows) => ({ x: rows.map((r) => r.x), odds: rows.map((r) => clipped(r.odds)),
    low: rows.map((r) => clipped(r.low)), high: rows.map((r) => clipped(r.high)), says: rows.map((r) => r.says),
    mark: rows.map((r) => r.mark) });
  function bright(colour) {
    const n = parseInt(colour.slice(1), 16);
    return 0.3 * (n >> 16) + 0.59 * ((n >> 8) & 255) + 0.11 * (n & 255) > 130;
  }
  function fill() {
    const sea = data.seas[Number(choice.value)];
    if (found.speed) fillSpeed(sea);
    if (found.map) fillMap(sea, Number(kind.value));
  }
  function fillSpeed(sea) {
    for (const code of CODES) {
      found.speed("speed-" + code).data = columns(sea.points.filter((p) => p.decision === code));
    }
    found.speed("speed-best").data = columns(sea.points.filter((p) => p.best));
  }
  function fillMap(sea, number) {
    const style = getComputedStyle(document.documentElement), wear = number === 2;
    const all = sea.cells.map((c) => (wear ? Math.max(c.values[number][0], 1e-12) : c.values[number][0]));
    const low = Math.min(...all), high = Math.max(...all);
    const step = (v) => (wear ? (high > low ? Math.round(11 * Math.log(v / low) / Math.log(high / low)) : 5) : v);
    const colours = all.map((v) => style.getPropertyValue("--ramp-" + (11 - step(v))).trim());
    found.map("map-cells").data = {
      rake: sea.cells.map((c) => c.rake), extension: sea.cells.map((c) => c.extension), colour: colours,
      ink: colours.map((c) => (bright(c) ? "#101214" : "#ffffff")),
      written: sea.cells.map((c) => c.values[number][1] + c.sign), says: sea.cells.map((c) => c.says) };
  }
  if (kind) kind.addEventListener("change", fill);
  choice.addEventListener("change", fill);
  seacharts.listen(fill);
  for (const name of ["speed", "map"]) {
    const item = document.getElementById(name + "-chart");
    if (!item) continue;
    seacharts.show(name, JSON.parse(item.textContent), (finder) => { found[name] = finder; fill(); });
  }
})();
