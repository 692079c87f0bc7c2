"""What a scenario becomes inside: SI units, radians, no optional guesses left open.

Axes and signs: x forward, y to leeward (the side of the working foil), z up; pitch bow-up +,
heel and roll leeward-side-down +; rake leading edge up +.
"""

from dataclasses import dataclass, field
from math import inf

import numpy as np

from seaload.scenario.crew_records import Fill, Logger, Sensors, SpeedTable


@dataclass(frozen=True)
class Setting:
    """One way to set the boat up."""

    extension: float  # [-] share of the foil's outside length that is out, 0..1
    rake: float  # [rad]
    heel: float  # [rad] mean heel
    cant: float  # [rad] keel to windward +
    ballast_shift: float  # [m] centre of gravity moved forward +, by the water too where there is any
    speed: float  # [m/s] mean speed through the water; nan while `attainable` is not yet worked out
    attainable: bool = False  # the speed is what the thrust can hold, to be worked out
    water: tuple = ()  # in the tanks: (mass [kg], x from the transom, y to leeward, z above the keel point [m]) each

    @property
    def ballast_mass(self):
        """Water in the tanks, on top of the boat's mass [kg]."""
        return float(sum(mass for mass, *_ in self.water))


@dataclass(frozen=True)
class WaveSystem:
    """One wave system: a one-sided density and where it travels."""

    omega: np.ndarray  # (n,) [rad/s], rising
    density: np.ndarray  # (n,) [m2 s/rad]
    direction: float  # [rad] mu: 0 = following, pi = head sea, + = travels to leeward
    spreading: float  # [-] s of cos^2s; infinity = long-crested
    band_direction: np.ndarray | None = None  # (d,) [rad] mu, once round, of a 2-D record
    band_density: np.ndarray | None = None  # (n, d) [m2 s/rad per rad]; then `direction` is its mean


@dataclass(frozen=True)
class Sea:
    """A sea on a heading, with its wind. `name` keys the random streams."""

    name: str
    systems: tuple  # of WaveSystem
    true_wind_speed: float  # [m/s]
    true_wind_angle: float  # [rad] from the bow
    notes: tuple = ()  # what was assumed, in plain words
    hs: float = 0.0  # [m] significant wave height of the sum
    tp: float = 0.0  # [s] period of the highest peak
    steep: bool = False  # Hs over peak wavelength above the limit of validity
    forecast: tuple = ()  # of UncertainInput: how far off it may be by its lead time, where nobody states that
    gustiness: float = 0.0  # [-] standard deviation of the true wind speed over its mean


@dataclass(frozen=True)
class Hull:
    """Hull form and what carries it. Distances x from the transom, heights from the lowest keel point."""

    length: float  # [m]
    waterline_length: float  # [m]
    station_x: np.ndarray  # (n,) [m] from the transom, of the given form (not the march's stations)
    keel_rise: np.ndarray  # (n,) [m] height of the keel line above its lowest point
    half_beam_share: np.ndarray  # (n,) [-] taper of the chine half-beam
    half_beam: float  # [m] chine half-beam upright at the fullest station
    half_beam_per_heel: float  # [m/rad] change of the effective chine half-beam with heel (negative)
    deadrise: float  # [rad] upright
    deadrise_per_heel: float  # [-] gain of effective deadrise per radian of heel
    least_deadrise: float  # [rad]
    fullness: float  # [-] q of the section shape: 0 = wedge, 1 = parabola
    pile_up: float  # [-] wetted over still-water half-beam
    added_mass_share: float  # [-] k_a
    cross_flow_drag: float  # [-] C_D
    planing_buoyancy: float  # [-] a_BF, share of hydrostatic lift left when planing
    stations: int  # of the march
    transom_relief: bool
    side_height: float  # [m] chine to deck, for the righting curve
    draught: float | None  # [m] of the hull's lowest point on the way; None = as it floats with the whole mass
    bilge_share: float  # [-] of the half-beam: where the heeled hull is lowest
    wetted_share: float  # [-] wetted surface afloat over chine beam times waterline length
    wetted_loss: float  # [-] of it when planing
    bow_from_cg: float  # [m] where the bow begins
    plunge_depth: float  # [m] immersion past which the bow counts as buried


@dataclass(frozen=True)
class Boat:
    """Boat without foil: masses, rig, resistance."""

    mass: float  # [kg] all up
    pitch_gyradius: float  # [m]
    yaw_gyradius: float  # [m]
    roll_inertia: float  # [kg m2] about the centre of gravity
    cg_from_transom: float  # [m] without ballast shift
    cg_height: float  # [m] above the lowest keel point, keel upright
    bulb_mass: float  # [kg]
    sail_height: float  # [m] centre of effort above the lowest keel point
    effort_from_transom: float  # [m] of the sails' centre of effort
    reference_thrust: float  # [N]
    reference_speed: float  # [m/s]
    thrust_slope: float  # [-] relative fall of thrust per relative gain of speed
    thrust_per_righting: float  # [-] relative thrust per relative righting moment
    reference_wind_speed: float  # [m/s]
    reference_wind_angle: float  # [rad]
    reference_setting: Setting  # of thrust and speed table, its speed nan
    rig_pitch_damping: float  # [N m s/rad]
    rig_roll_damping: float  # [N m s/rad]
    trim_time: float  # [s] in which the crew eases a lasting gust away, infinity = never
    steering: "Steering"
    surge_added_mass: float  # [-] share of the mass
    mast_from_transom: float  # [m] where accelerations are read
    cockpit_from_transom: float  # [m] the same
    windage_area: float  # [m2] C_D A of "other" resistance in water terms, see resistance
    hump_resistance: float  # [-] share of weight at the hump
    speed_hold_rate: float  # [N/s per m/s]
    speed_hold_bound: float  # [N]
    heel_hold_rate: float  # [N m/s per rad]
    heel_hold_bound: float  # [N m]
    heel_window: tuple  # (least, most) [rad] of heel that the waves at the boat are worked out for
    cant_window: tuple  # (least, most) [rad] of cant, the same
    hull: Hull
    keel: "LiftingSurface"
    rudder: "LiftingSurface"  # the leeward one, the wet one
    foils: dict  # {"port": Foil, "starboard": Foil}
    limits_of_validity: "Validity"
    raw: dict  # the whole file as written, for the record
    sensors: "Sensors | None" = None
    logger: "Logger | None" = None
    moves: tuple = ()  # of Move
    tanks: tuple = ()  # of Tank
    uncertain: tuple = ()  # of UncertainInput
    speed_table: "SpeedTable | None" = None
    worked: dict = field(default_factory=dict)  # {name of a setting: WorkedRange}


@dataclass(frozen=True)
class Steering:
    """How the helm answers; see `boat.steering`."""

    gain: float  # [-] rudder for heading
    rate_gain: float  # [s] heading that counts as much as its rate
    delay: float  # [s]
    rudder_rate: float  # [rad/s]
    rudder_limit: float  # [rad] either way of the balanced angle
    trim_rate: float  # [1/s] rudder that comes to be carried for the heading


@dataclass(frozen=True)
class LiftingSurface:
    """Keel fin or rudder: a straight surface from a root point."""

    area: float  # [m2]
    span: float  # [m]
    root_x: float  # [m] from the transom
    root_y: float  # [m] from the centre line, leeward +
    root_z: float  # [m] above the lowest keel point
    tilt: float  # [rad] of the tip to leeward + (upright boat, keel uncanted)
    thickness_share: float  # [-] of the chord
    effective_aspect: float  # [-] aspect ratio for the lift slope (2 x geometric when the hull mirrors it)
    profile_drag: float  # [-]
    area_coefficient: float  # [-] section area = k c t
    cl_max: float  # [-] wetted stall, either side


@dataclass(frozen=True)
class Foil:
    """The curved foil: shape, section, structure, limits. s = material from the bearing, fully out."""

    exit_x: float  # [m] from the transom
    exit_y: float  # [m] from the centre line
    exit_z: float  # [m] above the lowest keel point
    shaft_length: float  # [m]
    shaft_angle: float  # [rad] dihedral of the shaft, outward-up + (so about -65 deg)
    elbow_length: float  # [m]
    tip_length: float  # [m]
    tip_angle: float  # [rad]
    least_extension: float  # [-]
    material_s: np.ndarray  # (k,) [m] where the next rows are given, rising from 0 to the outside length
    chord: np.ndarray  # (k,) [m]
    thickness_share: np.ndarray  # (k,) [-]
    zero_lift: np.ndarray  # (k,) [rad] section zero-lift angle (negative for camber)
    incidence: np.ndarray  # (k,) [rad] built-in
    section_slope: float  # [1/rad] 2-D lift slope
    profile_drag: float  # [-]
    cl_max: float  # [-] wetted stall, normal side
    cl_min: float  # [-] reverse side (negative)
    cavitation_normal: tuple  # (a, b): lift limit a + b sigma
    cavitation_reverse: tuple  # (a, b): limit -(a + b sigma)
    ventilated_cl: float  # [-] lift level left when ventilated, either side
    ventilation_onset: float  # [-] demanded lift over limit at which it starts
    washout: float  # [-] demanded lift over limit at which it heals
    onset_chords: float  # [-] chords travelled for it to establish
    washout_chords: float  # [-]
    rewetting_chords: float  # [-]
    added_mass_share: float  # [-] of rho pi c^2/4
    youngs_modulus: float  # [Pa]
    inertia_coefficient: float  # [-] I = k c t^3
    density: float  # [kg/m3]
    fill: float  # [-] solid share of the section area
    area_coefficient: float  # [-] section area = k c t
    bearing_distance: float  # [m]
    bearing_friction: float  # [-]
    damping_ratio: float  # [-] structural
    strain_normal: float  # [-] limit strain
    strain_reverse: float  # [-] limit strain, positive number
    limit_basis: str  # "working", "first damage", "break" or "" when not said
    stations: np.ndarray  # (p,) [m] material s of the strain stations
    shear_centre: float  # [-] of the chord from the leading edge
    line_breaking_load: float  # [N]
    fatigue: "FatigueCurve"
    strips: int
    id: str = ""  # of the physical foil, for its ledger

    @property
    def outside_length(self):
        """Arc length outside the hull, foil fully out [m]."""
        return self.shaft_length + self.elbow_length + self.tip_length


@dataclass(frozen=True)
class FatigueCurve:
    """Constant-life diagram in bending moment: N = [tent / (2 amplitude)]^m."""

    slope: float  # [-] m
    steep_slope: float  # [-] the alternative
    ultimate_normal: float  # [-] ultimate over the normal limit
    ultimate_reverse: float  # [-] ultimate over the reverse limit


@dataclass(frozen=True)
class Validity:
    """When to stop believing a run."""

    pitch: float  # [rad]
    pitch_share: float  # [-] of the time
    speed_ratio: float  # [-] highest over mean speed
    speed_held: float  # [-] allowed relative miss of the mean speed
    steepness: float  # [-] Hs over peak wavelength
    foredeck_share: float  # [-] of the time with the foredeck under water
    thrust_floor_share: float  # [-] of the time faster than the sails can drive


@dataclass(frozen=True)
class RiskLevels:
    """What the crew accepts."""

    exposure: float  # [s]
    reverse_odds: float  # [-]
    normal_odds: float  # [-]
    wear: float = inf  # [1/s] damage at the worst place that the crew accepts
    sea_growth: float = 0.0  # [m/s] of the significant wave height, that a choice has to survive
    confidence: float = 0.0  # [-] one-sided, of the bound to judge by; 0 = by the odds all told


@dataclass(frozen=True)
class Sampling:
    """How much sea to sail through."""

    seed: int
    realisations: int
    realisation_time: float = 1200.0  # [s] kept
    run_in: float = 180.0  # [s]
    step: float = 0.02  # [s]
    components: int = 240
    precision: float = 0.0  # [-] half width of the interval that is enough; 0 = every setting gets `realisations`
    most_realisations: int = 0  # most to spend on what is undecided then; 0 = no more than `realisations`


@dataclass(frozen=True)
class Gust:
    """One gust: wind up by `strength` [-] of itself (a lull below 0) in `rise`; eased after `ease_after` [s] or inf."""

    strength: float
    rise: float
    hold: float
    ease_after: float


@dataclass(frozen=True)
class PrescribedMotion:
    """A written motion in flat water; each row (k,) as `time`, or None: as in the calm trim of the setting."""

    name: str
    note: str
    windward: bool  # the windward foil goes through it, else the working one
    time: tuple  # [s] from 0, rising
    heel: tuple | None  # [rad] leeward side (at the start) down +
    leeway: tuple | None  # [rad] to leeward (at the start) +
    speed: tuple | None  # [m/s]
    height: tuple | None  # [m] of the centre of gravity above the calm trim
    pitch: tuple | None  # [rad] from the calm trim, bow up +


@dataclass(frozen=True)
class Study:
    """A whole study, ready to run."""

    name: str
    boat: Boat
    boat_name: str
    foil_side: str
    seas: tuple  # of Sea
    settings: tuple  # of Setting; one for a run
    risk: RiskLevels
    sampling: Sampling
    gust: Gust
    model: dict  # switches of the physics, names and values, all with defaults
    raw: dict  # the study as written, for the record
    path: str
    uncertain: tuple = ()  # of UncertainInput: those of the boat file and of the study together
    hs_tp_correlation: float = 0.0  # [-] of the forecast's errors of height and peak period
    defaults_used: tuple = ()  # "key = value" lines of what the study left unsaid
    notes: tuple = ()  # what was assumed, in plain words
    prescribed: tuple = ()  # of PrescribedMotion
    library: str = ""  # name of the boat's library in the results folder
    fill: "Fill | None" = None  # what the library is to cover


def other_side(side):
    """The other one of "port" and "starboard"."""
    return "starboard" if side == "port" else "port"
