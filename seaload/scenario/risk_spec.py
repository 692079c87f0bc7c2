"""What the crew accepts, how much sea to sail through, the gust, and the switches of the model."""

from math import inf
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR, PERCENT
from seaload.scenario.crew_records import UncertainInput
from seaload.scenario.records import Gust, RiskLevels, Sampling
from seaload.scenario.written import Refused, Written, number

UncertainName = Literal[
    "lift_slope",
    "steering_gain",
    "cavitation_limit",
    "rake_zero",
    "second_order_crests",
    "roll_inertia",
    "forecast_hs",
    "forecast_tp",
    "forecast_heading",
    "limit_normal",
    "limit_reverse",
    "tail_level",
    "wind_sea_share",
    "hull_damping",
    "hull_wave_force",
    "ultimate_over_normal_limit",
    "ultimate_over_reverse_limit",
]
ANGLES = ("rake_zero", "forecast_heading")  # their spread is told in degrees

RETIRED_DOUBTS = {
    "sway_following": "the boat sways by herself; steering_gain doubts how she is kept on her heading",
    "yaw_fluctuation": "the boat yaws by herself; steering_gain doubts how she is kept on her heading",
}


def no_retired_doubt(tables):
    """The `tables` of [uncertain] themselves; Refused where one is of an input that has retired."""
    for name in tables if isinstance(tables, dict) else ():
        if name in RETIRED_DOUBTS:
            raise Refused(name, "this table", f"this name has retired: {RETIRED_DOUBTS[name]}")
    return tables


CONFIDENCE_PERCENT = 95.0


class RiskSpec(Written):
    """`[risk]`: the odds the crew accepts in the exposure time."""

    exposure_hours: number(0.01, 10000, "hours") = 3.0
    reverse_odds: number(1e-9, 0.999, "odds of at least one reverse event past the limit") = 0.02
    normal_odds: number(1e-9, 0.999, "odds of at least one event past the normal limit") = 0.02
    wear_swings_per_hour: number(1e-9, 1e6, "full-load swings an hour of wear at the worst place") | None = None
    sea_growth_m_per_hour: number(0, 10, "metres an hour that the sea grows while the slowest move is made") = 1.0
    judge_by: Literal["all-told", "bound"] = "all-told"
    confidence_percent: number(50, 99.9, 'percent, one-sided, with judge_by = "bound"; 95 if left out') | None = None

    @model_validator(mode="after")
    def _confidence_goes_with_bound(self):
        if self.confidence_percent is not None and self.judge_by != "bound":
            raise Refused("confidence_percent", self.confidence_percent, 'goes with judge_by = "bound"')
        return self

    def si(self):
        """The levels as a record."""
        growth = self.sea_growth_m_per_hour / HOUR
        wear = inf if self.wear_swings_per_hour is None else self.wear_swings_per_hour * FULL_LOAD_SHARE / HOUR
        sure = self.confidence_percent or CONFIDENCE_PERCENT
        confidence = sure * PERCENT if self.judge_by == "bound" else 0.0
        return RiskLevels(
            self.exposure_hours * HOUR, self.reverse_odds, self.normal_odds, wear, growth, confidence
        )


class SamplingSpec(Written):
    """`[sampling]`: how many hours of each sea, and the seed.

    With `precision_percent` settings of a grid that are decided early get less than `hours`, without it every one gets
    them; with `max_hours` those that are not decided by then get more.
    """

    seed: int = Field(default=1, ge=0, le=10**15, description="of the random streams")
    hours: number(0.001, 10000, "hours of sea for each setting and sea") = 3.0
    precision_percent: number(0.1, 100, "percent, half width of the interval to reach") | None = None
    max_hours: number(0.001, 100000, "hours, most to spend for a setting and sea") | None = None
    realisation_minutes: number(1, 60, "minutes kept of each realisation") = 20.0
    run_in_s: number(120, 1200, "seconds discarded before each; 180 or more in violent seas") = 180.0
    step_s: number(0.002, 0.05, "seconds, time step of the march") = 0.02
    components: int = Field(default=240, ge=24, le=5000, description="wave components of a sea")

    @model_validator(mode="after")
    def _budget_is_clear(self):
        if self.max_hours is not None and self.max_hours < self.hours:
            raise Refused("max_hours", self.max_hours, f"must be at least hours, {self.hours:g}")
        return self

    def realisations(self, hours):
        """Number of whole realisations that make up at least `hours` [h]."""
        return max(1, -int(-(hours * 60.0 / self.realisation_minutes) // 1))

    def si(self, seed=None):
        """The budget as a record; `seed` from the command line goes before the one written."""
        most = self.realisations(self.max_hours) if self.max_hours is not None else 0
        return Sampling(
            seed=self.seed if seed is None else seed,
            realisations=self.realisations(self.hours),
            realisation_time=self.realisation_minutes * 60.0,
            run_in=self.run_in_s,
            step=self.step_s,
            components=self.components,
            precision=(self.precision_percent or 0.0) * PERCENT,
            most_realisations=most,
        )


class GustSpec(Written):
    """`[gust]`: the one gust, or lull, that every candidate is run through."""

    strength_percent: number(-100, 200, "percent of the true wind speed added; below 0 a lull") = 30.0
    rise_s: number(0.1, 120, "seconds") = 5.0
    hold_s: number(0, 600, "seconds") = 20.0
    ease_after_s: number(0, 600, "seconds until the sheets are eased") | Literal["never"] = "never"

    @model_validator(mode="after")
    def _sheets_are_eased_in_a_gust(self):
        if self.strength_percent < 0.0 and self.ease_after_s != "never":
            raise Refused("ease_after_s", self.ease_after_s, "leave it out: in a lull there is nothing to ease")
        return self

    def si(self):
        """The gust as a record."""
        ease = inf if self.ease_after_s == "never" else self.ease_after_s
        return Gust(self.strength_percent * PERCENT, self.rise_s, self.hold_s, ease)


class ModelSpec(Written):
    """`[model]`: named choices of the physics; the defaults are the full model."""

    roll: Literal["free", "fixed"] = "free"
    surge: Literal["free", "fixed"] = "free"
    speed: Literal["held", "free"] = "held"
    keel_fin: Literal["on", "off"] = "on"
    rudders: Literal["on", "off"] = "on"
    lag: Literal["on", "off"] = "on"
    lift_limits: Literal["on", "off"] = "on"
    free_surface: Literal["finite-froude", "high-froude"] = "finite-froude"
    bending: Literal["mode", "quasi-static"] = "mode"
    wind: Literal["steady", "gusts"] = "steady"
    amplitudes: Literal["random", "fixed"] = "random"
    leeway: Literal["balanced", "held"] = "balanced"
    held_leeway_deg: number(-5, 10, 'degrees, with leeway = "held"') | None = None

    @model_validator(mode="after")
    def _angle_goes_with_held(self):
        if self.held_leeway_deg is not None and self.leeway != "held":
            raise Refused("held_leeway_deg", self.held_leeway_deg, 'goes with leeway = "held"')
        return self

    def si(self):
        """The choices as a dictionary of names, and the number that one of them takes [rad]."""
        choices = self.model_dump(exclude={"held_leeway_deg"})
        stated = {} if self.held_leeway_deg is None else {"held_leeway": self.held_leeway_deg * DEGREE}
        return {**choices, **stated}


class UncertainSpec(Written):
    """`[uncertain.NAME]`: how far off one input may be, with the reason for the number."""

    distribution: Literal["normal", "uniform"] = "normal"
    spread_percent: number(0, 80, "percent of the value") | None = None
    spread_deg: number(0, 45, "degrees") | None = None
    reason: str = Field(default="", max_length=500)

    @model_validator(mode="after")
    def _one_spread(self):
        if (self.spread_percent is None) == (self.spread_deg is None):
            raise ValueError("give spread_percent or spread_deg, one of the two")
        return self

    def si(self, name):
        """The doubt about the input `name` as a record."""
        if self.spread_percent is not None:
            return UncertainInput(
                name, self.distribution, self.spread_percent * PERCENT, "factor", self.reason
            )
        return UncertainInput(name, self.distribution, self.spread_deg * DEGREE, "shift", self.reason)


Doubts = Annotated[dict[UncertainName, UncertainSpec], BeforeValidator(no_retired_doubt)]


def refuse_other_unit(uncertain):
    """Refused where the spread of an angle is told in percent, or that of anything else in degrees."""
    for name, doubt in uncertain.items():
        missing, other = ("deg", "percent") if name in ANGLES else ("percent", "deg")
        written = getattr(doubt, f"spread_{other}")
        if written is not None:
            raise Refused(f"uncertain.{name}.spread_{other}", written, f"write spread_{missing}")


SEA_DOUBT = {  # of a sea that says nothing of it, beside the forecast's
    "tail_level": UncertainSpec(spread_percent=30.0, reason="level of the equilibrium range, from memory"),
    "wind_sea_share": UncertainSpec(spread_percent=30.0, reason="partitions of a forecast, from memory"),
}
