"""How a boat meets waves: the encounter frequency.

The simulated boat moves through the sea by its own path; it takes one mean frequency from here, for the waves its
hull makes.
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
