"""How a boat meets waves: encounter frequency and what it does to spectral moments.

The simulated boat moves through the sea by its own path; it takes one mean frequency from here, for the waves its
hull makes. The rest is for reading and checking.
"""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY


def encounter_frequency(omega, boat_speed, direction):
    r"""Angular frequency at which a boat meets deep-water waves [rad/s], signed.

    omega (n,) [rad/s] >= 0; boat_speed [m/s] along x; direction mu (n,) [rad], 0 = following, pi = head
    sea. omega_e = omega - omega^2 U cos(mu)/g. Negative where the boat overtakes that wave: it is then met
    from its front to its back. Source: Doppler shift of linear waves, e.g. St Denis & Pierson 1953.
    """
    omega = np.asarray(omega, dtype=float)
    return omega - omega**2 / STANDARD_GRAVITY * np.cos(direction) * boat_speed


def mean_encounter_frequency(components, boat_speed):
    """Energy-weighted mean of the size of the encounter frequency of a sea [rad/s].

    `components` with amplitude [m], omega [rad/s] and direction [rad] (n,); `boat_speed` [m/s]. One number that stands
    for the sea in the hull's wave damping (rule of this project, no source).
    """
    energy = components.amplitude**2
    met = encounter_frequency(components.omega, boat_speed, components.direction)
    return float(np.sum(energy * np.abs(met)) / np.sum(energy))


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
