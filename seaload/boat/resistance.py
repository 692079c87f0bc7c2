"""Resistance and thrust along the path: friction, hump, bow plunge, the rest, and what the sails give."""

from math import log10

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.constants import SEA_WATER_VISCOSITY, STANDARD_GRAVITY
from seaload.basis.fading import fading

FORM_FACTOR = 1.1  # [-] on flat-plate friction (common practice, no source)
HUMP_FROUDE = 0.5  # [-] length Froude number of the resistance hump (assumption, no source)
HUMP_WIDTH = 0.16  # [-] (assumption, no source)
PLUNGE_COEFFICIENT = 0.12  # [-] on the buried area of the bow (assumption: keeps surging physical)
LEAST_REYNOLDS = 1e5  # [-] keeps the friction line away from its pole


@compiled
def friction_coefficient(reynolds):
    """Flat-plate friction coefficient [-], ITTC 1957 line: 0.075/(log10 Re - 2)^2 (from memory).

    `reynolds` [-] on the waterline length.
    """
    reach = log10(max(reynolds, LEAST_REYNOLDS)) - 2.0
    return 0.075 / (reach * reach)


@compiled
def friction_resistance(speed, length, wetted_surface, density):
    """Frictional resistance of the hull [N], against the motion.

    `speed` [m/s], `length` [m] of the waterline, `wetted_surface` [m2], `density` [kg/m3]. ITTC 1957 line times a form
    factor (common practice, no source).
    """
    coefficient = friction_coefficient(abs(speed) * length / SEA_WATER_VISCOSITY)
    return 0.5 * density * speed * abs(speed) * wetted_surface * coefficient * FORM_FACTOR


@compiled
def other_resistance(speed, drag_area, density):
    """Everything not named elsewhere (air, gaps, wakes) [N], against the motion.

    `speed` [m/s], `drag_area` C_D A [m2] in water terms, `density` [kg/m3]. Square law (common practice, no source).
    """
    return 0.5 * density * drag_area * speed * abs(speed)


@compiled
def hump_resistance(speed, waterline_length, weight, share):
    """Wave resistance of a light hull round its hump [N]: share of weight x exp(-((Fn - 0.5)/0.16)^2).

    `speed` [m/s], `waterline_length` [m], `weight` [N], `share` [-] of the weight at the hump (assumption, no source).
    """
    froude = abs(speed) / (STANDARD_GRAVITY * waterline_length) ** 0.5
    reach = (froude - HUMP_FROUDE) / HUMP_WIDTH
    return share * weight * fading(reach * reach)


@compiled
def bottom_drag(momentum, keel_slope, dx):
    """Drag of the dynamic pressure on a bottom that slopes up forward [N]: its upward load times the slope.

    `momentum` [N/m] dynamic load of the slice, upward +, `keel_slope` [-] of the keel to the path, `dx` [m]. Only
    pressure on a rising bottom counts: suction is not given back as thrust (assumption, no source).
    """
    return max(momentum, 0.0) * max(keel_slope, 0.0) * dx


@compiled
def wave_slope_push(area, wave_slope, dx, density, gravity):
    """Force against the motion on a slice that lies on the slope of a wave [N]: rho g A slope dx.

    `area` A [m2] under water, `wave_slope` [-] rising forward +, `dx` [m], `density` [kg/m3], `gravity` [m/s2].
    Froude-Krylov force of a wave long beside the section (any text on ship motions).
    """
    return density * gravity * area * wave_slope * dx


@compiled
def buried_bow_area(immersion, half_beam, dx, ahead_of_cg, plunge_depth, bow_from_cg):
    """What one station adds to the buried area of the bow [m2]; none aft of where the bow begins.

    `immersion` [m] of its lowest point, `half_beam` [m] at the chine, `dx` [m] length of the slice, `ahead_of_cg` [m]
    its place, `plunge_depth` [m] immersion past which it counts as buried, `bow_from_cg` [m] where the bow begins.
    A quarter of the plan area of the slice times how far it is under (assumption, no source).
    """
    buried = 2.0 * half_beam * max(0.0, immersion - plunge_depth) * dx * 0.25
    return buried if ahead_of_cg > bow_from_cg else 0.0


@compiled
def plunge_drag(speed, buried_area, density):
    """Drag of a bow that goes under [N]: 1/2 rho U^2 0.12 A (assumption; without it surging runs away).

    `speed` U [m/s], `buried_area` A [m2] as the sum of `buried_bow_area`, `density` rho [kg/m3].
    """
    return 0.5 * density * speed * abs(speed) * PLUNGE_COEFFICIENT * buried_area


@compiled
def thrust(reference, slope, speed, reference_speed):
    """Driving force of the sails [N]: falls by `slope` x the relative gain of speed; never below zero.

    `reference` [N] at `reference_speed` [m/s], `slope` [-], `speed` [m/s] (common practice, no source).
    """
    return max(0.0, reference * (1.0 - slope * (speed - reference_speed) / reference_speed))


def floor_speed(reference_speed, slope):
    """Speed [m/s] from which on the sails of `thrust` give nothing; infinite where they never fall, array as given.

    `reference_speed` (n,) [m/s], `slope` [-]: the root of that line.
    """
    reference_speed = np.asarray(reference_speed, dtype=float)
    return reference_speed * (1.0 + 1.0 / slope) if slope > 0.0 else np.full_like(reference_speed, np.inf)
