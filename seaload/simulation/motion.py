"""Kernel: accelerations of the boat from all loads, and the Runge-Kutta update of its rigid states."""

from seaload.basis.compile import compiled
from seaload.boat.resistance import (
    friction_resistance,
    hump_resistance,
    other_resistance,
    plunge_drag,
    thrust,
)
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT

_MASS, _SURGE_MASS = BOAT["mass"], BOAT["surge_mass"]
_PITCH_INERTIA, _ROLL_INERTIA = BOAT["pitch_inertia"], BOAT["roll_inertia"]
_WEIGHT, _DOWN, _SAIL_ARM = BOAT["weight"], BOAT["down_force"], BOAT["sail_arm"]
_THRUST, _THRUST_SLOPE, _TARGET = BOAT["thrust"], BOAT["thrust_slope"], BOAT["target_speed"]
_SPEED_RATE, _SPEED_BOUND = BOAT["speed_hold_rate"], BOAT["speed_hold_bound"]
_HEEL_MOMENT, _HEEL_FALL = BOAT["heel_moment"], BOAT["heel_moment_fall"]
_HEEL_RATE, _HEEL_BOUND = BOAT["heel_hold_rate"], BOAT["heel_hold_bound"]
_ARM, _ARM_SLOPE = BOAT["righting_arm"], BOAT["righting_slope"]
_RIG_PITCH, _RIG_ROLL = BOAT["rig_pitch_damping"], BOAT["rig_roll_damping"]
_WETTED, _OTHER = BOAT["wetted_surface"], BOAT["other_area"]
_HUMP, _WATERLINE = BOAT["hump"], BOAT["waterline_length"]
_ROLL_FREE, _SURGE_FREE = BOAT["roll_free"], BOAT["surge_free"]


@compiled
def bounded_hold(held, rate, bound):
    """Rate of a bounded controller [as `rate`]: it stops at its bound instead of winding up."""
    outward = (held >= bound and rate > 0.0) or (held <= -bound and rate < 0.0)
    return 0.0 if outward else rate


@compiled
def accelerations(boat, state, lateral_slope, gust, density, total):
    """Solve heave, pitch and roll together with the hull's and strips' added mass, then surge.

    `lateral_slope` (LANES,) slope of the sea surface to leeward [-], `gust` [-] wind pressure over its mean.
    The sails' heeling moment falls as the square of the cosine of heel (common practice, no source), here its
    slope at the mean heel. Leaves accelerations in rows T_ACC_* of `total`, and the surge force in T_RESIDUAL_X.
    """
    for lane in range(LANES):
        u = state[SPEED, lane]
        mass = boat[_MASS, lane]
        weight = boat[_WEIGHT, lane]
        drive = (
            thrust(boat[_THRUST, lane] * gust, boat[_THRUST_SLOPE, lane], u, boat[_TARGET, lane])
            + state[THRUST_HOLD, lane]
        )
        hull_lift = total[T_HULL_FZ, lane]
        arm = boat[_ARM, lane] + boat[_ARM_SLOPE, lane] * (state[ROLL, lane] + lateral_slope[lane])
        f3 = total[T_FZ, lane] + hull_lift - weight - boat[_DOWN, lane]
        f5 = (
            total[T_MPITCH, lane]
            - drive * boat[_SAIL_ARM, lane]
            - boat[_RIG_PITCH, lane] * state[PITCH_RATE, lane]
        )
        f4 = (
            total[T_MROLL, lane]
            - hull_lift * arm
            + boat[_HEEL_MOMENT, lane] * gust * (1.0 - boat[_HEEL_FALL, lane] * state[ROLL, lane])
            + state[HEEL_HOLD, lane]
            - boat[_RIG_ROLL, lane] * state[ROLL_RATE, lane]
        )
        free = boat[_ROLL_FREE, lane]
        a33 = mass + total[T_A33, lane]
        a55 = boat[_PITCH_INERTIA, lane] + total[T_A55, lane]
        a44 = boat[_ROLL_INERTIA, lane] + total[T_A44, lane]
        a35 = total[T_A35, lane]
        a34 = total[T_A34, lane] * free
        a45 = total[T_A45, lane] * free
        f4 = f4 * free
        c33 = a55 * a44 - a45 * a45
        c35 = a34 * a45 - a35 * a44
        c34 = a35 * a45 - a34 * a55
        inverse = 1.0 / (a33 * c33 + a35 * c35 + a34 * c34)
        c55 = a33 * a44 - a34 * a34
        c45 = a34 * a35 - a33 * a45
        c44 = a33 * a55 - a35 * a35
        total[T_ACC_HEAVE, lane] = (c33 * f3 + c35 * f5 + c34 * f4) * inverse
        total[T_ACC_PITCH, lane] = (c35 * f3 + c55 * f5 + c45 * f4) * inverse
        total[T_ACC_ROLL, lane] = (c34 * f3 + c45 * f5 + c44 * f4) * inverse * free
        resistance = (
            friction_resistance(u, boat[_WATERLINE, lane], boat[_WETTED, lane], density)
            + other_resistance(u, boat[_OTHER, lane], density)
            + hump_resistance(u, boat[_WATERLINE, lane], weight, boat[_HUMP, lane])
            + plunge_drag(u, total[T_PLUNGE, lane], density)
        )
        net = drive - resistance + total[T_FX, lane]
        total[T_RESIDUAL_X, lane] = net
        total[T_ACC_SURGE, lane] = net / boat[_SURGE_MASS, lane] * boat[_SURGE_FREE, lane]


@compiled
def advance_rigid(boat, state, start, gathered, weight, ahead, last, total):
    """Runge-Kutta update of the rigid states; arguments as in `strip_loads`."""
    for lane in range(LANES):
        miss = (boat[_TARGET, lane] - state[SPEED, lane]) * boat[_SPEED_RATE, lane]
        lean = -state[ROLL, lane] * boat[_HEEL_RATE, lane] * boat[_ROLL_FREE, lane]
        r0 = state[SPEED, lane]
        r1 = state[HEAVE_RATE, lane]
        r2 = state[PITCH_RATE, lane]
        r3 = state[ROLL_RATE, lane]
        r4 = total[T_ACC_SURGE, lane]
        r5 = total[T_ACC_HEAVE, lane]
        r6 = total[T_ACC_PITCH, lane]
        r7 = total[T_ACC_ROLL, lane]
        r8 = bounded_hold(state[THRUST_HOLD, lane], miss, boat[_SPEED_BOUND, lane])
        r9 = bounded_hold(state[HEEL_HOLD, lane], lean, boat[_HEEL_BOUND, lane])
        rates = (r0, r1, r2, r3, r4, r5, r6, r7, r8, r9)
        for row in range(RIGID_ROWS):
            sum_ = gathered[row, lane] + weight * rates[row]
            gathered[row, lane] = sum_
            state[row, lane] = start[row, lane] + (sum_ if last else ahead * rates[row])
