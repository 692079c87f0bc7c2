"""Intervals for heavy-tailed damage: whole realisations are resampled, never parts of them.

With S-N slopes of 10 to 14 the damage of a realisation is ruled by its few largest cycles. Of 5 or 10
such damages the mean is mostly too low, and plain resampling cannot see what has not happened yet: its 90 %
interval then holds the truth in 50 to 80 % of trials. So three intervals are laid over each other, and the
upper half is widened by `UPPER_WIDENING` in the logarithm. That factor is a calibration on synthetic damages
(log-normal with sigma 0.5, 1 and 1.5; sums of 300 Rayleigh ranges to the powers 10 and 14; 5, 10 and 30
realisations: coverage >= 86 % in each); it is no theorem. Power-law tails with an index well under 2.5 stay below
it (a test reports them).
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from seaload.risk.poisson import CONFIDENCE

FEWEST = 5  # realisations; below this an interval is given but marked
UPPER_WIDENING = 1.5  # [-] on the upper half-width of the logarithm
RESAMPLES = 1000


@dataclass(frozen=True)
class MeanInterval:
    """Mean of equal realisations with its interval, and what speaks against it."""

    mean: float
    low: float
    high: float
    one_holds_most: bool  # one realisation holds over half of the sum
    too_few: bool  # fewer than FEWEST realisations


def resampled_means(values, resamples, generator):
    """Means of `resamples` draws of whole realisations with replacement by `generator`, (resamples, ...) [as values].

    `values` (n, ...), one entry a realisation. Source: the bootstrap of Efron 1979.
    """
    values = np.asarray(values, dtype=float)
    picks = generator.integers(0, len(values), (resamples, len(values)))
    return values[picks].mean(axis=1)


def log_normal_upper(values, confidence):
    """Upper bound of the mean of log-normal `values` (n,) > 0 [same unit], one-sided at (1 + `confidence` [-]) / 2.

    Cox's method with Student's t (Zhou & Gao 1997).
    """
    logs = np.log(values)
    n, spread = len(logs), logs.var(ddof=1)
    half = stdtrit(n - 1, 0.5 + 0.5 * confidence) * np.sqrt(spread / n + spread**2 / (2.0 * (n - 1)))
    return np.exp(logs.mean() + 0.5 * spread + half)


def mean_interval(damages, *, confidence=CONFIDENCE, resamples=RESAMPLES, generator=None):
    """Mean damage of equal realisations with its two-sided interval, `MeanInterval`, [as damages].

    damages : (n,) >= 0, one number each realisation; confidence : [-] of the interval; resamples : draws of whole
    realisations. `generator` draws them; the default is a fresh one with a fixed seed, so that the same damages give
    the same bits. One realisation alone has no upper bound: high = infinity. Raises ValueError for an empty or
    negative input. Three intervals laid over each other, see the head of this file.
    """
    damages = np.asarray(damages, dtype=float)
    if damages.ndim != 1 or len(damages) == 0 or not np.all(damages >= 0.0):
        raise ValueError("damages must be one row of numbers >= 0")
    n, total = len(damages), damages.sum()
    mean = total / n
    most = bool(total > 0.0 and damages.max() > 0.5 * total)
    if total == 0.0:
        return MeanInterval(0.0, 0.0, 0.0, False, n < FEWEST)
    if n == 1:
        return MeanInterval(mean, 0.0, np.inf, most, True)
    generator = np.random.default_rng(0) if generator is None else generator
    drawn = resampled_means(damages / mean, resamples, generator)
    low, high = np.quantile(drawn, [0.5 - 0.5 * confidence, 0.5 + 0.5 * confidence])
    half = stdtrit(n - 1, 0.5 + 0.5 * confidence) * damages.std(ddof=1) / mean / np.sqrt(n)
    with np.errstate(over="ignore"):  # realisations too far apart tell no upper bound: it is infinite
        low, high = min(low, np.exp(-half)), max(high, np.exp(half))
        if damages.min() > 0.0:
            high = max(high, log_normal_upper(damages / mean, confidence))
        upper = mean * high**UPPER_WIDENING
    return MeanInterval(mean, mean * low, upper, most, n < FEWEST)


def paired_difference_interval(first, second, *, confidence=CONFIDENCE, resamples=RESAMPLES, generator=None):
    """(difference, low, high) of the means `first` - `second` over the same realisations [as first].

    first, second : (n,) of two settings that met the same waves, in the same order, n >= 2; `confidence` [-] of the
    interval, `resamples` and `generator` as in `mean_interval`. The wider of resampling the pairs and Student's t (any
    text on statistics).
    """
    difference = np.asarray(first, dtype=float) - np.asarray(second, dtype=float)
    n, mean = len(difference), difference.mean()
    generator = np.random.default_rng(0) if generator is None else generator
    drawn = resampled_means(difference, resamples, generator)
    low, high = np.quantile(drawn, [0.5 - 0.5 * confidence, 0.5 + 0.5 * confidence])
    half = stdtrit(n - 1, 0.5 + 0.5 * confidence) * difference.std(ddof=1) / np.sqrt(n)
    return mean, min(low, mean - half), max(high, mean + half)
