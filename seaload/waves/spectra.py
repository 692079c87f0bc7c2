"""One-sided wave spectra S(omega) [m2 s/rad]: Bretschneider and JONSWAP.

Every function takes omega (n,) [rad/s] and gives (n,) [m2 s/rad]; the density is zero at and below
omega = 0, and its integral over 0..infinity is m0 = Hs^2/16.
"""

from functools import lru_cache

import numpy as np

PEAK_WIDTH_BELOW = 0.07  # [-] JONSWAP sigma for omega <= omega_p (Hasselmann et al. 1973)
PEAK_WIDTH_ABOVE = 0.09  # [-] JONSWAP sigma for omega > omega_p
HIGHEST_OVER_PEAK = 3.0  # [-] where the table of a sea of short waves ends


def frequency_table(peak_omega, highest=3.6, points=600, lowest_peak=None):
    """Frequencies to tabulate a spectrum on [rad/s], (points,), rising, even in the logarithm but for the peak.

    `peak_omega` [rad/s] of the highest peak stands in the table itself, in place of its nearest neighbour.
    `lowest_peak` [rad/s] of the sea, `peak_omega` unless said: the table begins at 0.35 of it (a Bretschneider sea
    holds 1e-36 of its energy below). It ends at `highest` [rad/s], or at three times `peak_omega` where that is
    more: 1.5 % of a Bretschneider sea's energy lies above, 0.8 % of its height. With 600 points the piecewise
    linear table holds m0 within 3e-4 of the curve's own. The two ends are our own choice.
    """
    lowest = 0.35 * (peak_omega if lowest_peak is None else min(lowest_peak, peak_omega))
    table = np.geomspace(lowest, max(highest, HIGHEST_OVER_PEAK * peak_omega), points)
    table[np.argmin(np.abs(np.log(table / peak_omega)))] = peak_omega
    return table


def bretschneider(omega, hs, tp):
    """Bretschneider spectrum [m2 s/rad], also called ISSC or modified Pierson-Moskowitz.

    omega (n,) [rad/s]; hs [m]; tp [s] peak period. Source: Bretschneider 1959; ISSC 1964.
    S = (5/16) Hs^2 wp^4 w^-5 exp(-1.25 (wp/w)^4).
    """
    omega = np.asarray(omega, dtype=float)
    peak = 2.0 * np.pi / tp
    safe = np.where(omega > 0.0, omega, peak)
    ratio4 = (peak / np.maximum(safe, 1e-3 * peak)) ** 4
    density = 0.3125 * hs**2 * ratio4 / safe * np.exp(-1.25 * ratio4)
    return np.where(omega > 0.0, density, 0.0)


def peak_enhancement(omega, tp, gamma):
    """JONSWAP peak enhancement factor gamma^exp(-((omega/omega_p - 1)/sigma)^2/2) [-].

    omega (n,) [rad/s]; tp [s]; gamma [-] >= 1. Source: Hasselmann et al. 1973.
    """
    ratio = np.asarray(omega, dtype=float) * tp / (2.0 * np.pi)
    width = np.where(ratio <= 1.0, PEAK_WIDTH_BELOW, PEAK_WIDTH_ABOVE)
    return gamma ** np.exp(-0.5 * ((ratio - 1.0) / width) ** 2)


@lru_cache(maxsize=256)
def jonswap_normalisation(gamma):
    """Exact factor A(gamma) [-] that keeps m0 = Hs^2/16 for a JONSWAP shape integrated over 0..infinity.

    gamma [-] >= 1. 1/A = 1 + integral of the Bretschneider shape times (enhancement - 1), which lives only near the
    peak (definition, by Gauss-Legendre quadrature).
    """
    nodes, weights = np.polynomial.legendre.leggauss(80)
    excess = 0.0
    for low, high in ((0.3, 1.0), (1.0, 2.2)):
        ratio = 0.5 * (high - low) * nodes + 0.5 * (high + low)
        shape = 5.0 * ratio**-5 * np.exp(-1.25 * ratio**-4)
        added = shape * (peak_enhancement(ratio, 2.0 * np.pi, gamma) - 1.0)
        excess += 0.5 * (high - low) * float(np.sum(weights * added))
    return 1.0 / (1.0 + excess)


def jonswap_short_normalisation(gamma):
    """Short form of the JONSWAP factor [-]: m0 0.3 % low at gamma 1.5, 1.8 % low at 7.

    gamma [-] >= 1. Source: DNV-RP-C205, 3.5.5 (1 - 0.287 ln gamma).
    """
    return 1.0 - 0.287 * np.log(gamma)


def jonswap(omega, hs, tp, gamma=3.3, normalisation="exact"):
    """JONSWAP spectrum [m2 s/rad].

    omega (n,) [rad/s]; hs [m]; tp [s]; gamma [-] >= 1; `normalisation` "exact" (m0 = Hs^2/16) or
    "short" (1 - 0.287 ln gamma). Raises ValueError for another word or gamma < 1.
    Source: Hasselmann et al. 1973 in the form of DNV-RP-C205 3.5.5.
    """
    if gamma < 1.0:
        raise ValueError(f"gamma must be >= 1, got {gamma:g}")
    if normalisation not in ("exact", "short"):
        raise ValueError(f'normalisation must be "exact" or "short", got {normalisation!r}')
    exact = normalisation == "exact"
    factor = jonswap_normalisation(float(gamma)) if exact else jonswap_short_normalisation(gamma)
    return factor * bretschneider(omega, hs, tp) * peak_enhancement(omega, tp, gamma)


def tail_extension(omega, density, highest=3.6, power="omega^-5", anchor_points=5):
    """A measured spectrum with its missing high-frequency tail: (omega, density) [rad/s], [m2 s/rad].

    A buoy stops near 0.4 Hz = 2.5 rad/s. `power` is "omega^-5" (Phillips 1958), "omega^-4" (Toba 1973) or
    "none"; `highest` [rad/s] is where the tail ends. Its level is the mean of density x omega^n over the last
    `anchor_points` bands, because the last band alone is noise and print resolution. A record that already
    reaches `highest` comes back as it is. Raises ValueError for another word.
    """
    powers = {"omega^-5": 5, "omega^-4": 4, "none": 0}
    if power not in powers:
        raise ValueError(f"tail must be one of {sorted(powers)}, got {power!r}")
    omega, density = np.asarray(omega, dtype=float), np.asarray(density, dtype=float)
    if power == "none" or omega[-1] >= highest:
        return omega, density
    n = powers[power]
    level = np.mean(density[-anchor_points:] * omega[-anchor_points:] ** n)
    steps = max(2, int(np.ceil(np.log(highest / omega[-1]) / 0.01)))
    added = np.geomspace(omega[-1], highest, steps + 1)[1:]
    return np.concatenate([omega, added]), np.concatenate([density, level * added**-n])
