"""The description of a recorded log, as a person writes it: LOG.toml."""

from datetime import datetime
from math import copysign
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, model_validator

from seaload.basis.errors import InputError
from seaload.scenario.instants import utc_seconds, zone_of
from seaload.scenario.log_channels import (
    CHANNEL_KIND,
    COUNT_UNITS,
    KINDS,
    TIMES,
    allowed_units,
    is_load,
    kind_of,
    station_of,
    unit_size,
    unit_word,
    unlike_channel,
)
from seaload.scenario.log_records import Log, LogColumn
from seaload.scenario.read_boat import read_boat
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.written import SLUG, Refused, Written, number, number_over

Moment = datetime | str


class ColumnSpec(Written):
    """`[columns.NAME]`: NAME as in the header; value in SI = sign x gain x (raw - zero) x unit."""

    channel: str = Field(description="what the column is, such as time, strain_1, pitch, speed")
    unit: str = Field(description="unit that the column is written in")
    sign: int = Field(default=1, description="1, or -1 where the column counts the other way")
    gain: number_over(0, 1e12, "units per raw count") = 1.0
    zero: number(-1e12, 1e12, "raw value when there is none") = 0.0
    least: number(-1e12, 1e12, "lowest value the sensor can give, in the unit") | None = None
    most: number(-1e12, 1e12, "highest value the sensor can give, in the unit") | None = None
    since: Any = Field(default=None, description="moment that a count of time starts at; 1970-01-01 UTC if left out")

    @model_validator(mode="after")
    def _unit_belongs_to_the_channel(self):
        if self.channel not in TIMES and kind_of(self.channel) is None:
            raise Refused("channel", self.channel, unlike_channel(self.channel))
        allowed = allowed_units(self.channel)
        if self.used_unit not in allowed:
            texts = ", ".join(f'"{unit}"' for unit in allowed)
            raise Refused("unit", self.unit, f"{self.channel} may be written in {texts}")
        if self.sign not in (1, -1):
            raise Refused("sign", self.sign, "1 or -1")
        if self.channel in TIMES:
            written = self.model_fields_set & {"sign", "gain", "zero", "least", "most"}
            if written:
                key = sorted(written)[0]
                raise Refused(key, getattr(self, key), f"a {self.channel} column has no {key}")
        if self.since is not None and not (self.channel == "time" and self.used_unit in COUNT_UNITS):
            raise Refused("since", str(self.since), "belongs to a time column that counts (s, ms, us, ns)")
        if self.least is not None and self.most is not None and self.least >= self.most:
            raise Refused("least", self.least, "must be below most")
        return self

    @property
    def used_unit(self):
        """The unit in the one spelling of the table of channels."""
        return self.unit if self.channel in TIMES else unit_word(self.unit)

    def si(self, name, zone):
        """The column as a record; `zone` is the log's time zone."""
        if self.channel in TIMES:
            since = utc_seconds(self.since, zone) if self.since is not None else 0.0
            return LogColumn(name, self.channel, self.unit, 1.0, 0.0, -1e300, 1e300, since)
        size, kind = unit_size(self.channel, self.used_unit), KINDS[kind_of(self.channel)]
        factor = copysign(self.gain, self.sign) * size
        least = kind.least if self.least is None else self.least * size
        most = kind.most if self.most is None else self.most * size
        return LogColumn(name, self.channel, self.used_unit, factor, self.zero, least, most, 0.0)


class UnloadedSpec(Written):
    """`[[unloaded]]`: a while in which the foil carried nothing, so that its gauges show their zero."""

    start: Moment = Field(description="moment, such as 2026-03-13T05:40Z")
    end: Moment = Field(description="moment")


class ClockSpec(Written):
    """`[clock]`: match the clocks of two loggers by a channel that both recorded."""

    channel: Literal[tuple(CHANNEL_KIND)] = Field(description="channel that stands in the files of both")
    most_shift_s: number_over(0, 3600, "seconds, largest shift looked for") = 60.0


class LogSpec(Written):
    """The description file. Needed are name, boat, foil, time_zone and the columns."""

    name: str = Field(pattern=SLUG, description="small letters, digits and hyphens, 1 to 60 of them")
    boat: str = Field(min_length=1, description="path of the boat file, from the folder of this file")
    foil: Literal["port", "starboard"] = Field(description="the foil that the gauges are on")
    time_zone: str = Field(description='"UTC", an offset such as "+02:00", or a place such as "Europe/Lisbon"')
    columns: dict[str, ColumnSpec] = Field(min_length=1, max_length=500, description="[columns.NAME] tables")
    page: str = Field(
        default="as built", min_length=1, max_length=60,
        description="page of the foil's ledger; a repair or new gauges begin one under another name",
    )
    made: bool = Field(default=False, description="true for made data, which was not recorded: pages say so")
    diary: str | None = Field(default=None, description="path of a CSV of settings, from the folder of this file")
    forecast: str | None = Field(default=None, description="path of a forecast, from the folder of this file")
    unloaded: list[UnloadedSpec] = Field(default=[], max_length=10000, description="[[unloaded]] tables")
    clock: ClockSpec | None = None
    bridged_gap_s: number(0, 60, "seconds, longest hole that is bridged") | None = None

    @model_validator(mode="after")
    def _it_can_be_read(self):
        if zone_of(self.time_zone) is None:
            raise Refused("time_zone", self.time_zone, '"UTC", "+02:00", or a place such as "Europe/Lisbon"')
        channels = {column.channel for column in self.columns.values()}
        if "time" not in channels and not {"date", "clock"} <= channels:
            raise Refused("columns", "no time", "needed: a column with channel time, or one date and one clock")
        if not channels - set(TIMES):
            raise Refused("columns", "times only", "needed: at least one column that is not a time")
        zone = zone_of(self.time_zone)
        for name, column in self.columns.items():
            if column.since is not None:
                moment_or_refuse(f"columns.{name}.since", column.since, zone)
        for i, while_ in enumerate(self.unloaded):
            start = moment_or_refuse(f"unloaded[{i + 1}].start", while_.start, zone)
            if moment_or_refuse(f"unloaded[{i + 1}].end", while_.end, zone) <= start:
                raise Refused(f"unloaded[{i + 1}].end", str(while_.end), "must be after its start")
        if self.clock is not None and self.clock.channel not in channels:
            raise Refused("clock.channel", self.clock.channel, "no column has this channel")
        return self


def moment_or_refuse(key, moment, zone):
    """Seconds since 1970-01-01 UTC; Refused when it is no moment."""
    try:
        return utc_seconds(moment, zone)
    except (ValueError, TypeError, OverflowError, OSError, AttributeError):
        raise Refused(key, str(moment), "a moment such as 2026-03-13T05:40Z") from None


def read_log_spec(path):
    """`Log` of a description file; InputError when anything in it, in the boat file or between them is wrong."""
    path = Path(path)
    tables = read_tables(path)
    spec = checked(LogSpec, tables, path)
    boat_file = path.parent / spec.boat
    _, boat = read_boat(boat_file)
    foil = boat.foils.get(spec.foil)
    if foil is None:
        raise InputError(shown(path), "foil", spec.foil, f"{shown(boat_file)} has no [foil.{spec.foil}]")
    for name, column in spec.columns.items():
        if is_load(column.channel) and station_of(column.channel) > len(foil.stations):
            said = f"the foil has {len(foil.stations)} strain stations"
            raise InputError(shown(path), f"columns.{shown(name)}.channel", column.channel, said)
    for key in ("diary", "forecast"):
        written = getattr(spec, key)
        if written is not None and not (path.parent / written).is_file():
            raise InputError(shown(path), key, written, "no such file")
    zone = zone_of(spec.time_zone)
    return Log(
        file=path,
        name=spec.name,
        boat=boat,
        boat_file=boat_file,
        foil_side=spec.foil,
        page=spec.page,
        time_zone=spec.time_zone,
        columns={name: column.si(name, zone) for name, column in spec.columns.items()},
        diary=path.parent / spec.diary if spec.diary else None,
        forecast=path.parent / spec.forecast if spec.forecast else None,
        unloaded=tuple(sorted((utc_seconds(w.start, zone), utc_seconds(w.end, zone)) for w in spec.unloaded)),
        clock_channel=spec.clock.channel if spec.clock else None,
        clock_reach=spec.clock.most_shift_s if spec.clock else 0.0,
        bridged_gap=spec.bridged_gap_s,
        raw=tables,
    )
