"""Rows of a netCDF file as blocks of times and values: variables by name, time by its CF units."""

import re
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from seaload.basis.errors import InputError
from seaload.files.log.local_time import rising_rows
from seaload.files.log.table_layout import check_unit, near
from seaload.files.log.table_rows import Block, Troubles, in_si, utc_text
from seaload.scenario.log_channels import TIMES

ROWS = 32_768  # read at once
TIME_STEPS = {
    "day": 86400.0, "days": 86400.0, "d": 86400.0, "hour": 3600.0, "hours": 3600.0, "h": 3600.0, "hr": 3600.0,
    "minute": 60.0, "minutes": 60.0, "min": 60.0, "second": 1.0, "seconds": 1.0, "s": 1.0, "sec": 1.0,
    "millisecond": 1e-3, "milliseconds": 1e-3, "ms": 1e-3, "msec": 1e-3, "microsecond": 1e-6, "microseconds": 1e-6,
    "us": 1e-6, "nanosecond": 1e-9, "nanoseconds": 1e-9, "ns": 1e-9,
}  # fmt: skip
CALENDARS = ("standard", "gregorian", "proleptic_gregorian")
ROW_OF = re.compile(r"(.+)\[(\d+)\]$")  # accel[2]: the third row of a variable (rows, time)


@dataclass(frozen=True)
class GridLayout:
    """How to read one netCDF file."""

    time: str  # name of the time variable
    scale: float  # [s] of one unit of time
    origin: float  # [s] since 1970-01-01 UTC
    columns: tuple  # of (variable, row or None, LogColumn)
    rows: int


def grid_layout(path, log):
    """GridLayout of a netCDF file; InputError with the one thing to mend."""
    with opened(path) as dataset:
        columns, times = [], []
        for name, column in log.columns.items():
            variable, row = name, None
            if name not in dataset.variables and ROW_OF.match(name):
                variable, row = ROW_OF.match(name)[1], int(ROW_OF.match(name)[2])
            if variable not in dataset.variables:
                continue
            if column.channel in TIMES:
                times.append(variable)
                continue
            found = dataset.variables[variable]
            if row is not None and (found.ndim != 2 or row >= found.shape[0]):
                raise InputError(path, name, found.shape, "no such row in this variable")
            if found.ndim != (1 if row is None else 2):
                said = "a variable along time, or (rows, time) named as NAME[row]"
                raise InputError(path, name, found.dimensions, said)
            check_unit(path, column, str(getattr(found, "units", "")))
            columns.append((variable, row, column))
        if not columns:
            missing = next(name for name, column in log.columns.items() if column.channel not in TIMES)
            said = f"none of the described columns is in it; no {near(missing, list(dataset.variables))}"
            raise InputError(path, "variables", ", ".join(list(dataset.variables)[:8]), said)
        check_once(path, columns)
        along = {dataset.variables[variable].dimensions[-1] for variable, _, _ in columns}
        if len(along) > 1:
            raise InputError(path, "dimensions", sorted(along), "all columns must run along one time")
        time = times[0] if times else along.pop()
        if time not in dataset.variables:
            raise InputError(path, "time", time, "no variable of this name holds the times")
        scale, origin = time_units(path, dataset.variables[time])
        return GridLayout(time, scale, origin, tuple(columns), len(dataset.variables[time]))


def opened(path):
    """The file as a netCDF4 dataset; InputError when it is none."""
    import netCDF4

    try:
        return netCDF4.Dataset(path)
    except (OSError, RuntimeError) as problem:
        raise InputError(path, "file", path.name, f"cannot be read as netCDF ({problem})") from None


def check_once(path, columns):
    """InputError when two columns of one file are the same channel."""
    seen = {}
    for _, _, column in columns:
        if column.channel in seen:
            raise InputError(path, "column", column.name, f'"{seen[column.channel]}" is {column.channel} too')
        seen[column.channel] = column.name


def time_units(path, variable):
    """(seconds of one unit, origin [s] since 1970-01-01 UTC) of a time variable (CF conventions, 4.4)."""
    units = str(getattr(variable, "units", ""))
    step, _, since = units.partition(" since ")
    calendar = str(getattr(variable, "calendar", "standard")).lower()
    if calendar not in CALENDARS:
        raise InputError(path, "calendar", calendar, f"one of {CALENDARS}")
    text = since.strip().removesuffix("UTC").removesuffix("utc").strip()
    try:
        scale = TIME_STEPS[step.strip().lower()]
        padded = re.sub(r"(?<!\d)(\d)(?!\d)", r"0\1", text)  # 2017-7-1 0:0:0 is allowed there
        origin = datetime.fromisoformat(padded)
    except (KeyError, ValueError):
        raise InputError(path, "units of time", units, 'such as "seconds since 1970-01-01"') from None
    return scale, (origin if origin.tzinfo else origin.replace(tzinfo=UTC)).timestamp()


def grid_blocks(path, layout, log, skipped):
    """Blocks of a netCDF file; what is left out goes to the list `skipped`. `log` is only there for likeness."""
    troubles, last = Troubles(path), -np.inf
    with opened(path) as dataset:
        for start in range(0, layout.rows, ROWS):
            piece = slice(start, min(start + ROWS, layout.rows))
            time = layout.origin + layout.scale * numbers(dataset.variables[layout.time], piece)
            keep = rising_rows(time, last)
            behind = int(np.count_nonzero(~keep))
            if behind:
                example = f"row {start + int(np.flatnonzero(~keep)[0])} ({utc_text(float(time[~keep][0]))})"
                troubles.add("rows whose stamp is missing or not after the one before", behind, example)
            if not np.any(keep):
                continue
            values = {}
            for variable, row, column in layout.columns:
                raw = numbers(dataset.variables[variable], piece, row)
                values[column.channel] = in_si(raw if behind == 0 else raw[keep], column)
            time = time[keep]
            last = float(time[-1])
            yield Block(time, values)
    skipped.extend(troubles.told())


def numbers(variable, piece, row=None):
    """(n,) float64 of a piece of a variable, nan where it is masked."""
    raw = variable[piece] if row is None else variable[row, piece]
    return np.ma.filled(np.ma.asarray(raw).astype(np.float64), np.nan)
