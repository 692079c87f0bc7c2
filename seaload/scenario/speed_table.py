"""Reads the user's own boat speeds: a CSV with true wind speeds down and true wind angles across."""

import csv
from math import isfinite
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.crew_records import SpeedTable
from seaload.scenario.read_toml import shown
from seaload.scenario.text_file import file_text, lines_of

CORNER = "true_wind_speed_knots"
LARGEST = 200  # rows or columns
LARGEST_TABLE = 1_000_000  # [bytes]
SEPARATORS = (";", "\t", ",")


def read_speed_table(path):
    """SpeedTable of the CSV file `path`; InputError when it is missing, crooked or out of range.

    Lines that start with # are remarks. First row: true_wind_speed_knots, then the true wind angles in
    degrees from the bow, rising from 0 to 180. Each further row: a wind speed in knots, rising, then boat
    speeds in knots, one of them above zero. Comma, semicolon or tab between; with the last two a decimal comma is
    allowed.
    """
    path = Path(path)
    try:
        text = file_text(path, field="speed_table", largest=LARGEST_TABLE)
        lines = [line for _, line in lines_of(text) if not line.lstrip().startswith("#")]
        mark = next((mark for mark in SEPARATORS if mark in (lines or [""])[0]), ",")
        rows = [[cell if mark == "," else cell.replace(",", ".") for cell in row]
                for row in csv.reader(lines, delimiter=mark)]  # fmt: skip
    except InputError as error:
        raise InputError(shown(path), error.field, shown(path.name), error.allowed) from None
    except csv.Error:
        raise InputError(shown(path), "speed_table", shown(path.name), "not a readable CSV file") from None
    if not rows or rows[0][0].strip() != CORNER:
        first = shown(rows[0][0]) if rows and rows[0] else ""
        raise InputError(shown(path), "first column", first, f"the first row must start with {CORNER}")
    if not 3 <= len(rows) <= LARGEST or not 3 <= len(rows[0]) <= LARGEST:
        raise InputError(shown(path), "size", len(rows), "at least two wind speeds and two wind angles")
    angles = numbers(path, "wind angles", rows[0][1:], 0.0, 180.0)
    body = []
    for row in rows[1:]:
        if len(row) != len(rows[0]):
            raise InputError(shown(path), f"row {shown(row[0])}", len(row), f"{len(rows[0])} columns")
        body.append(numbers(path, f"row {shown(row[0])}", row, 0.0, 100.0))
    table = np.array(body)
    for name, values in (("wind angles", angles), ("wind speeds", table[:, 0])):
        if np.any(np.diff(values) <= 0.0):
            raise InputError(shown(path), name, [float(v) for v in values], "must rise from entry to entry")
    if not np.any(table[:, 1:] > 0.0):
        raise InputError(shown(path), "speeds", 0.0, "the boat must move in some wind: a speed above zero")
    return SpeedTable(table[:, 0] * KNOT, np.array(angles) * DEGREE, table[:, 1:] * KNOT, shown(path.name))


def numbers(path, field, words, low, high):
    """The words as numbers from `low` to `high`; InputError, with `path` and `field`, for anything else."""
    values = []
    for word in words:
        try:
            value = float(word)
        except ValueError:
            value = float("nan")
        if not isfinite(value) or not low <= value <= high:
            raise InputError(shown(path), field, shown(word), f"a number from {low:g} to {high:g}")
        values.append(value)
    return values
