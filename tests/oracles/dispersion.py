"""Dispersion of linear waves at a finite depth, and the speeds of crests and energy."""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY


def finite_wavenumber(omega, depth):
    """Wavenumber [rad/m] at finite depth: omega^2 = g k tanh(k h), by Newton from an explicit start.

    omega (n,) [rad/s] > 0; depth [m] > 0. Raises ValueError otherwise. Start: Guo 2002; six Newton steps
    reach rounding error. Source of the relation: Airy 1845.
    """
    omega = np.asarray(omega, dtype=float)
    if np.any(omega <= 0.0) or depth <= 0.0:
        raise ValueError("omega and depth must be above zero")
    deep = omega**2 * depth / STANDARD_GRAVITY  # k h in deep water
    kh = deep / (1.0 - np.exp(-(deep**1.25))) ** 0.4
    for _ in range(6):
        tanh = np.tanh(kh)
        kh = kh - (kh * tanh - deep) / (tanh + kh * (1.0 - tanh**2))
    return kh / depth


def phase_speed(omega, wavenumber):
    """Speed of the crests [m/s], omega/k."""
    return np.asarray(omega, dtype=float) / wavenumber


def group_speed(omega, wavenumber, depth=np.inf):
    """Speed of the energy [m/s]: half the phase speed in deep water, more at a finite `depth` [m]."""
    kh = np.minimum(np.asarray(wavenumber, dtype=float) * depth, 300.0)
    share = 0.5 * (1.0 + 2.0 * kh / np.sinh(2.0 * kh))
    return share * phase_speed(omega, wavenumber)
