// The answer: the margin both ways as bars towards the limit, the word to act on, the odds, what decides.
"use strict";
const boardAnswer = (board, place, judge, kept) => {
  const W = boardWords, { byId, element, shown, range } = boardElements;
  const WIDEST = 125;  // [% of the limit] at the right end of a bar
  const GAP = "No reading here: a neighbouring point was not simulated, cannot be reached, or left validity.";
  const NAMES = { reverse: "Reverse load", normal: "Normal load" };

  // why there is no reading at a place
  function reason(outside, there) {
    if (outside === "gap") return GAP;
    const axis = board.axes.find((a) => a.name === outside), [first, last] = range(axis);
    const sailed = first === last ? "only " + shown(axis, first) : shown(axis, first) + " to " + shown(axis, last);
    return "No data: " + axis.label + " " + shown(axis, (there || place)[outside]) +
      " lies outside what was simulated (" + sailed + "). Nothing is guessed.";
  }
  const near = (found) => found.reduce((best, corner) => (corner[1] > best[1] ? corner : best))[0];
  const here = (there) => (axis) => axis.short.replace("#", shown(axis, there[axis.name]));
  function settingWords(there) {
    const told = (a) => a.values.length > 1 || a.name === "extension_percent" || a.name === "speed_knots";
    return board.axes.filter((a) => !a.sea && told(a)).map(here(there || place)).join(", ");
  }
  function seaWords(reading) {
    const sea = reading ? board.seas[board.sea_of_cell[near(reading.found)]] : null;
    const parts = board.axes.filter((a) => a.sea && a.name !== "sea").map(here(place));
    const follows = board.axes[0].name === "hs_m" && !board.axes.some((a) => a.name === "tp_s");
    if (reading && follows) {
      parts.splice(1, 0, "period " + (+reading.period_s.toFixed(1)) + " s (it follows the height)");
    }
    if (board.axes[0].name === "sea") parts.push(board.seas[place.sea].words);
    else if (sea) parts.push(sea.wind);
    return parts.join(", ");
  }
  // "worst of 3 h: 62 % of the reverse limit; 1 in 20: 85 %"
  function marginWords(worst, side) {
    const share = (v) => Math.round(v) + "\u00a0%", limit = " of the " + side + " limit";
    const time = judge.hoursWords(worst.hours);
    if (worst.median === null) return "worst in " + time + " simulated: " + share(worst.twenty) + limit;
    return "worst of " + time + ": " + share(worst.median) + limit + "; 1 in 20: " + share(worst.twenty);
  }
  // one bar towards the limit: filled to the load to expect, paler to the one in 20
  function bar(parent, side, worst) {
    const whole = element("div", { class: "bar " + side, "aria-hidden": "true" }, parent);
    const part = (name, share) => {
      const width = Math.min(Math.max(share, 0), WIDEST) / WIDEST * 100;
      const made = element("span", { class: name }, whole);
      made.style.width = width.toFixed(1) + "%";
    };
    part("twenty", worst.twenty);
    part("median", worst.median === null ? worst.twenty : worst.median);
    element("span", { class: "limit" }, whole);
    if (worst.twenty > WIDEST) element("span", { class: "beyond" }, whole, "\u25b8");
  }
  function showMargins(reading) {
    const room = byId("margins");
    boardElements.empty(room);
    for (const side of judge.SIDES) {
      const worst = judge.worstIn(reading, side, kept.state.hours), row = element("div", { class: "margin" }, room);
      element("span", { class: "name" }, row, NAMES[side]);
      bar(row, side, worst);
      element("span", { class: "share", id: "margin-" + side }, row, marginWords(worst, side));
    }
  }
  function levelWords(reading, level) {
    const WHERE = ["within, also at worst", "within by the best estimate, past at worst",
      "past by the best estimate, within at best", "past, even at best"];
    const hourly = 1 - Math.pow(1 - level.odds, 1 / level.hours);
    return level.words + " " + W.oneIn(level.odds) + " in " + judge.hoursWords(level.hours) + " (" + W.oneIn(hourly) +
      " in an hour): " + WHERE[judge.standing(reading, level)] + ".";
  }
  const oddsLine = (reading, side) =>
    W.oddsInWords(board, reading, side, kept.state.hours);
  function show(reading) {
    const { word, why } = judge.act(reading), decides = judge.decides(reading);
    const hours = judge.hoursWords(kept.state.hours);
    byId("question").textContent = "Keep " + settingWords() + " for " + hours + "?";
    showMargins(reading);
    byId("verdict").textContent = word;
    byId("why").textContent = why;
    byId("said").textContent = "Odds in " + hours + " of reverse load past the limit: " + oddsLine(reading, "reverse") +
      "; of load past the normal limit: " + oddsLine(reading, "normal") + ".";
    byId("decides").textContent = "What decides: " + decides.side + " load" + (decides.place ? ", worst at " +
      decides.place.replace(/^bearing$/, "the bearing") : "") + ".";
    byId("level").textContent = board.levels.map((level) => levelWords(reading, level)).join(" ");
    byId("assumed").textContent = "Assumed: " + seaWords(reading) + "; from now on, unchanged.";
  }
  function showNothing(outside) {
    byId("question").textContent = reason(outside);
    boardElements.empty(byId("margins"));
    for (const id of ["verdict", "why", "said", "decides", "level", "assumed"]) byId(id).textContent = "";
  }
  return { reason, show, showNothing, settingWords, seaWords, marginWords, oddsLine };
};
