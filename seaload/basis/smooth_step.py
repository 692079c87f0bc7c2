"""Smooth ramp from 0 to 1, used wherever a wet edge must not act like a switch."""

from seaload.basis.compile import compiled


@compiled
def smooth_step(position):
    """Share from 0 to 1 of a ramp with zero slope at both ends [-].

    `position` [-] runs from 0 (start) to 1 (end) and is clipped outside: 3 p^2 - 2 p^3.
    """
    p = min(max(position, 0.0), 1.0)
    return p * p * (3.0 - 2.0 * p)


@compiled
def smooth_step_slope(position):
    """Derivative of `smooth_step` by its position [-]; zero outside the ramp."""
    p = min(max(position, 0.0), 1.0)
    return 6.0 * p * (1.0 - p)
