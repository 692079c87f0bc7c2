"""The files of a log: what each is, when it starts and ends, which logger it comes from."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.files.log.grid_rows import GridLayout, grid_blocks, grid_layout, opened
from seaload.files.log.log_chunk import Skipped
from seaload.files.log.table_layout import HEAD, TableLayout, near, table_layout
from seaload.files.log.table_rows import table_blocks
from seaload.scenario.log_channels import TIMES, is_load
from seaload.scenario.read_toml import shown

NETCDF_STARTS = (b"CDF\x01", b"CDF\x02", b"CDF\x05", b"\x89HDF")
TAIL = 65_536  # [bytes] at the end of a text table that tell its last time


@dataclass(frozen=True)
class LogFile:
    """One file, looked at from both ends."""

    path: Path
    layout: TableLayout | GridLayout
    size: int  # [bytes] when it was looked at; what comes after is not read
    start: float  # [s] since 1970-01-01 UTC
    end: float
    step: float  # [s] median time between its first samples, infinity for a single one
    channels: tuple

    def blocks(self, log, skipped):
        """Blocks of the file, times rising; what is left out goes to the list `skipped`."""
        if isinstance(self.layout, GridLayout):
            return grid_blocks(self.path, self.layout, log, skipped)
        return table_blocks(self.path, self.layout, self.size, log, skipped)


def log_files(log, paths):
    """(LogFiles in the order of their start, Skipped files) of a log.

    A file that cannot be read is skipped with its reason when there are others. Raises InputError when there is
    none that can, when a file is missing, or when a described column stands in no file.
    """
    paths = [Path(path) for path in paths]
    if not paths:
        raise InputError(log.file, "files", "none", "give at least one file of the log")
    files, skipped, seen = [], [], set()
    for path in paths:
        if not path.is_file():
            raise InputError(path, "file", path.name, "no such file")
        if path.resolve() in seen:
            continue
        seen.add(path.resolve())
        try:
            files.append(log_file(path, log))
        except InputError as problem:
            if len(paths) == 1:
                raise
            skipped.append((problem, Skipped(path.name, f"{problem.field} = {problem.value!r}: {problem.allowed}", 0)))
    if not files:
        raise skipped[0][0]
    check_columns_found(log, files)
    files.sort(key=lambda one: (one.start, -one.end, one.path.name))
    return files, [record for _, record in skipped]


def log_file(path, log):
    """LogFile of one path; InputError with the one thing to mend."""
    try:
        with open(path, "rb") as stream:
            head = stream.read(HEAD)
            size = stream.seek(0, 2)
    except OSError as problem:
        raise InputError(path, "file", path.name, f"cannot be read ({problem.strerror})") from None
    if head.startswith(NETCDF_STARTS):
        return looked_at(path, grid_layout(path, log), size, log)
    return looked_at(path, table_layout(path, head, log), size, log)


def looked_at(path, layout, size, log):
    """LogFile with its first and last times read."""
    if isinstance(layout, GridLayout):
        first, last = grid_ends(path, layout, log)
        columns = [column for _, _, column in layout.columns]
    else:
        first, last = table_ends(path, layout, size, log)
        columns = [column for _, column in layout.columns]
    if len(first) == 0:
        raise InputError(path, "file", path.name, "holds no row that can be read")
    step = float(np.median(np.diff(first))) if len(first) > 1 else np.inf
    channels = tuple(column.channel for column in columns if column.channel not in TIMES)
    return LogFile(path, layout, size, float(first[0]), float(max(last[-1], first[-1])), step, channels)


def table_ends(path, layout, size, log):
    """Times of the first and of the last rows of a text table."""
    blocks = table_blocks(path, layout, min(size, layout.body + HEAD), log, [])
    first = np.concatenate([np.empty(0), *(block.time for block in blocks)])
    if size <= layout.body + HEAD:
        tail = layout
    else:
        with open(path, "rb") as stream:
            stream.seek(size - TAIL)
            offset = size - TAIL + stream.read(TAIL).find(b"\n") + 1
        tail = TableLayout(**{**vars(layout), "body": offset})
    ends = [block.time[-1] for block in table_blocks(path, tail, size, log, [])]
    return first, np.array(ends[-1:] or first[-1:])


def grid_ends(path, layout, log):
    """Times of the first and of the last rows of a netCDF file."""
    first = next(grid_blocks(path, GridLayout(**{**vars(layout), "rows": min(layout.rows, 10_000)}), log, []), None)
    if first is None:
        return np.empty(0), np.empty(0)
    with opened(path) as dataset:
        last = layout.origin + layout.scale * np.ma.filled(
            np.ma.asarray(dataset.variables[layout.time][-100:]).astype(float), np.nan
        )
    return first.time, last[np.isfinite(last)][-1:] if np.any(np.isfinite(last)) else first.time[-1:]


def check_columns_found(log, files):
    """InputError when a described column stands in no file."""
    found = set().union(*(names_of(file) for file in files))
    for name, column in log.columns.items():
        if name not in found and column.channel not in TIMES:
            said = f"no file has this column: not {near(name, sorted(found))} in {files[0].path.name}"
            raise InputError(log.file, f"columns.{shown(name)}", name, said)


def names_of(file):
    """Names of the described columns that a file has."""
    return {entry[-1].name for entry in file.layout.columns}


def loggers(files, clock_channel):
    """Lists of files by the logger that wrote them, the one with the loads (or the fastest) first.

    Files that share a channel are of one logger; the channel that clocks are matched by does not count.
    """
    groups = []
    for file in files:
        own = set(file.channels) - ({clock_channel} if clock_channel else set())
        same = [group for group in groups if group[0] & own]
        channels, members = own.union(*(g[0] for g in same)), [m for g in same for m in g[1]] + [file]
        groups = [g for g in groups if g not in same] + [(channels, members)]
    ordered = [sorted(members, key=files.index) for _, members in groups]

    def rank(members):
        loads = any(is_load(channel) for file in members for channel in file.channels)
        return (not loads, np.median([file.step for file in members]), members[0].start, members[0].path.name)

    return sorted(ordered, key=rank)
