"""Directional spreading: densities over direction, first Fourier amplitude, directions by quantile."""

import numpy as np
from scipy.special import betaincinv, gammaln


def cos2s_density(angle, s):
    """Share of energy per radian [1/rad] of the cos^2s spreading at `angle` [rad] off the mean.

    angle (n,) any real; s [-] > 0. D = C cos^2s(angle/2). Source: Longuet-Higgins, Cartwright & Smith 1963.
    """
    scale = np.exp(gammaln(s + 1.0) - gammaln(s + 0.5)) / (2.0 * np.sqrt(np.pi))
    return scale * np.abs(np.cos(0.5 * np.asarray(angle, dtype=float))) ** (2.0 * s)


def cos2s_direction(quantile, s):
    """Direction off the mean [rad] below which the share `quantile` of the energy travels, -pi..pi.

    quantile (n,) [-] in 0..1; s [-] > 0, infinity = long-crested (all zero). With z = sin(angle/2) the density is that
    of a Beta variable (s + 1/2, s + 1/2) in (1 + z)/2: an exact inverse of `cos2s_density`, no table.
    """
    quantile = np.asarray(quantile, dtype=float)
    if np.isinf(s):
        return np.zeros_like(quantile)
    beta = betaincinv(s + 0.5, s + 0.5, quantile)
    return 2.0 * np.arcsin(np.clip(2.0 * beta - 1.0, -1.0, 1.0))


def s_from_first_amplitude(r1):
    """Exponent s [-] of the cos^2s spreading with first Fourier amplitude r1 [-] in 0..1: r1/(1 - r1)."""
    return r1 / (1.0 - r1)


def buoy_density(angle, alpha1, r1, alpha2, r2):
    """Two-harmonic directional density of a buoy [1/rad]; weights 2/3 and 1/6 keep it positive.

    angle (n,), alpha1, alpha2 [rad] in the same sense; r1, r2 [-] in 0..1. The plain series (weights 1, 1)
    can go negative; the weights widen the spreading. Source: Longuet-Higgins, Cartwright & Smith 1963.
    """
    angle = np.asarray(angle, dtype=float)
    first = (2.0 / 3.0) * r1 * np.cos(angle - alpha1)
    second = (1.0 / 6.0) * r2 * np.cos(2.0 * (angle - alpha2))
    return (0.5 + first + second) / np.pi


def tabulated_direction(direction, density, quantile):
    """Direction [rad] at each `quantile` of a density tabulated round the circle (the integral's inverse, exact).

    direction (d,) [rad] once round, rising or falling, any start; density (d,) >= 0 [1/rad], linear in between;
    quantile [-] in 0..1 counted from the first entry in the order given, so turning all directions by a
    heading turns the answer and nothing else. Raises ValueError when the directions do not go round once or
    hold no energy. Derived here.
    """
    direction, density = np.asarray(direction, dtype=float), np.asarray(density, dtype=float)
    step = np.mod(np.diff(np.append(direction, direction[0])) + np.pi, 2.0 * np.pi) - np.pi
    sense = np.sign(step[0])
    if np.any(step * sense <= 0.0) or abs(abs(step.sum()) - 2.0 * np.pi) > 1e-6:
        raise ValueError("directions must go round the circle once, in order")
    step = np.abs(step)
    following = np.append(density[1:], density[0])
    cumulative = np.concatenate([[0.0], np.cumsum(0.5 * (density + following) * step)])
    if not cumulative[-1] > 0.0:
        raise ValueError("no energy in any direction")
    wanted = np.clip(np.asarray(quantile, dtype=float), 0.0, 1.0) * cumulative[-1]
    place = np.clip(np.searchsorted(cumulative, wanted, side="right") - 1, 0, len(step) - 1)
    rest = wanted - cumulative[place]
    start, slope = density[place], (following[place] - density[place]) / step[place]
    root = np.sqrt(np.maximum(start**2 + 2.0 * slope * rest, 0.0))
    moved = 2.0 * rest / np.maximum(start + root, 1e-300)
    return direction[place] + sense * np.minimum(moved, step[place])
