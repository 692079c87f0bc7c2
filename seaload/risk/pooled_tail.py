"""Tails of one load in many seas: each sea has its own threshold, rate and scale, those that matter share one shape.

Block extremes over a threshold follow a generalised Pareto law (Pickands 1975); one shape for a group of alike records
is regional frequency analysis (Hosking & Wallis 1997): a few hours of a single sea say nothing of its shape. The law is
fitted to all blocks over the threshold, neighbours too, for the highest of each group alone would be told too thin a
tail (Fawcett & Walshaw 2007, from memory; a test shows it); what is counted as often as it comes are the groups.
"""

from typing import NamedTuple

import numpy as np

from seaload.risk.extremes import gpd_by_l_moments, starts_above

SHARE = 0.1  # [-] of a sea's blocks, above its threshold
BOUNDS = (-0.25, 0.15)  # the common shape is kept within: our own choice, as wide as of the march
FEWEST = 5  # blocks of a sea over its threshold; with fewer they say nothing of the shape
TINY = 1e-9  # [-] least mean excess over the largest block


class SeaPeaks(NamedTuple):
    """What is kept of one sea: blocks over its threshold, realisation by realisation."""

    threshold: float  # [load]
    excesses: tuple  # of (k,) arrays [load], one a realisation: every block over the threshold
    groups: tuple  # of whole numbers, one a realisation: neighbouring blocks over it count once
    exposure: float  # [s] of one realisation
    highest: float  # [load] of all blocks


class PooledTail(NamedTuple):
    """Tails of all seas; arrays (seas,)."""

    threshold: np.ndarray  # [load]
    rate: np.ndarray  # [1/s] of groups over it
    scale: np.ndarray  # [load]
    shape: float  # [-] common


def sea_peaks(blocks, block_time, share=SHARE):
    """`SeaPeaks` of `blocks` (n, b) [load], extremes of `block_time` [s], nan where nothing was sailed.

    `share` [-] of the blocks lies above the threshold (definition).
    """
    blocks = np.atleast_2d(np.asarray(blocks, dtype=float))
    known = blocks[np.isfinite(blocks)]
    threshold = float(np.quantile(known, 1.0 - share))
    excesses = tuple(row[row > threshold] - threshold for row in blocks)
    groups = tuple(int(each) for each in starts_above(blocks, threshold).sum(axis=1))
    exposure = block_time * len(known) / len(blocks)
    return SeaPeaks(threshold, excesses, groups, exposure, float(known.max()))


def pooled_tail(seas, picks=None, carrying=None, shape=None):
    """`PooledTail` of many `SeaPeaks`.

    `picks` {sea number: (n,) numbers of realisations to take}, all of them once unless given, as resampling draws them;
    `carrying` (k,) numbers of the seas whose blocks tell the shape, all unless given; `shape` [-] in place of a fit.
    L-moments of the excesses, each over its sea's mean (Hosking & Wallis 1997).
    """
    taken = []
    for i, sea in enumerate(seas):
        chosen = range(len(sea.excesses)) if picks is None else picks[i]
        rate = sum(sea.groups[r] for r in chosen) / (len(chosen) * sea.exposure)
        taken.append((np.concatenate([sea.excesses[r] for r in chosen]), rate))
    least = [TINY * max(abs(sea.highest), 1e-300) for sea in seas]
    means = np.array([max(e.mean(), low) if len(e) else low for (e, _), low in zip(taken, least, strict=True)])
    if shape is None:
        telling = range(len(seas)) if carrying is None else carrying
        scaled = [taken[i][0] / means[i] for i in telling if len(taken[i][0]) >= FEWEST]
        shape = float(np.clip(gpd_by_l_moments(np.concatenate(scaled))[0], *BOUNDS)) if scaled else 0.0
    rates = np.array([rate for _, rate in taken])
    return PooledTail(np.array([sea.threshold for sea in seas]), rates, means * (1.0 - shape), shape)


def rates_past(tail, level):
    """Rate [1/s] of groups past a `level` [load] in each sea, (seas,): rate (1 + shape y / scale)^(-1/shape).

    `tail` a `PooledTail` (Pickands 1975). Below a threshold it goes on as an exponential, which counts a little more
    than the blocks hold and keeps it falling.
    """
    over = (level - tail.threshold) / tail.scale
    if abs(tail.shape) < 1e-6:
        return tail.rate * np.exp(-np.maximum(over, -30.0))
    inner = np.maximum(1.0 + tail.shape * np.maximum(over, 0.0), 0.0)
    with np.errstate(divide="ignore"):
        beyond = np.where(inner > 0.0, inner ** (-1.0 / tail.shape), 0.0)
    return tail.rate * np.where(over > 0.0, beyond, np.exp(-np.maximum(over, -30.0)))


def mean_excess(blocks, points=25, share=0.3):
    """(thresholds, mean excess, its standard error), (points,) each [load]: straight under a generalised Pareto law.

    `blocks` (n,) peaks [load]; thresholds from where `share` [-] of them lie above up to the tenth highest (Davison &
    Smith 1990); `points` how many.
    """
    ordered = np.sort(np.asarray(blocks, dtype=float))
    top = ordered[-min(10, len(ordered))]
    thresholds = np.linspace(np.quantile(ordered, 1.0 - share), top, points)
    over = [ordered[ordered > u] - u for u in thresholds]
    mean = np.array([each.mean() if len(each) else np.nan for each in over])
    error = np.array([each.std(ddof=1) / np.sqrt(len(each)) if len(each) > 1 else np.nan for each in over])
    return thresholds, mean, error


def return_level(threshold, scale, shape, rate, time):
    """Level [load] passed once in `time` [s]: u + (scale/shape) ((rate T)^shape - 1) (Coles 2001, eq. 4.12).

    `threshold` u and `scale` [load], `shape` [-], `rate` [1/s] of peaks over u; logarithm where the shape is nothing.
    """
    count = rate * time
    if abs(shape) < 1e-9:
        return threshold + scale * np.log(count)
    return threshold + scale / shape * (count**shape - 1.0)
