"""Dispersion of linear waves: wavenumber from frequency in deep water."""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY


def deep_wavenumber(omega):
    """Wavenumber [rad/m] in deep water, omega^2/g (Airy 1845). omega (n,) [rad/s] >= 0."""
    return np.asarray(omega, dtype=float) ** 2 / STANDARD_GRAVITY
