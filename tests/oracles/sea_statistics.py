"""Statistics of a Gaussian sea: Rayleigh heights and crests, Rice crossings, largest of many, all maxima."""

import numpy as np
from scipy.integrate import quad
from scipy.special import erfc, ndtr

EULER = 0.5772156649015329


def height_exceedance(height, m0):
    """Probability [-] that one wave is higher than `height` [m], narrow band: exp(-h^2/(8 m0)).

    m0 [m2]. Source: Longuet-Higgins 1952.
    """
    return np.exp(-(np.asarray(height, dtype=float) ** 2) / (8.0 * m0))


def crest_exceedance(crest, m0):
    """Probability [-] that one crest is higher than `crest` [m], narrow band: exp(-a^2/(2 m0))."""
    return np.exp(-(np.asarray(crest, dtype=float) ** 2) / (2.0 * m0))


def mean_of_highest(share, m0):
    """Mean height [m] of the highest `share` [-] (1/3, 1/10, ...) of Rayleigh waves; share 1 is the mean.

    Source: Longuet-Higgins 1952.
    """
    root = np.sqrt(np.log(1.0 / share))
    return np.sqrt(8.0 * m0) * (root + 0.5 * np.sqrt(np.pi) / share * erfc(root))


def upcrossing_rate(level, m0, m2):
    """Mean rate [1/s] of up-crossings of `level` [m] above the mean: sqrt(m2/m0)/(2 pi) exp(-a^2/(2 m0)).

    m0 [m2], m2 [m2 (rad/s)^2]. Source: Rice 1944-45.
    """
    return np.sqrt(m2 / m0) / (2.0 * np.pi) * crest_exceedance(level, m0)


def exceedance_odds(rate, exposure):
    """Probability [-] of at least one up-crossing in `exposure` [s] at `rate` [1/s], Poisson.

    Clumping in a narrow-band process makes it an upper bound.
    """
    return -np.expm1(-np.asarray(rate, dtype=float) * exposure)


def expected_maximum(count):
    """Mean of the largest of `count` independent Rayleigh crests, in standard deviations [-].

    Exact: integral of 1 - (1 - exp(-x^2/2))^N. The asymptotic form is 0.4 % higher at N = 1000.
    """
    top = np.sqrt(2.0 * np.log(count)) + 8.0

    def survival(x):
        return -np.expm1(count * np.log1p(-np.exp(-0.5 * x * x))) if x > 0.0 else 1.0

    middle = np.sqrt(2.0 * np.log(count)) if count > 1 else 1.0
    return (
        quad(survival, 0.0, middle, epsabs=1e-12, limit=200)[0]
        + quad(survival, middle, top, epsabs=1e-12, limit=200)[0]
    )


def expected_maximum_asymptotic(count):
    """Asymptotic mean of the largest of `count` Rayleigh crests [-]: sqrt(2 ln N) + 0.5772/sqrt(2 ln N)."""
    root = np.sqrt(2.0 * np.log(count))
    return root + EULER / root


def maximum_quantile(count, probability):
    """Level [-, standard deviations] that the largest of `count` crests stays below with `probability`."""
    return np.sqrt(-2.0 * np.log(-np.expm1(np.log(probability) / count)))


def maxima_density(level, eps):
    """Density [-] of all local maxima at `level` [-, standard deviations] for width eps [-] in 0..1.

    Source: Cartwright & Longuet-Higgins 1956; Rayleigh at eps = 0, Gaussian at eps = 1.
    """
    x = np.asarray(level, dtype=float)
    root = np.sqrt(1.0 - eps**2)
    rayleigh = root * x * np.exp(-0.5 * x**2)
    if eps == 0.0:
        return np.where(x > 0.0, rayleigh, 0.0)
    gauss = eps / np.sqrt(2.0 * np.pi) * np.exp(-0.5 * (x / eps) ** 2)
    return gauss + rayleigh * ndtr(x * root / eps)


def maxima_exceedance(level, eps):
    """Probability [-] that a local maximum is above `level` [-, standard deviations]; same source."""
    x = np.asarray(level, dtype=float)
    root = np.sqrt(1.0 - eps**2)
    if eps == 0.0:
        return np.where(x > 0.0, np.exp(-0.5 * x**2), 1.0)
    return ndtr(-x / eps) + root * np.exp(-0.5 * x**2) * ndtr(x * root / eps)


def negative_maxima_share(eps):
    """Share [-] of local maxima below the mean level: (1 - sqrt(1 - eps^2))/2. Same source."""
    return 0.5 * (1.0 - np.sqrt(1.0 - np.asarray(eps, dtype=float) ** 2))
