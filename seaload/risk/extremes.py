"""Peaks over a threshold and a generalised Pareto law through them.

Block worsts (the highest share of a limit in each block) above a threshold are declustered; the excess of the peaks
follows 1 - F(y) = (1 + shape y / scale)^(-1/shape) (Pickands 1975), fitted by its first two L-moments (Hosking & Wallis
1987) where many runs over the same waves are compared. The rate itself comes from `joined_rate`.
"""

import numpy as np

SHAPE_BOUNDS = (-0.4, 0.3)  # beyond these a fit says more about the few peaks than about the sea


def gpd_by_l_moments(excesses):
    """(shape [-], scale) of a generalised Pareto distribution from `excesses` (n,) > 0, the scale in their unit [any].

    Shape kept in SHAPE_BOUNDS. Source: Hosking & Wallis 1987.
    """
    ordered = np.sort(excesses)
    n = len(ordered)
    mean = ordered.mean()
    second = 2.0 * np.sum(np.arange(n) * ordered) / (n * (n - 1.0)) - mean
    shape = min(max(2.0 - mean / max(second, 1e-12 * mean), SHAPE_BOUNDS[0]), SHAPE_BOUNDS[1])
    return float(shape), float(mean * (1.0 - shape))


def starts_above(block_worst, threshold):
    """True where a separate group of blocks above a `threshold` [-] begins, (realisations, blocks) bool.

    block_worst : (realisations, blocks) [-], nan for blocks never sailed. Neighbouring blocks above are one group.
    """
    above = np.asarray(block_worst, dtype=float) > threshold
    before = np.zeros_like(above)
    before[:, 1:] = above[:, :-1]
    return above & ~before


def declustered_peaks(block_worst, threshold):
    """Peaks above a `threshold` [-] in each realisation, neighbouring blocks above it counted once; list of (k,)
    arrays [-].

    block_worst : (realisations, blocks) [-], nan for blocks never sailed.
    """
    peaks = []
    for row, begins in zip(np.asarray(block_worst, dtype=float), starts_above(block_worst, threshold), strict=True):
        starts = np.flatnonzero(begins)
        kept = np.where(row > threshold, row, -np.inf)
        peaks.append(np.maximum.reduceat(kept, starts) if len(starts) else np.empty(0))
    return peaks
