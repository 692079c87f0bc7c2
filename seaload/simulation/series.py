"""Time series of one lane, kept on request: what a figure of the worst minute needs."""

import numpy as np

from seaload.simulation.layout import O_NORMAL, O_WET
from seaload.simulation.sampling import R_ELEVATION, R_HEAVE, R_LINE, R_PITCH, R_ROLL, R_SPEED

KEPT = {
    "speed": R_SPEED,
    "heave": R_HEAVE,
    "pitch": R_PITCH,
    "roll": R_ROLL,
    "wave_elevation": R_ELEVATION,
    "hold_down_load": R_LINE,
}


class SeriesKeeper:
    """Collects the samples of one lane chunk by chunk."""

    def __init__(self, run, lane):
        self.run, self.lane = run, lane
        self.parts = {name: [] for name in (*KEPT, "share")}
        self.strip_time, self.strip_normal, self.strip_wet = [], [], []

    def take(self, buffer, count, first):
        """Keep a chunk; strip loads are kept once a chunk's end, since they are not in the buffer."""
        run, lane = self.run, self.lane
        for name, row in KEPT.items():
            self.parts[name].append(buffer[run.reading.channels + row, :count, lane].copy())
        self.parts["share"].append(buffer[: run.rules.places, :count, lane].copy())
        self.strip_time.append((first + count) * run.clock.step)
        n = run.march.foil_strips
        self.strip_normal.append(run.work.out[:n, O_NORMAL, lane].copy())
        self.strip_wet.append(run.work.out[:n, O_WET, lane].copy())

    def series(self, normal_limit):
        """Kept series by vocabulary name, SI; `normal_limit` (places,) [N m] turns shares into moments."""
        run = self.run
        share = np.concatenate(self.parts["share"], axis=1)
        kept = {name: np.concatenate(self.parts[name]) for name in KEPT}
        kept["bending_moment"] = (share * normal_limit[:, None]).T
        kept["time"] = run.skip * run.clock.step + run.clock.step * np.arange(share.shape[1])
        return kept
