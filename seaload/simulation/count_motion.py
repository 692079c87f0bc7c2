"""Kernel: what a crew feels of a chunk: peaks of the vertical accelerations at bow, mast and cockpit, and slams.

A peak is the highest upward acceleration between an upward and the next downward crossing of zero. Peaks are kept in
even bins with their sums, so that the mean of the highest tenth is exact but for the one bin that is cut.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.simulation.layout import LANES
from seaload.simulation.sampling import R_BOW, R_FOREFOOT

WATCHED = ("bow", "mast", "cockpit")
PEAK_BINS, PEAK_WIDTH = 512, 0.25  # [m/s2]; the last bin holds all that is higher
TENTH = 0.1


class MotionTally(NamedTuple):
    """Peaks and slams of a block so far."""

    crest: np.ndarray  # (LANES, 3) [m/s2] highest since the last upward crossing, 0 below zero
    count: np.ndarray  # (LANES, 3, PEAK_BINS) peaks
    sums: np.ndarray  # (LANES, 3, PEAK_BINS) [m/s2]
    depth: np.ndarray  # (LANES,) [m] of the forefoot at the last sample, nan before the first
    slams: np.ndarray  # (LANES,)


def new_motion_tally():
    """Fresh `MotionTally` [units there]."""
    bins = (LANES, len(WATCHED), PEAK_BINS)
    return MotionTally(
        np.zeros(bins[:2]), np.zeros(bins), np.zeros(bins), np.full(LANES, np.nan), np.zeros(LANES)
    )  # fmt: skip


@compiled
def count_peaks(samples, steps, crest, count, sums):
    """Peak under way [m/s2] after `steps` more `samples` (steps,) [m/s2] of one place; what is over goes to the bins.

    `crest` [m/s2] the peak under way before, 0 for none; `count` and `sums` [m/s2] (PEAK_BINS,).
    """
    for i in range(steps):
        value = samples[i]
        if value > 0.0:
            crest = max(crest, value)
        elif crest > 0.0:
            place = min(int(crest / PEAK_WIDTH), PEAK_BINS - 1)
            count[place] += 1.0
            sums[place] += crest
            crest = 0.0
    return crest


@compiled
def count_slams(depth, steps, before, least):
    """(slams, last depth [m]) among `steps` samples of the forefoot's `depth` (steps,) [m], `before` [m] ahead of them.

    A slam comes out of the water and deepens by `least` [m] or more from the last dry sample to the first wet one.
    """
    slams = 0.0
    for i in range(steps):
        now = depth[i]
        if before <= 0.0 and now > 0.0 and now - before >= least:
            slams += 1.0
        before = now
    return slams, before


@compiled_with_arrays
def count_motion(buffer, steps, channels, tally, least, alive):
    """Peaks and slams of one chunk of every lane still `alive` (LANES,), into `tally` (MotionTally).

    `buffer` (rows, at least `steps`, LANES) with `channels` of load, `least` (LANES,) [m] as `count_slams` has it.
    """
    history = np.empty(steps)
    for lane in range(LANES):
        if alive[lane] == 0:
            continue
        for point in range(tally.crest.shape[1]):
            for i in range(steps):
                history[i] = buffer[channels + R_BOW + point, i, lane]
            tally.crest[lane, point] = count_peaks(
                history, steps, tally.crest[lane, point], tally.count[lane, point], tally.sums[lane, point]
            )  # fmt: skip
        for i in range(steps):
            history[i] = buffer[channels + R_FOREFOOT, i, lane]
        slams, tally.depth[lane] = count_slams(history, steps, tally.depth[lane], least[lane])
        tally.slams[lane] += slams


def highest_tenth(count, sums):
    """Mean of the highest tenth of the peaks [m/s2]; 0 without any. `count` and `sums` [m/s2] (PEAK_BINS,)."""
    wanted = TENTH * count.sum()
    if not wanted > 0.0:
        return 0.0
    from_above = np.cumsum(count[::-1])[::-1]
    taken = np.clip(wanted - (from_above - count), 0.0, count)
    means = np.divide(sums, count, out=np.zeros_like(sums), where=count > 0.0)
    return float(np.sum(taken * means) / wanted)
