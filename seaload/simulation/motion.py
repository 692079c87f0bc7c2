"""Kernel: accelerations of the boat from all loads, and the Runge-Kutta update of its rigid states."""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.boat.heeling import heeling_moment
from seaload.boat.resistance import (
    friction_resistance,
    hump_resistance,
    other_resistance,
    plunge_drag,
    thrust,
)
from seaload.boat.steady_hold import bounded_hold
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES

_MASS, _SURGE_MASS = BOAT["mass"], BOAT["surge_mass"]
_PITCH_INERTIA, _ROLL_INERTIA = BOAT["pitch_inertia"], BOAT["roll_inertia"]
_WEIGHT, _DOWN, _SAIL_ARM = BOAT["weight"], BOAT["down_force"], BOAT["sail_arm"]
_EFFORT = BOAT["effort_ahead"]
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
def accelerations(boat, state, lateral_slope, gust, density, total):
    """Solve heave, pitch and roll together with the hull's and strips' added mass, then surge (flat arrays).

    `boat` and `state` rows as in layout, `total` sums of the loads, `lateral_slope` (LANES,) slope of the sea surface
    to leeward [-], `gust` (LANES,) [-] pull of the wind over its mean, `density` [kg/m3]. Newton's law for three
    coupled freedoms, solved by Cramer's rule. Leaves accelerations [m/s2], [rad/s2] in rows T_ACC_* of `total`, and
    the surge force [N] in T_RESIDUAL_X.
    """
    for lane in range(LANES):  # by itself, because a logarithm is not vectorised
        total[at(L.T_RESIDUAL_X, lane)] = friction_resistance(
            state[at(L.SPEED, lane)], boat[at(_WATERLINE, lane)], boat[at(_WETTED, lane)], density
        )
    for lane in range(LANES):
        u = state[at(L.SPEED, lane)]
        mass = boat[at(_MASS, lane)]
        weight = boat[at(_WEIGHT, lane)]
        drive = (
            thrust(boat[at(_THRUST, lane)] * gust[lane], boat[at(_THRUST_SLOPE, lane)], u, boat[at(_TARGET, lane)])
            + state[at(L.THRUST_HOLD, lane)]
        )
        total[at(L.T_DRIVE, lane)] = drive
        hull_lift = total[at(L.T_HULL_FZ, lane)]
        arm = boat[at(_ARM, lane)] + boat[at(_ARM_SLOPE, lane)] * (state[at(L.ROLL, lane)] + lateral_slope[lane])
        down = boat[at(_DOWN, lane)] * gust[lane]
        f3 = total[at(L.T_FZ, lane)] + hull_lift - weight - down
        f5 = (
            total[at(L.T_MPITCH, lane)]
            - drive * boat[at(_SAIL_ARM, lane)]
            - down * boat[at(_EFFORT, lane)]
            - boat[at(_RIG_PITCH, lane)] * state[at(L.PITCH_RATE, lane)]
        )
        f4 = (
            total[at(L.T_MROLL, lane)]
            - hull_lift * arm
            + heeling_moment(
                boat[at(_HEEL_MOMENT, lane)], boat[at(_HEEL_FALL, lane)], state[at(L.ROLL, lane)], gust[lane]
            )
            + state[at(L.HEEL_HOLD, lane)]
            - boat[at(_RIG_ROLL, lane)] * state[at(L.ROLL_RATE, lane)]
        )
        free = boat[at(_ROLL_FREE, lane)]
        a33 = mass + total[at(L.T_A33, lane)]
        a55 = boat[at(_PITCH_INERTIA, lane)] + total[at(L.T_A55, lane)]
        a44 = boat[at(_ROLL_INERTIA, lane)] + total[at(L.T_A44, lane)]
        a35 = total[at(L.T_A35, lane)]
        a34 = total[at(L.T_A34, lane)] * free
        a45 = total[at(L.T_A45, lane)] * free
        f4 = f4 * free
        c33 = a55 * a44 - a45 * a45
        c35 = a34 * a45 - a35 * a44
        c34 = a35 * a45 - a34 * a55
        inverse = 1.0 / (a33 * c33 + a35 * c35 + a34 * c34)
        c55 = a33 * a44 - a34 * a34
        c45 = a34 * a35 - a33 * a45
        c44 = a33 * a55 - a35 * a35
        total[at(L.T_ACC_HEAVE, lane)] = (c33 * f3 + c35 * f5 + c34 * f4) * inverse
        total[at(L.T_ACC_PITCH, lane)] = (c35 * f3 + c55 * f5 + c45 * f4) * inverse
        total[at(L.T_ACC_ROLL, lane)] = (c34 * f3 + c45 * f5 + c44 * f4) * inverse * free
        resistance = (
            total[at(L.T_RESIDUAL_X, lane)]
            + other_resistance(u, boat[at(_OTHER, lane)], density)
            + hump_resistance(u, boat[at(_WATERLINE, lane)], weight, boat[at(_HUMP, lane)])
            + plunge_drag(u, total[at(L.T_PLUNGE, lane)], density)
        )
        net = drive - resistance + total[at(L.T_FX, lane)]
        total[at(L.T_RESIDUAL_X, lane)] = net
        total[at(L.T_ACC_SURGE, lane)] = net / boat[at(_SURGE_MASS, lane)] * boat[at(_SURGE_FREE, lane)]


@compiled
def advance_rigid(boat, state, start, gathered, weight, ahead, last, total):
    """Runge-Kutta update of the rigid states, in double precision (flat arrays).

    `boat`, `state`, `total` rows as in layout, `start` the states at the start of the step, `gathered` weighted sums of
    rates so far; `weight`, `ahead` [s], `last` as in `stage.strip_loads`.
    """
    for lane in range(LANES):
        miss = (boat[at(_TARGET, lane)] - state[at(L.SPEED, lane)]) * boat[at(_SPEED_RATE, lane)]
        lean = -state[at(L.ROLL, lane)] * boat[at(_HEEL_RATE, lane)] * boat[at(_ROLL_FREE, lane)]
        r0 = state[at(L.SPEED, lane)]
        r1 = state[at(L.HEAVE_RATE, lane)]
        r2 = state[at(L.PITCH_RATE, lane)]
        r3 = state[at(L.ROLL_RATE, lane)]
        r4 = 1.0 * total[at(L.T_ACC_SURGE, lane)]
        r5 = 1.0 * total[at(L.T_ACC_HEAVE, lane)]
        r6 = 1.0 * total[at(L.T_ACC_PITCH, lane)]
        r7 = 1.0 * total[at(L.T_ACC_ROLL, lane)]
        r8 = bounded_hold(state[at(L.THRUST_HOLD, lane)], miss, boat[at(_SPEED_BOUND, lane)])
        r9 = bounded_hold(state[at(L.HEEL_HOLD, lane)], lean, boat[at(_HEEL_BOUND, lane)])
        rates = (r0, r1, r2, r3, r4, r5, r6, r7, r8, r9)
        for row in range(L.RIGID_ROWS):
            sum_ = gathered[at(row, lane)] + weight * rates[row]
            gathered[at(row, lane)] = sum_
            state[at(row, lane)] = start[at(row, lane)] + (sum_ if last else ahead * rates[row])
