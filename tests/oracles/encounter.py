"""How a boat meets waves: the fold of the encounter frequency, the waves met at one, the spectral moments met."""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY


def encounter_slope(omega, boat_speed, direction):
    """Derivative of the encounter frequency by omega [-], 1 - 2 omega U cos(mu)/g; zero at the fold."""
    return 1.0 - 2.0 * np.asarray(omega, dtype=float) * boat_speed * np.cos(direction) / STANDARD_GRAVITY


def wave_frequencies_met(encounter, boat_speed, direction):
    """The up to three wave frequencies [rad/s] met at one |omega_e| [rad/s]: (w1, w2, w3), nan where none.

    w1 <= fold <= w2 are met with positive omega_e, w3 is overtaken. In head and beam seas only w1 exists.
    """
    b = boat_speed * np.cos(direction) / STANDARD_GRAVITY
    encounter = abs(float(encounter))
    if abs(b) < 1e-12:
        return encounter, np.nan, np.nan
    if b < 0.0:
        return (1.0 - np.sqrt(1.0 - 4.0 * b * encounter)) / (2.0 * b), np.nan, np.nan
    overtaken = (1.0 + np.sqrt(1.0 + 4.0 * b * encounter)) / (2.0 * b)
    square = 1.0 - 4.0 * b * encounter
    if square < 0.0:
        return np.nan, np.nan, overtaken
    root = np.sqrt(square)
    return 2.0 * encounter / (1.0 + root), (1.0 + root) / (2.0 * b), overtaken


def encounter_moment(moments, boat_speed, direction, order):
    """Moment m2e or m4e [m2 (rad/s)^order] of the long-crested elevation met by the boat.

    moments: sequence m0..m4 (order 2) or m0..m8 (order 4) of the sea [m2 (rad/s)^n]; direction mu [rad]. The
    binomial of (omega - b omega^2)^order with b = U cos(mu)/g; m0 is the same for every speed.
    """
    b = boat_speed * np.cos(direction) / STANDARD_GRAVITY
    weights = {2: (1.0, -2.0, 1.0), 4: (1.0, -4.0, 6.0, -4.0, 1.0)}[order]
    return sum(weight * b**i * moments[order + i] for i, weight in enumerate(weights))
