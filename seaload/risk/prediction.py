"""How large the largest load of a coming exposure may be: a prediction interval, which holds both the luck of that
exposure and what the peaks at hand leave open.

Scale and shape of the tail by their posterior (`joined_rate.Tail`), the rate of its peaks by its own: the largest of M
hours stays under x with odds E[(1 + (M/T) S(x))^-k], k peaks in T hours, since a gamma-distributed rate leaves such
odds (Raiffa & Schlaifer 1961).
"""

import numpy as np
from scipy.optimize import brentq

from seaload.risk.joined_rate import log_exceedance

REACH = 200.0  # mean excesses past the threshold where every tail has ended


def odds_under(level, tail, exposure):
    """Odds [-] that the largest load of `exposure` [s] stays under a `level` [-] above the threshold of the `tail`.

    `tail` a `Tail` (Pickands 1975; Raiffa & Schlaifer 1961).
    """
    past = np.exp(log_exceedance(np.array([[level - tail.threshold]]), tail.scale, tail.shape))[0]
    groups = tail.peaks / tail.dispersion
    return float(np.sum(tail.weight * (1.0 + exposure / tail.exposure * past * tail.dispersion) ** -groups))


def largest_quantile(tail, exposure, share):
    """Load [-] that the largest of `exposure` [s] stays under with odds `share` [-]; by Brent's method (1973).

    `tail` a `Tail`.
    """
    mean = float(np.sum(tail.weight * tail.scale))
    low, high = tail.threshold + 1e-9, tail.threshold + REACH * mean
    if odds_under(low, tail, exposure) >= share:
        return tail.threshold
    return float(brentq(lambda level: odds_under(level, tail, exposure) - share, low, high, xtol=1e-10))
