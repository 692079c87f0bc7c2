"""The contour of seas that a return period holds: height and mean period by the inverse first-order method.

A three-parameter Weibull law of the height, a log-normal law of the mean period for each height (Vanem &
Bitner-Gregersen 2012); points of a circle of radius beta in standard normal space are carried back (Winterstein et al.
1993; Haselsteiner et al. 2017 give the values that tests hold it to). For a response that grows with both only: the
table itself is what loads are worked out from, the contour is a cross-check of how far out it reaches.
"""

from typing import NamedTuple

import numpy as np
from scipy.special import ndtr, ndtri

POINTS = 181
ROUGHER = 0.5  # [-] of the time, whose heights the law is fitted to


class HeightPeriodLaw(NamedTuple):
    """Height [m] by a Weibull law; ln(mean period [s]) normal, mean a1 + a2 Hs^a3, spread b1 + b2 exp(-b3 Hs)."""

    scale: float  # [m]
    shape: float  # [-]
    location: float  # [m]
    mean: tuple  # a1, a2, a3
    spread: tuple  # b1, b2, b3


def height_quantile(share, law):
    """Height [m] that a `share` [-] of the time stays under: location + scale (-ln(1 - share))^(1/shape).

    `law` a `HeightPeriodLaw` (Weibull 1951).
    """
    return law.location + law.scale * (-np.log1p(-np.asarray(share))) ** (1.0 / law.shape)


def period_quantile(share, height, law):
    """Mean period [s] that a `share` [-] stays under at a `height` [m]: log-normal (Vanem & Bitner-Gregersen 2012).

    `law` a `HeightPeriodLaw`.
    """
    a1, a2, a3 = law.mean
    b1, b2, b3 = law.spread
    return np.exp(a1 + a2 * height**a3 + (b1 + b2 * np.exp(-b3 * height)) * ndtri(share))


def contour(law, odds, points=POINTS):
    """(heights [m], mean periods [s]) of the contour that a sea state passes with `odds` [-], (points,) each.

    `law` a `HeightPeriodLaw`, `points` how many. beta = -Phi^-1(odds); u = beta (cos, sin) (Winterstein et al. 1993).
    """
    beta = -ndtri(odds)
    angle = np.linspace(0.0, 2.0 * np.pi, points)
    heights = height_quantile(ndtr(beta * np.cos(angle)), law)
    return heights, period_quantile(ndtr(beta * np.sin(angle)), heights, law)


def law_of_table(heights, periods, shares):
    """`HeightPeriodLaw` of a table of `heights` [m], mean `periods` [s] and `shares` [-], (k,) each.

    The Weibull law from nothing up, location 0, by a straight line through the rougher half of the time on Weibull
    paper, for the rare seas matter; mean of ln(period) over the heights by a weighted straight line (least squares, any
    text on statistics).
    """
    heights, periods, shares = (np.asarray(each, dtype=float) for each in (heights, periods, shares))
    shares = shares / shares.sum()
    values = np.unique(heights)
    beyond = np.array([shares[heights > value].sum() + 0.5 * shares[heights == value].sum() for value in values])
    upper = beyond <= max(ROUGHER, beyond.min())
    shape, scale = 1.0, values[-1] / max(-np.log(beyond[-1]), 1e-9)
    if upper.sum() > 1:
        line = np.polyfit(np.log(values[upper]), np.log(-np.log(beyond[upper])), 1)
        shape, scale = float(line[0]), float(np.exp(-line[1] / line[0]))
    logs = np.log(periods)
    slope, start = np.polyfit(heights, logs, 1, w=np.sqrt(shares)) if np.ptp(heights) > 0.0 else (0.0, shares @ logs)
    rest = logs - (start + slope * heights)
    spread = float(np.sqrt(shares @ rest**2))
    return HeightPeriodLaw(scale, shape, 0.0, (float(start), float(slope), 1.0), (max(spread, 1e-3), 0.0, 0.0))

