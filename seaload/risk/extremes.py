"""Rates of events too rare to count: the tail above a threshold, fitted and extrapolated.

Block worsts (the highest share of a limit in each block) above a threshold are declustered; the excess of the
peaks follows a generalised Pareto distribution, 1 - F(y) = (1 + shape y / scale)^(-1/shape) (Pickands 1975),
fitted by its first two L-moments (Hosking & Wallis 1987). Whole realisations are resampled for the interval.
The direct count and its Poisson bound stand beside; where both can be had they must agree.
"""

from dataclasses import dataclass

import numpy as np

from seaload.risk.poisson import CONFIDENCE, clustered_rate_interval

SHAPE_BOUNDS = (-0.4, 0.3)  # beyond these a fit says more about the few peaks than about the sea
SHARES_TRIED = (0.20, 0.15, 0.10, 0.07, 0.05, 0.035, 0.025)  # of all blocks, above the threshold
FEWEST_PEAKS = 30
RESAMPLES = 500
UPPER_WIDENING = 1.4  # [-] on the upper half-width of the logarithm, see `tail_rate`
SHAPE_WIDENING = 1.5  # [-] on how far a resampled shape lies above the fitted one
FEWEST = 5  # realisations


@dataclass(frozen=True)
class TailRate:
    """Rate of events past a level from the tail, beside the direct count. Rates in [1/s]."""

    rate: float
    low: float
    high: float
    from_tail: bool  # False: the level lies in the data, or there are too few peaks, and the count carried it
    threshold: float  # [-]; nan when counted
    shape: float  # [-]
    scale: float  # [-]
    peaks: int
    direct_count: int
    direct_rate: float
    direct_low: float
    direct_high: float
    agrees: bool  # tail and direct intervals overlap


def gpd_by_l_moments(excesses):
    """(shape [-], scale) of a generalised Pareto distribution from `excesses` (n,) > 0, the scale in their unit [any].

    Shape kept in SHAPE_BOUNDS. Source: Hosking & Wallis 1987.
    """
    ordered = np.sort(excesses)
    n = len(ordered)
    mean = ordered.mean()
    second = 2.0 * np.sum(np.arange(n) * ordered) / (n * (n - 1.0)) - mean
    return l_moment_gpd(mean, second)


def l_moment_gpd(mean, second):
    """(shape [-], scale) from the first two L-moments, `mean` and `second` [same unit], shape kept in SHAPE_BOUNDS.

    Source: Hosking & Wallis 1987.
    """
    shape = min(max(2.0 - mean / max(second, 1e-12 * mean), SHAPE_BOUNDS[0]), SHAPE_BOUNDS[1])
    return float(shape), float(mean * (1.0 - shape))


def gpd_exceedance(excess, shape, scale):
    """Odds that a peak exceeds the threshold by `excess` >= 0 [-]; 0 past the end of a bounded tail.

    `shape` [-], `scale` in the unit of the excess. Source: Pickands 1975.
    """
    if abs(shape) < 1e-9:
        return float(np.exp(-excess / scale))
    inner = 1.0 + shape * excess / scale
    return float(inner ** (-1.0 / shape)) if inner > 0.0 else 0.0


def declustered_peaks(block_worst, threshold):
    """Peaks above a `threshold` [-] in each realisation, neighbouring blocks above it counted once; list of (k,)
    arrays [-].

    block_worst : (realisations, blocks) [-], nan for blocks never sailed.
    """
    peaks = []
    for row in np.asarray(block_worst, dtype=float):
        above = row > threshold
        starts = np.flatnonzero(above & ~np.concatenate([[False], above[:-1]]))
        found = np.maximum.reduceat(np.where(above, row, -np.inf), starts) if len(starts) else np.empty(0)
        peaks.append(found)
    return peaks


def stable_threshold(block_worst):
    """Lowest threshold [-] from which the fitted shape stays the same within its error; None with too few peaks.

    block_worst : (realisations, blocks) [-]. Error of a shape from k peaks: (1 + |shape|) / sqrt(k), that of
    highest likelihood in large samples (from memory). A threshold is stable when every higher one tried has a shape
    within that one's own error of it.
    """
    values = np.asarray(block_worst, dtype=float)
    values = values[np.isfinite(values)]
    tried = []
    for share in SHARES_TRIED:
        threshold = float(np.quantile(values, 1.0 - share))
        excesses = np.concatenate(declustered_peaks(block_worst, threshold)) - threshold
        if len(excesses) < FEWEST_PEAKS:
            break
        shape, _ = gpd_by_l_moments(excesses)
        tried.append((threshold, shape, (1.0 + abs(shape)) / np.sqrt(len(excesses))))
    for i, (threshold, shape, _) in enumerate(tried):
        if all(abs(shape - other) <= error for _, other, error in tried[i + 1 :]):
            return threshold
    return None


def fitted_rate(peaks, threshold, level, exposure):
    """(rate of passing `level` [1/s], shape [-], scale [-]) from declustered `peaks` (k,) [-] above `threshold` [-].

    `exposure` [s] in which they were met.
    """
    shape, scale = gpd_by_l_moments(peaks - threshold)
    return len(peaks) / exposure * gpd_exceedance(level - threshold, shape, scale), shape, scale


def exponential_bound(peaks, threshold, mean_excess, level, exposure):
    """Upper bound [1/s] of the rate past `level` [-] for an exponential tail through `peaks` peaks in `exposure` [s].

    `threshold` [-] that they pass, `mean_excess` [-] over it. A fitted tail with an end says that the limit cannot be
    passed at all. Loads in waves have no such end, so a bound is not below that of the exponential tail, its mean
    excess and its rate taken 1.645 deviations up (our own choice).
    """
    wider = 1.0 + 1.6448536269514722 / np.sqrt(peaks)
    return wider * peaks / exposure * np.exp(-(level - threshold) / (mean_excess * wider))


def resampled_rates(peaks, threshold, level, realisation_time, resamples, generator):
    """Rates of passing `level` [-] after drawing whole realisations with replacement, two (resamples,) [1/s].

    `peaks` list of (k,) [-] above `threshold` [-], one entry a realisation of `realisation_time` [s]; `generator`
    draws. The first as drawn. The second with the shape drawn farther up where it lies above the fitted one: few peaks
    mostly make a tail look bounded, and a bounded tail that ends short of the level has no chance in any draw.
    """
    n = len(peaks)
    together = np.concatenate(peaks)
    fitted, _ = gpd_by_l_moments(together - threshold)
    order = np.argsort(together, kind="stable")
    excesses, owner = together[order] - threshold, np.repeat(np.arange(n), [len(own) for own in peaks])[order]
    picked = generator.integers(0, n, (resamples, n)) + n * np.arange(resamples)[:, None]
    times = np.bincount(picked.ravel(), minlength=resamples * n).reshape(resamples, n)[:, owner].astype(float)
    drawn = times.sum(axis=1)
    mean, second = drawn_l_moments(excesses, times, np.maximum(drawn, 2.0))
    rates = np.zeros((2, resamples))
    for i in np.flatnonzero(drawn >= 5):
        peak_rate = drawn[i] / (n * realisation_time)
        shape, scale = l_moment_gpd(mean[i], second[i])
        rates[0, i] = peak_rate * gpd_exceedance(level - threshold, shape, scale)
        wide = min(shape + (SHAPE_WIDENING - 1.0) * max(shape - fitted, 0.0), SHAPE_BOUNDS[1])
        rates[1, i] = peak_rate * gpd_exceedance(level - threshold, wide, mean[i] * (1.0 - wide))
    return rates


def drawn_l_moments(excesses, times, drawn):
    """First two L-moments of ordered `excesses` (k,) [-], each taken `times` (draws, k) over, `drawn` (draws,) in all.

    The copies of one excess hold the ranks from the number drawn before it on. (Hosking & Wallis 1987)
    """
    before = np.cumsum(times, axis=1) - times
    mean = np.sum(times * excesses, axis=1) / drawn
    ranks = np.sum(times * (2.0 * before + times - 1.0) * excesses, axis=1)
    return mean, ranks / (drawn * (drawn - 1.0)) - mean


def tail_rate(block_worst, block_time, level, *, confidence=CONFIDENCE, resamples=RESAMPLES, generator=None):
    """Rate of events past `level` with its interval, `TailRate`.

    block_worst : (realisations, blocks) [-]  highest share of the limit in each block, counted side positive
    block_time : float [s];  level : float [-]  1 = the limit
    confidence : float [-] of the two-sided interval;  resamples : how often whole realisations are drawn anew
    The tail is used when at least FEWEST realisations and FEWEST_PEAKS peaks show a stable threshold below
    the level; else the direct count carries the answer. Resampling alone leaves the truth above the upper bound
    in one of eight synthetic trials (far beyond the data one of four) instead of one in twenty, so the upper half is
    widened, by `UPPER_WIDENING` in the logarithm and by `SHAPE_WIDENING` in the shape: a calibration on
    Gumbel, Weibull and Rayleigh block worsts. `generator` as in `resample.mean_interval`.
    """
    block_worst = np.atleast_2d(np.asarray(block_worst, dtype=float))
    n, blocks = block_worst.shape
    realisation_time = blocks * block_time
    counts = np.array([len(p) for p in declustered_peaks(block_worst, np.nextafter(level, -np.inf))])
    direct_rate, direct_low, direct_high, _ = clustered_rate_interval(
        counts, realisation_time, confidence=confidence
    )
    threshold = stable_threshold(block_worst) if n >= FEWEST else None
    if threshold is None or threshold >= level:
        return TailRate(
            direct_rate, direct_low, direct_high, False, np.nan, np.nan, np.nan, 0,
            int(counts.sum()), direct_rate, direct_low, direct_high, True,
        )  # fmt: skip
    peaks = declustered_peaks(block_worst, threshold)
    together = np.concatenate(peaks)
    rate, shape, scale = fitted_rate(together, threshold, level, n * realisation_time)
    generator = np.random.default_rng(0) if generator is None else generator
    drawn = resampled_rates(peaks, threshold, level, realisation_time, resamples, generator)
    low, middle, high = np.quantile(drawn[0], [0.5 - 0.5 * confidence, 0.5, 0.5 + 0.5 * confidence])
    base = max(rate, middle)
    if base > 0.0:
        widened = base * (high / base) ** UPPER_WIDENING
        if shape < 0.0:  # near its end a bounded tail gives rates of 1e-30, and widening about them knows no measure
            excess = scale / (1.0 - shape)
            widened = min(widened, exponential_bound(len(together), threshold, excess, level, n * realisation_time))
        high = max(high, widened)
    high = max(high, np.quantile(drawn[1], 0.5 + 0.5 * confidence))
    agrees = bool(low <= direct_high and direct_low <= high)
    return TailRate(
        rate, float(low), float(high), True, threshold, shape, scale, len(together),
        int(counts.sum()), direct_rate, direct_low, direct_high, agrees,
    )  # fmt: skip
