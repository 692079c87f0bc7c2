"""Surf-riding: the least thrust with which a following wave can carry a boat along at its own speed.

For a light hull the push of the wave soon exceeds her whole resistance: then she can be caught at any speed, and the
threshold is not sharp.
"""

from math import exp, pi, sqrt

import numpy as np

ORBIT_INTEGRALS = (4.0, pi, 8.0 / 3.0, 0.75 * pi, 32.0 / 15.0)  # of cos(y/2)^n, y from -pi to pi, n = 1 to 5


def wave_celerity(wave_number, gravity):
    """Speed of a deep-water wave's crests [m/s], sqrt(g/k) (any text); `wave_number` [rad/m], `gravity` [m/s2]."""
    return sqrt(gravity / wave_number)


def wave_push(area, x, wave_number, height, depth, weight_density):
    """Amplitude of the surge force of a following wave [N]: rho g k H/2 times the areas summed by phase, less at depth.

    `area` (n,) [m2] under water of even slices about `x` (n,) [m], `wave_number` k [rad/m] along the boat, `height` H
    [m] crest to trough, `depth` [m] draught, of which half counts, `weight_density` rho g [N/m3]. Froude-Krylov force
    of any text on ship motions; no diffraction.
    """
    summed = abs(np.sum(np.asarray(area) * np.exp(1j * wave_number * np.asarray(x)))) * (x[1] - x[0])
    return 0.5 * weight_density * wave_number * height * float(summed) * exp(-0.5 * wave_number * depth)


def melnikov_thrust(resistance, slopes, push, wave_number, mass):
    """Thrust [N] past which the boat is caught whatever she comes from, by Melnikov's criterion.

    `resistance` [N] at the wave's own speed, `slopes` A_n [N (s/m)^n], n = 1 to at most 5, its Taylor coefficients
    there (thrust that changes with speed taken off), `push` f [N], `wave_number` k [rad/m], `mass` [kg] with the water
    that surges along. T = R(c) + sum A_n (-V)^n I_n/(2 pi), V = 2 sqrt(f/(k m)): work over the orbit between crests
    (derived by us; the constants of the IMO level-2 criterion, from memory).
    """
    orbit = 2.0 * sqrt(push / (wave_number * mass))
    terms = zip(slopes, ORBIT_INTEGRALS, strict=False)
    return resistance + sum(a * (-orbit) ** n * i / (2.0 * pi) for n, (a, i) in enumerate(terms, 1))


def surf_riding_thrust(resistance, slopes, push, wave_number, mass):
    """Thrust [N] from which surf-riding is possible: `melnikov_thrust`, or more where no wave balances the boat before.

    `resistance` [N], `slopes` [N (s/m)^n], `push` [N], `wave_number` [rad/m] and `mass` [kg] as there. On the wave the
    boat rests where T = R(c) - f sin, so that T >= R(c) - f (statics).
    """
    return max(melnikov_thrust(resistance, slopes, push, wave_number, mass), resistance - push)
