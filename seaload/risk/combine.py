"""One interval from several sources of doubt: sampling, forecast and model, put together on the logarithm of a rate.

Sources are taken as independent. Each side of the interval has its own sampling half-width, because at
low counts the upper one is much longer.
"""

import math

from scipy.special import ndtri

from seaload.risk.poisson import CONFIDENCE

MEDIAN_OF_NONE = math.log(2.0)  # expected count of which one sees none half of the time


def combined_interval(rate, low, high, spread, *, confidence=CONFIDENCE):
    """(low, high) of a rate that holds sampling error and the other sources together [same unit].

    rate, low, high : estimate and sampling interval of the same `confidence`; spread : standard deviation of
    ln(rate) from forecast and model, >= 0. Never narrower than the sampling interval. With none seen (rate 0) the
    lower bound stays 0 and the upper one is widened about the rate at which half of all records of this
    length show none.
    """
    if not spread >= 0.0:
        raise ValueError(f"a spread must be >= 0, got {spread!r}")
    if high <= 0.0:
        return 0.0, 0.0
    wide = float(ndtri(0.5 + 0.5 * confidence)) * spread
    if rate <= 0.0:
        # exact upper bound of no event in T is -ln(tail)/T, so the median rate is that times ln 2 / -ln(tail)
        centre = high * MEDIAN_OF_NONE / -math.log(0.5 - 0.5 * confidence)
        return 0.0, centre * math.exp(math.hypot(math.log(high / centre), wide))
    upper = rate * math.exp(math.hypot(math.log(max(high / rate, 1.0)), wide))
    if low <= 0.0:
        return 0.0, upper
    return rate * math.exp(-math.hypot(math.log(max(rate / low, 1.0)), wide)), upper
