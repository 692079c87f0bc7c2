"""Where things stand in the plain arrays of the march. Read this file beside `stage.py`.

The unit of work is a block of LANES runs side by side: settings that share a sea, or realisations of one
setting. The lane is always the last, contiguous index and always LANES wide; empty lanes repeat the
last real one. A lane never looks at another, so a run has the same bits in any company.

Anchors: the waves are summed at anchor times a few steps apart, at the place the boat is about to reach,
value and rate along the path; from one anchor to the next runs a quintic through the last three. An anchor
row is 2 LANES wide: the values of all lanes, then the rates.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.lane_index import LANES  # noqa: F401  (read from here by the march)

# --- rigid state, rows of `state[row, lane]`; every strip has four lag states -------------------------
PATH, HEAVE, PITCH, ROLL, SPEED, HEAVE_RATE, PITCH_RATE, ROLL_RATE, THRUST_HOLD, HEEL_HOLD = range(10)
RIGID_ROWS = 10
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
    "sail_arm",
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
)
BOAT = {name: row for row, name in enumerate(BOAT_ROWS)}

# --- hull stations, `hull[station, row, lane]` -----------------------------------------------------
H_X, H_Z, H_SLOPE, H_BEAM, H_INVERSE_CHINE, H_RELIEF, H_RELIEF_SLOPE, H_RADIATION, H_DX = range(9)
HULL_ROWS = 9

# --- strips of foil, keel fin and rudder, `strip[strip, row, lane]` ------------------------------------
(
    S_LENGTH,
    S_X,
    S_Y,
    S_Z,
    S_NY,
    S_NZ,
    S_CHORD,
    S_SLOPE,
    S_ZERO_LIFT,
    S_INCIDENCE,
    S_HALF_WIDTH,
    S_STEADY,
    S_INDUCED,
    S_PROFILE,
    S_ADDED,
    S_MASS,
    S_BUOYANCY,
    S_SHAPE,
    S_CL_MAX,
    S_CL_MIN,
    S_CAV_N0,
    S_CAV_N1,
    S_CAV_R0,
    S_CAV_R1,
    S_VENT,
    S_ONSET,
    S_WASHOUT,
    S_ONSET_CHORDS,
    S_WASHOUT_CHORDS,
    S_REWET_CHORDS,
) = range(30)
STRIP_ROWS = 30

# --- what a stage leaves for each strip, `strip_out[strip, row, lane]` -----------------------------------
(
    O_NORMAL,
    O_MASS,
    O_DEMAND_N,
    O_DEMAND_R,
    O_WET,
    O_VERTICAL,
    O_SPEED,
    O_ANGLE,
    O_DEPTH,
    O_MOTION,
) = range(10)
STRIP_OUT_ROWS = 10

# --- what a stage leaves for the whole boat, `total[row, lane]` ------------------------------------------
(
    T_FZ,
    T_MPITCH,
    T_MROLL,
    T_FX,
    T_A33,
    T_A35,
    T_A34,
    T_A55,
    T_A45,
    T_A44,
    T_HULL_FZ,
    T_PLUNGE,
    T_FOIL_FZ,
    T_FOIL_RM,
    T_FOIL_FX,
    T_MODE_FORCE,
    T_MODE_MASS,
    T_MODE_DAMPING,
    T_MODE_G1,
    T_MODE_G2,
    T_MODE_G3,
    T_ACC_HEAVE,
    T_ACC_PITCH,
    T_ACC_ROLL,
    T_ACC_SURGE,
    T_RESIDUAL_X,
    T_HULL_CARRIED,
) = range(27)
TOTAL_ROWS = 27

# --- wave rows at a lane, `wave[row, lane]`: four a hull station, two for the boat, thirteen a strip ----------
W_ELEVATION, W_RISE, W_ACCELERATION, W_SLOPE = range(4)
HULL_WAVE_ROWS = 4
BOAT_WAVE_ROWS = 2  # lateral slope of the surface, lateral velocity of the water at the keel
DEPTH_TERMS = 6  # of the polynomial in depth, degree 5
STRIP_WAVE_ROWS = 1 + 2 * DEPTH_TERMS  # surface, normal velocity terms, axial velocity terms


def wave_row_count(stations, strips):
    """Number of wave rows a lane needs for so many hull `stations` and lifting `strips`."""
    return HULL_WAVE_ROWS * stations + BOAT_WAVE_ROWS + STRIP_WAVE_ROWS * strips


class March(NamedTuple):
    """Everything constant over a block, as plain arrays: float64, and a copy in float32 for the loads of the march."""

    boat: np.ndarray  # (len(BOAT_ROWS), LANES)
    hull: np.ndarray  # (stations, HULL_ROWS, LANES)
    strip: np.ndarray  # (strips, STRIP_ROWS, LANES)
    foil_strips: int  # the first of `strip` are the foil's, root outward
    edge_y: np.ndarray  # (foil strips + 1, LANES) [m] from the centre of gravity, at the mean heel
    edge_z: np.ndarray  # (foil strips + 1, LANES) [m]
    mode_moment: np.ndarray  # (foil strips + 1, LANES) [N m] bending moment at the edges per metre of mode
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


class WaveTable(NamedTuple):
    """The sea of a block, as plain arrays."""

    omega: np.ndarray  # (N,) [rad/s]
    along: np.ndarray  # (N,) [rad/m] wavenumber along the path
    phase: np.ndarray  # (N, LANES) [rad]
    swing: np.ndarray  # (N, LANES) [-] amplitude in the lane's realisation over the mean one, 1 when fixed
    project: np.ndarray  # (rank, 2 N) [-] components to shapes
    expand: np.ndarray  # (generic rows, rank) shapes to generic rows
    group_start: np.ndarray  # (groups,) int64, first generic row of each surface group
    group_nodes: np.ndarray  # (groups,) int64, lateral nodes of each group
    strip_group: np.ndarray  # (strips,) int64
    strip_weight: np.ndarray  # (strips, nodes, LANES) [-] lateral interpolation
    sway_following: np.ndarray  # (LANES,) [-]
    orbital: float  # [-] 1, or 0 to leave orbital flow at the strips out
