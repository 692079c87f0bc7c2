// Wear and speed, one number each with its range.
"use strict";
const boardTiles = (board, place) => {
  const W = boardWords, { byId } = boardElements;

  // fastest reading in this sea over all sailed settings, the sea itself interpolated
  function fastest() {
    const seas = board.axes.filter((a) => a.sea), others = board.axes.filter((a) => !a.sea), here = {};
    let best = null;
    const walk = (i) => {
      if (i < others.length) {
        for (const value of others[i].values) { here[others[i].name] = value; walk(i + 1); }
        return;
      }
      const cell = W.corners(board.axes, here);
      if (cell.outside) return;
      const speed = W.blend("speed_knots", board.fields, cell.found);
      if (speed !== null && (best === null || speed > best)) best = speed;
    };
    for (const axis of seas) here[axis.name] = place[axis.name];
    walk(0);
    return best;
  }
  return (reading) => {
    const wear = reading.wear, low = W.downwards(reading.wear_low), best = fastest(), held = reading.attainable_knots;
    byId("wear").textContent = (wear < 0.01 ? "under 0.01" : W.significant(wear)) + " full-load cycles an hour";
    const span = reading.wear_high === null ? low + " or more" : low + " to " + W.upwards(reading.wear_high);
    byId("wear-range").textContent = span +
      "; a full-load cycle goes from 0 to 100 % of the normal limit; at the worst place";
    byId("speed").textContent = reading.speed_knots.toFixed(1) + " kn";
    const given = best === null ? "" : Math.max(best - reading.speed_knots, 0).toFixed(1) +
      " kn given up against the fastest simulated in this sea (" + best.toFixed(1) + " kn)";
    const known = held !== null && held !== undefined;
    byId("speed-given").textContent = given + (known ? "; the thrust can hold " + held.toFixed(1) + " kn here" : "");
  };
};
