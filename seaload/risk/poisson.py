"""Rates of rare events from counts, exact at low counts, and the odds of meeting at least one.

Two-sided intervals of 90 % unless said: the bound at the decision end is then a one-sided 95 % bound. None seen
in T hours is not none: the upper bound is 3.0 / T.
"""

import math

import numpy as np
from scipy.special import gammaincinv

CONFIDENCE = 0.90


def poisson_interval(count, *, confidence=CONFIDENCE):
    """(low, high) of the mean of a Poisson count [-], exact two-sided (Garwood 1936, chi-square form).

    `count` >= 0, scalar; need not be whole (used for counts deflated by clustering); `confidence` [-] of the interval.
    Raises ValueError when the count is negative.
    """
    if not count >= 0.0:
        raise ValueError(f"a count must be >= 0, got {count!r}")
    tail = 0.5 * (1.0 - confidence)
    low = float(gammaincinv(count, tail)) if count > 0.0 else 0.0
    return low, float(gammaincinv(count + 1.0, 1.0 - tail))


def rate_interval(count, exposure, *, confidence=CONFIDENCE):
    """(rate, low, high) of `count` events in `exposure` [s] [1/s], for events that come one by one.

    `confidence` [-] of the two-sided interval. Raises ValueError when the exposure is not positive.
    """
    if not exposure > 0.0:
        raise ValueError(f"exposure must be > 0 s, got {exposure!r}")
    low, high = poisson_interval(count, confidence=confidence)
    return count / exposure, low / exposure, high / exposure


def odds_in_exposure(rate, exposure):
    """Odds of at least one event [-]: 1 - exp(-rate T), `rate` [1/s] >= 0 (scalar or array), `exposure` T [s].

    Poisson law (in any text on probability). Grouped events make this an upper bound; count events, not excursions, to
    stay near it.
    """
    return -np.expm1(-np.asarray(rate, dtype=float) * exposure)


def rate_for_odds(odds, exposure):
    """Highest rate [1/s] whose odds of at least one event in `exposure` [s] are `odds` [-] (0 <= odds < 1).

    The inverse of `odds_in_exposure` (any text on probability).
    """
    return -math.log1p(-odds) / exposure


def dispersion(counts):
    """Variance over mean of the counts of equal realisations [-]; 1 for Poisson, 1 when it cannot be told."""
    counts = np.asarray(counts, dtype=float)
    mean = counts.mean()
    if len(counts) < 2 or mean == 0.0:
        return 1.0
    return float(counts.var(ddof=1) / mean)


def clustered_rate_interval(counts, realisation_time, *, confidence=CONFIDENCE):
    """(rate, low, high, widened) of events counted in equal realisations [1/s].

    counts : (n,) events in each realisation; realisation_time : float [s] of each; confidence : float [-] of the
    interval. Never narrower than the exact Poisson interval. When the counts scatter more than Poisson counts
    (variance over mean phi > 1: events come in groups, some realisations are rougher), the interval is the exact one
    of total / phi events, and `widened` = phi; else 1. Source of the scaling: quasi-Poisson practice; the mean of n
    groups of size phi has phi times the variance.
    """
    counts = np.asarray(counts, dtype=float)
    total = counts.sum()
    exposure = len(counts) * realisation_time
    rate, low, high = rate_interval(total, exposure, confidence=confidence)
    phi = max(dispersion(counts), 1.0)
    if phi > 1.0:
        low_groups, high_groups = poisson_interval(total / phi, confidence=confidence)
        low = min(low, phi * low_groups / exposure)
        high = max(high, phi * high_groups / exposure)
    return rate, low, high, phi
