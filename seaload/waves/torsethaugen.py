"""Two-peaked spectra, wind sea and swell from Hs and Tp: Torsethaugen 1996."""

from functools import lru_cache
from math import exp, gamma, pi, sqrt
from typing import NamedTuple

import numpy as np

from seaload.waves.spectra import peak_enhancement

MODEL_GRAVITY = 9.81  # [m/s2] the 1996 regressions were made with this value


class Peak(NamedTuple):
    """One of the two peaks."""

    hs: float  # [m]
    tp: float  # [s]
    gamma: float  # [-] peak enhancement
    high_exponent: float  # [-] N, slope of the high-frequency tail
    width_exponent: float  # [-] M


def fully_developed_period(hs):
    """Peak period [s] that divides wind sea (below) from swell (above) for hs [m]: 6.6 Hs^(1/3). Torsethaugen 1996."""
    return 6.6 * hs ** (1.0 / 3.0)


def shares_of_height(hs, tp):
    """(Height share of the primary peak [-], swell excess Eu [-], whether wind sea dominates) for hs [m] and tp [s].

    Source: Torsethaugen 1996, as coded in open sources (see the published test).
    """
    tf, tl, tu = fully_developed_period(hs), 2.0 * sqrt(hs), 25.0
    if tp < tf:
        low = min(max((tf - tp) / (tf - tl), 0.0), 1.0)
        return 0.3 * exp(-((low / 0.5) ** 2)) + 0.7, 0.0, True
    high = min(max((tp - tf) / (tu - tf), 0.0), 1.0)
    return 0.4 * exp(-((high / 0.3) ** 2)) + 0.6, high, False


def torsethaugen_1996_peaks(hs, tp):
    """(wind sea, swell) peaks of the full 1996 model for hs [m] and tp [s].

    Source: Torsethaugen 1996, as coded in open sources (see the published test). gamma is at least 1.
    """
    share, excess, wind_first = shares_of_height(hs, tp)
    tf, n = fully_developed_period(hs), 0.5 * sqrt(hs) + 3.2
    growth = 35.0 * (1.0 + 3.5 * exp(-hs))
    rest = sqrt(max(1.0 - share**2, 0.0)) * hs
    if wind_first:
        enhancement = max(1.0, growth * (2.0 * pi * share * hs / (MODEL_GRAVITY * tp**2)) ** 0.857)
        return Peak(share * hs, tp, enhancement, n, 4.0), Peak(rest, tf + 2.0, 1.0, n, 4.0)
    steep = (2.0 * pi * hs / (MODEL_GRAVITY * tf**2)) ** 0.857
    enhancement = max(1.0, growth * steep * (1.0 + 6.0 * excess))
    m = 4.0 * (1.0 - 0.7 * exp(-hs / 3.0))
    swell = Peak(share * hs, tp, enhancement, n, 4.0)
    if rest <= 0.0:
        return Peak(0.0, tf, 1.0, n, m), swell
    inverse_g0 = _inverse_shape_factor(n, m)
    level = 16.0 * 0.08 * (1.0 - exp(-hs / 3.0)) * 0.4**n * inverse_g0 / rest**2
    return Peak(rest, level ** (-1.0 / (n - 1.0)), 1.0, n, m), swell


def _inverse_shape_factor(n, m):
    """1/G0 [-]: integral of x^-N exp(-(N/M) x^-M) over 0..infinity, a gamma function (any table of integrals).

    Exponents n [-] of the tail and m [-] of the width.
    """
    b, c = n / m, (n - 1.0) / m
    return gamma(c) / (b**c * m)


@lru_cache(maxsize=256)
def _peak_normalisation(enhancement, n, m):
    """Factor [-] that keeps the height of an enhanced peak, by integration to six times its peak frequency
    (definition).

    Peak `enhancement` [-], exponents n [-] of the tail and m [-] of the width. A peak without enhancement (gamma = 1)
    is exact over 0..infinity as it stands: factor 1.
    """
    if enhancement == 1.0:
        return 1.0
    ratio = np.concatenate([np.linspace(0.05, 1.0, 6001)[:-1], np.linspace(1.0, 6.0, 30001)])
    shape = ratio**-n * np.exp(-(n / m) * ratio**-m) / _inverse_shape_factor(n, m)
    return 1.0 / float(np.trapezoid(shape * peak_enhancement(ratio, 2.0 * pi, enhancement), ratio))


def peak_density(omega, peak):
    """Density [m2 s/rad] of one peak of the 1996 model; omega (n,) [rad/s]."""
    omega = np.asarray(omega, dtype=float)
    if peak.hs <= 0.0:
        return np.zeros_like(omega)
    wp, n, m = 2.0 * pi / peak.tp, peak.high_exponent, peak.width_exponent
    ratio = np.maximum(omega / wp, 1e-3)
    shape = ratio**-n * np.exp(-(n / m) * ratio**-m) / _inverse_shape_factor(n, m)
    factor = _peak_normalisation(float(peak.gamma), float(n), float(m))
    level = factor * peak.hs**2 / 16.0 / wp
    return np.where(omega > 0.0, level * shape * peak_enhancement(omega, peak.tp, peak.gamma), 0.0)


def torsethaugen_1996(omega, hs, tp):
    """Two-peaked spectrum of the full 1996 model [m2 s/rad]; omega (n,) [rad/s], hs [m], tp [s]."""
    return sum(peak_density(omega, peak) for peak in torsethaugen_1996_peaks(hs, tp))
