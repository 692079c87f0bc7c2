"""Kernel: accelerations of the boat from all loads, and the Runge-Kutta update of its rigid states."""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.basis.sine_cosine import sine_cosine_within
from seaload.boat.heeling import heeling_moment
from seaload.boat.resistance import (
    friction_resistance,
    hump_resistance,
    other_resistance,
    plunge_drag,
    thrust,
)
from seaload.boat.steady_hold import bounded_hold, trim_ahead
from seaload.simulation import layout as L
from seaload.simulation.five_freedoms import Inertia, five_accelerations
from seaload.simulation.layout import BOAT, LANES

_MASS, _SURGE_MASS = BOAT["mass"], BOAT["surge_mass"]
_PITCH_INERTIA, _ROLL_INERTIA, _YAW_INERTIA = BOAT["pitch_inertia"], BOAT["roll_inertia"], BOAT["yaw_inertia"]
_WEIGHT, _DOWN, _SIDE, _SAIL_ARM = BOAT["weight"], BOAT["down_force"], BOAT["sail_side"], BOAT["sail_arm"]
_EFFORT, _EFFORT_SIDE, _LEEWAY = BOAT["effort_ahead"], BOAT["effort_side"], BOAT["leeway"]
_THRUST, _THRUST_SLOPE, _TARGET = BOAT["thrust"], BOAT["thrust_slope"], BOAT["target_speed"]
_SPEED_RATE, _SPEED_BOUND = BOAT["speed_hold_rate"], BOAT["speed_hold_bound"]
_HEEL_MOMENT, _HEEL_FALL = BOAT["heel_moment"], BOAT["heel_moment_fall"]
_HEEL_RATE, _HEEL_BOUND = BOAT["heel_hold_rate"], BOAT["heel_hold_bound"]
_ARM, _ARM_SLOPE, _HULL_Y = BOAT["righting_arm"], BOAT["righting_slope"], BOAT["hull_arm_y"]
_RIG_PITCH, _RIG_ROLL = BOAT["rig_pitch_damping"], BOAT["rig_roll_damping"]
_WETTED, _OTHER = BOAT["wetted_surface"], BOAT["other_area"]
_HUMP, _WATERLINE = BOAT["hump"], BOAT["waterline_length"]
_ROLL_FREE, _SURGE_FREE = BOAT["roll_free"], BOAT["surge_free"]
_SWAY_FREE, _YAW_FREE = BOAT["sway_free"], BOAT["yaw_free"]
_HELM_RATE, _RUDDER_LIMIT = BOAT["helm_hold_rate"], BOAT["rudder_limit"]


@compiled
def forces_of(boat, state, lateral_slope, gust, total, resistance, lane):
    """(heave [N], pitch, roll [N m], sway [N], yaw [N m]) on the boat of a `lane` from hull, strips and sails.

    `boat`, `state`, `lateral_slope`, `gust` and `total` as in `accelerations`; `resistance` [N] of the hull as a whole.
    Leaves the thrust in T_DRIVE and the surge force in T_RESIDUAL_X. The sails' side force is what heels her over its
    lever; it stands square to the calm course, off the heading by the leeway, the thrust along it, and both turn with
    the boat.
    """
    u, wind = state[at(L.SPEED, lane)], gust[lane]
    drive = (
        thrust(boat[at(_THRUST, lane)] * wind, boat[at(_THRUST_SLOPE, lane)], u, boat[at(_TARGET, lane)])
        + state[at(L.THRUST_HOLD, lane)]
    )
    roll = state[at(L.ROLL, lane)]
    heeling = (
        heeling_moment(boat[at(_HEEL_MOMENT, lane)], boat[at(_HEEL_FALL, lane)], roll, wind)
        + state[at(L.HEEL_HOLD, lane)]
        + trim_ahead(-roll, boat[at(_HEEL_RATE, lane)])
    )
    side = heeling * boat[at(_SIDE, lane)]
    ahead = drive - side * boat[at(_LEEWAY, lane)]
    total[at(L.T_DRIVE, lane)] = drive
    total[at(L.T_RESIDUAL_X, lane)] = ahead - resistance + total[at(L.T_FX, lane)]
    hull_lift = total[at(L.T_HULL_FZ, lane)]
    arm = boat[at(_ARM, lane)] + boat[at(_ARM_SLOPE, lane)] * (roll + lateral_slope[lane])
    down = boat[at(_DOWN, lane)] * wind
    heave = total[at(L.T_FZ, lane)] + hull_lift - boat[at(_WEIGHT, lane)] - down
    pitch = (
        total[at(L.T_MPITCH, lane)]
        - ahead * boat[at(_SAIL_ARM, lane)]
        - down * boat[at(_EFFORT, lane)]
        - boat[at(_RIG_PITCH, lane)] * state[at(L.PITCH_RATE, lane)]
    )
    lean = (
        total[at(L.T_MROLL, lane)]
        - hull_lift * arm
        + heeling
        - boat[at(_RIG_ROLL, lane)] * state[at(L.ROLL_RATE, lane)]
    )
    sway = total[at(L.T_FY, lane)] + side - boat[at(_MASS, lane)] * u * state[at(L.YAW_RATE, lane)]
    yaw = (
        total[at(L.T_MYAW, lane)]
        + boat[at(_EFFORT, lane)] * side
        - boat[at(_EFFORT_SIDE, lane)] * ahead
        + boat[at(_HULL_Y, lane)] * resistance
    )
    roll_free, sway_free, yaw_free = boat[at(_ROLL_FREE, lane)], boat[at(_SWAY_FREE, lane)], boat[at(_YAW_FREE, lane)]
    return heave, pitch, lean * roll_free, sway * sway_free, yaw * yaw_free


@compiled
def inertia_of(boat, total, lane):
    """`Inertia` of heave, pitch, roll, sway and yaw of a `lane` with the water's added mass [kg], [kg m], [kg m2].

    `boat`, `total` flat, rows as in layout. A freedom that is held does not answer to the others.
    """
    mass = boat[at(_MASS, lane)]
    roll, sway, yaw = boat[at(_ROLL_FREE, lane)], boat[at(_SWAY_FREE, lane)], boat[at(_YAW_FREE, lane)]
    return Inertia(
        mass + total[at(L.T_A33, lane)],
        total[at(L.T_A35, lane)],
        boat[at(_PITCH_INERTIA, lane)] + total[at(L.T_A55, lane)],
        total[at(L.T_A34, lane)] * roll,
        total[at(L.T_A45, lane)] * roll,
        boat[at(_ROLL_INERTIA, lane)] + total[at(L.T_A44, lane)],
        total[at(L.T_A23, lane)] * sway,
        total[at(L.T_A25, lane)] * sway,
        total[at(L.T_A24, lane)] * sway * roll,
        mass + total[at(L.T_A22, lane)],
        total[at(L.T_A36, lane)] * yaw,
        total[at(L.T_A56, lane)] * yaw,
        total[at(L.T_A46, lane)] * yaw * roll,
        total[at(L.T_A26, lane)] * yaw * sway,
        boat[at(_YAW_INERTIA, lane)] + total[at(L.T_A66, lane)],
    )


@compiled
def accelerations(boat, state, lateral_slope, gust, density, total):
    """Solve heave, pitch, roll, sway and yaw with the hull's and strips' added mass, then surge (flat arrays).

    `boat` and `state` rows as in layout, `total` sums of the loads, `lateral_slope` (LANES,) slope of the sea surface
    to leeward [-], `gust` (LANES,) [-] pull of the wind over its mean, `density` [kg/m3]. Newton's law in axes
    that turn with the boat about the vertical. A boat whose sway is held keeps her angle of leeway as she surges.
    Leaves accelerations [m/s2], [rad/s2] in rows T_ACC_* of `total`, and the surge force [N] in T_RESIDUAL_X.
    """
    for lane in range(LANES):  # by itself, because a logarithm is not vectorised
        total[at(L.T_RESIDUAL_X, lane)] = friction_resistance(
            state[at(L.SPEED, lane)], boat[at(_WATERLINE, lane)], boat[at(_WETTED, lane)], density
        )
    for lane in range(LANES):
        u = state[at(L.SPEED, lane)]
        resistance = (
            total[at(L.T_RESIDUAL_X, lane)]
            + other_resistance(u, boat[at(_OTHER, lane)], density)
            + hump_resistance(u, boat[at(_WATERLINE, lane)], boat[at(_WEIGHT, lane)], boat[at(_HUMP, lane)])
            + plunge_drag(u, total[at(L.T_PLUNGE, lane)], density)
        )
        force = forces_of(boat, state, lateral_slope, gust, total, resistance, lane)
        heave, pitch, roll, sway, yaw = five_accelerations(inertia_of(boat, total, lane), force)
        turned = boat[at(_MASS, lane)] * state[at(L.SWAY, lane)] * state[at(L.YAW_RATE, lane)]
        surge = (total[at(L.T_RESIDUAL_X, lane)] + turned) / boat[at(_SURGE_MASS, lane)] * boat[at(_SURGE_FREE, lane)]
        free = boat[at(_SWAY_FREE, lane)]
        total[at(L.T_ACC_HEAVE, lane)] = heave
        total[at(L.T_ACC_PITCH, lane)] = pitch
        total[at(L.T_ACC_ROLL, lane)] = roll * boat[at(_ROLL_FREE, lane)]
        total[at(L.T_ACC_SWAY, lane)] = sway * free + (1.0 - free) * boat[at(_LEEWAY, lane)] * surge
        total[at(L.T_ACC_YAW, lane)] = yaw * boat[at(_YAW_FREE, lane)]
        total[at(L.T_ACC_SURGE, lane)] = surge


@compiled
def path_rates(state, lane):
    """Speed over the sea (ahead, aside) [m/s] of a `lane`, along the heading steered for and to leeward of it.

    `state` rows as in layout, flat. Rotation in a plane; a heading past half a turn is a march about to end.
    """
    sine, cosine = sine_cosine_within(state[at(L.HEADING, lane)])
    u, v = state[at(L.SPEED, lane)], state[at(L.SWAY, lane)]
    return u * cosine - v * sine, u * sine + v * cosine


@compiled
def advance_row(rows, row, rate, step, lane):
    """Runge-Kutta update of one `row` of a `lane`, its `rate` [a second] at this stage.

    `rows` (state, start, gathered), flat; `step` (weight [s], ahead [s], last) as in `stage.strip_loads`.
    """
    state, start, gathered = rows
    weight, ahead, last = step
    sum_ = gathered[at(row, lane)] + weight * rate
    gathered[at(row, lane)] = sum_
    state[at(row, lane)] = start[at(row, lane)] + (sum_ if last else ahead * rate)


@compiled
def advance_rigid(boat, work, weight, ahead, last):
    """Runge-Kutta update of the rigid states of a `work` (a `Work`), in double precision.

    `boat` flat, rows as in layout; `weight`, `ahead` [s], `last` as in `stage.strip_loads`. Places before the rates
    that move them, holds before what they answer to.
    """
    state = work.state.reshape(-1)
    rows, step = (state, work.start.reshape(-1), work.gathered.reshape(-1)), (weight, ahead, last)
    total, helm = work.loads.total, work.helm
    for lane in range(LANES):
        miss = (boat[at(_TARGET, lane)] - state[at(L.SPEED, lane)]) * boat[at(_SPEED_RATE, lane)]
        lean = -state[at(L.ROLL, lane)] * boat[at(_HEEL_RATE, lane)] * boat[at(_ROLL_FREE, lane)]
        off = -state[at(L.HEADING, lane)] * boat[at(_HELM_RATE, lane)] * boat[at(_YAW_FREE, lane)]
        thrust_rate = bounded_hold(state[at(L.THRUST_HOLD, lane)], miss, boat[at(_SPEED_BOUND, lane)])
        heel_rate = bounded_hold(state[at(L.HEEL_HOLD, lane)], lean, boat[at(_HEEL_BOUND, lane)])
        helm_rate = bounded_hold(state[at(L.HELM_HOLD, lane)], off, boat[at(_RUDDER_LIMIT, lane)])
        ahead_rate, aside_rate = path_rates(state, lane)
        advance_row(rows, L.PATH, ahead_rate, step, lane)
        advance_row(rows, L.ASIDE, aside_rate, step, lane)
        advance_row(rows, L.THRUST_HOLD, thrust_rate, step, lane)
        advance_row(rows, L.HEEL_HOLD, heel_rate, step, lane)
        advance_row(rows, L.HELM_HOLD, helm_rate, step, lane)
    for lane in range(LANES):
        advance_row(rows, L.HEAVE, state[at(L.HEAVE_RATE, lane)], step, lane)
        advance_row(rows, L.PITCH, state[at(L.PITCH_RATE, lane)], step, lane)
        advance_row(rows, L.ROLL, state[at(L.ROLL_RATE, lane)], step, lane)
        advance_row(rows, L.HEADING, state[at(L.YAW_RATE, lane)], step, lane)
        advance_row(rows, L.RUDDER, helm[at(0, lane)], step, lane)
    for lane in range(LANES):
        advance_row(rows, L.SPEED, 1.0 * total[at(L.T_ACC_SURGE, lane)], step, lane)
        advance_row(rows, L.HEAVE_RATE, 1.0 * total[at(L.T_ACC_HEAVE, lane)], step, lane)
        advance_row(rows, L.PITCH_RATE, 1.0 * total[at(L.T_ACC_PITCH, lane)], step, lane)
        advance_row(rows, L.ROLL_RATE, 1.0 * total[at(L.T_ACC_ROLL, lane)], step, lane)
        advance_row(rows, L.SWAY, 1.0 * total[at(L.T_ACC_SWAY, lane)], step, lane)
        advance_row(rows, L.YAW_RATE, 1.0 * total[at(L.T_ACC_YAW, lane)], step, lane)
