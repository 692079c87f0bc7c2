"""Drag of waves and spray of a section and a strut near the surface."""

import numpy as np


def vortex_wave_drag(lift_coefficient, chord, depth, speed, gravity):
    """Wave drag coefficient of a lifting section under the surface [-]: (g c/U^2)/2 CL^2 exp(-2 g h/U^2).

    `chord`, `depth` [m], `speed` [m/s]. Linear waves behind one vortex, REFERENCES section 3 (derived there).
    """
    kappa = gravity / np.asarray(speed, dtype=float) ** 2
    return 0.5 * kappa * chord * np.asarray(lift_coefficient) ** 2 * np.exp(-2.0 * kappa * depth)


def spray_drag(speed, thickness, density):
    """Drag of the spray thrown where a strut pierces the surface [N]: 0.24 (rho U^2/2) t^2, +-50 %.

    `speed` [m/s], `thickness` t [m] at the surface, `density` [kg/m3]. Hoerner, from memory.
    """
    return 0.24 * 0.5 * density * speed**2 * thickness**2
