"""The boat, as a person writes it: masses, rig, resistance, hull, fins, and what the crew works with."""

from math import inf, nan, radians
from typing import ClassVar, Literal

from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.scenario.boat_geometry import refuse_no_boat
from seaload.scenario.crew_records import Logger, Sensors, Tank, WorkedRange
from seaload.scenario.foil_spec import FoilSpec
from seaload.scenario.hull_spec import MOST_REACH_M, HullSpec, SurfaceSpec
from seaload.scenario.move_spec import MovesSpec
from seaload.scenario.records import Boat, Setting, Steering, Validity
from seaload.scenario.risk_spec import Doubts, refuse_other_unit
from seaload.scenario.setting_spec import SETTING_RANGE
from seaload.scenario.written import SLUG, Refused, Written, number, number_over

WorkedName = Literal["extension_percent", "rake_deg", "heel_deg", "cant_deg", "ballast_shift_m", "speed_knots"]
WORKED_UNIT = {
    "extension_percent": ("extension", PERCENT),
    "rake_deg": ("rake", DEGREE),
    "heel_deg": ("heel", DEGREE),
    "cant_deg": ("cant", DEGREE),
    "ballast_shift_m": ("ballast_shift", 1.0),
    "speed_knots": ("speed", KNOT),
}
USUAL_HEEL, USUAL_CANT = (0.15, 0.45), (0.0, 0.7)  # [rad] least window of heel and cant of every boat
MAST_SHARE, COCKPIT_SHARE = 0.58, 0.2  # [-] of the length from the transom (common practice, no source)


class LadderSpec(Written):
    """One row of `[[rig.ladder]]`: the sails carried from a wind on, until the next row's."""

    wind_from_knots: number(0, 80, "knots, true, from which these sails are carried")
    heel_deg: number(0, 35, "degrees, the most that she is sailed at with them")
    thrust_percent: number(1, 150, "percent of the reference thrust that they give")


class RigSpec(Written):
    """`[rig]`: sails as a force with a lever, at the wind the boat is calibrated for."""

    retired: ClassVar[dict] = {
        "sail_down_force_n": "the sails press down with the sine of heel of the force that heels her; "
        "effort_from_transom_m says where it acts fore and aft"
    }
    sail_height_m: number_over(0, 60, "metres, centre of effort above the lowest keel point")
    effort_from_transom_m: number(-10, 70, "metres, centre of effort; over the keel's root unless said") | None = None
    reference_thrust_n: number_over(0, 1e6, "newtons")
    reference_speed_knots: number_over(0, 60, "knots")
    reference_wind_speed_knots: number_over(0, 80, "knots, true")
    reference_wind_angle_deg: number(20, 180, "degrees from the bow, true")
    reference_extension_percent: number(0, 100, "percent of the foil's outside length that is out") = 80.0
    reference_rake_deg: number(-5, 10, "degrees, leading edge up +") = 2.0
    reference_heel_deg: number(-5, 35, "degrees, leeward side down +") = 18.0
    reference_cant_deg: number(-45, 45, "degrees of keel cant, to windward +") = 30.0
    reference_ballast_shift_m: number(-2, 2, "metres the centre of gravity moves, forward +") = 0.0
    thrust_slope: number(0, 5, "relative fall of thrust for a relative gain of speed") = 1.5
    thrust_per_righting: number(0, 2, "relative thrust for relative righting moment") = 0.7
    pitch_damping_n_m_s_per_rad: number(0, 1e7, "N m s/rad")
    roll_damping_n_m_s_per_rad: number(0, 1e7, "N m s/rad")
    trim_s: number(1, 3600, "seconds in which the crew eases away a gust that lasts") | Literal["never"] = 60.0
    ladder: list[LadderSpec] = Field(default=[], max_length=20, description="[[rig.ladder]] tables, of a leg")

    @model_validator(mode="after")
    def _ladder_rises_from_calm(self):
        winds = [row.wind_from_knots for row in self.ladder]
        if winds and winds[0] != 0.0:
            raise Refused("ladder[1].wind_from_knots", winds[0], "0: the first row holds in the lightest wind")
        for number_, (one, other) in enumerate(zip(winds, winds[1:], strict=False), 2):
            if not one < other:
                raise Refused(f"ladder[{number_}].wind_from_knots", other, f"more than in the row before, {one:g}")
        return self

    def reference_setting(self):
        """The setting that thrust and speed table are stated for, as a record without a speed."""
        return Setting(
            extension=self.reference_extension_percent * PERCENT,
            rake=self.reference_rake_deg * DEGREE,
            heel=self.reference_heel_deg * DEGREE,
            cant=self.reference_cant_deg * DEGREE,
            ballast_shift=self.reference_ballast_shift_m,
            speed=nan,
        )


class MotionSpec(Written):
    """`[motion]`: drift, resistance, and the slow controllers that hold mean speed and mean heel."""

    retired: ClassVar[dict] = {
        "leeway_deg": "leeway balances the side force of the sails; to state one, write in the study "
        '[model] leeway = "held" and held_leeway_deg',
        "sway_following": "the boat sways by herself, as fin, rudder and hull in the waves make her; [steering] says "
        "how she is kept on her heading",
        "sway_depth_m": "the waves push every strip of fin, rudder and foil at its own depth",
    }
    surge_added_mass: number(0, 0.5, "share of the mass") = 0.05
    other_drag_area_m2: number(0, 5, "m2 of drag coefficient times area, in water") = 0.02
    hump_resistance: number(0, 0.3, "share of weight at the hump") = 0.035
    speed_hold_n_per_s_per_m_per_s: number(0, 1e4, "N/s per m/s of error") = 25.0
    speed_hold_most_n: number(0, 1e6, "newtons") = 6000.0
    mast_from_transom_m: number(0, 60, "metres, for accelerations; 58 % of length_m unless said") | None = None
    cockpit_from_transom_m: number(0, 60, "metres, for accelerations; 20 % of length_m unless said") | None = None
    heel_hold_n_m_per_s_per_rad: number(0, 1e7, "N m/s per radian of error") = 15000.0
    heel_hold_most_n_m: number(0, 1e7, "N m") = 60000.0


class SteeringSpec(Written):
    """`[steering]`: how the helm answers when she leaves her heading."""

    gain: number(0.1, 10, "degrees of rudder for a degree off the heading") = 1.0
    rate_gain_s: number(0, 5, "seconds: as much for a degree a second as for so many degrees") = 0.5
    delay_s: number(0, 2, "seconds until the helm answers") = 0.3
    rudder_rate_deg_per_s: number(1, 200, "degrees a second, the fastest the rudder turns") = 30.0
    rudder_limit_deg: number(2, 45, "degrees either way of the angle that balances her in calm water") = 25.0
    heading_hold_per_s: number(0, 1, "a second: rudder that the helm comes to carry for what she is off") = 0.05

    def si(self):
        """The helm as a record."""
        return Steering(
            self.gain,
            self.rate_gain_s,
            self.delay_s,
            self.rudder_rate_deg_per_s * DEGREE,
            self.rudder_limit_deg * DEGREE,
            self.heading_hold_per_s,
        )


class ValiditySpec(Written):
    """`[validity]`: when to stop believing a run."""

    pitch_deg: number(1, 45, "degrees") = 20.0
    pitch_share_percent: number(0, 100, "percent of the time beyond that pitch") = 1.0
    speed_ratio: number(1.05, 5, "highest over mean speed") = 2.0
    speed_held_percent: number(0.1, 50, "percent the mean speed may miss the setting") = 5.0
    steepness: number(0.01, 0.15, "Hs over peak wavelength") = 0.0625
    foredeck_share_percent: number(0, 100, "percent of the time with the foredeck under water") = 1.0
    thrust_floor_share_percent: number(0, 100, "percent of the time faster than the sails can drive") = 5.0

    def si(self):
        """The limits as a record."""
        return Validity(
            radians(self.pitch_deg),
            self.pitch_share_percent * PERCENT,
            self.speed_ratio,
            self.speed_held_percent * PERCENT,
            self.steepness,
            self.foredeck_share_percent * PERCENT,
            self.thrust_floor_share_percent * PERCENT,
        )


class SensorsSpec(Written):
    """`[sensors]`: how the boat's own display shows the strain stations."""

    display: Literal["percent_of_normal", "percent_of_own_limit", "microstrain", "tonne_force"]
    rate_hz: number(0.1, 1000, "readings a second")
    running_mean_s: number(0, 60, "seconds") = 0.0
    noise_percent: number(0, 50, "percent of the normal limit, rms") = 1.0
    zero_taken: Literal["retracted", "alongside", "never"] = "retracted"
    zero_drift_percent_per_day: number(0, 100, "percent of the normal limit a day") = 0.0
    display_lever_m: number(0.05, 20, "metres that the bending moment is divided by for tonne-force") | None = None

    @model_validator(mode="after")
    def _lever_goes_with_tonne_force(self):
        if self.display == "tonne_force" and self.display_lever_m is None:
            raise Refused("display_lever_m", "missing", 'display = "tonne_force" needs it: metres of lever')
        if self.display != "tonne_force" and self.display_lever_m is not None:
            raise Refused("display_lever_m", self.display_lever_m, 'goes with display = "tonne_force"')
        return self

    def si(self):
        """The display as a record."""
        return Sensors(
            self.display,
            self.rate_hz,
            self.running_mean_s,
            self.noise_percent * PERCENT,
            self.zero_taken,
            self.zero_drift_percent_per_day * PERCENT,
            nan if self.display_lever_m is None else self.display_lever_m,
        )


class LoggerSpec(Written):
    """`[logger]`: how the strain stations and motions are recorded, which need not be what the display shows."""

    rate_hz: number(0.1, 1000, "samples a second")
    filter_hz: number(0.05, 1000, "low-pass corner ahead of the sampling") | None = None

    def si(self):
        """The logger as a record."""
        return Logger(self.rate_hz, inf if self.filter_hz is None else self.filter_hz)


class TankSpec(Written):
    """`[tanks.NAME]`: one ballast tank."""

    mass_kg: number(1, 20000, "kg when full")
    from_transom_m: number(0, 60, "metres, centre of the tank")
    to_leeward_m: number(-10, 10, "metres from the centre line, + on the working foil's side") = 0.0
    height_m: number(-3, 10, "metres above the lowest keel point; as the boat's own centre unless said") | None = None

    def si(self, name, cg_height):
        """The tank `name` as a record; `cg_height` [m] of the boat's centre of gravity above the lowest keel point."""
        height = cg_height if self.height_m is None else self.height_m
        return Tank(name, self.mass_kg, self.from_transom_m, self.to_leeward_m, height)


class WorkedSpec(Written):
    """`[worked.NAME]`: range, tolerance and step of one setting, as a crew can set it.

    The step is the size of a move that `[moves]` does not say, and half of it off is a change in a recorded log.
    """

    least: number(-100, 100, "in the unit of the setting")
    most: number(-100, 100, "in the unit of the setting")
    step: number(0.001, 100, "in the unit of the setting") | None = None
    tolerance: number(0, 100, "in the unit of the setting") = 0.0

    @model_validator(mode="after")
    def _least_below_most(self):
        if self.least >= self.most:
            raise Refused("least", self.least, "must be below most")
        for name in ("step", "tolerance"):
            if (getattr(self, name) or 0.0) > self.most - self.least:
                raise Refused(name, getattr(self, name), f"must be at most the range, {self.most - self.least:g}")
        return self


class BoatSpec(Written):
    """The boat file."""

    name: str = Field(pattern=SLUG, description="small letters, digits and hyphens, 1 to 60 of them")
    mass_kg: number(200, 100000, "kg, all up")
    pitch_gyradius_m: number(0.5, 20, "metres")
    yaw_gyradius_m: number(0.5, 20, "metres; as for pitch unless said") | None = None
    roll_inertia_kg_m2: number(100, 1e8, "kg m2 about the centre of gravity")
    cg_from_transom_m: number(0.5, 40, "metres")
    cg_height_m: number(-3, 5, "metres above the lowest keel point of the hull, keel upright")
    bulb_mass_kg: number(0, 50000, "kg") = 0.0
    speed_table: str | None = Field(default=None, description="path of a CSV, from the folder of this file")
    rig: RigSpec
    motion: MotionSpec = MotionSpec()
    steering: SteeringSpec = SteeringSpec()
    hull: HullSpec
    keel: SurfaceSpec
    rudder: SurfaceSpec
    foil: dict[Literal["port", "starboard"], FoilSpec] = Field(
        min_length=1, description="[foil.port] and [foil.starboard]"
    )
    validity: ValiditySpec = ValiditySpec()
    sensors: SensorsSpec | None = None
    logger: LoggerSpec | None = None
    moves: MovesSpec = MovesSpec()
    tanks: dict[str, TankSpec] = {}
    worked: dict[WorkedName, WorkedSpec] = {}
    uncertain: Doubts = {}

    @model_validator(mode="after")
    def _parts_lie_within_the_boat(self):
        if self.cg_from_transom_m >= self.hull.length_m:
            length = self.hull.length_m
            raise Refused("cg_from_transom_m", self.cg_from_transom_m, f"must be under length_m, {length:g}")
        if self.bulb_mass_kg >= self.mass_kg:
            raise Refused("bulb_mass_kg", self.bulb_mass_kg, "must be under mass_kg")
        return self

    @model_validator(mode="after")
    def _worked_within_what_a_setting_may_be(self):
        for name, worked in self.worked.items():
            low, high = SETTING_RANGE[name]
            for end in ("least", "most"):
                if not low <= getattr(worked, end) <= high:
                    raise Refused(f"worked.{name}.{end}", getattr(worked, end), f"allowed is {low:g} to {high:g}")
        return self

    @model_validator(mode="after")
    def _no_foil_is_too_long(self):
        for side, foil in self.foil.items():
            if foil.outside_length > MOST_REACH_M:
                allowed = f"the foil is {foil.outside_length:g} m long outside; allowed is {MOST_REACH_M:g} m"
                raise Refused(f"foil.{side}.tip_length_m", foil.tip_length_m, allowed)
        return self

    @model_validator(mode="after")
    def _every_foil_has_the_reference_setting(self):
        asked = self.rig.reference_extension_percent
        for foil in self.foil.values():
            if asked < foil.least_extension_percent - 1e-9:
                allowed = f"a foil of this boat works from {foil.least_extension_percent:g} to 100 percent"
                raise Refused("rig.reference_extension_percent", asked, allowed)
        return self

    @model_validator(mode="after")
    def _can_be_a_boat(self):
        refuse_no_boat(self, heel_window=self.heel_window)
        return self

    @model_validator(mode="after")
    def _spreads_have_their_unit(self):
        refuse_other_unit(self.uncertain)
        return self

    @model_validator(mode="after")
    def _a_step_that_nothing_takes_is_retired(self):
        for name in ("heel_deg", "speed_knots"):
            if name in self.worked and self.worked[name].step is not None:
                allowed = "retired: knots and degrees of [moves] say how far a step goes"
                raise Refused(f"worked.{name}.step", self.worked[name].step, allowed)
        return self

    @property
    def heel_window(self):
        """(least, most) [rad] of heel that this boat is worked out for."""
        return self.window("heel_deg", self.rig.reference_heel_deg, USUAL_HEEL)

    def window(self, name, reference, usual):
        """(least, most) [rad] of heel or cant that the waves at the boat are worked out for.

        `usual` [rad], widened by what is worked with its tolerance and by the `reference` [deg] of the rig.
        """
        worked = self.worked.get(name)
        ends = [reference * DEGREE]
        if worked is not None:
            ends += [(worked.least - worked.tolerance) * DEGREE, (worked.most + worked.tolerance) * DEGREE]
        return min(usual[0], *ends), max(usual[1], *ends)

    def si(self, *, raw, speed_table=None):
        """The boat as a record; `raw` is the file as written, `speed_table` a record read from its CSV."""
        rig, motion, effort = self.rig, self.motion, self.rig.effort_from_transom_m
        return Boat(
            mass=self.mass_kg,
            pitch_gyradius=self.pitch_gyradius_m,
            yaw_gyradius=self.pitch_gyradius_m if self.yaw_gyradius_m is None else self.yaw_gyradius_m,
            roll_inertia=self.roll_inertia_kg_m2,
            cg_from_transom=self.cg_from_transom_m,
            cg_height=self.cg_height_m,
            bulb_mass=self.bulb_mass_kg,
            sail_height=rig.sail_height_m,
            effort_from_transom=self.keel.root_from_transom_m if effort is None else effort,
            reference_thrust=rig.reference_thrust_n,
            reference_speed=rig.reference_speed_knots * KNOT,
            thrust_slope=rig.thrust_slope,
            thrust_per_righting=rig.thrust_per_righting,
            reference_wind_speed=rig.reference_wind_speed_knots * KNOT,
            reference_wind_angle=radians(rig.reference_wind_angle_deg),
            reference_setting=rig.reference_setting(),
            rig_pitch_damping=rig.pitch_damping_n_m_s_per_rad,
            rig_roll_damping=rig.roll_damping_n_m_s_per_rad,
            trim_time=inf if rig.trim_s == "never" else rig.trim_s,
            steering=self.steering.si(),
            surge_added_mass=motion.surge_added_mass,
            mast_from_transom=share_of_length(motion.mast_from_transom_m, MAST_SHARE, self.hull.length_m),
            cockpit_from_transom=share_of_length(motion.cockpit_from_transom_m, COCKPIT_SHARE, self.hull.length_m),
            windage_area=motion.other_drag_area_m2,
            hump_resistance=motion.hump_resistance,
            speed_hold_rate=motion.speed_hold_n_per_s_per_m_per_s,
            speed_hold_bound=motion.speed_hold_most_n,
            heel_hold_rate=motion.heel_hold_n_m_per_s_per_rad,
            heel_hold_bound=motion.heel_hold_most_n_m,
            hull=self.hull.si(),
            keel=self.keel.si(),
            rudder=self.rudder.si(),
            foils={side: foil.si() for side, foil in sorted(self.foil.items())},
            limits_of_validity=self.validity.si(),
            raw=raw,
            sensors=self.sensors.si() if self.sensors else None,
            logger=self.logger.si() if self.logger else None,
            moves=self.moves.si(self.worked),
            tanks=tuple(tank.si(name, self.cg_height_m) for name, tank in self.tanks.items()),
            uncertain=tuple(doubt.si(name) for name, doubt in self.uncertain.items()),
            speed_table=speed_table,
            heel_window=self.heel_window,
            cant_window=self.window("cant_deg", rig.reference_cant_deg, USUAL_CANT),
            worked={WORKED_UNIT[name][0]: worked_si(name, spec) for name, spec in self.worked.items()},
        )


def share_of_length(said, share, length):
    """A place from the transom [m]: as `said`, else a `share` [-] of the `length` [m]."""
    return share * length if said is None else said


def worked_si(name, spec):
    """A worked range in the SI unit of its setting; `name` the setting as in `WORKED_UNIT`, `spec` a `WorkedSpec`."""
    unit = WORKED_UNIT[name][1]
    return WorkedRange(spec.least * unit, spec.most * unit, spec.tolerance * unit, spec.step and spec.step * unit)
