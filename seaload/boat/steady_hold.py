"""Slow holding of mean speed and mean heel by a bounded integral, so that surfing and rolling stay free."""

from seaload.basis.compile import compiled


@compiled
def bounded_hold(held, rate, bound):
    """Rate of a bounded controller [as `rate`]: it stops at its bound instead of winding up.

    `held` [N] or [N m] what the controller gives now, `rate` [N/s] or [N m/s] what its error asks for, `bound` [as
    `held`] the most it may give either way. Integral control with a clamp (common practice, no source).
    """
    outward = (held >= bound and rate > 0.0) or (held <= -bound and rate < 0.0)
    return 0.0 if outward else rate
