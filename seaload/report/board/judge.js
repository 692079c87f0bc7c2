// What a reading means: the worst load in a time, how it stands against your risk limit, the word to act on, and
// whether two readings differ at all.
"use strict";
const boardJudge = (board) => {
  const W = boardWords, SIDES = ["reverse", "normal"], SPREAD = Math.log(Math.log(2) / -Math.log(0.95));
  const ACTS = ["Keep", "Watch", "Back off", "Back off"];
  // "your risk limit (1 in 50 in 3 h)": its own odds and time, whatever time is asked for
  const alike = board.levels.length && board.levels.every((l) => l.odds === board.levels[0].odds);
  const limit = "your risk limit" + (alike ? " (" + W.oneIn(board.levels[0].odds) + " in " +
    +board.levels[0].hours.toFixed(2) + " h)" : "");
  const WHY = ["within " + limit + ", also at worst.",
    "within " + limit + " by the best estimate, past it at worst: keep an eye on the gauge.",
    "past " + limit + " by the best estimate, within it at best.", "past " + limit + ", even at best."];
  const UNSEEN = "never past a limit in the hours simulated, but too few hours to rule it out.";

  // {median, twenty, hours}: worst load to expect [% of the limit] in so many hours; median null in older results.
  // In a shorter time than the exposure the load of the exposure stands; in a longer one an exponential tail.
  function worstIn(reading, side, hours) {
    const twenty = reading[side + "_worst"], median = reading[side + "_worst_median"], told = board.exposure_h;
    if (median === null || median === undefined) return { median: null, twenty, hours: reading.hours };
    const longer = Math.min(Math.max(hours, told), 8 * told);
    const shift = (twenty - median) / SPREAD * Math.log(longer / told);
    return { median: median + shift, twenty: twenty + shift, hours: longer };
  }
  // how a reading stands against your risk limit on one side: 0 within ... 3 past
  function standing(reading, level) {
    const limit = -Math.log1p(-level.odds) / level.hours;
    const [best, low, high] = ["", "_low", "_high"].map((end) => reading[level.side + "_rate" + end]);
    return high < limit ? 0 : low > limit ? 3 : best <= limit ? 1 : 2;
  }
  const worstStanding = (reading) => board.levels.reduce((most, level) => Math.max(most, standing(reading, level)), -1);
  function act(reading) {
    const found = worstStanding(reading);
    if (found < 0) return { word: "", why: "no risk limit is stated.", found };
    const open = board.levels.filter((level) => standing(reading, level) === 1);
    const unseen = found === 1 && open.every((level) => reading[level.side + "_rate"] === 0);
    return { word: ACTS[found], why: unseen ? UNSEEN : WHY[found], found };
  }
  // the side that decides: the one whose odds at worst are nearest to your risk limit, or past it the most, without a
  // limit the one whose load is nearer to its own; and the place of the nearest simulated point
  function decides(reading) {
    const levels = SIDES.map((side) => board.levels.find((each) => each.side === side));
    const weight = (side) => {
      const level = levels[SIDES.indexOf(side)];
      return levels.every(Boolean) ? reading[side + "_rate_high"] * level.hours / -Math.log1p(-level.odds)
        : reading[side + "_worst"];
    };
    const side = SIDES.reduce((a, b) => (weight(b) > weight(a) ? b : a));
    const near = reading.found.reduce((best, corner) => (corner[1] > best[1] ? corner : best))[0];
    const place = board.places[side][near];
    return { side, place: place === null || place === undefined ? "" : board.place_names[place] };
  }
  const most = (reading) => Math.max(...SIDES.map((side) => reading[side + "_worst"]));
  // "12 points less", "about the same": what paired sampling does not support is not told as a difference
  function pointsWords(from, to) {
    const change = to - from, whole = Math.round(Math.abs(change));
    if (Math.abs(change) < board.told_points) return "about the same";
    return whole + (whole === 1 ? " point " : " points ") + (change < 0 ? "less" : "MORE");
  }
  const hoursWords = (hours) => {
    if (hours < 0.95) return W.significant(hours * 60) + " min";
    return W.significant(hours, 3) + " h";
  };
  return { SIDES, worstIn, standing, worstStanding, act, decides, most, pointsWords, hoursWords };
};
