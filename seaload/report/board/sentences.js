// The answer in sentences: may this be kept for the next hour, what is assumed, how it stands against what is accepted.
"use strict";
const boardSentences = (board, place) => {
  const W = boardWords, { byId, shown, range } = boardElements;
  const SHORT = ["within", "can't tell yet", "probably past", "past"];
  const ANSWERS = ["Yes: within your risk limit, also at worst.",
    "Can't tell yet: within your risk limit by the best estimate, past it at worst.",
    "Probably not: past your risk limit by the best estimate; within it at best.",
    "No: past your risk limit, even at best."];
  const UNSEEN = "Can't tell yet: never past a limit in the hours simulated, but too few hours to rule it out.";
  const WHERE = ["within, also at worst", "within by the best estimate, past at worst",
    "past by the best estimate, within at best", "past, even at best"];
  const GAP = "No reading here: a neighbouring point was not simulated, cannot be reached, or left validity.";

  // why there is no reading
  function reason(outside) {
    if (outside === "gap") return GAP;
    const axis = board.axes.find((a) => a.name === outside), value = place[outside], [first, last] = range(axis);
    const said = axis.label + (Number.isFinite(value) ? " " + shown(axis, value) : " (nothing typed)");
    const sailed = first === last ? "only " + shown(axis, first) : shown(axis, first) + " to " + shown(axis, last);
    return "No data: " + said + " lies outside what was simulated (" + sailed + "). Nothing is guessed.";
  }
  const near = (found) => found.reduce((best, corner) => (corner[1] > best[1] ? corner : best))[0];
  const here = (axis) => axis.short.replace("#", shown(axis, place[axis.name]));

  function settingWords() {
    const told = (a) => a.values.length > 1 || a.name === "extension_percent" || a.name === "speed_knots";
    return board.axes.filter((a) => !a.sea && told(a)).map(here).join(", ");
  }
  function showAssumed(reading) {
    const sea = reading ? board.seas[board.sea_of_cell[near(reading.found)]] : null;
    const parts = board.axes.filter((a) => a.sea && a.name !== "sea").map(here);
    const follows = board.axes[0].name === "hs_m" && !board.axes.some((a) => a.name === "tp_s");
    if (reading && follows) {
      parts.splice(1, 0, "period " + (+reading.period_s.toFixed(1)) + " s (it follows the height)");
    }
    if (board.axes[0].name === "sea") parts.push(board.seas[place.sea].words);
    else if (sea) parts.push(sea.wind);
    const assumed = parts.join(", ") + "; " + settingWords();
    byId("assumed").textContent = "Assumed: " + assumed + ". From now on, unchanged.";
  }

  // how a reading stands against your risk limit on one side: 0 within ... 3 past
  function standing(reading, level) {
    const limit = -Math.log1p(-level.odds) / level.hours;
    const [best, low, high] = ["", "_low", "_high"].map((end) => reading[level.side + "_rate" + end]);
    return high <= limit ? 0 : low > limit ? 3 : best <= limit ? 1 : 2;
  }
  const worst = (reading) => board.levels.reduce((most, level) => Math.max(most, standing(reading, level)), -1);
  const verdict = (reading) => SHORT[worst(reading)] || "none stated";

  function worstWords(reading) {
    if (reading.reverse_worst === undefined || reading.reverse_worst === null) return "";
    const short = reading.hours < 0.95;
    const hours = short ? Math.round(60 * reading.hours) + " minutes" : W.significant(reading.hours) + " h";
    const shares = Math.round(reading.reverse_worst) + " % of the reverse limit and " +
      Math.round(reading.normal_worst) + " % of the normal one.";
    if (board.worst_of) return board.worst_of + " the worst load passes " + shares;
    return "The worst moment in " + hours + " of sea reached " + shares;
  }
  function levelWords(reading, level) {
    const hourly = 1 - Math.pow(1 - level.odds, 1 / level.hours);
    return level.words + " " + W.oneIn(level.odds) + " in " + W.significant(level.hours) + " h (" + W.oneIn(hourly) +
      " in an hour): " + WHERE[standing(reading, level)] + ".";
  }
  function show(reading) {
    byId("question").textContent = "Keep " + settingWords() + " for the next hour?";
    const found = worst(reading), open = board.levels.filter((level) => standing(reading, level) === 1);
    const unseen = found === 1 && open.every((level) => reading[level.side + "_rate"] === 0);
    byId("verdict").textContent = found < 0 ? "" : unseen ? UNSEEN : ANSWERS[found];
    byId("said").textContent = "Reverse load past the limit in the next hour: " +
      W.oddsWords(reading.reverse_rate, reading.reverse_rate_high, 1) + ".";
    byId("nearest").textContent = worstWords(reading);
    byId("level").textContent = board.levels.map((level) => levelWords(reading, level)).join(" ");
  }
  return { reason, showAssumed, show, verdict };
};
