"""Time series of one lane: all its samples on request, or the minute round a deepest reverse load marched again."""

import numpy as np

from seaload.simulation.layout import LANES, O_WET, S_NY, S_NZ, STRIP_OUT_ROWS
from seaload.simulation.sampling import (
    R_ELEVATION,
    R_HEAVE,
    R_HULL_LIFT,
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
    "hull_lift": R_HULL_LIFT,
    "tip_depth": R_TIP_DEPTH,
}


def named_series(samples, run, normal_limit, first, stride=1):
    """Series by name, SI, from `samples` (buffer rows, n), one every `stride` steps from step `first` of the march.

    `run` the block; `normal_limit` (channels,) [N m] turns shares into moments.
    """
    channels, places = run.reading.channels, run.rules.places
    moment = (samples[:channels] * normal_limit[:, None]).T
    kept = {name: samples[channels + row] for name, row in KEPT.items()}
    kept["bending_moment"], kept["grid_moment"] = moment[:, :places], moment[:, places:]
    kept["time"] = run.skip * run.clock.step + run.clock.step * (first - run.skip + stride * np.arange(len(moment)))
    return kept


def strip_loads(run, lane):
    """(net force along the normal [N], wet share [-]) of every foil strip of a `lane` of a `run`, as the march stands.
    """
    march, loads = run.single, run.work.loads
    strip, out = march.strip.reshape(-1), loads.out.reshape(-1, STRIP_OUT_ROWS, LANES)
    normal = np.zeros(march.foil_strips)
    for s in range(march.foil_strips):
        across, up = strip_force(strip, loads.rigid, loads.total, loads.out, s, lane)
        normal[s] = across * march.strip[s, S_NY, lane] + up * march.strip[s, S_NZ, lane]
    return normal, out[: march.foil_strips, O_WET, lane].copy()


class SeriesKeeper:
    """Collects all samples of one lane, chunk by chunk."""

    def __init__(self, run, lane):
        """Nothing is kept yet of `lane` of `run`, the block."""
        self.run, self.lane, self.parts = run, lane, []

    def stand(self, first):
        """Nothing to remember before the chunk from step `first`."""

    def take(self, count, first):
        """Keep the `count` samples of the chunk from step `first`."""
        self.parts.append(self.run.buffer[:, :count, self.lane].copy())

    def series(self, normal_limits):
        """{lane: kept series by name}; normal_limits : (channels,) [N m] of each lane."""
        samples = np.concatenate(self.parts, axis=1)
        return {self.lane: named_series(samples, self.run, normal_limits[self.lane], self.run.skip)}


class MomentKeeper:
    """Collects the bending moment at the places of every real lane, chunk by chunk."""

    def __init__(self, run):
        """Nothing is kept yet of `run`, the block."""
        self.run, self.parts = run, []

    def stand(self, first):
        """Nothing to remember before the chunk from step `first`."""

    def take(self, count, first):
        """Keep the `count` samples of the chunk from step `first`."""
        self.parts.append(self.run.buffer[: self.run.rules.places, :count, : self.run.real].copy())

    def series(self, normal_limits):
        """{lane: {"bending_moment": (time, places) [N m]}}; normal_limits : (channels,) [N m] of each lane."""
        share = np.concatenate(self.parts, axis=1)
        places = share.shape[0]
        return {
            lane: {"bending_moment": (share[:, :, lane] * normal_limits[lane][:places, None]).T}
            for lane in range(share.shape[2])
        }
