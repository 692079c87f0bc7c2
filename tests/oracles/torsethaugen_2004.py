"""Torsethaugen's simplified two-peak spectrum of 2004."""

from math import log, pi, sqrt

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.waves.spectra import peak_enhancement
from seaload.waves.torsethaugen import Peak, fully_developed_period, shares_of_height


def torsethaugen_2004_peaks(hs, tp):
    """(primary, secondary) peaks of the simplified 2004 model for hs [m] and tp [s], N = M = 4.

    Source: Torsethaugen & Haver 2004. Departure: gamma is held at 1 or more, because its regression falls
    below 1 for long wind seas, where the normalising factor has no value.
    """
    share, excess, wind_first = shares_of_height(hs, tp)
    tf = fully_developed_period(hs)
    primary, rest = share * hs, sqrt(max(1.0 - share**2, 0.0)) * hs
    if wind_first:
        enhancement = 35.0 * (2.0 * pi * primary / (STANDARD_GRAVITY * tp**2)) ** (6.0 / 7.0)
        second_period = tf + 2.0
    else:
        steep = (2.0 * pi * hs / (STANDARD_GRAVITY * tf**2)) ** (6.0 / 7.0)
        enhancement = 35.0 * steep * (1.0 + 6.0 * excess)
        second_period = fully_developed_period(rest) if rest > 0.0 else tf
    return (
        Peak(primary, tp, max(1.0, enhancement), 4.0, 4.0),
        Peak(rest, second_period, 1.0, 4.0, 4.0),
    )


def torsethaugen_2004(omega, hs, tp):
    """Two-peaked spectrum of the simplified 2004 model [m2 s/rad]; omega (n,) [rad/s], hs [m], tp [s]."""
    omega = np.asarray(omega, dtype=float)
    total = np.zeros_like(omega)
    for peak in torsethaugen_2004_peaks(hs, tp):
        wp = 2.0 * pi / peak.tp
        ratio = np.maximum(omega / wp, 1e-3)
        density = 3.26 / 16.0 * peak.hs**2 / wp * ratio**-4 * np.exp(-(ratio**-4))
        if peak.gamma > 1.0:
            factor = (1.0 + 1.1 * log(peak.gamma) ** 1.19) / peak.gamma
            density = factor * density * peak_enhancement(omega, peak.tp, peak.gamma)
        total = total + np.where(omega > 0.0, density, 0.0)
    return total
