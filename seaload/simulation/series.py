"""Time series of one lane, kept on request: what a figure of the worst minute needs."""

import numpy as np

from seaload.simulation.layout import LANES, O_WET, S_NY, S_NZ, STRIP_OUT_ROWS
from seaload.simulation.sampling import (
    R_ELEVATION,
    R_HEAVE,
    R_LEAST_IMMERSION,
    R_LINE,
    R_PITCH,
    R_ROLL,
    R_SPEED,
    R_TIP_DEPTH,
    strip_force,
)

KEPT = {
    "speed": R_SPEED,
    "heave": R_HEAVE,
    "pitch": R_PITCH,
    "roll": R_ROLL,
    "wave_elevation": R_ELEVATION,
    "hold_down_load": R_LINE,
    "hull_lift": R_LEAST_IMMERSION,
    "tip_depth": R_TIP_DEPTH,
}


class SeriesKeeper:
    """Collects the samples of one lane chunk by chunk, and the strip loads between `start` and `end` [s]."""

    def __init__(self, run, lane, start, end):
        self.run, self.lane, self.start, self.end = run, lane, start, end
        self.parts = {name: [] for name in (*KEPT, "share")}
        self.strip_time, self.strip_force, self.strip_wet = [], [], []

    def take(self, buffer, count, first):
        """Keep the samples of a chunk."""
        run, lane = self.run, self.lane
        for name, row in KEPT.items():
            self.parts[name].append(buffer[run.reading.channels + row, :count, lane].copy())
        self.parts["share"].append(buffer[: run.reading.channels, :count, lane].copy())

    def wants_strips(self, first, count):
        """Whether any of these steps lies between start and end, after the run-in."""
        step = self.run.clock.step
        return first >= self.run.skip and self.start < (first + count) * step and first * step <= self.end

    def take_strips(self, number):
        """Keep the net load of every foil strip, before step `number` is marched."""
        time = number * self.run.clock.step
        if not self.start <= time <= self.end:
            return
        march, loads, lane = self.run.single, self.run.work.loads, self.lane
        strip, out = march.strip.reshape(-1), loads.out.reshape(-1, STRIP_OUT_ROWS, LANES)
        normal = np.zeros(march.foil_strips)
        for s in range(march.foil_strips):
            across, up = strip_force(strip, loads.rigid, loads.total, loads.out, s, lane)
            normal[s] = across * march.strip[s, S_NY, lane] + up * march.strip[s, S_NZ, lane]
        self.strip_time.append(time)
        self.strip_force.append(normal)
        self.strip_wet.append(out[: march.foil_strips, O_WET, lane].copy())

    def series(self, normal_limits):
        """{lane: kept series by name, SI, time first}; (channels,) [N m] of each lane turn shares into moments."""
        run, normal_limit = self.run, normal_limits[self.lane]
        moment = (np.concatenate(self.parts["share"], axis=1) * normal_limit[:, None]).T
        kept = {name: np.concatenate(self.parts[name]) for name in KEPT}
        kept["bending_moment"] = moment[:, : run.rules.places]
        kept["grid_moment"] = moment[:, run.rules.places :]
        kept["time"] = run.skip * run.clock.step + run.clock.step * np.arange(moment.shape[0])
        kept["strip_time"] = np.array(self.strip_time)
        kept["strip_force"] = np.array(self.strip_force)
        kept["strip_wet"] = np.array(self.strip_wet)
        return {self.lane: kept}


class MomentKeeper:
    """Collects the bending moment at the places of every real lane, chunk by chunk."""

    def __init__(self, run):
        self.run, self.parts = run, []

    def take(self, buffer, count, first):
        """Keep the samples of a chunk."""
        self.parts.append(buffer[: self.run.rules.places, :count, : self.run.real].copy())

    def wants_strips(self, first, count):
        """Never."""
        return False

    def series(self, normal_limits):
        """{lane: {"bending_moment": (time, places) [N m]}}; normal_limits : (channels,) [N m] of each lane."""
        share = np.concatenate(self.parts, axis=1)
        places = share.shape[0]
        return {
            lane: {"bending_moment": (share[:, :, lane] * normal_limits[lane][:places, None]).T}
            for lane in range(share.shape[2])
        }
