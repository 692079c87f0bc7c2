"""Frozen records that travel between floors: a finished case, as the march leaves it."""

from dataclasses import dataclass, field
from math import nan

import numpy as np

# What a case can end as. Numbers are stored, names are for people.
STATUS_DONE = 0
STATUS_NOT_FINITE = 1  # a state became infinite or not-a-number; the case stopped there
STATUS_PITCH_BEYOND = 2  # pitch beyond the stated angle for more than the stated share of time
STATUS_SPEED_BEYOND = 3  # speed above the stated multiple of the mean
STATUS_SPEED_NOT_HELD = 4  # the thrust could not hold the mean speed
STATUS_COUNTER_FULL = 5  # a rainflow stack overflowed; its damage would be incomplete
STATUS_FOREDECK_BURIED = 6  # the foredeck under water for more than the stated share of time
STATUS_THRUST_FLOOR = 7  # faster than the sails can drive for more than the stated share of time
STATUS_BROACHED = 8  # turned farther off her heading than the sails are modelled for; the case stopped there
STATUS_NAMES = {
    STATUS_DONE: "done",
    STATUS_NOT_FINITE: "not_finite",
    STATUS_PITCH_BEYOND: "pitch_beyond_validity",
    STATUS_SPEED_BEYOND: "speed_beyond_validity",
    STATUS_SPEED_NOT_HELD: "mean_speed_not_held",
    STATUS_COUNTER_FULL: "rainflow_stack_full",
    STATUS_FOREDECK_BURIED: "foredeck_buried",
    STATUS_THRUST_FLOOR: "thrust_at_its_floor",
    STATUS_BROACHED: "broached",
}
ENDED_EARLY = (STATUS_NOT_FINITE, STATUS_BROACHED)

EVENT_COLUMNS = (
    "side",  # REVERSE_EVENT or NORMAL_EVENT
    "time",  # [s] since the start of the run-in, of the deepest moment
    "channel",  # number of the load channel nearest to its limit
    "material",  # [m] of that place
    "depth",  # [-] share of its limit
    "duration",  # [s] past the level, all excursions of the event
    "cause",  # number in `foil.load_cause.CAUSES`
    "speed",  # [m/s]
    "pitch",  # [rad]
    "roll",  # [rad]
    "heave",  # [m]
    "elevation",  # [m] of the water amidships
)
REVERSE_EVENT, NORMAL_EVENT = -1.0, 1.0


@dataclass(frozen=True)
class CaseRecord:
    """What one realisation of one setting in one sea left behind. SI units; arrays as said.

    P places (the bearing first, then the strain stations), G points of the material grid,
    R range bins and M mean bins of the rainflow histogram, B blocks of `block_time` seconds.
    """

    status: int  # one of STATUS_*
    duration: float  # [s] time kept, after the run-in; shorter than asked when the case stopped
    stopped_at: float  # [s] time of the end for a stopped case, else nan
    # loads at places, bending moment + = normal
    moment_mean: np.ndarray  # (P,) [N m]
    moment_std: np.ndarray  # (P,) [N m]
    moment_max: np.ndarray  # (P,) [N m]
    moment_min: np.ndarray  # (P,) [N m]
    reversed_time: np.ndarray  # (P,) [s] time with moment below zero
    excursions_half: np.ndarray  # (P,) [-] reverse excursions past 50 % of the reverse limit
    excursions_full: np.ndarray  # (P,) [-] past 100 %
    normal_exceedances: np.ndarray  # (P,) [-] excursions past 100 % of the normal limit
    excursion_time: np.ndarray  # (P,) [s] time spent past 100 % of the reverse limit
    excursion_longest: np.ndarray  # (P,) [s] longest excursion past 50 % of the reverse limit
    damage: np.ndarray  # (P,) [-]
    damage_steep: np.ndarray  # (P,) [-] with the alternative, steeper S-N slope
    rainflow_count: np.ndarray  # (P, R, M) [-] range and mean in shares of the normal limit
    residue: tuple  # P arrays [N m], the rainflow residue in time order
    # any place of the foil: bearing and all material outside it
    events_half: int  # reverse events past 50 %
    events_full: int  # reverse events past 100 %
    normal_events: int  # events past 100 % of the normal limit
    block_time: float  # [s]
    block_worst_reverse: np.ndarray  # (B,) [-] highest share of the reverse limit, at any place, in each block
    block_worst_normal: np.ndarray  # (B,) [-] highest share of the normal limit
    deepest_reverse_time: float  # [s] when the worst place was nearest to, or past, its reverse limit
    # material grid
    grid_damage: np.ndarray  # (G,) [-]
    grid_moment_mean: np.ndarray  # (G,) [N m]
    grid_moment_max: np.ndarray  # (G,) [N m]
    grid_moment_min: np.ndarray  # (G,) [N m]
    # boat and foil as a whole
    speed_mean: float  # [m/s]
    speed_std: float
    speed_max: float
    heave_std: float  # [m]
    pitch_mean: float  # [rad]
    pitch_std: float
    pitch_max: float  # [rad] largest absolute value
    roll_std: float  # [rad]
    vertical_lift_mean: float  # [N]
    lift_share_mean: float  # [-] vertical lift of the foil over the boat's weight
    righting_moment_mean: float  # [N m] of the foil about the centre of gravity
    foil_drag_mean: float  # [N]
    hold_down_mean: float  # [N]
    hold_down_max: float  # [N]
    slack_time: float  # [s] time with a slack hold-down line
    pitch_beyond_time: float  # [s]
    hull_lift_min: float  # [N] least that the hull carried, added mass left out; at most 0 = nothing for a moment
    tip_depth_min: float  # [m] least depth of the outermost strip, negative in the air
    # highest share of either limit at each place in each block, nan at places inside the hull
    place_block_reverse: np.ndarray | None = None  # (P, B) [-]
    place_block_normal: np.ndarray | None = None  # (P, B) [-]
    # what full share means at each place
    normal_limit: np.ndarray | None = None  # (P,) [N m]
    reverse_limit: np.ndarray | None = None  # (P,) [N m]
    grid_outside: np.ndarray | None = None  # (G,) 1 where the material is outside the hull at this setting, else 0
    series: dict = field(default_factory=dict)  # kept series by vocabulary name, empty unless asked for
    leeway_mean: float = nan  # [rad] to leeward +
    rudder_mean: float = nan  # [rad] turns the bow to leeward +
    thrust_mean: float = nan  # [N] of the sails, hold of speed included
    thrust_calm: float = nan  # [N] that still water asks for at the mean speed
    foredeck_time: float = nan  # [s] with the foredeck under water
    thrust_floor_time: float = nan  # [s] faster than the sails can drive
    sway_std: float = nan  # [m/s]
    heading_std: float = nan  # [rad]
    heading_max: float = nan  # [rad] largest absolute value, off the heading steered for
    rudder_std: float = nan  # [rad]
    rudder_max: float = nan  # [rad] largest absolute value, beside the balanced angle
    broach_time: float = nan  # [s] far off the heading with the rudder at its limit, see `boat.steering`
    thrust_std: float = nan  # [N] of the sails
    # events past a level, reverse ones first, the deepest first; of more than fit a realisation the deepest
    event_table: np.ndarray | None = None  # (E, len(EVENT_COLUMNS)) float32, SI, columns there
    event_strip_load: np.ndarray | None = None  # (E, strips) [N] float32, along the normal at the deepest moment
    event_peaks_reverse: np.ndarray | None = None  # (n,) [-] float32, depth of every event, in order
    event_peaks_normal: np.ndarray | None = None  # (m,) [-] float32
    event_levels: np.ndarray | None = None  # (2,) [-] share past which an event is told, reverse and normal side
    # at bow, mast and cockpit, vertical, upward +
    acceleration_rms: np.ndarray | None = None  # (3,) [m/s2] about the mean
    acceleration_highest_tenth: np.ndarray | None = None  # (3,) [m/s2] mean of the highest tenth of the peaks
    acceleration_worst: np.ndarray | None = None  # (3,) [m/s2] highest
    slams: float = nan  # [-]
    # at every strip edge from the bearing outward, the bending mode's own inertia left out, float32
    shear_max: np.ndarray | None = None  # (edges,) [N] along the normal
    shear_min: np.ndarray | None = None  # (edges,) [N]
    torsion_max: np.ndarray | None = None  # (edges,) [N m] leading edge towards the design side +
    torsion_min: np.ndarray | None = None  # (edges,) [N m]
