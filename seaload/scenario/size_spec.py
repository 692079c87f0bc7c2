"""A study that sizes a foil, as a person writes it: usage, targets, design situations, what to compare."""

from math import nan
from typing import Annotated, Literal

from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR, PERCENT
from seaload.scenario.forecast_spec import FORECAST
from seaload.scenario.prescribed_spec import MOST_MOTIONS, PrescribedSpec
from seaload.scenario.risk_spec import Doubts, GustSpec, ModelSpec, RiskSpec, SamplingSpec, refuse_other_unit
from seaload.scenario.sea_spec import SeaSpec
from seaload.scenario.setting_spec import SettingsSpec
from seaload.scenario.size_records import USAGE, FoilChange, Rig, Targets
from seaload.scenario.written import SLUG, Refused, Written, number, number_over

MOST_SITUATIONS, MOST_COMPARED, MOST_CHANGES = 60, 8, 12
TABLES = ("usage_sea", "settings", "risk", "sampling", "targets", "rig", "model")
Edges = Annotated[
    list[number(0, 30, "metres, significant wave height")],
    Field(min_length=2, max_length=30, description="rising edges in metres of the bands of height that are one sea"),
]


class TargetsSpec(Written):
    """`[targets]`: what the foil is to stand in a season."""

    season_hours: number_over(0, 1e6, "hours at sea in the season") = 1000.0
    reverse_odds: number(1e-6, 0.9, "odds of passing a reverse limit at any place in the season") = 0.02
    normal_odds: number(1e-6, 0.9, "odds of passing a normal limit at any place in the season") = 0.02
    wear_cycles: number_over(0, 1e9, "full-load cycles of wear allowed at any place in the season") = 10000.0

    def si(self):
        """The targets as a record."""
        wear = self.wear_cycles * FULL_LOAD_SHARE
        return Targets(self.season_hours * HOUR, self.reverse_odds, self.normal_odds, wear)


class UsageSeaSpec(Written):
    """`[usage_sea]`: what every sea of the table has in common."""

    spectrum: Literal["jonswap", "bretschneider"] = "jonswap"
    gamma: number(1, 10, "peak enhancement, of jonswap") = 3.3
    spreading_s: number(0.1, 1000, "s of cos-2s spreading") | Literal["long-crested"] = 10.0
    true_wind_speed_knots: number(0, 80, "knots") | None = None
    height_edges_m: Edges = [0.0, 1.0, 2.0, 3.0, 4.0, 6.0, 30.0]
    periods: int = Field(default=2, ge=1, le=6, description="seas of different period in a band of height, 1 to 6")

    @model_validator(mode="after")
    def _edges_rise(self):
        if any(not b > a for a, b in zip(self.height_edges_m, self.height_edges_m[1:], strict=False)):
            raise Refused("height_edges_m", self.height_edges_m, "the numbers must rise")
        return self


class HeadingSpec(Written):
    """`[[heading]]`: a share of the time with the waves from there."""

    waves_from_bow_deg: number(-180, 180, "degrees, 0 = from dead ahead, + from windward")
    share_percent: number_over(0, 100, "percent of the time")
    true_wind_angle_deg: number(0, 180, "degrees from the bow, on the windward side") | None = None


class SituationSpec(Written):
    """`[[situation]]`: a design situation, by its share of the time or by how often it is met in a season."""

    name: str = Field(min_length=1, max_length=60, description="what the situation is called")
    sea: str | None = Field(default=None, description='name of a [[sea]], or "usage": all seas of the table')
    motion: str | None = Field(default=None, description="name of a [[prescribed]] motion, in place of a sea")
    setting: SettingsSpec | None = Field(default=None, description="a table of one setting")
    gust: GustSpec | None = Field(default=None, description="a table of the gust, or lull, that each realisation meets")
    share_percent: number_over(0, 100, "percent of the season") | None = None
    times_per_season: number_over(0, 1e6, "times a season") | None = None
    analysis: Literal["ultimate", "fatigue", "both"] = "ultimate"
    realisations: int = Field(default=16, ge=5, le=512, description="of the sea, 5 to 512")
    partial_factor: number(0.1, 5, "factor on the loads") = 1.0
    origin: str = Field(default="", max_length=200, description="where the factor is from")

    @model_validator(mode="after")
    def _is_one_thing(self):
        if (self.sea is None) == (self.motion is None):
            raise Refused("sea", self.sea or "missing", "give sea or motion, one of the two")
        if self.sea == USAGE:
            for key in ("setting", "gust", "share_percent", "times_per_season"):
                if getattr(self, key) is not None:
                    raise Refused(key, "written", 'leave it out: sea = "usage" has the table\'s shares and settings')
            if "realisations" in self.model_fields_set:
                raise Refused("realisations", self.realisations, 'leave it out: sea = "usage" follows [sampling]')
            return self
        met_times = self.gust is not None or self.motion is not None
        wanted, other = ("times_per_season", "share_percent") if met_times else ("share_percent", "times_per_season")
        if getattr(self, other) is not None:
            raise Refused(other, getattr(self, other), f"write {wanted}: gusts and motions come so many times")
        if getattr(self, wanted) is None:
            raise Refused(wanted, "missing", "how often the situation is met")
        if met_times and self.analysis != "ultimate":
            raise Refused("analysis", self.analysis, '"ultimate": single events hold too few cycles to wear the foil')
        if self.motion is not None and self.gust is not None:
            raise Refused("gust", "written", "goes with sea, not with motion")
        if self.setting is not None and self.setting.count != 1:
            raise Refused("setting", self.setting.count, "one setting, no lists")
        if self.setting is not None and self.setting.tanks is not None:
            raise Refused("setting.tanks", "written", "give ballast_shift_m")
        return self


class ChangeSpec(Written):
    """`[[change]]`: what the designer asks about."""

    name: str = Field(min_length=1, max_length=60, description="what the change is called")
    tip_chord_percent: number(-50, 100, "percent of the chord at the tip, none at the bearing") = 0.0
    tip_angle_deg: number(-30, 30, "degrees added to the dihedral of the tip") = 0.0
    stiffness_percent: number(-80, 300, "percent of Young's modulus") = 0.0
    hs_percent: number(-80, 100, "percent of every significant wave height") = 0.0

    @model_validator(mode="after")
    def _changes_something(self):
        if not (self.tip_chord_percent or self.tip_angle_deg or self.stiffness_percent or self.hs_percent):
            raise Refused("name", self.name, "nothing is changed: give tip_chord_percent, tip_angle_deg, ...")
        return self

    def si(self):
        """The change as a record."""
        return FoilChange(
            self.name, self.tip_chord_percent * PERCENT, self.tip_angle_deg * DEGREE,
            self.stiffness_percent * PERCENT, self.hs_percent * PERCENT,
        )  # fmt: skip


class RigSpec(Written):
    """`[rig]`: the place and slope that the block programme is for."""

    station: int = Field(default=2, ge=0, le=50, description="strain station from the root, 0 = the moving bearing")
    slope: number(3, 25, "of the S-N curve; the foil's own when not said") | None = None
    steps: int = Field(default=8, ge=3, le=40, description="steps of load, 3 to 40")
    repeats: int = Field(default=10, ge=1, le=1000, description="repeats of the programme, 1 to 1000")

    def si(self):
        """The test as a record."""
        return Rig(self.station, nan if self.slope is None else self.slope, self.steps, self.repeats)


class SizeSpec(Written):
    """The file of `seaload size`. Needed are name, boat, usage, [[heading]] and [settings]."""

    name: str = Field(pattern=SLUG, description="small letters, digits and hyphens, 1 to 60 of them")
    boat: str = Field(min_length=1, description="path of the boat file, from the folder of this file")
    foil: Literal["port", "starboard"] = Field(
        default="port", description="the working (leeward) foil: port on starboard tack"
    )
    usage: str = Field(min_length=1, description="path of a scatter table (CSV) of heights and periods")
    usage_sea: UsageSeaSpec = UsageSeaSpec()
    heading: list[HeadingSpec] = Field(min_length=1, max_length=24, description="one or more [[heading]] tables")
    settings: SettingsSpec = Field(description="a [settings] table: the grid that a setting is chosen from in each sea")
    choosing_hours: number(0.1, 100, "hours of each sea and setting that the choice is made by") = 1.0
    targets: TargetsSpec = TargetsSpec()
    compare: list[str] = Field(default=[], max_length=MOST_COMPARED, description="paths of other boat files")
    change: list[ChangeSpec] = Field(default=[], max_length=MOST_CHANGES, description="[[change]] tables")
    situation: list[SituationSpec] = Field(default=[], max_length=MOST_SITUATIONS, description="[[situation]] tables")
    sea: list[SeaSpec] = Field(default=[], max_length=MOST_SITUATIONS, description="[[sea]] tables of the situations")
    prescribed: list[PrescribedSpec] = Field(
        default=[], max_length=MOST_MOTIONS, description=f"at most {MOST_MOTIONS} [[prescribed]] tables"
    )
    rig: RigSpec = RigSpec()
    risk: RiskSpec = RiskSpec()
    sampling: SamplingSpec = SamplingSpec()
    model: ModelSpec = ModelSpec()
    uncertain: Doubts = {}

    @model_validator(mode="after")
    def _names_are_unique(self):
        for key in ("sea", "prescribed", "situation", "change"):
            names = [each.name for each in getattr(self, key)]
            for name in names:
                if names.count(name) > 1:
                    raise Refused(key, name, "two of these tables have this name")
        for each in self.sea:
            if each.name == USAGE or each.name.startswith("usage "):
                raise Refused("sea", each.name, 'another name: those of the table\'s seas begin with "usage"')
        return self

    @model_validator(mode="after")
    def _situations_name_what_is_there(self):
        seas, motions = [each.name for each in self.sea], [each.name for each in self.prescribed]
        for i, one in enumerate(self.situation, start=1):
            if one.sea is not None and one.sea != USAGE and one.sea not in seas:
                raise Refused(f"situation[{i}].sea", one.sea, f'"usage" or a [[sea]]: {", ".join(seas) or "none"}')
            if one.motion is not None and one.motion not in motions:
                allowed = f"the name of a [[prescribed]]: {', '.join(motions) or 'none'}"
                raise Refused(f"situation[{i}].motion", one.motion, allowed)
        usage = [one for one in self.situation if one.sea == USAGE]
        if len(usage) > 1:
            raise Refused("situation", usage[1].name, 'one situation with sea = "usage" is enough')
        for key, used in (("sea", {one.sea for one in self.situation}),
                          ("prescribed", {one.motion for one in self.situation})):  # fmt: skip
            for each in getattr(self, key):
                if each.name not in used:
                    raise Refused(key, each.name, "no [[situation]] names it")
        return self

    @model_validator(mode="after")
    def _shares_are_whole(self):
        total = sum(each.share_percent for each in self.heading)
        if abs(total - 100.0) > 0.01:
            raise Refused("heading", f"{total:g} percent in all", "shares of 100 percent together")
        taken = sum(one.share_percent or 0.0 for one in self.situation)
        if not taken < 100.0:
            raise Refused("situation", f"{taken:g} percent in all", "shares under 100 percent: the rest is the usage")
        for key in ("precision_percent", "max_hours"):
            if getattr(self.sampling, key) is not None:
                raise Refused(f"sampling.{key}", getattr(self.sampling, key), "leave it out: hours counts here")
        for name in FORECAST:
            if name in self.uncertain:
                raise Refused(f"uncertain.{name}", "this table", "leave it out: a season's seas are those of the table")
        refuse_other_unit(self.uncertain)
        return self

    def defaults_used(self):
        """Plain lines "key = value" for every default that the study leaves unsaid."""
        lines = [] if "foil" in self.model_fields_set else [f"foil = {self.foil}"]
        if "choosing_hours" not in self.model_fields_set:
            lines.append(f"choosing_hours = {self.choosing_hours}")
        for table in TABLES:
            part = getattr(self, table)
            lines += [
                f"{table}.{key} = {getattr(part, key)}"
                for key in type(part).model_fields
                if key not in part.model_fields_set and getattr(part, key) is not None
            ]
        return tuple(lines)
