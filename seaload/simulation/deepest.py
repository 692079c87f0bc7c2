"""What a block remembers of its deepest reverse load, so that the minute round it need not be marched from the start.

Every lane's samples are thinned out over the whole realisation; and the march is remembered every few seconds, so
that it can go on once more from shortly before. A lane never looks at another, so the one that went deepest is
enough, and it may go on alone.
"""

from collections import deque
from typing import NamedTuple

import numpy as np

from seaload.simulation.layout import LANES
from seaload.simulation.series import named_series

AROUND = 30.0  # [s] before and after the deepest reverse load
WHOLE_STRIDE = 25  # steps between thinned samples of the whole realisation
MINUTE_STRIDE = 2  # steps between samples of the minute
POINT_TIME = 20.0  # [s] at least, between two places remembered


class Rewind(NamedTuple):
    """A lane's march some time before its deepest reverse load."""

    step: int  # where it stands
    first: int  # step of the minute's first sample
    last: int  # step that no sample of it goes past
    share: float  # [-] of the reverse limit, the deepest
    columns: tuple  # the lane's column in every array of `Work`, in order


def arrays_of(record):
    """All arrays of a record of arrays and such records, in order, each with a column a lane."""
    for entry in record:
        if isinstance(entry, tuple):
            yield from arrays_of(entry)
        else:
            yield entry.reshape(-1, LANES)


def go_back(work, rewind):
    """Put every lane of a block's `work` where the one of a `rewind` stood."""
    for array, column in zip(arrays_of(work), rewind.columns, strict=True):
        array[:] = column[:, None]


class DeepestKeeper:
    """Thins out the samples of the real lanes, and remembers where the march stood before the deepest reverse load."""

    def __init__(self, run):
        """Nothing is kept yet of `run`, the block."""
        self.run, self.thin, self.share = run, [], -np.inf
        self.points = deque(maxlen=2 + int(np.ceil(AROUND / POINT_TIME)))
        self.lane = self.step = self.before = None

    def stand(self, first):
        """Remember where the march stands, before the chunk from step `first`."""
        due = not self.points or (first - self.points[-1][0]) * self.run.clock.step >= POINT_TIME - 1e-9
        if first >= self.run.skip and due:
            self.points.append((first, [array.copy() for array in arrays_of(self.run.work)]))

    def take(self, count, first):
        """Keep every so many samples of a chunk of `count` steps from step `first`, and look whether it went deeper."""
        run = self.run
        start = (run.skip - first) % WHOLE_STRIDE
        self.thin.append(run.buffer[:, start:count:WHOLE_STRIDE, : run.real].copy())
        share, time = run.tally.deepest[: run.real].T
        lane = int(np.argmax(share))
        if share[lane] > self.share:
            self.share, self.lane, self.step = float(share[lane]), lane, int(round(time[lane] / run.clock.step))
            early = self.step - int(AROUND / run.clock.step)
            self.before = next((p for p in reversed(self.points) if p[0] <= early), self.points[0])

    def series(self, normal_limits):
        """{lane that went deepest: its thinned series by name with `_whole`, and its `rewind`}.

        `normal_limits` (channels,) [N m] of each lane.
        """
        if self.lane is None:
            return {}
        run, lane = self.run, self.lane
        counted, reach = int(run.tally.samples[lane]), int(AROUND / run.clock.step)
        samples = np.concatenate(self.thin, axis=1)[:, : -(-counted // WHOLE_STRIDE), lane]
        thin = named_series(samples, run, normal_limits[lane], run.skip, WHOLE_STRIDE)
        del thin["grid_moment"]
        first = self.step - min(reach, self.step - run.skip) // MINUTE_STRIDE * MINUTE_STRIDE
        last = min(self.step + reach, run.skip + counted - 1)
        step, arrays = self.before
        columns = tuple(array[:, lane].copy() for array in arrays)
        kept = {f"{name}_whole": values for name, values in thin.items()}
        return {lane: {**kept, "rewind": Rewind(step, first, last, self.share, columns)}}
