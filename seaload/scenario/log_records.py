"""A recorded log as its description says it is: columns, clock, foil, diary; SI records."""

from dataclasses import dataclass
from pathlib import Path

from seaload.scenario.records import Boat


@dataclass(frozen=True)
class LogColumn:
    """One column of the files: what it is, and how a raw value becomes SI."""

    name: str  # as the header has it
    channel: str
    unit: str
    factor: float  # [SI per raw] sign x gain x size of the unit
    zero: float  # raw value that means none
    least: float  # SI, end of the sensor's span
    most: float  # SI
    since: float  # [s] since 1970-01-01 UTC, where a count of time starts


@dataclass(frozen=True)
class Log:
    """The whole description."""

    file: Path  # it was read from
    name: str
    boat: Boat
    boat_file: Path
    foil_side: str  # "port" or "starboard"
    page: str  # of the foil's ledger
    time_zone: str  # of stamps that name none
    columns: dict  # {name in the header: LogColumn}
    diary: Path | None
    forecast: Path | None
    unloaded: tuple  # of (start, end) [s] since 1970-01-01 UTC: the gauges then carried nothing
    clock_channel: str | None  # channel that two files' clocks are matched by
    clock_reach: float  # [s] largest shift looked for
    bridged_gap: float | None  # [s] longest hole that is bridged; None = as the reader does by itself
    raw: dict  # the file as written

    def columns_of(self, *channels):
        """Columns of these channels, in the order of the description."""
        return [column for column in self.columns.values() if column.channel in channels]
