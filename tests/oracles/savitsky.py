"""Prismatic planing hull in calm water: lift, drag and running trim by Savitsky's equations (1964).

Used to check the strip hull.
"""

from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq

from seaload.basis.constants import FRESH_WATER_DENSITY, STANDARD_GRAVITY

LEAST_TRIM, MOST_TRIM = np.radians(0.5), np.radians(14.0)  # [rad] where the balance is looked for


class PlaningState(NamedTuple):
    """A prismatic hull planing at one trim. SI."""

    trim: float  # [rad]
    wetted_length_ratio: float  # [-] lambda, mean wetted length over beam
    friction_coefficient: float  # [-] with the allowance
    friction: float  # [N] along the bottom
    drag: float  # [N] along the path
    centre_of_pressure: float  # [-] ahead of the transom, over the mean wetted length
    bow_up_moment: float  # [N m] left over about the centre of gravity, bow-down -


def lift_coefficient_flat(trim_deg, length_ratio, speed_coefficient):
    """Lift coefficient of a flat planing plate on the beam squared [-]; trim in degrees (eq. 15)."""
    return trim_deg**1.1 * (0.012 * length_ratio**0.5 + 0.0055 * length_ratio**2.5 / speed_coefficient**2)


def lift_coefficient_deadrise(flat, deadrise_deg):
    """Lift coefficient with deadrise [-] from that of the flat plate (eq. 16)."""
    return flat - 0.0065 * deadrise_deg * max(flat, 0.0) ** 0.6


def flat_plate_equivalent(lift, deadrise_deg):
    """Flat-plate lift coefficient [-] that a hull with deadrise needs for `lift`."""
    return brentq(lambda flat: lift_coefficient_deadrise(flat, deadrise_deg) - lift, lift, lift + 1.0)


def centre_of_pressure(length_ratio, speed_coefficient):
    """Centre of pressure ahead of the transom over the mean wetted length [-] (eq. 20)."""
    return 0.75 - 1.0 / (5.21 * speed_coefficient**2 / length_ratio**2 + 2.39)


def schoenherr_friction(reynolds):
    """Flat-plate friction coefficient [-]: 0.242/sqrt(C) = log10(Re C) (Schoenherr 1932)."""
    return brentq(lambda c: 0.242 / np.sqrt(c) - np.log10(reynolds * c), 1e-5, 0.1)


def wetted_length_ratio(trim_deg, flat, speed_coefficient):
    """Mean wetted length over beam [-] that gives the flat-plate lift coefficient at a trim in degrees."""
    return brentq(lambda ratio: lift_coefficient_flat(trim_deg, ratio, speed_coefficient) - flat, 1e-3, 40.0)


def bottom_speed(speed, trim_deg, length_ratio, deadrise_deg):
    """Mean speed of the water under the bottom [m/s]; slower than the hull by its dynamic lift.

    V1 = V sqrt(1 - dynamic lift/(lambda cos(trim))), the dynamic part taken with deadrise.
    """
    dynamic = 0.012 * length_ratio**0.5 * trim_deg**1.1
    dynamic = lift_coefficient_deadrise(dynamic, deadrise_deg)
    return speed * np.sqrt(1.0 - dynamic / (length_ratio * np.cos(np.radians(trim_deg))))


def planing_state(
    trim,
    *,
    weight,
    beam,
    deadrise,
    cg_from_transom,
    cg_height,
    speed,
    thrust_angle,
    thrust_arm,
    viscosity,
    friction_allowance=0.0004,
    density=FRESH_WATER_DENSITY,
):
    """`PlaningState` at a given trim [rad]. Long form: thrust line and friction lever arms included.

    `weight` [N], `beam` [m], `deadrise` [rad], centre of gravity [m] ahead of the transom and above
    the keel, `speed` [m/s], `thrust_angle` [rad] to the keel, `thrust_arm` [m] of the
    thrust line below the centre of gravity, `viscosity` [m2/s]. Valid for 0.6 < Cv < 13, trim 2-15 deg,
    lambda <= 4. Savitsky 1964.
    """
    trim_deg, deadrise_deg = np.degrees(trim), np.degrees(deadrise)
    speed_coefficient = speed / np.sqrt(STANDARD_GRAVITY * beam)
    lift = weight / (0.5 * density * speed**2 * beam**2)
    flat = flat_plate_equivalent(lift, deadrise_deg)
    ratio = wetted_length_ratio(trim_deg, flat, speed_coefficient)
    below = bottom_speed(speed, trim_deg, ratio, deadrise_deg)
    friction_coefficient = schoenherr_friction(below * ratio * beam / viscosity) + friction_allowance
    surface = ratio * beam**2 / np.cos(deadrise)
    friction = 0.5 * density * below**2 * surface * friction_coefficient
    drag = weight * np.tan(trim) + friction / np.cos(trim)
    pressure_at = centre_of_pressure(ratio, speed_coefficient)
    lever = cg_from_transom - pressure_at * ratio * beam
    friction_arm = cg_height - 0.25 * beam * np.tan(deadrise)
    normal = (1.0 - np.sin(trim) * np.sin(trim + thrust_angle)) * lever / np.cos(trim)
    bow_down = weight * (normal - thrust_arm * np.sin(trim)) + friction * (friction_arm - thrust_arm)
    return PlaningState(trim, ratio, friction_coefficient, friction, drag, pressure_at, -bow_down)


def running_trim(*, least=LEAST_TRIM, most=MOST_TRIM, **hull):
    """Trim [rad] at which the moments of a prismatic hull balance; arguments as in `planing_state`.

    Raises ValueError when no balance lies between `least` and `most`.
    """
    return brentq(lambda trim: planing_state(trim, **hull).bow_up_moment, least, most)
