"""Lift near the water surface at any Froude number. Steady, for the balance.

The march uses `strip_load.surface_factor` (Froude number infinite) for the fast part of the load; here is the
steady part, which at 12-25 kn is clearly lower.
"""

import numpy as np
from scipy.special import exp1

from seaload.foil.strip_load import surface_factor

SERIES_BEYOND = 40.0  # size of the argument from which an asymptotic series takes over
SERIES_TERMS = 20


def _scaled_exponential_integral(t):
    """exp(t) E1(t) [-] for complex `t` [-], principal branch, without overflow.

    Beyond SERIES_BEYOND the asymptotic series of Abramowitz & Stegun 1964, 5.1.51.
    """
    t = np.asarray(t, dtype=complex)
    far = np.abs(t) > SERIES_BEYOND
    near_t, far_t = np.where(far, 1.0, t), np.where(far, t, SERIES_BEYOND)
    series = np.zeros_like(far_t)
    for n in range(SERIES_TERMS, 0, -1):
        series = -n / far_t * (1.0 + series)
    return np.where(far, (1.0 + series) / far_t, np.exp(near_t) * exp1(near_t))


def finite_froude_factor(depth_over_chord, depth_froude):
    """Steady lift near the surface over deep-water lift of a section at any Froude number [-].

    `depth_over_chord` H = h/c > 0 and `depth_froude` U/sqrt(g h) > 0, broadcast together. One vortex on the
    quarter chord under linear waves, flow tangent at three quarters. Towards infinite Froude number it
    becomes (1+16H^2)/(2+16H^2); it has a minimum near U/sqrt(g h) = 1.5, and for H under 1 and U/sqrt(g h)
    under 1 it passes through large values that one vortex cannot describe: limit it there.

    Source: complex velocity of a vortex under a stream, REFERENCES section 3 (derived there); with
    kappa = g/U^2 and t = -kappa (2 h + i x) its wave integral is 2 pi i - E1(t) downstream of the vortex.
    """
    h = np.asarray(depth_over_chord, dtype=float)
    kappa = 1.0 / (np.asarray(depth_froude, dtype=float) ** 2 * h)  # of the chord
    if np.any(h <= 0.0) or not np.all(np.isfinite(kappa)):
        raise ValueError("depth over chord and Froude number must be above zero")
    x = 0.5  # from the vortex to the point where the flow is tangent, of the chord
    t = -kappa * (2.0 * h + 1j * x)
    wave = 2j * np.pi * np.exp(t) - _scaled_exponential_integral(t)
    mirror = 1.0 / (2j * np.pi * (x - 2j * h))
    upwash = -np.imag(mirror - kappa / np.pi * wave)
    alone = 1.0 / (2.0 * np.pi * x)
    return alone / (alone + upwash)


def steady_surface_factor(depth, chord, speed, gravity, lowest=0.5, highest=1.0):
    """Share of deep-water lift left in steady flow, held between `lowest` and `highest` [-].

    `depth` [m] below the mean surface (held to a tenth of the chord at least), `chord` [m], `speed`
    [m/s] > 0, `gravity` [m/s2]; arrays broadcast. The bounds leave out the waves that a single vortex
    exaggerates when slow and shallow. The bounds are our own choice.
    """
    held = np.maximum(np.asarray(depth, dtype=float), 0.1 * np.asarray(chord))
    factor = finite_froude_factor(held / chord, speed / np.sqrt(gravity * held))
    return np.clip(factor, lowest, highest)


def steady_gain(depth, chord, speed, gravity):
    """Steady lift at this speed over that at infinite Froude number, less one [-], (n,); 0 for strips in the air.

    `depth` (n,) [m] under the mean surface, `chord` (n,) [m], `speed` [m/s], `gravity` [m/s2]; both from
    `steady_surface_factor` and `strip_load.surface_factor`.
    """
    under = np.maximum(depth, 0.0)
    near = np.array([surface_factor(*each) for each in zip(under, chord, strict=True)])
    return np.where(depth > 0.0, steady_surface_factor(under, chord, speed, gravity) / near - 1.0, 0.0)
