"""Slow holding of mean speed and mean heel by a bounded integral, so that surfing and rolling stay free."""

from seaload.basis.compile import compiled

HEEL_AHEAD = 5.0  # [s] that a crew trims ahead of the slow hold: our own choice, so that it does not sway to and fro


@compiled
def bounded_hold(held, rate, bound):
    """Rate of a bounded controller [as `rate`]: it stops at its bound instead of winding up.

    `held` [N] or [N m] what the controller gives now, `rate` [N/s] or [N m/s] what its error asks for, `bound` [as
    `held`] the most it may give either way. Integral control with a clamp (common practice, no source).
    """
    outward = (held >= bound and rate > 0.0) or (held <= -bound and rate < 0.0)
    return 0.0 if outward else rate


@compiled
def trim_ahead(off, rate):
    """What a crew gives at once against an error that the slow hold would take HEEL_AHEAD to meet [as rate times s].

    `off` the error, `rate` [1/s] of the hold for it. An integral alone on a boat of little stiffness swings to and fro
    without end; a share in proportion damps it (any text on control).
    """
    return off * rate * HEEL_AHEAD
