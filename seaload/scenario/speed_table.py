"""Reads the user's own boat speeds: a CSV with true wind speeds down and true wind angles across."""

import csv
from math import isfinite
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.crew_records import SpeedTable
from seaload.scenario.read_toml import shown

CORNER = "true_wind_speed_knots"
LARGEST = 200  # rows or columns


def read_speed_table(path):
    """SpeedTable of the CSV file `path`; InputError when it is missing, crooked or out of range.

    Lines that start with # are remarks. First row: true_wind_speed_knots, then the true wind angles in
    degrees from the bow, rising from 0 to 180. Each further row: a wind speed in knots, rising, then boat
    speeds in knots.
    """
    path = Path(path)
    try:
        if not path.is_file():
            raise InputError(shown(path), "speed_table", shown(path.name), "no such file")
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
        rows = list(csv.reader(line for line in lines if not line.lstrip().startswith("#")))
    except InputError:
        raise
    except (OSError, ValueError, csv.Error):
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
