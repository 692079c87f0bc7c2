// The board itself: controls in, readings out. Text from the result only ever becomes text, never markup.
(() => {
  const W = boardWords, board = JSON.parse(document.getElementById("board-data").textContent);
  const byId = (id) => document.getElementById(id);
  const place = {}, inputs = {};
  let moved = null;  // the axis that was moved last: the one the chart shows

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

  // controls
  function addAxis(axis) {
    const row = element("div", { class: "axis" }, byId(axis.sea ? "sea-controls" : "setting-controls"));
    const first = axis.values[0], last = axis.values[axis.values.length - 1];
    place[axis.name] = axis.start;
    if (axis.name === "sea") {
      element("label", { for: "axis-sea" }, row, "Which sea");
      const choice = element("select", { id: "axis-sea" }, row);
      board.sea_names.forEach((name, i) => element("option", { value: i }, choice, name));
      choice.addEventListener("change", () => { place.sea = Number(choice.value); show(); });
      return;
    }
    if (first === last) {
      element("span", {}, row, axis.label);
      element("span", { class: "entry" }, row, shown(axis, first));
      return;
    }
    element("label", { for: "axis-" + axis.name }, row, axis.label);
    const entry = element("span", { class: "entry" }, row), steps = [];
    const step = (way, word) => {
      const said = shown(axis, axis.step), button = element("button", { type: "button", class: "step", id: "step-" + axis.name + "-" + word,
        "aria-label": axis.label + ": one step " + word + ", " + said }, null, (way < 0 ? "\u2212" : "+") + said);
      button.addEventListener("click", () => set(axis, place[axis.name] + way * axis.step));
      steps.push([button, way]);
      return button;
    };
    const less = step(-1, "less"), more = step(1, "more");
    entry.appendChild(less);
    const typed = element("input", { type: "number", id: "axis-" + axis.name, step: "any", inputmode: "decimal",
      "aria-describedby": "range-" + axis.name }, entry);
    element("span", {}, entry, axis.unit);
    entry.appendChild(more);
    const slider = element("input", { type: "range", min: first, max: last, step: axis.slide, "aria-label": axis.label + ", slider" }, row);
    element("span", { class: "only", id: "range-" + axis.name }, row, "sailed: " + shown(axis, first) + " to " + shown(axis, last) + axis.hint);
    slider.addEventListener("input", () => set(axis, Number(slider.value)));
    typed.addEventListener("input", () => set(axis, typed.value.trim() === "" ? NaN : Number(typed.value), true));
    inputs[axis.name] = (keepTyped) => {
      const value = place[axis.name];
      if (!keepTyped) typed.value = Number.isFinite(value) ? +value.toFixed(axis.digits + 1) : "";
      if (Number.isFinite(value)) slider.value = value;
      for (const [button, way] of steps) {
        const there = value + way * axis.step;
        button.disabled = !(there >= first - 1e-9 && there <= last + 1e-9);
      }
    };
    inputs[axis.name]();
  }
  function set(axis, value, keepTyped) {
    place[axis.name] = Number.isFinite(value) ? +value.toFixed(6) : value;
    moved = axis.name;
    inputs[axis.name](keepTyped);
    show();
  }

  // several axes at once
  function go(there, changes) {
    for (const name in changes) {
      place[name] = there[name];
      moved = name;
      inputs[name]();
    }
    show();
  }

  // answers
  function reason(outside) {
    if (outside === "gap") return "No reading here: a neighbouring point was not sailed, cannot be reached, or left the model's validity.";
    const axis = board.axes.find((a) => a.name === outside), value = place[outside];
    const said = Number.isFinite(value) ? axis.label + " " + shown(axis, value) : axis.label + " (nothing typed)";
    const first = axis.values[0], last = axis.values[axis.values.length - 1];
    return "No data: " + said + " lies outside what was sailed (" + (first === last ? "only " + shown(axis, first) : shown(axis, first) + " to " + shown(axis, last)) + "). Nothing is guessed.";
  }
  const near = (found) => found.reduce((best, corner) => (corner[1] > best[1] ? corner : best))[0];

  function settingWords() {
    return board.axes.filter((a) => !a.sea).filter((a) => a.values.length > 1 || a.name === "extension_percent" || a.name === "speed_knots")
      .map((a) => a.short.replace("#", shown(a, place[a.name]))).join(", ");
  }

  function showAssumed(reading) {
    const sea = reading ? board.seas[board.sea_of_cell[near(reading.found)]] : null;
    const parts = board.axes.filter((a) => a.sea && a.name !== "sea").map((a) => a.short.replace("#", shown(a, place[a.name])));
    const follows = board.axes[0].name === "hs_m" && !board.axes.some((a) => a.name === "tp_s");
    if (reading && follows) parts.splice(1, 0, "period " + (+reading.period_s.toFixed(1)) + " s (it follows the height)");
    if (board.axes[0].name === "sea") parts.push(board.seas[place.sea].words);
    else if (sea) parts.push(sea.wind);
    byId("assumed").textContent = "Assumed: " + parts.join(", ") + "; " + settingWords() + ". From now on, unchanged.";
  }

  // how a reading stands against what the study accepts on one side: 0 within ... 3 past
  function standing(reading, level) {
    const limit = -Math.log1p(-level.odds) / level.hours;
    const [best, low, high] = ["", "_low", "_high"].map((end) => reading[level.side + "_rate" + end]);
    return high <= limit ? 0 : low > limit ? 3 : best <= limit ? 1 : 2;
  }
  const worst = (reading) => board.levels.reduce((most, level) => Math.max(most, standing(reading, level)), -1);
  const SHORT = ["within", "undecided", "rather past", "past"];
  const ANSWERS = ["Yes: within the accepted odds, also at the upper bound.",
    "Undecided: within the accepted odds by the best estimate, past them at the upper bound.",
    "Rather not: past the accepted odds by the best estimate; the lower bound is within.",
    "No: past the accepted odds, even at the lower bound."];
  const UNSEEN = "Undecided: never past a limit in the hours sailed, but too few hours to rule it out.";
  const WHERE = ["within, also at the upper bound", "within by the best estimate, past at the upper bound",
    "past by the best estimate, within at the lower bound", "past, even at the lower bound"];

  function showSentence(reading) {
    byId("question").textContent = "Keep " + settingWords() + " for the next hour?";
    const found = worst(reading), open = board.levels.filter((level) => standing(reading, level) === 1);
    const unseen = found === 1 && open.every((level) => reading[level.side + "_rate"] === 0);
    byId("verdict").textContent = found < 0 ? "" : unseen ? UNSEEN : ANSWERS[found];
    byId("said").textContent = "Reverse load past the limit in the next hour: " + W.oddsWords(reading.reverse_rate, reading.reverse_rate_high, 1) + ".";
    byId("nearest").textContent = reading.reverse_worst === undefined || reading.reverse_worst === null ? "" : "The worst moment in " + (reading.hours < 0.95 ? Math.round(60 * reading.hours) + " minutes" : W.significant(reading.hours) + " h") +
      " of sea reached " + Math.round(reading.reverse_worst) + " % of the reverse limit and " + Math.round(reading.normal_worst) + " % of the normal one." + luck(reading, "reverse", 1, " For reverse load the luck of the waves alone leaves ", ", forecast and model error the rest.");
    byId("level").textContent = board.levels.map((level) => {
      const hourly = 1 - Math.pow(1 - level.odds, 1 / level.hours);
      return level.words + " " + W.oneIn(level.odds) + " in " + W.significant(level.hours) + " h (" + W.oneIn(hourly) + " in an hour): " +
        WHERE[standing(reading, level)] + ".";
    }).join(" ");
  }

  // the bound that holds sampling alone, where the study tells it from forecast and model error
  function luck(reading, side, hours, before, after) {
    const high = reading[side + "_rate_luck_high"];
    return high === undefined || high === null ? "" : before + "up to " + W.oneIn(W.oddsOf(high, hours), true) + after;
  }

  function oddsBar(cell, rates, lucky, hours, level) {
    const svg = drawn("svg", { viewBox: "0 0 300 34", "aria-hidden": "true" }, cell), low = -4;
    const x = (odds) => 6 + 288 * (Math.max(Math.log10(Math.max(odds, 1e-9)), low) - low) / -low;
    drawn("line", { x1: 6, x2: 294, y1: 20, y2: 20, stroke: "var(--grid)", "stroke-width": 2 }, svg);
    for (let power = low; power <= 0; power++) {
      const at = x(Math.pow(10, power));
      drawn("line", { x1: at, x2: at, y1: 16, y2: 24, stroke: "var(--muted)" }, svg);
    }
    if (level) {
      drawn("line", { x1: x(level), x2: x(level), y1: 2, y2: 32, stroke: "var(--reverse)", "stroke-width": 2, "stroke-dasharray": "4 3" }, svg);
    }
    const [best, down, up] = rates.map((rate) => W.oddsOf(rate, hours));
    const inner = lucky ? lucky.map((rate) => W.oddsOf(rate, hours)) : [down, up];
    drawn("line", { x1: x(down), x2: x(up), y1: 20, y2: 20, stroke: "var(--ink)", "stroke-width": 2 }, svg);
    drawn("line", { x1: x(inner[0]), x2: x(inner[1]), y1: 20, y2: 20, stroke: "var(--ink)", "stroke-width": 6 }, svg);
    if (best > 0) drawn("circle", { cx: x(best), cy: 20, r: 7, fill: "var(--paper)", stroke: "var(--ink)", "stroke-width": 3 }, svg);
  }

  function showOdds(reading) {
    const body = byId("odds").tBodies[0];
    empty(body);
    const own = Number(byId("hours").value);
    const rows = [[1, "the next hour"], [3, "the watch, 3 h"]];
    if (own > 0 && own <= 240) rows.push([own, W.significant(own, 3) + " h"]);
    for (const [hours, words] of rows) {
      const row = element("tr", {}, body);
      element("th", { scope: "row" }, row, words);
      for (const side of ["reverse", "normal"]) {
        const cell = element("td", { "data-side": side === "reverse" ? "Reverse load past the limit" : "Load past the normal limit" }, row), rates = ["", "_low", "_high"].map((end) => reading[side + "_rate" + end]);
        element("span", { class: "best" }, cell, W.oddsWords(rates[0], rates[2], hours));
        const level = board.levels.find((l) => l.side === side && Math.abs(l.hours - hours) < 1e-9);
        element("span", { class: "against" }, cell, luck(reading, side, hours, "by the luck of the waves alone ", ""));
        const ends = ["_low", "_high"].map((end) => reading[side + "_rate_luck" + end]);
        oddsBar(cell, rates, ends.every(Number.isFinite) ? ends : null, hours, level ? level.odds : 0);
      }
    }
    const row = element("tr", { class: "scale", "aria-hidden": "true" }, body);
    element("td", {}, row, "");
    ["reverse", "normal"].forEach(() => {
      const svg = drawn("svg", { viewBox: "0 0 300 18", "aria-hidden": "true" }, element("td", {}, row));
      [[6, "start", "1 in 10,000"], [150, "middle", "1 in 100"], [294, "end", "certain"]].forEach(([x, anchor, text]) =>
        drawn("text", { x: x, y: 12, "font-size": 12, fill: "var(--muted)", "text-anchor": anchor }, svg, text));
    });
  }

  function showTiles(reading) {
    const wear = reading.wear;
    byId("wear").textContent = wear < 0.01 ? "under 0.01 swings an hour" : W.significant(wear) + " swings an hour";
    byId("wear-range").textContent = (reading.wear_high === null ? W.downwards(reading.wear_low) + " or more" : W.downwards(reading.wear_low) + " to " + W.upwards(reading.wear_high)) +
      "; one swing is a load cycle from 0 to 100 % of the normal limit, at the worst place";
    byId("speed").textContent = reading.speed_knots.toFixed(1) + " kn";
    const best = fastest();
    byId("speed-given").textContent = best === null ? "" : Math.max(best - reading.speed_knots, 0).toFixed(1) + " kn given up against the fastest sailed in this sea (" + best.toFixed(1) + " kn)";
    if (reading.attainable_knots !== null && reading.attainable_knots !== undefined)
      byId("speed-given").textContent += "; the thrust can hold " + reading.attainable_knots.toFixed(1) + " kn here";
  }
  // fastest reading in this sea over all sailed settings, the sea itself interpolated
  function fastest() {
    const seas = board.axes.filter((a) => a.sea), others = board.axes.filter((a) => !a.sea);
    let best = null;
    const walk = (i, here) => {
      if (i === others.length) {
        const cell = W.corners(board.axes, here);
        if (cell.outside) return;
        const speed = W.blend("speed_knots", board.fields, cell.found);
        if (speed !== null && (best === null || speed > best)) best = speed;
        return;
      }
      for (const value of others[i].values) { here[others[i].name] = value; walk(i + 1, here); }
    };
    const here = {};
    for (const axis of seas) here[axis.name] = place[axis.name];
    walk(0, here);
    return best;
  }

  function showFoil(reading) {
    const svg = byId("foil"), left = 58, right = 626, top = 14, bottom = 252, m = board.material_m, last = m[m.length - 1];
    empty(svg);
    if (!m.length) return;
    const x = (s) => left + (right - left) * s / last, y = (share) => top + (bottom - top) * (130 - share) / 260;
    const text = (px, py, what, colour, anchor, weight) => drawn("text", { x: px, y: py, "font-size": 13, fill: colour || "var(--ink)", "text-anchor": anchor || "start", "font-weight": weight || 400 }, svg, what);
    const bearing = reading.bearing_m;
    drawn("rect", { x: x(0), y: top, width: Math.max(x(bearing) - x(0), 0), height: bottom - top, fill: "var(--band-muted)" }, svg);
    [[100, "var(--normal)", "normal limit"], [0, "var(--muted)", ""], [-100, "var(--reverse)", "reverse limit"]].forEach(([share, colour, word]) => {
      drawn("line", { x1: left, x2: right, y1: y(share), y2: y(share), stroke: colour, "stroke-width": share ? 2.5 : 1 }, svg);
      text(left - 6, y(share) + 4, Math.abs(share) + " %", colour, "end");
      if (word) text(right, y(share) + (share > 0 ? -6 : 16), word, colour, "end");
    });
    let words = [];
    for (const [key, colour, band, way] of [["up", "var(--normal)", "var(--band-normal)", "up"], ["down", "var(--reverse)", "var(--band-reverse)", "down"]]) {
      const points = [];
      m.forEach((s, i) => {
        if (s < bearing - 1e-6) return;
        let total = 0;
        for (const [index, weight] of reading.found) { const list = board[key][index]; if (!list || list[i] === null) return; total += weight * list[i]; }
        points.push([s, way === "up" ? Math.max(total, 0) : Math.min(total, 0)]);
      });
      if (!points.length) continue;
      const line = points.map((p) => x(p[0]).toFixed(1) + "," + y(Math.max(Math.min(p[1], 130), -130)).toFixed(1)).join(" ");
      drawn("polygon", { points: x(points[0][0]).toFixed(1) + "," + y(0) + " " + line + " " + x(points[points.length - 1][0]).toFixed(1) + "," + y(0), fill: band }, svg);
      drawn("polyline", { points: line, fill: "none", stroke: colour, "stroke-width": 2 }, svg);
      const worst = points.reduce((a, b) => (Math.abs(b[1]) > Math.abs(a[1]) ? b : a));
      if (Math.abs(worst[1]) < 0.5) { words.push("none " + way); continue; }
      words.push(Math.abs(worst[1]).toFixed(0) + " % " + way + " at " + worst[0].toFixed(1) + " m");
      text(x(worst[0]) + (x(worst[0]) < x(bearing) + 40 ? 6 : 0), y(worst[1]) + (way === "up" ? (worst[1] > 80 ? 16 : -6) : (worst[1] < -80 ? -8 : 16)), Math.abs(worst[1]).toFixed(0) + " % " + way, colour, x(worst[0]) < x(bearing) + 40 ? "start" : "middle", 600);
    }
    drawn("line", { x1: x(bearing), x2: x(bearing), y1: top, y2: bottom, stroke: "var(--ink)", "stroke-width": 2 }, svg);
    text(x(bearing) + 5, top + 12, "bearing", "var(--ink)", "start", 600);
    if (x(bearing) - x(0) > 70) text((x(0) + x(bearing)) / 2, bottom - 8, "inside", "var(--muted)", "middle");
    board.stations_m.forEach((s, i) => {
      drawn("rect", { x: x(s) - 4, y: y(0) - 4, width: 8, height: 8, fill: "var(--paper)", stroke: "var(--ink)" }, svg);
      text(x(s), y(0) + 18, String(i + 1), "var(--ink)", "middle");
    });
    for (let s = 0; s <= last + 1e-9; s += 1) text(x(s), bottom + 18, s.toFixed(0), "var(--muted)", "middle");
    text((left + right) / 2, bottom + 38, "place in the foil's material, root to tip [m]; squares: stations", "var(--muted)", "middle");
    byId("foil-words").textContent = "Worst moment of the hours sailed at each place: " + words.join(", ") + ". Up is a share of the normal limit, down of the reverse limit. Left out: when it happens.";
  }

  function showMoves(now) {
    const body = byId("moves").tBodies[0];
    empty(body);
    for (const move of board.moves) {
      const there = Object.assign({}, place);
      for (const name in move.changes) there[name] = +(place[name] + move.changes[name]).toFixed(6);
      const reading = W.interpolate(board, there), row = element("tr", {}, body);
      const button = element("button", { type: "button", class: "move" }, element("th", { scope: "row" }, row), move.words);
      button.disabled = Boolean(reading.outside);
      button.addEventListener("click", () => go(there, move.changes));
      const slow = move.only_below && now.speed_knots >= move.only_below - 0.05;
      element("td", {}, row, move.takes + (slow ? ": slow down first" : ""));
      if (reading.outside) {
        const missing = board.axes.find((a) => a.name === reading.outside);
        element("td", { class: "muted", colspan: 4 }, row, missing ? "no data: not sailed at " + shown(missing, there[missing.name]) : "no data there");
        continue;
      }
      for (const [side, words] of [["reverse", "Reverse, next hour"], ["normal", "Normal, next hour"]]) {
        const cell = element("td", { "data-side": words }, row, W.oddsWords(reading[side + "_rate"], reading[side + "_rate_high"], 1));
        element("span", { class: "against" }, cell, nearer(now[side + "_worst"], reading[side + "_worst"]));
      }
      element("td", { "data-side": "Accepted odds" }, row, SHORT[worst(reading)] || "none stated");
      const change = reading.speed_knots - now.speed_knots;
      element("td", { "data-side": "Speed" }, row, Math.abs(change) < 0.05 ? "the same" : (change > 0 ? "+" : "\u2212") + Math.abs(change).toFixed(1) + " kn");
    }
  }
  // what a move does to the worst moment sailed: all settings met the same waves, so this compares even where odds are too
  // rare to; rates there differ by chance
  function nearer(now, then) {
    if (now === null || now === undefined || then === null || then === undefined) return "";
    const [from, to] = [Math.round(now), Math.round(then)];
    return "worst " + to + " % of limit, " + (from === to ? "as now" : "now " + from + " %");
  }

  function show() {
    const reading = W.interpolate(board, place), answers = byId("answers");
    answers.classList.toggle("off", Boolean(reading.outside));
    showAssumed(reading.outside ? null : reading);
    if (reading.outside) {
      byId("question").textContent = reason(reading.outside);
      for (const id of ["verdict", "said", "nearest"]) byId(id).textContent = "";
      byId("level").textContent = "";
      for (const id of ["wear", "speed"]) byId(id).textContent = "no data";
      for (const id of ["wear-range", "speed-given", "foil-words"]) byId(id).textContent = "";
      for (const id of ["odds", "moves"]) empty(byId(id).tBodies[0]);
      empty(byId("foil"));
      boardChart.clear();
      return;
    }
    showSentence(reading); showOdds(reading); showTiles(reading); showFoil(reading); showMoves(reading);
    boardChart.update(place, moved);
  }

  board.axes.forEach(addAxis);
  const boardChart = boardCharts(board, shown);
  byId("hours").addEventListener("input", show);
  byId("controls").addEventListener("submit", (event) => event.preventDefault());
  byId("ground").addEventListener("click", () => {
    const root = document.documentElement, dark = root.dataset.ground ? root.dataset.ground === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
    root.dataset.ground = dark ? "light" : "dark";
    byId("ground").setAttribute("aria-pressed", String(!dark));
  });
  window.seaboard = { place: place, reading: (at) => W.interpolate(board, at || place), words: W, show: show };
  show();
})();
