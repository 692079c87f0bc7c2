"""Where things stand in the plain arrays of the march. Read this file beside `stage.py` and `strip_stage.py`.

The unit of work is a block of LANES runs side by side: settings that share a sea, or realisations of one
setting. The lane is always the last, contiguous index and always LANES wide; empty lanes repeat the
last real one. A lane never looks at another, so a run has the same bits in any company.

Anchors: the waves are summed at anchor times a few steps apart, at the place and heading the boat is about to
reach, value and rate along the path; what runs from one anchor to the next stands in `wave_weights.py`. An anchor
row is 2 LANES wide: the values of all lanes, then the rates.

Axes: x along the heading, y square to it to leeward, z up, from the centre of gravity; heave, pitch and roll are
small. PATH and ASIDE are told along and square to the heading that is steered for.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.lane_index import LANES  # noqa: F401  (read from here by the march)
from seaload.simulation.wave_layout import (  # noqa: F401  (the same)
    BOAT_WAVE_ROWS,
    DEPTH_TERMS,
    HULL_WAVE_ROWS,
    STRIP_WAVE_ROWS,
    W_ACCELERATION,
    W_ELEVATION,
    W_RISE,
    W_SIDE,
    W_SIDE_SLOPE,
    W_SLOPE,
    Course,
    WaveTable,
    rated_wave_rows,
    strip_wave_row,
    wave_row_count,
)

# --- rigid state, rows of `state[row, lane]`; every strip has four lag states -------------------------
(
    PATH,  # [m] sailed
    HEAVE,  # [m]
    PITCH,  # [rad]
    ROLL,  # [rad]
    SPEED,  # [m/s]
    HEAVE_RATE,  # [m/s]
    PITCH_RATE,  # [rad/s]
    ROLL_RATE,  # [rad/s]
    THRUST_HOLD,  # [N]
    HEEL_HOLD,  # [N m]
    SWAY,  # [m/s] of the centre of gravity to leeward, square to the heading
    YAW_RATE,  # [rad/s] bow to leeward
    HEADING,  # [rad] off the one steered for, bow to leeward
    ASIDE,  # [m] to leeward of the line along that heading
    HELM_HOLD,  # [rad] of rudder that the helm has come to carry beside the balanced angle
    RUDDER,  # [rad] beside the balanced angle, turns the bow to leeward
    RIGID_ROWS,
) = range(17)
LAGS = 4

# --- bending mode, rows of `mode[row, lane]` -------------------------------------------------------
MODE_POSITION, MODE_RATE = range(2)

# --- boat parameters, rows of `boat[row, lane]` ----------------------------------------------------
BOAT_ROWS = (
    "mass",
    "surge_mass",
    "pitch_inertia",
    "roll_inertia",
    "weight",
    "down_force",
    "sail_side",
    "sail_arm",
    "sail_lever",
    "effort_ahead",
    "effort_side",
    "heel",
    "thrust",
    "thrust_slope",
    "target_speed",
    "speed_hold_rate",
    "speed_hold_bound",
    "heel_moment",
    "heel_moment_fall",
    "heel_hold_rate",
    "heel_hold_bound",
    "righting_arm",
    "righting_slope",
    "hull_arm_y",
    "rig_pitch_damping",
    "rig_roll_damping",
    "leeway",
    "sway_factor",
    "yaw_inertia",
    "sway_free",
    "yaw_free",
    "steering_gain",
    "steering_rate_gain",
    "steering_delay",
    "rudder_rate",
    "rudder_limit",
    "helm_hold_rate",
    "wetted_surface",
    "other_area",
    "hump",
    "waterline_length",
    "roll_free",
    "surge_free",
    "lag",
    "fast_added_mass",
    "memory_on",
    "mode_mass",
    "mode_stiffness",
    "mode_damping",
    "mode_on",
    "stern_share",
    "axial_y",
    "axial_z",
    "bearing_distance",
    "bearing_friction",
    "pile_up",
    "added_mass_factor",
    "drag_factor",
    "buoyancy_factor",
    "fullness",
    "plunge_depth",
    "bow_from_cg",
    "hull_damping_more",
)
BOAT = {name: row for row, name in enumerate(BOAT_ROWS)}

# --- hull stations, `hull[station, row, lane]` -----------------------------------------------------
(
    H_X,  # [m] forward of the centre of gravity
    H_Z,  # [m] keel above it
    H_SLOPE,  # [rad] of the keel, bow up +
    H_BEAM,  # [m] half
    H_INVERSE_CHINE,  # [1/m] one over the chine's height
    H_RELIEF,  # [-] share of the load near the transom
    H_RELIEF_SLOPE,  # [1/m] its change forward
    H_RADIATION,  # [kg/(m s)] damping by waves
    H_DX,  # [m] length
    HULL_ROWS,
) = range(10)

# --- strips of foil, keel fin and rudder, `strip[strip, row, lane]` ------------------------------------
(
    S_LENGTH,  # [m] along the span
    S_X,  # [m] forward of the centre of gravity
    S_Y,  # [m] to leeward of it
    S_Z,  # [m] above it
    S_NY,  # [-] normal, to leeward
    S_NZ,  # [-] normal, up
    S_CHORD,  # [m]
    S_SLOPE,  # [1/rad] of lift, of the section in two dimensions
    S_ZERO_LIFT,  # [rad]
    S_INCIDENCE,  # [rad] built in and by rake
    S_HALF_WIDTH,  # [m] half the depth range from dry to wet
    S_STEADY,  # [-] lift coefficient added, steady waves of the surface
    S_INDUCED,  # [-] factor of the far wake's wash, that of the lift slope
    S_PROFILE,  # [-] drag coefficient
    S_ADDED,  # [kg/m] added mass, all wet
    S_MASS,  # [kg/m] of the strip itself
    S_BUOYANCY,  # [N/m] all wet
    S_SHAPE,  # [-] of the bending mode along the normal
    S_CL_MAX,  # [-]
    S_CL_MIN,  # [-]
    S_CAV_N0,  # [-] limit by cavitation, design side, at sigma 0
    S_CAV_N1,  # [-] its change with sigma
    S_CAV_R0,  # [-] the same, reverse side
    S_CAV_R1,  # [-]
    S_VENT,  # [-] lift coefficient left when ventilated
    S_ONSET,  # [-] demand at which it starts
    S_WASHOUT,  # [-] demand at which it heals
    S_ONSET_CHORDS,  # [-] travelled until it stands
    S_WASHOUT_CHORDS,  # [-] until it has healed
    S_REWET_CHORDS,  # [-] until a dried strip lifts
    S_WAKE,  # [-] chord over span, added to the wake's decays
    STRIP_ROWS,
) = range(32)

# --- what a stage leaves for each strip, `strip_out[strip, row, lane]` -----------------------------------
(
    O_NORMAL,  # [N] lift and added-mass load along the normal
    O_MASS,  # [kg] added and own
    O_DEMAND_N,  # [-] lift asked over the limit, design side
    O_DEMAND_R,  # [-] reverse side
    O_WET,  # [-] share
    O_VERTICAL,  # [N] buoyancy less weight
    O_SPEED,  # [m/s] along the chord
    O_ANGLE,  # [rad] felt, from zero lift
    O_DEPTH,  # [m]
    O_MOTION,  # [m/s] normal velocity by the boat's motion and the strip's own angle from zero lift
    O_FORWARD,  # [N] of lift that leans and drag, forward
    STRIP_OUT_ROWS,
) = range(12)

# --- what flows past each strip, kept within a stage, `inflow[strip, row, lane]` ----------------------------
(
    F_DEPTH,  # [m]
    F_WET,  # [-] share
    F_WETTING,  # [1/s] rate of it
    F_DEEPENING,  # [m/s] rate of the depth
    F_SPEED,  # [m/s] along the chord
    F_BODY,  # [m/s] of the strip along its normal
    F_MOTION,  # [m/s] normal velocity by the boat's motion and the strip's own angle from zero lift
    F_GUST,  # [m/s] normal velocity by the waves
    F_GUST_RATE,  # [m/s2]
    F_BEYOND,  # [m/s] normal velocity that acts at once, beyond what the wake recalls
    INFLOW_ROWS,
) = range(11)

# --- what a stage leaves for the whole boat, `total[row, lane]` ------------------------------------------
(
    T_FZ,  # [N] strips, up
    T_MPITCH,  # [N m] strips and hull, bow up
    T_MROLL,  # [N m] strips, leeward side down
    T_FX,  # [N] strips and hull, forward
    T_A33,  # [kg] added mass, heave
    T_A35,  # [kg m]
    T_A34,  # [kg m]
    T_A55,  # [kg m2] pitch
    T_A45,  # [kg m2]
    T_A44,  # [kg m2] roll
    T_A22,  # [kg] sway
    T_A23,  # [kg]
    T_A24,  # [kg m]
    T_A25,  # [kg m]
    T_A26,  # [kg m]
    T_A36,  # [kg m]
    T_A46,  # [kg m2]
    T_A56,  # [kg m2]
    T_A66,  # [kg m2] yaw
    T_HULL_FZ,  # [N] hull, without what its own acceleration causes
    T_PLUNGE,  # [m2] buried bow
    T_FOIL_FZ,  # [N] foil, up
    T_FOIL_RM,  # [N m] foil, righting
    T_FOIL_FX,  # [N] foil, forward
    T_MODE_FORCE,  # [N] on the bending mode
    T_MODE_MASS,  # [kg] of the water round it
    T_MODE_DAMPING,  # [kg/s] by the flow
    T_MODE_G1,  # [kg] mode force per heave acceleration
    T_MODE_G2,  # [kg m] pitch
    T_MODE_G3,  # [kg m] roll
    T_MODE_G4,  # [kg] sway
    T_MODE_G5,  # [kg m] yaw
    T_ACC_HEAVE,  # [m/s2]
    T_ACC_PITCH,  # [rad/s2]
    T_ACC_ROLL,  # [rad/s2]
    T_ACC_SWAY,  # [m/s2] rate of the sway, along axes that turn
    T_ACC_YAW,  # [rad/s2]
    T_ACC_SURGE,  # [m/s2]
    T_RESIDUAL_X,  # [N] thrust less all drag
    T_HULL_CARRIED,  # [N] by the hull
    T_FY,  # [N] strips and hull, to leeward
    T_MYAW,  # [N m] strips and hull, bow to leeward
    T_DRIVE,  # [N] of the sails, forward, hold of speed included
    TOTAL_ROWS,
) = range(44)

class March(NamedTuple):
    """Everything constant over a block, as plain arrays: float64, and a copy in float32 for the loads of the march."""

    boat: np.ndarray  # (len(BOAT_ROWS), LANES)
    hull: np.ndarray  # (stations, HULL_ROWS, LANES)
    strip: np.ndarray  # (strips, STRIP_ROWS, LANES)
    foil_strips: int  # the first of `strip` are the foil's, root outward
    edge_y: np.ndarray  # (foil strips + 1, LANES) [m] from the centre of gravity, at the mean heel
    edge_z: np.ndarray  # (foil strips + 1, LANES) [m]
    edge_arm: np.ndarray  # (foil strips + 1, LANES) [m] from the section's shear centre forward to the line of lift
    mode_moment: np.ndarray  # (foil strips + 1, LANES) [N m] bending moment at the edges per metre of mode
    span_states: np.ndarray  # (wet states, 2 foil strips, foil strips, LANES) [-] answers, rows as in `answer` below
    span_level: np.ndarray  # (4, LANES) water's height of the lowest state [m], states a metre [1/m], number of the
    # highest state [-], one over the number of foil strips [-]
    keel_span: np.ndarray  # (2 keel strips, keel strips, LANES) [-] the same of the fin, always under
    rudder_span: np.ndarray  # (2 rudder strips, rudder strips, LANES) [-]
    depth_scale: float  # [m] depth at which the polynomials end
    density: float  # [kg/m3]
    gravity: float  # [m/s2]
    ambient: float  # [Pa] air less vapour pressure


class LoadState(NamedTuple):
    """What changes from stage to stage at hull and strips, flat, in the precision of its `March`."""

    rigid: np.ndarray  # (RIGID_ROWS LANES,) rigid states of the boat
    lags: np.ndarray  # (strips LAGS LANES,) lag states
    lags_before: np.ndarray  # the same at the start of the step
    lag_sums: np.ndarray  # weighted sum of their rates so far
    memory: np.ndarray  # (strips 2 LANES,) flow memory, normal and reverse side
    mode: np.ndarray  # (2 LANES,) bending mode as the stage sees it
    wave: np.ndarray  # (wave rows LANES,)
    rate: np.ndarray  # (wave rows LANES,)
    total: np.ndarray  # (TOTAL_ROWS LANES,)
    out: np.ndarray  # (strips STRIP_OUT_ROWS LANES,)
    inflow: np.ndarray  # (strips INFLOW_ROWS LANES,)
    recall: np.ndarray  # (strips 2 LANES,) normal velocity that the wake recalls [m/s], its rate [m/s2]
    mixed: np.ndarray  # (4 foil strips LANES,) the same of the foil, weighted for each of two wet states
    answer: np.ndarray  # (strips 4 LANES,) that after the span's influence, its rate, half the far wash, its rate
    pair: np.ndarray  # (2 foil strips, 2 foil strips LANES,) matrices of two neighbouring wet states side by side
    level: np.ndarray  # (LANES,) water's height at the foil [m], then the share of the even one of those two [-]
    slots: np.ndarray  # (2 LANES,) whole numbers, which states they are, -1 for none


class Clock(NamedTuple):
    """Times of a march."""

    step: float  # [s]
    anchor_steps: int  # steps between two anchors
    ramp: float  # [s] from still water to full sea
    blend: np.ndarray  # (anchor_steps, 24 LANES) weights of the anchors over each step, float32, see `wave_weights`


class Work(NamedTuple):
    """Everything that changes while a block marches, so that it can stop and go on at any anchor.

    The boat's motion and the bending mode are float64, loads and waves float32.
    """

    state: np.ndarray  # (RIGID_ROWS, LANES)
    start: np.ndarray
    gathered: np.ndarray
    loads: LoadState  # float32
    waves: tuple  # wave and rate, (2 wave rows LANES,) each: those of `loads`, at full steps, then in the middle of one
    mode: np.ndarray  # (2, LANES)
    mode_half: np.ndarray
    mode_end: np.ndarray
    held: np.ndarray  # (4, LANES) force, mass, damping and flow damping of the mode over a step
    place: Course  # where the boat will be at the next anchor
    gained: np.ndarray  # (3, LANES) accelerations at the last anchor: ahead, aside [m/s2], turning [rad/s2]
    heard: np.ndarray  # (steps recalled, 2 LANES) heading [rad] and yaw rate [rad/s] of the last full steps
    helm: np.ndarray  # (LANES,) [rad/s] rate of the rudder within the step
    anchors: np.ndarray  # (3, wave rows, 2 LANES) as `anchors_of` has them, float32, as all that follow but the angles
    angle: tuple  # (N LANES,) phases in float64; three such rows: less whole turns, sine and cosine
    phasor: np.ndarray  # (2 N, 2 LANES)
    shapes: np.ndarray  # (rank, 2 LANES)
    termed: np.ndarray  # (shapes of a part in all terms, 2 LANES)
    met: np.ndarray  # (shapes of a part, 2 LANES) at each lane's heading
    nodes: np.ndarray  # (node rows, 2 LANES) of the sea at the lateral nodes, at each lane's heading
    turned: np.ndarray  # (2 HULL_HEADINGS LANES,) powers of the heading [-], their rates [1/s]
    moment: np.ndarray  # (edges, LANES)
    sums: np.ndarray  # (7, LANES)
    wind: np.ndarray  # (LANES,) pull of the wind over its mean in this stage [-], float64


# --- the deepest moment of a chunk, `moment[side (MOMENT_ROWS + foil strips) + row, lane]`, then strip loads ---------
(
    M_STEP,  # of the chunk
    M_CHANNEL,  # number of the load channel nearest to its limit
    M_RISE,  # [m/s] of the foil's root, up
    M_HEAVE,  # [m/s] normal inflow by heave and the rate of pitch
    M_PITCH,  # [m/s] by pitch from its mean
    M_ROLL,  # [m/s] by the rate of roll
    M_WAVE,  # [m/s] by the waves
    M_SPEED,  # [m/s] by speed from its mean
    M_JOLT,  # [m/s] that would load as the strips' inertia does
    M_LIMIT,  # [m/s] that stall, cavitation and ventilation take
    M_VENTED,  # [-] share of the flow that is ventilated
    MOMENT_ROWS,
) = range(12)
SPAN_ROWS = 4  # highest and lowest shear [N], highest and lowest torsion [N m] of a strip edge
REVERSE_SIDE, NORMAL_SIDE, SIDES = 0, 1, 2


class Held(NamedTuple):
    """What the march holds of a chunk beside its samples: its deepest moment either side, extremes along the span."""

    level: np.ndarray  # (SIDES, LANES) [-] share of the limit from which a moment is held
    usual: np.ndarray  # (2, LANES) mean pitch [rad] and speed [m/s]
    share: np.ndarray  # (SIDES, LANES) [-] highest share of the chunk so far
    moment: np.ndarray  # (SIDES (MOMENT_ROWS + foil strips), LANES) loads of the strips along their normal [N]
    span: np.ndarray  # (SPAN_ROWS (foil strips + 1), LANES)


class Reading(NamedTuple):
    """How load channels hang on strip edges, for each lane."""

    channels: int
    edge: np.ndarray  # (channels, LANES) int64, lower edge
    weight: np.ndarray  # (channels, LANES) [-] share of the next edge
    per_limit: np.ndarray  # (channels, LANES) [1/(N m)] one over the normal limit, times the share inside the hull
    reverse_ratio: np.ndarray  # (channels, LANES) [-] normal over reverse limit
    outside: np.ndarray  # (channels, LANES) [-] 1 outside the hull or at the bearing, else 0
    amidships: np.ndarray  # (LANES,) int64, the last hull station behind the centre of gravity
    foredeck: np.ndarray  # (LANES,) int64, the hull station in the middle of the bow
    foredeck_x: np.ndarray  # (LANES,) [m] its place forward of the centre of gravity
    foredeck_z: np.ndarray  # (LANES,) [m] the deck there above it
    forefoot: np.ndarray  # (LANES,) int64, the hull station whose slams are counted
    watched_x: np.ndarray  # (3, LANES) [m] bow, mast and cockpit forward of the centre of gravity
