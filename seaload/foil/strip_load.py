"""Load on one strip of a lifting surface: wetness, lift and its limits, drag. Formulas of the march.

Every function takes plain floats and is short and free of branches, so that it is compiled into the
loop over lanes. The keel fin and the rudders use the same formulas as the foil.
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.smooth_step import smooth_step, smooth_step_slope

WETTING_CHORDS = 0.15  # [-] of the chord: the surface is never flatter over a strip than this (assumption, no source)


def wetting_half_width(length, chi, chord):
    """Half the depth range over which a strip goes from dry to wet [m], like its arguments.

    `length` [m] along the strip, `chi` [rad] its slope angle in the heeled plane, `chord` [m]. Half its own rise, and
    a share of the chord for spray and the slope of the water along it (assumption, no source).
    """
    return 0.5 * length * np.abs(np.sin(chi)) + WETTING_CHORDS * chord


@compiled
def wet_share(depth, half_width):
    """Share of a strip that is under water [-], a smooth ramp over +- `half_width` [m] round the surface.

    `depth` [m] of the strip's middle below the surface (negative above it). Ramp 3 p^2 - 2 p^3 (choice of this
    project).
    """
    return smooth_step(0.5 + 0.5 * depth / half_width)


@compiled
def wet_share_slope(depth, half_width):
    """Change of the wet share with depth [1/m]; `depth` and `half_width` [m] as in `wet_share`."""
    return 0.5 * smooth_step_slope(0.5 + 0.5 * depth / half_width) / half_width


@compiled
def inflow_angle(normal_velocity, speed):
    """Angle of the inflow [rad], arctangent of the ratio to 0.005 rad up to 45 deg: x/(1 + 0.28 x^2).

    `normal_velocity` [m/s] of the water past the section, `speed` [m/s] along the chord, > 0. Rational approximation of
    the arctangent (in any handbook of mathematical functions).
    """
    return normal_velocity * speed / (speed * speed + 0.28 * normal_velocity * normal_velocity)


@compiled
def surface_factor(depth, chord):
    """Share of deep-water lift left near the surface at high Froude number [-]: (1+16H^2)/(2+16H^2), H = depth/chord.

    One bound vortex and its image of the same sense; REFERENCES section 3 (derived there).
    """
    deep = 16.0 * max(depth, 0.0) * max(depth, 0.0)
    width = chord * chord
    return (width + deep) / (2.0 * width + deep)


@compiled
def lift_limit(stall, floor, slope, cavitation_number):
    """Highest lift coefficient of one side [-]: the `stall` value, or less where it cavitates: floor + slope sigma.

    `floor`, `slope` [-] of the line, `cavitation_number` sigma [-]. Half-way between inception and a face full of
    vapour, see `tests/oracles/section_limits` (derived there).
    """
    return min(stall, floor + slope * cavitation_number)


@compiled
def soft_limited(value, limit):
    """`value` [-] led smoothly into +-`limit` [-]: straight below 70 % of it, flat from 130 % on, one parabola between.

    Choice of this project, no source.
    """
    size = abs(value)
    excess = min(max(size - 0.7 * limit, 0.0), 0.6 * limit)
    held = min(size, 1.3 * limit) - excess * excess / (1.2 * limit)
    return held if value >= 0.0 else -held


@compiled
def cavitation_number(depth, speed, ambient, weight_density, density):
    """Cavitation number [-] (ambient + rho g depth)/(rho speed^2/2), any text on hydrofoils.

    `depth` [m], `speed` [m/s], `ambient` [Pa] air less vapour pressure, `weight_density` rho g [N/m3], `density` rho
    [kg/m3].
    """
    return (ambient + weight_density * max(depth, 0.0)) / (0.5 * density * speed * speed)


@compiled
def fast_load(added_mass, full_added_mass, speed, pitch_rate, nz, gust_rate, wetting, velocity):
    """Added-mass load of a strip per length along its normal [N/m], what its own acceleration causes left out.

    `added_mass` [kg/m] of the wet part, `full_added_mass` [kg/m] of the strip all wet, `speed` [m/s] along the chord,
    `pitch_rate` [rad/s] bow up +, `nz` [-] vertical part of the normal, `gust_rate` [m/s2] of the water's normal
    velocity, `wetting` [1/s] rate of the wet share, `velocity` [m/s] normal, of water past the strip. A strip that
    enters gains added mass, half of which is felt; one that leaves sheds it without a force (thin-section theory, e.g.
    Theodorsen 1935, for the first part; the entry term is an assumption, no source).
    """
    return added_mass * (speed * pitch_rate * nz + gust_rate) + 0.5 * full_added_mass * max(wetting, 0.0) * velocity


@compiled
def strip_drag(pressure, wet, profile, lift_coefficient, wash, length):
    """Profile and induced drag of a strip [N], aft +: q c (c_d + c_l e) over the wet part of its length.

    `pressure` q c [N/m] dynamic pressure times chord, `wet` [-] share, `profile` c_d and `lift_coefficient` c_l [-],
    `wash` e [rad] half the angle of the far wake there, `length` [m]. Far-plane induced drag as in any text on wings.
    """
    share = profile + wash * lift_coefficient
    return pressure * wet * share * length


@compiled
def forward_lean(circulatory, length, gust, body, speed):
    """Force forward along the path [N] of a lift that leans with the inflow, first order in its angle.

    `circulatory` [N/m] lift on the design side, `length` [m], `gust` [m/s] normal velocity of the water, `body` [m/s]
    of the strip itself, `speed` [m/s] along the chord. Lift is square to the inflow (any text on wings).
    """
    return circulatory * length * (gust - body) / speed


@compiled
def flow_damping(shape, length, density, speed, chord, lift_slope, wet):
    """Damping that the flow gives a bending mode on one strip [kg/s]: half the quasi-steady 1/2 rho U c a l.

    `shape` [-] of the mode there, `length` l, `chord` c [m], `density` rho [kg/m3], `speed` U [m/s], `lift_slope` a
    [1/rad] of the section alone, `wet` [-] share. Fast motion feels half of the circulation at once (Wagner's function
    starts at 1/2), and each strip only its own; the other half comes with the wake's memory.
    """
    return shape * shape * length * 0.25 * density * speed * chord * lift_slope * wet
