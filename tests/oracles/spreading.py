"""Other spreading functions, and what cos-2s says of width."""

import numpy as np
from scipy.special import gammaln


def first_amplitude_from_s(s):
    """First Fourier amplitude r1 [-] of cos^2s, s/(s + 1)."""
    return 1.0 if np.isinf(s) else s / (s + 1.0)


def circular_width(r1):
    """Directional width [rad], sqrt(2 (1 - r1)). Source: Kuik, van Vledder & Holthuijsen 1988."""
    return np.sqrt(2.0 * (1.0 - r1))


def cosn_density(angle, n):
    """Share of energy per radian [1/rad] of cos^n within 90 degrees, zero behind (DNV-RP-C205 3.5.8)."""
    angle = np.mod(np.asarray(angle, dtype=float) + np.pi, 2.0 * np.pi) - np.pi
    scale = np.exp(gammaln(1.0 + 0.5 * n) - gammaln(0.5 + 0.5 * n)) / np.sqrt(np.pi)
    ahead = np.maximum(np.cos(angle), 0.0)
    return scale * ahead**n


def wrapped_normal_density(angle, deviation):
    """Share of energy per radian [1/rad] of a wrapped normal; `deviation` [rad] before wrapping."""
    angle = np.asarray(angle, dtype=float)
    orders = np.arange(1, int(np.ceil(9.0 / deviation)) + 2)[:, None]
    terms = np.exp(-0.5 * (orders * deviation) ** 2) * np.cos(orders * angle.reshape(1, -1))
    return ((1.0 + 2.0 * terms.sum(axis=0)) / (2.0 * np.pi)).reshape(angle.shape)
