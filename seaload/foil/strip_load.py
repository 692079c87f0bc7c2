"""Load on one strip of a lifting surface: wetness, lift and its limits, drag. Formulas of the march.

Every function takes plain floats and is short and free of branches, so that it is compiled into the
loop over lanes. The keel fin and the rudders use the same formulas as the foil.
"""

import numpy as np

from seaload.basis.compile import compiled

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

    `depth` [m] of the strip's middle below the surface (negative above it).
    """
    p = min(max(0.5 + 0.5 * depth / half_width, 0.0), 1.0)
    return p * p * (3.0 - 2.0 * p)


@compiled
def wet_share_slope(depth, half_width):
    """Change of the wet share with depth [1/m]."""
    p = min(max(0.5 + 0.5 * depth / half_width, 0.0), 1.0)
    return 3.0 * p * (1.0 - p) / half_width


@compiled
def inflow_angle(normal_velocity, speed):
    """Angle of the inflow [rad], arctangent of the ratio to 0.005 rad up to 45 deg: x/(1 + 0.28 x^2).

    `speed` [m/s] along the chord, > 0.
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
    """Highest lift coefficient of one side [-]: the stall value, or less where it cavitates: floor + slope sigma."""
    return min(stall, floor + slope * cavitation_number)


@compiled
def soft_limited(value, limit):
    """`value` [-] led smoothly into +-`limit`: straight below 70 % of it, flat from 130 % on, one parabola between."""
    size = abs(value)
    excess = min(max(size - 0.7 * limit, 0.0), 0.6 * limit)
    held = min(size, 1.3 * limit) - excess * excess / (1.2 * limit)
    return held if value >= 0.0 else -held


@compiled
def cavitation_number(depth, speed, ambient, weight_density, density):
    """Cavitation number [-] (ambient + rho g depth)/(rho speed^2/2); `ambient` [Pa] is air less vapour pressure."""
    return (ambient + weight_density * max(depth, 0.0)) / (0.5 * density * speed * speed)
