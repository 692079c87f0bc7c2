"""How far the clock of one logger is from another's: the shift at which a channel that both recorded agrees best."""

from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError

WINDOW = 600.0  # [s] of common record that is compared
LEAST = 30.0  # [s]
FEWEST_ALIKE = 0.6  # [-] correlation below which two records are not the same motion


class Match(NamedTuple):
    """The shift to add to the second record's stamps, and how well the records then agree."""

    shift: float  # [s]
    correlation: float  # [-]


def matched_shift(time, values, other_time, other_values, reach, step):
    """`Match` of a record to another: arrays of times [s] and values, nan allowed; None when there is too little.

    Both are brought to one even grid of `step` seconds; the peak of their cross-correlation within +-reach seconds
    [normalised by the overlapping part, common practice] is refined by a parabola.
    """
    start, end = max(time[0], other_time[0] - reach), min(time[-1], other_time[-1] + reach)
    if end - start < LEAST:
        return None
    grid = np.arange(start, end, step)
    mine, theirs = on_grid(grid, time, values), on_grid(grid, other_time, other_values)
    here, there = np.isfinite(mine), np.isfinite(theirs)
    if np.count_nonzero(here) * step < LEAST or np.count_nonzero(there) * step < LEAST:
        return None
    lags, scores = normalised_correlation(mine, theirs, int(reach / step), LEAST / step)
    best = int(np.argmax(scores))
    refined = 0.0
    if 0 < best < len(scores) - 1:
        left, middle, right = scores[best - 1 : best + 2]
        bend = left - 2.0 * middle + right
        refined = 0.5 * (left - right) / bend if bend < 0.0 else 0.0
    return Match(float((lags[best] + refined) * step), float(scores[best]))


def on_grid(grid, time, values):
    """Values on an even grid by straight lines, nan outside the record and in its holes."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < 2:
        return np.full(len(grid), np.nan)
    time, values = time[known], values[known]
    found = np.interp(grid, time, values, left=np.nan, right=np.nan)
    place = np.clip(np.searchsorted(time, grid), 1, len(time) - 1)
    longest = 5.0 * max(float(np.median(np.diff(time))), grid[1] - grid[0])
    return np.where(time[place] - time[place - 1] > longest, np.nan, found)


def normalised_correlation(mine, theirs, most, fewest):
    """(lags, scores): correlation of the common part for theirs moved later by each lag; -1 where it is too short."""
    from scipy.signal import correlate

    a, b = np.isfinite(mine), np.isfinite(theirs)
    x = np.where(a, mine - np.nanmean(mine), 0.0)
    y = np.where(b, theirs - np.nanmean(theirs), 0.0)
    a, b = a.astype(float), b.astype(float)
    n = len(x)

    def summed(u, v):
        return correlate(u, v, mode="full", method="fft")[n - 1 - most : n + most]

    most = min(most, n - 1)
    count = np.maximum(summed(a, b), 1.0)
    mean_x, mean_y = summed(x, b) / count, summed(a, y) / count
    cross = summed(x, y) / count - mean_x * mean_y
    spread = (summed(x * x, b) / count - mean_x**2) * (summed(a, y * y) / count - mean_y**2)
    scores = np.where(count >= fewest, cross / np.sqrt(np.maximum(spread, 1e-300)), -1.0)
    return np.arange(-most, most + 1), scores


def refused(file, channel, match):
    """The InputError for clocks that cannot be matched."""
    told = "too little common time" if match is None else f"highest correlation {match.correlation:.2f}"
    said = f"clocks cannot be matched by {channel} ({told}, needed {FEWEST_ALIKE:g}); is it the same motion?"
    return InputError(file, "clock", channel, said)
