"""Unsteady thin-section theory in exact form, to hold the marched two-term lags against.

k = omega b / U with the semi-chord b, s = U t / b semi-chords travelled, time factor exp(+i omega t).
Plunge h is positive down and pitch nose up, as in the sources; lift is positive up.
"""

import numpy as np
from scipy.special import hankel2, ive, jv, kve

from seaload.foil.lag_states import (
    KUESSNER_A1,
    KUESSNER_A2,
    KUESSNER_B1,
    KUESSNER_B2,
    WAGNER_A1,
    WAGNER_A2,
    WAGNER_B1,
    WAGNER_B2,
)

WAGNER_A = (WAGNER_A1, WAGNER_A2)
WAGNER_B = (WAGNER_B1, WAGNER_B2)
KUESSNER_A = (KUESSNER_A1, KUESSNER_A2)
KUESSNER_B = (KUESSNER_B1, KUESSNER_B2)

_LOG_U = np.linspace(-34.0, 3.6, 1200)  # grid of the Wagner integral, which fades fast at both ends
_U = np.exp(_LOG_U)


def _wagner_weights():
    """Weights of exp(-u s) in the Wagner integral on the grid of u."""
    # scaled Bessel functions: K = kve exp(-u), I = ive exp(u); the common factor exp(2u) is taken out
    k_part = (kve(0, _U) - kve(1, _U)) ** 2 * np.exp(-4.0 * _U)
    i_part = np.pi**2 * (ive(0, _U) + ive(1, _U)) ** 2
    return np.exp(-2.0 * _U) / ((k_part + i_part) * _U) * (_LOG_U[1] - _LOG_U[0])


_WEIGHTS = _wagner_weights()


def theodorsen(k):
    """Theodorsen's lift deficiency C(k) [-], complex: H1/(H1 + i H0), k > 0.

    Hankel functions of the second kind; Theodorsen 1935, REFERENCES section 1.
    """
    k = np.asarray(k, dtype=float)
    return hankel2(1, k) / (hankel2(1, k) + 1j * hankel2(0, k))


def sears(k):
    """Sears' function S(k) for a sinusoidal gust seen at mid-chord [-], complex: (J0 - i J1) C + i J1."""
    k = np.asarray(k, dtype=float)
    return (jv(0, k) - 1j * jv(1, k)) * theodorsen(k) + 1j * jv(1, k)


def two_term_transfer(k, shares, decays):
    """Frequency answer of 1 - sum A exp(-b s) to a sinusoid [-], complex: 1 - sum A i k/(i k + b)."""
    ik = 1j * np.asarray(k, dtype=float)
    return 1.0 - sum(a * ik / (ik + b) for a, b in zip(shares, decays, strict=True))


def two_term_indicial(s, shares, decays):
    """Indicial function 1 - sum A exp(-b s) [-], s semi-chords travelled."""
    s = np.asarray(s, dtype=float)
    return 1.0 - sum(a * np.exp(-b * s) for a, b in zip(shares, decays, strict=True))


def wagner(s):
    """Wagner's function, exact: circulation after a step of incidence [-], s >= 0 semi-chords travelled.

    1 - integral over u of exp(-u s) / (u^2 [(K0 - K1)^2 + pi^2 (I0 + I1)^2]), Sears 1940 (from memory).
    """
    s = np.asarray(s, dtype=float)
    return 1.0 - np.exp(-s[..., None] * _U) @ _WEIGHTS


def kuessner(s, points=64):
    """Kuessner's function, exact: lift of a section entering a sharp gust [-].

    s >= 0 semi-chords since the nose's entry.

    The gust covers the chord from the nose to x = s - 1. Its quasi-steady circulation (theta - sin
    theta)/pi with cos theta = 1 - s, led through Wagner's function, plus the rate of its added-mass
    impulse sin(theta)/pi (derived here from thin-section theory; grows like sqrt(2 s)/pi).
    """
    s = np.asarray(s, dtype=float)
    nodes, weights = np.polynomial.legendre.leggauss(points)
    last = np.arccos(np.clip(1.0 - s, -1.0, 1.0))
    theta = 0.5 * last[..., None] * (1.0 + nodes)
    covered = 1.0 - np.cos(theta)
    lag = wagner(np.maximum(s[..., None] - covered, 0.0))
    circulation = 0.5 * last * ((lag * covered) @ weights)
    return (circulation + np.sin(last)) / np.pi


def harmonic_plunge(k, pitch_axis, deficiency):
    """Lift and moment of a plunging section per h0/b (down +): (C_L, circulatory C_L, C_M), complex [-].

    C_L = L/(rho U^2 b), C_M = M/(2 rho U^2 b^2) about the axis `pitch_axis` semi-chords aft of
    mid-chord, nose up +. `deficiency` is C(k), exact or two-term. Theodorsen 1935, REFERENCES section 1.
    """
    k = np.asarray(k, dtype=float)
    circulatory = 2.0 * np.pi * deficiency * 1j * k
    added = -np.pi * k**2
    moment = 0.5 * np.pi * pitch_axis * -(k**2) + np.pi * (pitch_axis + 0.5) * deficiency * 1j * k
    return added + circulatory, circulatory, moment


def harmonic_pitch(k, pitch_axis, deficiency):
    """Lift and moment of a pitching section per radian, nose up: (C_L, C_M), complex [-].

    Normalised as in `harmonic_plunge`.
    """
    k = np.asarray(k, dtype=float)
    a, ik = pitch_axis, 1j * k
    normal = 1.0 + (0.5 - a) * ik
    lift = np.pi * (ik + a * k**2) + 2.0 * np.pi * deficiency * normal
    added = 0.5 * np.pi * (-(0.5 - a) * ik + (0.125 + a * a) * k**2)
    return lift, added + np.pi * (a + 0.5) * deficiency * normal
