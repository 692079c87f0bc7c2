"""Closed forms of a straight fin: its force at an inflow, and its steady damping of heave."""

import numpy as np

from seaload.basis.compile import compiled


@compiled
def appendage_normal_force(normal_velocity, forward_speed, area, lift_slope, lift_limit, density):
    """Force along the strip's normal [N], + to windward and up for a canted fin.

    `normal_velocity` [m/s] of the water past the strip along its normal, `forward_speed` [m/s] of the
    strip through the water, `lift_limit` [-] where the lift coefficient is softly held (stall).
    """
    speed = max(forward_speed, 0.5)
    wanted = lift_slope * normal_velocity / speed
    share = wanted / lift_limit
    square = share * share
    held = wanted / (1.0 + square * square * square) ** (1.0 / 6.0)
    return 0.5 * density * speed * speed * area * held


def heave_damping(density, speed, area, lift_slope, cant_plus_heel):
    """Steady heave damping of a straight fin [N s/m], angle [rad] from straight down: 1/2 rho U S a sin^2."""
    return 0.5 * density * speed * area * lift_slope * np.sin(cant_plus_heel) ** 2
