// Replay of the worst ten seconds: water, boat and foil drawn from the kept series of the result. No library.
"use strict";
(() => {
  const data = JSON.parse(document.getElementById("replay-data").textContent);
  const picture = document.getElementById("replay-picture");
  const find = (id) => document.getElementById("replay-" + id);
  const play = find("play"), slider = find("time"), pace = find("pace"), choice = find("window"), words = find("words");
  const SCALE = 54, LOAD_PIXELS = 80;            // [px/m] of the front view; largest load drawn
  const FRONT = { x: 175, y: 185 }, SIDE = { x: 718, y: 105, scale: 13.5 };
  const CHART = { left: 60, right: 790, top: 470, water: 70, gap: 22, load: 96 };
  const listeners = [];                          // told of every frame that is drawn
  let window_ = data.windows[0], frame = window_[1], running = false, before = 0, carry = 0;

  function make(name, attributes, parent) {
    const element = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const key in attributes) element.setAttribute(key, attributes[key]);
    (parent || picture).appendChild(element);
    return element;
  }
  function say(x, y, text, more) {
    const element = make("text", Object.assign({ x: x, y: y, "font-size": 15, fill: "var(--ink)" }, more || {}));
    element.textContent = text;
    return element;
  }
  const round = (value) => Math.round(value * 100) / 100;
  const points = (list) => list.map((p) => round(p[0]) + "," + round(p[1])).join(" ");

  // fixed parts
  make("rect", { x: 0, y: 0, width: 900, height: 690, fill: "var(--paper)" });
  const frontClip = make("clipPath", { id: "replay-front" });
  make("rect", { x: 0, y: 26, width: 545, height: 390 }, frontClip);
  const sideClip = make("clipPath", { id: "replay-side" });
  make("rect", { x: 570, y: 26, width: 330, height: 164 }, sideClip);
  const front = make("g", { "clip-path": "url(#replay-front)" });
  const side = make("g", { "clip-path": "url(#replay-side)" });
  const frontWater = make("polygon", { fill: "var(--band-normal)", opacity: 0.55 }, front);
  const frontLine = make("polyline", { fill: "none", stroke: "var(--sea)", "stroke-width": 2 }, front);
  const section = make("polygon", { fill: "var(--band-muted)", stroke: "var(--hull)", "stroke-width": 1.5 }, front);
  const up = make("path", { fill: "var(--normal)", opacity: 0.75 }, front);
  const down = make("path", { fill: "var(--reverse)", opacity: 0.85 }, front);
  const foil = make("polyline",
    { fill: "none", stroke: "var(--ink)", "stroke-width": 4, "stroke-linejoin": "round" }, front);
  const dry = make("path", { fill: "none", stroke: "var(--paper)", "stroke-width": 1.6 }, front);
  const sideWater = make("rect", { x: 570, width: 330, height: 400, fill: "var(--band-normal)", opacity: 0.55 }, side);
  const sideHull = make("polygon", { fill: "var(--band-muted)", stroke: "var(--hull)", "stroke-width": 1.5 }, side);
  say(0, 17, "Foil, " + data.seen_from + ", leeward to the right", { "font-weight": 600 });
  say(570, 17, "Boat from the side, water amidships", { "font-weight": 600 });
  say(570, 222, "Share of the limit now [%]", { "font-weight": 600 });
  const scaleText = say(0, 436, "", { "font-size": 13, fill: "var(--muted)" });

  // bars of the places
  const bars = data.places.map((name, i) => {
    const y = 246 + i * Math.min(30, 165 / data.places.length);
    say(570, y + 5, name, { "font-size": 13.5 });
    return { y: y, bar: make("rect", { y: y - 7, height: 14 }), text: say(0, y + 5, "", { "font-size": 13.5 }) };
  });
  const middle = 736, perPercent = 0.72;
  const barBottom = 246 + (data.places.length - 1) * Math.min(30, 165 / data.places.length) + 14;
  [[-100, "var(--reverse)"], [0, "var(--muted)"], [100, "var(--normal)"]].forEach((mark) =>
    make("line", { x1: middle + mark[0] * perPercent, x2: middle + mark[0] * perPercent, y1: 232, y2: barBottom,
      stroke: mark[1], "stroke-width": mark[0] ? 2 : 1 }));

  // strips of time
  const chart = make("g", {});
  const cursor = make("line", { stroke: "var(--ink)", "stroke-width": 1.5, y1: CHART.top,
    y2: CHART.top + CHART.water + CHART.gap + CHART.load });
  const chartX = (i) => CHART.left + (CHART.right - CHART.left) * (data.time_s[i] - data.time_s[window_[0]]) /
    (data.time_s[window_[2]] - data.time_s[window_[0]]);

  function drawChart() {
    while (chart.firstChild) chart.removeChild(chart.firstChild);
    const within = [];
    for (let i = window_[0]; i <= window_[2]; i++) within.push(i);
    const line = (values, scaleY, colour, dash, width) => make("polyline", {
      points: points(within.map((i) => [chartX(i), scaleY(values(i))])), fill: "none",
      stroke: colour, "stroke-width": width || 1.8, "stroke-dasharray": dash || "none" }, chart);
    const text = (x, y, what, colour, anchor) => {
      const element = make("text", { x: x, y: y, "font-size": 13, fill: colour || "var(--ink)",
        "text-anchor": anchor || "start" }, chart);
      element.textContent = what;
    };
    const rule = (y, colour, dash) => make("line", { x1: CHART.left, x2: CHART.right, y1: y, y2: y, stroke: colour,
      "stroke-dasharray": dash || "none" }, chart);
    const water = within.map((i) => data.elevation_m[i]).concat(within.map((i) => data.heave_m[i]));
    const low = Math.min(...water), high = Math.max(...water) + 0.01;
    const waterY = (value) => CHART.top + CHART.water * (high - value) / (high - low);
    line((i) => data.elevation_m[i], waterY, "var(--sea)");
    line((i) => data.heave_m[i], waterY, "var(--ink)", "6 3");
    text(CHART.right + 6, waterY(data.elevation_m[window_[2]]) + 4, "water", "var(--sea)");
    const above = data.heave_m[window_[2]] > data.elevation_m[window_[2]];
    text(CHART.right + 6, waterY(data.heave_m[window_[2]]) + (above ? -6 : 16), "boat (heave)");
    text(CHART.left - 6, CHART.top + 10, high.toFixed(1) + " m", "var(--muted)", "end");
    text(CHART.left - 6, CHART.top + CHART.water, low.toFixed(1) + " m", "var(--muted)", "end");
    const base = CHART.top + CHART.water + CHART.gap;
    const flat = within.flatMap((i) => data.share[i]);
    const bottom = Math.min(-60, Math.min(...flat) - 8), top = Math.max(60, Math.max(...flat) + 8);
    const loadY = (value) => base + CHART.load * (top - value) / (top - bottom);
    rule(loadY(0), "var(--muted)");
    [[100, "var(--normal)", ""], [-50, "var(--reverse)", "5 4"], [-100, "var(--reverse)", ""]].forEach((mark) => {
      if (mark[0] <= bottom || mark[0] >= top) return;
      rule(loadY(mark[0]), mark[1], mark[2]);
      text(CHART.left - 6, loadY(mark[0]) + 4, mark[0] + " %", mark[1], "end");
    });
    const count = data.places.length;
    for (let p = count - 1; p >= 0; p--) {
      const shade = Math.round(8 * p / Math.max(count - 1, 1));
      line((i) => data.share[i][p], loadY, "var(--ramp-" + shade + ")", "", p ? 1.3 : 2.2);
    }
    text(CHART.left - 6, loadY(0) + 4, "0 %", "var(--muted)", "end");
    text(CHART.right + 6, base + CHART.load / 2, "share of limit,", "var(--muted)");
    text(CHART.right + 6, base + CHART.load / 2 + 16, "all places", "var(--muted)");
    for (let second = 0; second <= 10; second += 2) {
      const x = CHART.left + (CHART.right - CHART.left) * second / 10;
      text(x, base + CHART.load + 20, String(second), "var(--muted)", "middle");
    }
    text(CHART.right + 22, base + CHART.load + 20, "seconds", "var(--muted)");
  }

  function turned(y, z, roll, lift) {
    const c = Math.cos(roll), s = Math.sin(roll);
    return [FRONT.x + SCALE * (y * c + z * s), FRONT.y - SCALE * (-y * s + z * c + lift)];
  }

  function largestLoad() {
    let most = 1;
    for (let i = window_[0]; i <= window_[2]; i++) {
      for (const load of data.load_n_per_m[i]) most = Math.max(most, Math.abs(load));
    }
    return most;
  }
  let loadScale = 1;

  function draw() {
    const roll = data.roll_deg[frame] * Math.PI / 180, pitch = data.pitch_deg[frame] * Math.PI / 180;
    const heave = data.heave_m[frame], lift = data.foil_x * pitch, n = data.edge_y.length - 1;
    const edges = data.edge_y.map((y, i) => turned(y, data.edge_z[i], roll, lift));
    foil.setAttribute("points", points(edges));
    section.setAttribute("points", points(data.section_y.map((y, i) => turned(y, data.section_z[i], roll, lift))));
    const tops = edges.map((edge, i) => {        // ends of the load, square to the curve, mean of both neighbours
      const a = edges[Math.max(i - 1, 0)], b = edges[Math.min(i + 1, n)];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1, loads = data.load_n_per_m[frame];
      const load = (loads[Math.max(i - 1, 0)] + loads[Math.min(i, n - 1)]) / 2 * loadScale;
      return [edge[0] + (b[1] - a[1]) / length * load, edge[1] - (b[0] - a[0]) / length * load];
    });
    let plus = "", minus = "", bare = "";
    for (let i = 0; i < n; i++) {
      const a = edges[i], b = edges[i + 1], load = data.load_n_per_m[frame][i] * loadScale;
      const cell = "M" + points([a, b, tops[i + 1], tops[i]]).replaceAll(" ", "L") + "Z";
      if (load >= 0) plus += cell; else minus += cell;
      if (+data.wet[frame][i] < 5) bare += "M" + points([a, b]).replace(" ", "L");
    }
    up.setAttribute("d", plus); down.setAttribute("d", minus); dry.setAttribute("d", bare);
    const tip = [(edges[n][0] + edges[n - 1][0]) / 2, (edges[n][1] + edges[n - 1][1]) / 2];
    const level = FRONT.y - SCALE * (data.elevation_m[frame] - heave);
    const atTip = tip[1] - SCALE * data.tip_depth_m[frame];
    const surface = [[-10, level], [FRONT.x, level], [tip[0], atTip], [560, atTip]];
    frontLine.setAttribute("points", points(surface));
    frontWater.setAttribute("points", points(surface.concat([[560, 500], [-10, 500]])));
    const c = Math.cos(pitch), s = Math.sin(pitch);
    sideHull.setAttribute("points", points(data.side_x.map((x, i) => [
      SIDE.x + SIDE.scale * (x * c - data.side_z[i] * s), SIDE.y - SIDE.scale * (x * s + data.side_z[i] * c)])));
    sideWater.setAttribute("y", round(SIDE.y - SIDE.scale * (data.elevation_m[frame] - heave)));
    data.share[frame].forEach((value, i) => {
      const width = Math.min(Math.abs(value), 130) * perPercent, bar = bars[i];
      bar.bar.setAttribute("x", value < 0 ? middle - width : middle); bar.bar.setAttribute("width", width);
      bar.bar.setAttribute("fill", value < 0 ? "var(--reverse)" : "var(--normal)");
      bar.text.textContent = Math.abs(value) + (value < 0 ? " down" : " up");
      bar.text.setAttribute("x", 836);
    });
    cursor.setAttribute("x1", chartX(frame)); cursor.setAttribute("x2", chartX(frame));
    slider.value = frame - window_[0];
    for (const told of listeners) told(frame);
    const seconds = (data.time_s[frame] - data.time_s[window_[0]]).toFixed(1);
    const worst = Math.min(...data.share[frame]), place = data.places[data.share[frame].indexOf(worst)];
    const bow = Math.abs(data.pitch_deg[frame]).toFixed(1) + "° bow " + (data.pitch_deg[frame] < 0 ? "down" : "up");
    const deep = Math.abs(data.tip_depth_m[frame]).toFixed(1) + " m " +
      (data.tip_depth_m[frame] < 0 ? "above the water" : "deep");
    const load = worst < 0 ? place + " " + Math.abs(worst) + " % of its reverse limit" : "no place in reverse";
    const reading = seconds + " s: speed " + data.speed_knots[frame].toFixed(1) + " kn, pitch " + bow +
      ", tip " + deep + ", " + load;
    words.textContent = reading;
    slider.setAttribute("aria-valuetext", reading);
  }

  function open(window) {
    window_ = window;
    slider.max = window_[2] - window_[0];
    const most = largestLoad();
    loadScale = LOAD_PIXELS / most;
    scaleText.textContent = "Load across the foil per metre: blue the normal way, red reverse; longest drawn " +
      (most / 1000).toFixed(1) + " kN per m. Thin core: out of the water.";
    drawChart();
  }
  function stop() { running = false; play.textContent = "Play"; }
  function tick(now) {
    if (!running) return;
    carry += (now - before) / 1000 * Number(pace.value);
    before = now;
    while (frame < window_[2] && data.time_s[frame + 1] - data.time_s[frame] <= carry) {
      carry -= data.time_s[frame + 1] - data.time_s[frame];
      frame++;
    }
    draw();
    if (frame >= window_[2]) stop(); else requestAnimationFrame(tick);
  }
  play.addEventListener("click", () => {
    if (running) { stop(); return; }
    if (frame >= window_[2]) frame = window_[0];
    running = true; before = performance.now(); carry = 0; play.textContent = "Pause";
    requestAnimationFrame(tick);
  });
  find("worst").addEventListener("click", () => { stop(); frame = window_[1]; draw(); });
  slider.addEventListener("input", () => { stop(); frame = window_[0] + Number(slider.value); draw(); });
  choice.addEventListener("change", () => {
    stop();
    open(data.windows[Number(choice.value)]);
    frame = window_[1];
    draw();
  });
  data.windows.forEach((w, i) => {
    const option = document.createElement("option");
    option.value = i;
    const deepest = Math.abs(Math.min(...data.share[w[1]]));
    option.textContent = (i ? "number " + (i + 1) : "the worst") + ": " + deepest + " % down";
    choice.appendChild(option);
  });
  // any moment of the kept series: in the ten seconds that are open, or in ten seconds round it
  function go(index) {
    stop();
    frame = Math.min(Math.max(index, 0), data.time_s.length - 1);
    if (frame < window_[0] || frame > window_[2]) {
      const step = data.time_s[1] - data.time_s[0], half = Math.round(5 / step), last = data.time_s.length - 1;
      const first = Math.min(Math.max(frame - half, 0), Math.max(last - 2 * half, 0));
      open([first, frame, Math.min(first + 2 * half, last)]);
    }
    draw();
  }
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-replay]");
    if (!button) return;
    go(Number(button.dataset.replay));
    find("picture").closest("figure").scrollIntoView();
  });
  open(data.windows[0]); draw();
  function listen(told) { listeners.push(told); told(frame); }
  window.seareplay = { data: data, go: go, frame: () => frame, window: () => window_, listen: listen };
})();
