"""The settings diary: a CSV in which the crew writes down what they set, and when."""

import csv
from math import nan

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, PERCENT
from seaload.files.log.log_chunk import LogSetting
from seaload.files.log.table_layout import near
from seaload.scenario.instants import utc_seconds, zone_of
from seaload.scenario.read_toml import shown
from seaload.scenario.text_file import file_text

COLUMNS = {  # name in the diary: (name in the setting, size of the unit, least, most)
    "extension_percent": ("extension", PERCENT, 0.0, 100.0),
    "rake_deg": ("rake", DEGREE, -5.0, 10.0),
    "cant_deg": ("cant", DEGREE, -45.0, 45.0),
    "heel_deg": ("heel", DEGREE, -5.0, 35.0),
    "ballast_shift_m": ("ballast_shift", 1.0, -2.0, 2.0),
}
LARGEST = 1_000_000  # [bytes]


def read_diary(log):
    """List of (moment [s] since 1970-01-01 UTC, LogSetting) of the log's diary, in order of time; empty without one.

    First row: time, then any of extension_percent, rake_deg, cant_deg, heel_deg, ballast_shift_m, sails. A blank cell
    means as before. Comma, semicolon or tab; with the last two a decimal comma is allowed. Raises InputError naming
    file, line, value and what is allowed.
    """
    if log.diary is None:
        return []
    path, zone = log.diary, zone_of(log.time_zone)
    names, rows = diary_rows(path)
    entries, current = [], LogSetting()
    for line, cells in rows:
        if len(cells) != len(names):
            raise InputError(path, f"line {line}", len(cells), f"{len(names)} cells, as in the first row")
        row = dict(zip(names, cells, strict=True))
        try:
            moment = utc_seconds(row["time"], zone)
        except (ValueError, OverflowError, OSError):
            raise InputError(path, f"time in line {line}", row["time"], "a moment such as 2026-03-13T05:40Z") from None
        if entries and moment <= entries[-1][0]:
            raise InputError(path, f"time in line {line}", row["time"], "must be after that of the line above")
        written = {COLUMNS[name][0]: number(path, line, name, row[name]) for name in names if name in COLUMNS}
        changes = {name: value for name, value in written.items() if value == value}
        if row.get("sails"):
            changes["sails"] = row["sails"]
        current = current._replace(**changes)
        entries.append((moment, current))
    return entries


def diary_rows(path):
    """(names of the first row, list of (line number, cells))."""
    lines = file_text(path, largest=LARGEST).split("\n")
    header = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    separator = next((mark for mark in (";", "\t", ",") if mark in header), ",")
    try:
        rows = [
            (number_, [cell.strip() for cell in cells])
            for number_, cells in enumerate(csv.reader(lines, delimiter=separator), start=1)
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#")
        ]
    except csv.Error as problem:
        raise InputError(path, "file", path.name, f"is not plain CSV ({problem})") from None
    names = rows[0][1] if rows else []
    known = ["time", "sails", *COLUMNS]
    for name in names:
        if name not in known or names.count(name) > 1:
            said = f"known, once each, are {', '.join(known)}; not {near(name, known)}"
            raise InputError(path, "column", shown(name), said)
    if "time" not in names or len(names) < 2:
        raise InputError(path, "first row", ", ".join(names), "needed: time and at least one setting")
    return names, rows[1:]


def number(path, line, name, cell):
    """Value of a cell in SI; nan when it is blank."""
    if not cell:
        return nan
    _, unit, least, most = COLUMNS[name]
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        value = nan
    if not least <= value <= most:
        raise InputError(path, f"{name} in line {line}", cell, f"a number from {least:g} to {most:g}")
    return value * unit
