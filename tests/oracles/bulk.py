"""Bulk numbers of a sea that no command tells: width of its spectrum, its code, whether water is deep for it."""

import numpy as np

from seaload.waves.bulk import deep_wavelength

DEEP_SHARE = 0.5  # [-] depth over peak wavelength below which deep-water waves are refused


def deep_enough(depth, tp):
    """Whether `depth` [m] is at least half the peak wavelength of `tp` [s]; nan (unknown) counts as deep."""
    return not depth < DEEP_SHARE * deep_wavelength(tp)


def spectral_width(m0, m2, m4):
    """Width eps [-], sqrt(1 - m2^2/(m0 m4)), Cartwright & Longuet-Higgins 1956; depends on the cut."""
    return np.sqrt(np.maximum(1.0 - m2**2 / (m0 * m4), 0.0))


def spectral_narrowness(m0, m1, m2):
    """Narrowness nu [-] of Longuet-Higgins 1975, sqrt(m0 m2/m1^2 - 1)."""
    return np.sqrt(np.maximum(m0 * m2 / m1**2 - 1.0, 0.0))


def sea_state_code(hs):
    """WMO code 3700 of the sea state, 0..9, for hs [m]; an upper bound belongs to the lower code."""
    return int(np.searchsorted([0.0, 0.1, 0.5, 1.25, 2.5, 4.0, 6.0, 9.0, 14.0], hs, side="left"))
