"""Gumbel distribution of the largest value in a block: fits, return values, longer exposures.

Location a and scale b of F(x) = exp(-exp(-(x - a)/b)).
"""

import math

import numpy as np
from scipy.optimize import brentq

EULER_GAMMA = 0.5772156649015329


def gumbel_by_moments(maxima):
    """(location, scale) from mean and sample deviation (n - 1) of block `maxima` (n,) [same unit] (Gumbel 1958)."""
    scale = np.std(maxima, ddof=1) * math.sqrt(6.0) / math.pi
    return float(np.mean(maxima) - EULER_GAMMA * scale), float(scale)


def gumbel_by_l_moments(maxima):
    """(location, scale) from the first two L-moments of block `maxima` (n,) [same unit] (Hosking 1990): b = l2 / ln 2.
    """
    ordered = np.sort(np.asarray(maxima, dtype=float))
    n = len(ordered)
    weighted = np.sum(np.arange(n) * ordered) / (n * (n - 1.0))
    scale = (2.0 * weighted - ordered.mean()) / math.log(2.0)
    return float(ordered.mean() - EULER_GAMMA * scale), float(scale)


def gumbel_by_likelihood(maxima):
    """(location, scale) of highest likelihood for block `maxima` (n,) [same unit].

    b = mean - sum x e^(-x/b)/sum e^(-x/b): the derivative of the likelihood set to zero (any text on extremes).
    """
    maxima = np.asarray(maxima, dtype=float)
    start = gumbel_by_moments(maxima)[1]
    shifted = maxima - maxima.min()

    def miss(scale):
        weight = np.exp(-shifted / scale)
        return scale - shifted.mean() + np.sum(shifted * weight) / weight.sum()

    scale = brentq(miss, 0.02 * start, 20.0 * start, xtol=1e-14 * start, rtol=1e-14)
    location = maxima.min() - scale * math.log(np.mean(np.exp(-shifted / scale)))
    return float(location), float(scale)


def gumbel_return_value(location, scale, blocks):
    """Value that one block in `blocks` exceeds on average [same unit]: a - b ln(-ln(1 - 1/N)) (Gumbel 1958).

    `location` a, `scale` b [same unit], `blocks` N [-].
    """
    return location - scale * math.log(-math.log1p(-1.0 / blocks))


def gumbel_over_blocks(location, scale, blocks):
    """(location, scale) [same unit] of the largest value in `blocks` N [-] independent blocks: a + b ln N, b (Gumbel
    1958).
    """
    return location + scale * math.log(blocks), scale


def gumbel_mean(location, scale):
    """Mean of the largest value [same unit]: a + 0.5772 b of `location` a and `scale` b (Gumbel 1958)."""
    return location + EULER_GAMMA * scale


def gumbel_quantile(location, scale, share):
    """Value that the largest stays under with odds `share` [-]: a - b ln(-ln share) [same unit] (Gumbel 1958).

    `location` a and `scale` b [same unit].
    """
    return location - scale * math.log(-math.log(share))
