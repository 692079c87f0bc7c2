"""How much a change multiplies a rare rate: the logarithm of the rate from the tails of several runs over
the same waves.

All runs share one tail shape, and each has its own scale and threshold, so that a difference between two
runs is not drowned by the scatter of a fitted shape (one shape for a region of alike records: Hosking &
Wallis 1997). Good for differences; the rate itself comes from `risk.extremes`.
"""

import numpy as np

from seaload.risk.extremes import declustered_peaks, gpd_by_l_moments

SHARE = 0.1  # of all blocks, above the threshold
SHAPES = (-0.15, 0.2)  # the common shape is kept within
LEAST = 0.02  # [-] least argument of a bounded tail: differences stay finite beyond its end
FEWEST = 10  # peaks


def tail_of(blocks):
    """(threshold, peaks a block, excesses) of one run; blocks (n, b), nan where nothing was sailed."""
    values = blocks[np.isfinite(blocks)]
    threshold = float(np.quantile(values, 1.0 - SHARE))
    excesses = np.concatenate(declustered_peaks(blocks, threshold)) - threshold
    return threshold, len(excesses) / len(values), excesses


def log_rates(runs, block_time, level=1.0):
    """ln of the rate of events past `level` [1/s] of each run, (runs,).

    runs : list of (n, b) block extremes over the same waves; block_time [s]. ValueError with too few peaks.
    """
    tails = [tail_of(np.asarray(run, dtype=float)) for run in runs]
    if min(len(excesses) for *_, excesses in tails) < FEWEST:
        raise ValueError("too few peaks for a tail")
    scaled = np.concatenate([excesses / excesses.mean() for *_, excesses in tails])
    shape = float(np.clip(gpd_by_l_moments(scaled)[0], *SHAPES))
    return np.array([log_rate(tail, shape, block_time, level) for tail in tails])


def log_rate(tail, shape, block_time, level):
    """ln of the rate [1/s] past a level of one tail with a given shape; inside the data the count is
    smoothed.
    """
    threshold, peak_share, excesses = tail
    base = np.log(peak_share / block_time)
    if level <= threshold:
        return float(base)
    over = (level - threshold) / (excesses.mean() * (1.0 - shape))
    if abs(shape) < 1e-9:
        return float(base - over)
    return float(base - np.log(max(1.0 + shape * over, LEAST)) / shape)
