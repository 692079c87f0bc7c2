"""Damage rates straight from a load spectrum, for a cross-check of counted damage.

S-N curve in load amplitude: N = strength * amplitude^-slope. Moments are one-sided, m_n = int f^n G(f) df with
f in Hz, so that rates come out per second. All of them assume a Gaussian load: foil loads past stall,
emergence or a limit are not, and with two well separated peaks these methods are low by a third at slope 10
(the tests show it). The counted damage is the answer, these are the check.
"""

import math

import numpy as np


def spectral_moment(frequency, density, order):
    """Moment m_n of a one-sided density [load2 Hz^n]; `frequency` (n,) [Hz], `density` [load2/Hz], trapezium rule."""
    return float(np.trapezoid(frequency**order * density, frequency))


def bandwidth(m0, m_order, m_double):
    """Bandwidth parameter alpha_i = m_i / sqrt(m0 m_2i) [-], 1 for a single frequency."""
    return m_order / math.sqrt(m0 * m_double)


def narrow_band_damage(m0, m2, slope, strength=1.0):
    """Narrow-band (Rayleigh) damage rate [1/s]; Miles 1954, Bendat 1964: nu0 (sqrt(2 m0))^k Gamma(1 + k/2) / C."""
    return math.sqrt(m2 / m0) * math.sqrt(2.0 * m0) ** slope * math.gamma(1.0 + 0.5 * slope) / strength


def wirsching_light_damage(m0, m2, m4, slope, strength=1.0):
    """Narrow-band rate with the factor of Wirsching & Light 1980 [1/s]; fitted for slopes 3 to 6, not composites."""
    floor = 0.926 - 0.033 * slope
    power = 1.587 * slope - 2.323
    spread = math.sqrt(max(1.0 - bandwidth(m0, m2, m4) ** 2, 0.0))
    return narrow_band_damage(m0, m2, slope, strength) * (floor + (1.0 - floor) * (1.0 - spread) ** power)


def dirlik_weights(m0, m1, m2, m4):
    """(mean frequency ratio, G1, G2, G3, R, Q) of Dirlik 1985 [-]: one exponential and two Rayleigh parts.

    R comes out negative for a plain JONSWAP; its size is used in `dirlik_damage`.
    """
    alpha = bandwidth(m0, m2, m4)
    mean_frequency = m1 / m0 * math.sqrt(m2 / m4)
    g1 = 2.0 * (mean_frequency - alpha**2) / (1.0 + alpha**2)
    r = (alpha - mean_frequency - g1**2) / (1.0 - alpha - g1 + g1**2)
    g2 = (1.0 - alpha - g1 + g1**2) / (1.0 - r)
    g3 = 1.0 - g1 - g2
    q = 1.25 * (alpha - g3 - g2 * r) / g1
    return mean_frequency, g1, g2, g3, r, q


def dirlik_damage(m0, m1, m2, m4, slope, strength=1.0):
    """Damage rate of Dirlik 1985 [1/s], with the absolute value of R."""
    _, g1, g2, g3, r, q = dirlik_weights(m0, m1, m2, m4)
    exponential = g1 * q**slope * math.gamma(1.0 + slope)
    rayleigh = math.sqrt(2.0) ** slope * math.gamma(1.0 + 0.5 * slope) * (g2 * abs(r) ** slope + g3)
    return math.sqrt(m4 / m2) * m0 ** (0.5 * slope) * (exponential + rayleigh) / strength


def tovo_benasciutti_weight_2005(alpha1, alpha2):
    """Share b of the narrow-band damage, Tovo & Benasciutti 2005 [-]."""
    product = 1.112 * (1.0 + alpha1 * alpha2 - (alpha1 + alpha2)) * math.exp(2.11 * alpha2)
    return (alpha1 - alpha2) * (product + (alpha1 - alpha2)) / (alpha2 - 1.0) ** 2


def tovo_benasciutti_weight_2006(alpha075, alpha2):
    """Share b of the narrow-band damage, Benasciutti & Tovo 2006 [-]."""
    return (alpha075**2 - alpha2**2) / (1.0 - alpha2**2)


def tovo_benasciutti_damage(m0, m2, m4, weight, slope, strength=1.0):
    """Damage rate of Tovo & Benasciutti [1/s] for the share `weight` of either year."""
    alpha2 = bandwidth(m0, m2, m4)
    factor = weight + (1.0 - weight) * alpha2 ** (slope - 1.0)
    return narrow_band_damage(m0, m2, slope, strength) * factor


def zhao_baker_damage(m0, m2, m4, slope, strength=1.0):
    """Damage rate of Zhao & Baker 1992, method 1 [1/s]: a Weibull and a Rayleigh part."""
    alpha2 = bandwidth(m0, m2, m4)
    scale = 8.0 - 7.0 * alpha2
    shape = 1.1 if alpha2 < 0.9 else 1.1 + 9.0 * (alpha2 - 0.9)
    weight = (1.0 - alpha2) / (
        1.0 - math.sqrt(2.0 / math.pi) * math.gamma(1.0 + 1.0 / shape) * scale ** (-1.0 / shape)
    )
    weibull = weight * scale ** (-slope / shape) * math.gamma(1.0 + slope / shape)
    rayleigh = (1.0 - weight) * 2.0 ** (0.5 * slope) * math.gamma(1.0 + 0.5 * slope)
    return math.sqrt(m4 / m2) * m0 ** (0.5 * slope) * (weibull + rayleigh) / strength
