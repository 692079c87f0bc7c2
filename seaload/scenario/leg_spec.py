"""The description of a leg, as a person writes it: LEG.toml."""

from datetime import UTC, datetime
from math import inf, radians
from pathlib import Path

from pydantic import Field, model_validator

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR, KNOT, MINUTE, PERCENT
from seaload.scenario.forecast_spec import ForecastSpec
from seaload.scenario.instants import utc_seconds
from seaload.scenario.leg_records import Leg, LegBudget, LegCheck, LegSegment, Sails, Steady
from seaload.scenario.read_boat import read_boat
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.setting_spec import ATTAINABLE, SETTING_RANGE, SettingsSpec
from seaload.scenario.study_spec import LIBRARY
from seaload.scenario.written import SLUG, Refused, Written, as_list, number, number_over

NAUTICAL_MILE = 1852.0  # [m] exact
MOST_SEGMENTS = 500
USUAL_STRETCH_NM = 20.0  # of a track between changes: an hour or more; our own choice
MOST_SETTINGS = 300  # to choose from
LIMITED = {  # keys that a segment may bound: (SETTING name, its size in SI)
    "extension_percent": ("extension", PERCENT), "rake_deg": ("rake", DEGREE), "speed_knots": ("speed_set", KNOT),
}  # fmt: skip
Moment = datetime | str


def bound(key, word):
    """Kind of one end of what a segment allows of a setting's `key`; `word` is least or most."""
    low, high = SETTING_RANGE[key]
    return number(low, high, f"{key.rpartition('_')[2]}, {word} on this segment")


class SegmentSpec(Written):
    """`[[segment]]`: one stretch on one heading."""

    heading_deg_true: number(0, 360, "degrees true, the way over ground")
    distance_nm: number_over(0, 3000, "nautical miles over ground")
    change: bool = Field(default=True, description="true or false: whether the setting may be changed at its start")
    least_extension_percent: bound("extension_percent", "least") | None = None
    most_extension_percent: bound("extension_percent", "most") | None = None
    least_rake_deg: bound("rake_deg", "least") | None = None
    most_rake_deg: bound("rake_deg", "most") | None = None
    least_speed_knots: bound("speed_knots", "least") | None = None
    most_speed_knots: bound("speed_knots", "most") | None = None

    @model_validator(mode="after")
    def _ends_rise(self):
        for key in LIMITED:
            least, most = self.ends(key)
            if not least <= most:
                raise Refused(f"least_{key}", least, f"must be at most most_{key}, {most:g}")
        return self

    def ends(self, key):
        """(least, most) of a setting's `key` as written, open where nothing was."""
        least, most = getattr(self, f"least_{key}"), getattr(self, f"most_{key}")
        return (-inf if least is None else least, inf if most is None else most)

    def si(self):
        """The segment as a record."""
        limits = {}
        for key, (name, size) in LIMITED.items():
            least, most = self.ends(key)
            if least > -inf or most < inf:
                limits[name] = (least * size, most * size)
        return LegSegment(radians(self.heading_deg_true), self.distance_nm * NAUTICAL_MILE, self.change, limits)


class BudgetSpec(Written):
    """`[budget]`: what the whole leg may spend; what is not said is not bounded."""

    reverse_odds: number(0, 0.999, "odds of at least one reverse event past the limit on the leg") | None = None
    normal_odds: number(0, 0.999, "odds of at least one event past the normal limit on the leg") | None = None
    wear_cycles: number(0, 1e12, "full-load cycles of wear of each foil at the place that wears most") | None = None

    def si(self):
        """The budget as a record."""
        wear = inf if self.wear_cycles is None else self.wear_cycles * FULL_LOAD_SHARE
        odds = [1.0 if value is None else value for value in (self.reverse_odds, self.normal_odds)]
        return LegBudget(*odds, wear)


class CrewSpec(Written):
    """`[crew]`: what the crew can do."""

    least_minutes: number(0, 1440, "minutes between two changes of the setting") = 60.0


class WindSpec(Written):
    """`[wind]`: the same wind all along, for a forecast without one."""

    from_deg_true: number(0, 360, "degrees true the wind comes from")
    speed_knots: number(0, 80, "knots")


class CurrentSpec(Written):
    """`[current]`: the same current all along, for a forecast without one."""

    to_deg_true: number(0, 360, "degrees true the current goes to")
    speed_knots: number(0, 10, "knots")


class CheckSpec(Written):
    """`[check]`: the plan marched again in pieces of 20 minutes."""

    marches: int = Field(default=8, ge=0, le=16, description="of each piece that is checked; 0 = no check")
    seed: int = Field(default=1, ge=0, le=10**15, description="of the random streams")


class LegSpec(Written):
    """The description file. Needed are name, boat, library, forecast, the start, segments or a track, and settings."""

    name: str = Field(pattern=SLUG, description="small letters, digits and hyphens, 1 to 60 of them")
    boat: str = Field(min_length=1, description="path of the boat file, from the folder of this file")
    library: str = Field(pattern=LIBRARY, description="name of the boat's library in the results folder, as in demo.nc")
    forecast: str = Field(min_length=1, description="path of the forecast, netCDF, from the folder of this file")
    forecast_utc: Moment | None = Field(default=None, description="moment the forecast starts from, UTC")
    start_utc: Moment = Field(description="moment, UTC, such as 2026-03-13T05:40Z")
    start_latitude_deg: number(-80, 80, "degrees, north +") | None = None
    start_longitude_deg: number(-180, 360, "degrees, east +") | None = None
    track: str | None = Field(default=None, description="path of a CSV or GPX track, from the folder of this file")
    stretch_nm: number(1, 500, "nautical miles of a track between places where the setting may change") | None = None
    segment: list[SegmentSpec] = Field(default=[], max_length=MOST_SEGMENTS, description="[[segment]] tables")
    settings: SettingsSpec = Field(description="a [settings] table: what may be chosen from")
    budget: BudgetSpec = BudgetSpec()
    crew: CrewSpec = CrewSpec()
    wind: WindSpec | None = Field(default=None, description="a [wind] table")
    current: CurrentSpec | None = Field(default=None, description="a [current] table")
    later_start_hours: list[number_over(0, 240, "hours after the start")] = Field(
        default=[], max_length=8, description="later starts that are looked at too"
    )
    forecast_error: ForecastSpec = ForecastSpec()
    check: CheckSpec = CheckSpec()

    @model_validator(mode="after")
    def _one_way(self):
        written = {"track": self.track is not None, "segment": bool(self.segment)}
        if all(written.values()):
            raise Refused("track", self.track, "give a track or [[segment]] tables, not both")
        if not any(written.values()):
            raise Refused("segment", "missing", "needed: [[segment]] tables, or track, a CSV or GPX file")
        if self.stretch_nm is not None and self.track is None:
            raise Refused("stretch_nm", self.stretch_nm, "goes with track; [[segment]] tables have their own distances")
        for key in ("start_latitude_deg", "start_longitude_deg"):
            if (getattr(self, key) is None) == bool(self.segment):
                allowed = "needed with [[segment]] tables" if self.segment else "leave it out: the track says where"
                raise Refused(key, getattr(self, key) if not self.segment else "missing", allowed)
        return self

    @model_validator(mode="after")
    def _settings_can_be_planned(self):
        if ATTAINABLE in as_list(self.settings.speed_knots):
            allowed = "numbers: the library tells which speeds are held"
            raise Refused("settings.speed_knots", ATTAINABLE, allowed)
        if self.settings.tanks is not None:
            raise Refused("settings.tanks", "this table", "ballast_shift_m: a library has no water in tanks")
        if self.settings.count > MOST_SETTINGS:
            raise Refused("settings", self.settings.count, f"at most {MOST_SETTINGS} settings to choose from")
        return self

    @model_validator(mode="after")
    def _moments_can_be_read(self):
        for key in ("start_utc", "forecast_utc"):
            moment = getattr(self, key)
            if moment is not None and seconds_of(moment) is None:
                raise Refused(key, str(moment), "a moment in UTC such as 2026-03-13T05:40Z")
        return self

    def defaults_used(self):
        """Plain lines "key = value" for every default that the file leaves unsaid."""
        lines = [f"stretch_nm = {USUAL_STRETCH_NM:g}"] if self.track and self.stretch_nm is None else []
        for table in ("settings", "crew", "forecast_error", "check"):
            part = getattr(self, table)
            lines += [f"{table}.{key} = {getattr(part, key)}" for key in type(part).model_fields
                      if key not in part.model_fields_set and getattr(part, key) is not None]  # fmt: skip
        return tuple(lines)


def seconds_of(moment):
    """Seconds since 1970-01-01 UTC of a `moment` that names no zone but UTC; None when it is none."""
    try:
        return utc_seconds(moment, UTC)
    except (ValueError, TypeError, OverflowError, OSError, AttributeError):
        return None


def is_there(path):
    """Whether there is such a file; there is none of a name that no disk takes."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def read_leg_spec(path):
    """`Leg` of a description file; InputError when anything in it or in the boat file is wrong."""
    path = Path(path)
    tables = read_tables(path)
    spec = checked(LegSpec, tables, path)
    boat_spec, boat = read_boat(path.parent / spec.boat)
    for key in ("forecast", "track"):
        written = getattr(spec, key)
        if written is not None and not is_there(path.parent / written):
            raise InputError(shown(path), key, written, "no such file")
    wind, current = spec.wind, spec.current
    place = () if spec.track else (radians(spec.start_latitude_deg), radians(spec.start_longitude_deg))
    return Leg(
        file=path,
        name=spec.name,
        boat=boat,
        boat_name=boat_spec.name,
        library=spec.library,
        forecast=path.parent / spec.forecast,
        forecast_made=None if spec.forecast_utc is None else seconds_of(spec.forecast_utc),
        start=seconds_of(spec.start_utc),
        start_place=place,
        segments=tuple(segment.si() for segment in spec.segment),
        track=path.parent / spec.track if spec.track else None,
        stretch=(spec.stretch_nm or USUAL_STRETCH_NM) * NAUTICAL_MILE,
        settings=spec.settings.si(),
        budget=spec.budget.si(),
        least_between=spec.crew.least_minutes * MINUTE,
        wind=wind and Steady(wind.speed_knots * KNOT, radians(wind.from_deg_true)),
        current=current and Steady(current.speed_knots * KNOT, radians(current.to_deg_true)),
        later=tuple(sorted(hours * HOUR for hours in spec.later_start_hours)),
        forecast_error=spec.forecast_error,
        check=LegCheck(spec.check.marches, spec.check.seed),
        raw=tables,
        ladder=tuple(
            Sails(row.wind_from_knots * KNOT, row.heel_deg * DEGREE, row.thrust_percent * PERCENT)
            for row in boat_spec.rig.ladder
        ),
        defaults_used=spec.defaults_used(),
    )
