"""The deepest moments of a log with a few seconds of trace round each, found while it streams past."""

from typing import NamedTuple

import numpy as np

from seaload.fatigue.excursions import EVENT_GAP

REACH = 3.0  # [s] of trace before and after
MOST = 10
LEAST = 0.05  # [-] of the reverse limit: less is not told from a gauge's noise
PASSED = -np.inf  # depth of a sample that is dealt with


class Moment(NamedTuple):
    """One deep moment."""

    time: float  # [s] since 1970-01-01 UTC
    depth: float  # [-] share of the reverse limit, deepest of all places
    place: int
    offset: np.ndarray  # (n,) [s] from `time`
    trace: np.ndarray  # (n, channels) SI, nan where nothing was recorded


class DeepestMoments:
    """The MOST deepest reverse loads, EVENT_GAP apart; memory does not grow with the log."""

    def __init__(self, places):
        self.places = places  # number of every place, in the order of the columns of depth
        self.found = []
        self.times = np.empty(0)
        self.depth = self.trace = None
        self.done = 0  # samples of the buffer that are dealt with

    def add(self, times, depth, trace):
        """Look at the next samples: times (n,) [s], depth (n, places) shares of the reverse limit (nan = not known),
        trace (n, channels).
        """
        if self.trace is None:
            self.depth, self.trace = depth, trace
        else:
            self.depth = np.concatenate([self.depth, depth])
            self.trace = np.concatenate([self.trace, trace])
        self.times = np.concatenate([self.times, times])
        self.look(int(np.searchsorted(self.times, self.times[-1] - REACH, side="right")))
        keep = int(np.searchsorted(self.times, self.times[self.done - 1] - REACH)) if self.done else 0
        self.times, self.depth, self.trace = self.times[keep:], self.depth[keep:], self.trace[keep:]
        self.done -= keep

    def finished(self):
        """List of `Moment`, deepest first."""
        if self.trace is not None:
            self.look(len(self.times))
        return list(self.found)

    def look(self, until):
        """Deal with the samples of the buffer up to `until`."""
        first, self.done = self.done, max(until, self.done)
        if self.done == first:
            return
        deep = np.nan_to_num(self.depth[first : self.done], nan=PASSED)
        worst, place = deep.max(axis=1), deep.argmax(axis=1)
        times = self.times[first : self.done]
        while True:
            i = int(np.argmax(worst))
            if worst[i] <= (self.found[-1].depth if len(self.found) == MOST else LEAST):
                return
            self.keep(times[i], float(worst[i]), self.places[place[i]])
            worst[np.abs(times - times[i]) < EVENT_GAP] = PASSED

    def keep(self, time, depth, place):
        """Put a moment among the deepest, unless a deeper one is near it; shallower ones near it go."""
        near = [m for m in self.found if abs(m.time - time) < EVENT_GAP]
        if any(m.depth >= depth for m in near):
            return
        round_it = slice(*np.searchsorted(self.times, [time - REACH, time + REACH]))
        moment = Moment(float(time), depth, place, self.times[round_it] - time, self.trace[round_it].copy())
        left = [m for m in self.found if all(m is not n for n in near)]
        self.found = sorted([*left, moment], key=lambda m: (-m.depth, m.time))[:MOST]
