"""Tails of several runs over the same waves side by side: high loads, and the logarithm of a rare rate.

All runs share one tail shape, and each has its own scale and threshold, so that a difference between two
runs is not drowned by the scatter of a fitted shape (one shape for a region of alike records: Hosking &
Wallis 1997). Good for differences; the rate itself comes from `risk.extremes`.
"""

import numpy as np

from seaload.risk.extremes import declustered_peaks, gpd_by_l_moments

SHARE = 0.1  # of all blocks, above the threshold
SHAPES = (-0.08, 0.1)  # the common shape is kept within: farther off, its error would rule the differences
LEAST = 0.02  # [-] least argument of a bounded tail: differences stay finite beyond its end
FEWEST = 10  # peaks
FARTHEST = 9.0  # [-] e-foldings beyond the threshold: a rate of 2 % in 3 h lies about there
TINY = 1e-12  # [-] least mean excess


def tail_of(blocks):
    """(threshold, peaks a block, excesses) of one run; blocks (n, b), nan where nothing was sailed."""
    values = blocks[np.isfinite(blocks)]
    threshold = float(np.quantile(values, 1.0 - SHARE))
    excesses = np.concatenate(declustered_peaks(blocks, threshold)) - threshold
    return threshold, len(excesses) / len(values), excesses


def tails_of(runs):
    """([tail of each run], common shape) of [(n, b) block extremes] over the same waves; ValueError with
    too few peaks.
    """
    sailed = [np.isfinite(run).any() for run in runs]
    tails = [tail_of(np.asarray(run, dtype=float)) for run in runs] if all(sailed) else []
    if min((len(excesses) for *_, excesses in tails), default=0) < FEWEST:
        raise ValueError("too few peaks for a tail")
    scaled = np.concatenate([excesses / max(excesses.mean(), TINY) for *_, excesses in tails])
    return tails, float(np.clip(gpd_by_l_moments(scaled)[0], *SHAPES))


def usable_level(tails, shape, level=1.0):
    """`level`, or the lower one [-] that the mean tail reaches once in exp(FARTHEST) peaks.

    Farther out a difference between two runs would say more about their few peaks than about the change.
    """
    stretch = FARTHEST if abs(shape) < 1e-9 else np.expm1(FARTHEST * shape) / shape
    ends = [u + excesses.mean() * (1.0 - shape) * stretch for u, _, excesses in tails]
    return min(level, float(np.mean(ends)))


def high_loads(runs):
    """Mean of the peaks in the highest tenth of the blocks [share of the limit], of each run, (runs,).

    ValueError with too few peaks.
    """
    tails, _ = tails_of(runs)
    return np.array([threshold + excesses.mean() for threshold, _, excesses in tails])


def log_rate(tail, shape, block_time, level):
    """ln of the rate [1/s] past a level of one tail with a given shape; inside the data the count is
    smoothed.
    """
    threshold, peak_share, excesses = tail
    base = np.log(peak_share / block_time)
    if level <= threshold:
        return float(base)
    over = (level - threshold) / (max(excesses.mean(), TINY) * (1.0 - shape))
    if abs(shape) < 1e-9:
        return float(base - over)
    return float(base - np.log(max(1.0 + shape * over, LEAST)) / shape)
