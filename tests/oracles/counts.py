"""Time to simulate until few events show a low rate."""

from seaload.risk.poisson import CONFIDENCE, poisson_interval


def exposure_to_show(rate_limit, *, count=0, confidence=CONFIDENCE):
    """Time to simulate [s] until `count` events in it show, at the upper bound, a rate below `rate_limit` [1/s]."""
    return poisson_interval(count, confidence=confidence)[1] / rate_limit
