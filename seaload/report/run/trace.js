// The trace over the kept minute: filled from the replay's own data, its cursor is the replay's moment.
"use strict";
(() => {
  const place = document.getElementById("trace-chart"), replay = window.seareplay;
  if (!place || !replay) return;
  const data = replay.data, count = data.places.length;
  seacharts.show("trace", JSON.parse(place.textContent), (find) => {
    const columns = { t: data.time_s, elevation: data.elevation_m, heave: data.heave_m };
    for (let p = 0; p < count; p++) columns["p" + p] = data.share.map((row) => row[p]);
    find("trace-data").data = columns;
    const range = find("trace-range");
    let shown = null;
    replay.listen((frame) => {
      const now = data.time_s[frame], part = replay.window();
      for (const name of ["cursor-water", "cursor-load"]) find(name).location = now;
      if (shown !== part) {
        shown = part;
        range.start = data.time_s[part[0]];
        range.end = data.time_s[part[2]];
      }
    });
    const step = data.time_s[1] - data.time_s[0];
    for (const view of ["trace-water", "trace-load"]) {
      find(view).on_event("tap", (event) => replay.go(Math.round((event.x - data.time_s[0]) / step)));
    }
  });
})();
