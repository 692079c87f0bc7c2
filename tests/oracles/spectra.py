"""Spectra of a fully developed sea by its wind, of shallow water, and the standard's rule for the peak."""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.waves.spectra import bretschneider

PHILLIPS_CONSTANT = 0.0081  # [-] alpha of Pierson & Moskowitz 1964
WIND_DECAY = 0.74  # [-] beta of Pierson & Moskowitz 1964
WIND_HEIGHT_FACTOR = 1.026  # [-] U19.5 over U10, common marine log-law factor, itself a convention


def jonswap_gamma_rule(hs, tp):
    """Peak enhancement factor [-] that goes with Hs [m] and Tp [s] (DNV-RP-C205 3.5.5.5).

    5 up to Tp/sqrt(Hs) = 3.6, exp(5.75 - 1.15 Tp/sqrt(Hs)) to 5, then 1.
    """
    steep = tp / np.sqrt(hs)
    return np.where(steep <= 3.6, 5.0, np.where(steep >= 5.0, 1.0, np.exp(5.75 - 1.15 * steep)))[()]


def pierson_moskowitz(omega, wind_speed_19_5):
    """Fully developed Pierson-Moskowitz spectrum by wind [m2 s/rad].

    omega (n,) [rad/s]; wind_speed_19_5 [m/s] at 19.5 m height. Source: Pierson & Moskowitz 1964.
    S = alpha g^2 w^-5 exp(-0.74 (g/(U w))^4).
    """
    return bretschneider(
        omega,
        pierson_moskowitz_height(wind_speed_19_5),
        pierson_moskowitz_peak_period(wind_speed_19_5),
    )


def pierson_moskowitz_height(wind_speed_19_5):
    """Hs [m] of a fully developed sea, 2 sqrt(alpha/beta) U^2/g, wind [m/s] at 19.5 m (same source)."""
    return 2.0 * np.sqrt(PHILLIPS_CONSTANT / WIND_DECAY) * wind_speed_19_5**2 / STANDARD_GRAVITY


def pierson_moskowitz_peak_period(wind_speed_19_5):
    """Tp [s] of a fully developed sea, 2 pi U/g (5/(4 beta))^(1/4), wind [m/s] at 19.5 m (same source)."""
    return 2.0 * np.pi * wind_speed_19_5 / STANDARD_GRAVITY * (1.25 / WIND_DECAY) ** 0.25


def tma_factor(wavenumber, depth):
    """Factor [-] that limits a deep-water spectrum at finite depth, tanh^2(kh)/(1 + 2kh/sinh 2kh).

    wavenumber (n,) [rad/m] at that depth; depth [m]. It lowers m0 on purpose. Source: Bouws et al. 1985.
    """
    kh = np.minimum(np.asarray(wavenumber, dtype=float) * depth, 300.0)
    return np.tanh(kh) ** 2 / (1.0 + 2.0 * kh / np.sinh(np.maximum(2.0 * kh, 1e-12)))
