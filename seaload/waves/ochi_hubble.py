"""Six-parameter two-peaked spectra of Ochi & Hubble (1976), with their eleven families by Hs."""

from typing import NamedTuple

import numpy as np
from scipy.special import gammaln


class OchiHubbleFamily(NamedTuple):
    """Regression of one family on Hs [m]; index 0 of the table is the most probable one."""

    height_share_1: float  # [-]
    height_share_2: float  # [-]
    peak_1: float  # [rad/s] at Hs = 0
    decay_1: float  # [1/m]
    peak_2: float  # [rad/s]
    decay_2: float  # [1/m]
    shape_1: float  # [-] lambda of the low-frequency part
    shape_2: float  # [-] lambda of the high-frequency part at Hs = 0
    shape_decay_2: float  # [1/m]


FAMILIES = (  # Ochi & Hubble 1976, table 2, as coded in an open source (see the published test)
    OchiHubbleFamily(0.84, 0.54, 0.70, 0.046, 1.15, 0.039, 3.00, 1.54, -0.062),
    OchiHubbleFamily(0.84, 0.54, 0.93, 0.056, 1.50, 0.046, 3.00, 2.77, -0.112),
    OchiHubbleFamily(0.84, 0.54, 0.41, 0.016, 0.88, 0.026, 2.55, 1.82, -0.089),
    OchiHubbleFamily(0.84, 0.54, 0.74, 0.052, 1.30, 0.039, 2.65, 3.90, -0.085),
    OchiHubbleFamily(0.84, 0.54, 0.62, 0.039, 1.03, 0.030, 2.60, 0.53, -0.069),
    OchiHubbleFamily(0.95, 0.31, 0.70, 0.046, 1.50, 0.046, 1.35, 2.48, -0.102),
    OchiHubbleFamily(0.65, 0.76, 0.61, 0.039, 0.94, 0.036, 4.95, 2.48, -0.102),
    OchiHubbleFamily(0.90, 0.44, 0.81, 0.052, 1.60, 0.033, 1.80, 2.95, -0.105),
    OchiHubbleFamily(0.77, 0.64, 0.54, 0.039, 0.61, 0.000, 4.50, 1.95, -0.082),
    OchiHubbleFamily(0.73, 0.68, 0.70, 0.046, 0.99, 0.039, 6.40, 1.78, -0.069),
    OchiHubbleFamily(0.92, 0.39, 0.70, 0.046, 1.37, 0.039, 0.70, 1.78, -0.069),
)


def ochi_hubble_part(omega, hs, peak, shape):
    """Density [m2 s/rad] of one part: omega (n,) [rad/s]; hs [m], peak [rad/s], shape lambda [-].

    (1/4) (q wm^4)^l/Gamma(l) H^2 w^-(4 l + 1) exp(-q (wm/w)^4), q = (4 l + 1)/4. Ochi & Hubble
    1976, eq. 4.
    """
    omega = np.asarray(omega, dtype=float)
    q = (4.0 * shape + 1.0) / 4.0
    safe = np.maximum(omega, 1e-2 * peak)
    power = q * (peak / safe) ** 4
    density = 0.25 * hs**2 / safe * np.exp(shape * np.log(power) - gammaln(shape) - power)
    return np.where(omega > 0.0, density, 0.0)


def ochi_hubble_parameters(hs, family=0):
    """((hs_1 [m], peak_1 [rad/s], lambda_1), (hs_2, peak_2, lambda_2)) of a family 0..10 for hs [m].

    The published height shares do not square-sum to one, so the spectral Hs comes out up to 0.2 % off; they
    are used as published. Raises ValueError for another family.
    """
    if family not in range(len(FAMILIES)):
        raise ValueError(f"family must be 0 to {len(FAMILIES) - 1}, got {family!r}")
    f = FAMILIES[family]
    return (
        (f.height_share_1 * hs, f.peak_1 * np.exp(-f.decay_1 * hs), f.shape_1),
        (f.height_share_2 * hs, f.peak_2 * np.exp(-f.decay_2 * hs), f.shape_2 * np.exp(f.shape_decay_2 * hs)),
    )


def ochi_hubble(omega, hs, family=0):
    """Two-peaked spectrum [m2 s/rad]; omega (n,) [rad/s], hs [m], family 0 (most probable) to 10."""
    return sum(ochi_hubble_part(omega, *part) for part in ochi_hubble_parameters(hs, family))
