"""Bulk numbers of a sea: spectral moments, heights, periods, peak wavelength, steepness.

A spectrum is omega (n,) [rad/s] rising and density (n,) [m2 s/rad], one-sided. Moments are taken with the
trapezoid rule over the tabulated frequencies; nothing is added beyond the last one.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY

STEEP_SEA = 1.0 / 16.0  # [-] Hs over peak wavelength above which linear waves are flagged; common practice
class BulkSea(NamedTuple):
    """Bulk numbers of one sea."""

    hs: float  # [m] 4 sqrt(m0), spectral significant height
    tp: float  # [s] period of the highest tabulated density
    te: float  # [s] energy period m-1/m0
    t1: float  # [s] mean period m0/m1
    tz: float  # [s] mean up-crossing period sqrt(m0/m2)
    peak_wavelength: float  # [m] g Tp^2/(2 pi), deep water
    steepness: float  # [-] Hs over peak wavelength
    steep: bool  # beyond 1/16: linear waves are a rough picture, breaking is left out


def spectral_moment(omega, density, order):
    """Moment of the spectrum [m2 (rad/s)^order], integral of omega^order S (definition).

    omega (n,) rising [rad/s], what is not above zero left out; density S (n,) [m2 s/rad]; order [-] may be negative.
    """
    omega = np.asarray(omega, dtype=float)
    held = omega > 0.0
    return float(np.trapezoid(omega[held] ** order * np.asarray(density, dtype=float)[held], omega[held]))


def bulk_sea(omega, density):
    """Heights, periods and steepness of a spectrum (`BulkSea`), from its moments (definitions, in any text on waves).

    omega (n,) rising [rad/s], density (n,) [m2 s/rad]. Raises ValueError when it holds no energy.
    """
    m0 = spectral_moment(omega, density, 0)
    if not m0 > 0.0:
        raise ValueError("the spectrum holds no energy")
    hs = 4.0 * np.sqrt(m0)
    tp = 2.0 * np.pi / float(omega[int(np.argmax(density))])
    wavelength = deep_wavelength(tp)
    return BulkSea(
        hs=float(hs),
        tp=tp,
        te=2.0 * np.pi * spectral_moment(omega, density, -1) / m0,
        t1=2.0 * np.pi * m0 / spectral_moment(omega, density, 1),
        tz=float(2.0 * np.pi * np.sqrt(m0 / spectral_moment(omega, density, 2))),
        peak_wavelength=wavelength,
        steepness=float(hs / wavelength),
        steep=bool(hs / wavelength > STEEP_SEA),
    )


def deep_wavelength(period):
    """Wavelength [m] in deep water of a wave of `period` [s]: g T^2/(2 pi). Linear waves (Airy 1845)."""
    return STANDARD_GRAVITY * period**2 / (2.0 * np.pi)


def mean_direction(direction, energy):
    """Energy-weighted vector mean direction [rad] and first amplitude r1 [-] (definition).

    direction (n,) [rad]; energy (n,) >= 0 in any unit. Never the arithmetic mean: 359 and 1 degrees give 0.
    """
    vector = np.sum(np.asarray(energy) * np.exp(1j * np.asarray(direction))) / np.sum(energy)
    return float(np.angle(vector)), float(np.abs(vector))
