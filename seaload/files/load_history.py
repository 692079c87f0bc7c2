"""Load histories from CSV files: one column of load, or a time column and a load column."""

import csv
import math
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.scenario.text_file import file_text

FEWEST_VALUES = 2


def read_load_history(path):
    """(times or None, loads) of a load history file, float64 arrays (n,) in the file's own units.

    One number a line, or two with the time first and rising; comma, semicolon or tab between, with the last two a
    decimal comma is allowed; lines that start with # and one header line are skipped. Raises InputError naming the
    file and line for a missing file, text or NaN in a column, a time that does not rise, or fewer than two values.
    """
    path = Path(path)
    rows = read_rows(path)
    if rows and not is_number(rows[0][1][-1]):
        rows = rows[1:]
    if len(rows) < FEWEST_VALUES:
        raise InputError(path, "rows", len(rows), f"a load history needs at least {FEWEST_VALUES} values")
    columns = len(rows[0][1])
    if columns > 2:
        raise InputError(path, "columns", columns, "give one column of load, or time and load")
    values = np.empty((len(rows), columns))
    for i, (line, cells) in enumerate(rows):
        if len(cells) != columns:
            raise InputError(path, f"line {line}", ",".join(cells), f"expected {columns} column(s) as above")
        for j, cell in enumerate(cells):
            values[i, j] = finite_number(path, line, cell)
    if columns == 1:
        return None, values[:, 0].copy()
    times = values[:, 0].copy()
    stuck = np.flatnonzero(np.diff(times) <= 0.0)
    if len(stuck):
        line, cells = rows[stuck[0] + 1]
        raise InputError(path, f"time in line {line}", cells[0], "times must rise from line to line")
    return times, values[:, 1].copy()


def read_rows(path):
    """List of (line number, cells) of the lines that hold something; comments left out."""
    text = file_text(path)
    lines = text.split("\n")
    first = next((line for line in lines if line.strip() and not line.lstrip().startswith("#")), "")
    separator = next((mark for mark in (";", "\t", ",") if mark in first), ",")
    rows = []
    try:
        for number, cells in enumerate(csv.reader(lines, delimiter=separator), start=1):
            cells = [cell.strip() for cell in cells]
            if separator != ",":
                cells = [cell.replace(",", ".") for cell in cells]
            if any(cells) and not cells[0].startswith("#"):
                rows.append((number, cells))
    except csv.Error as problem:
        raise InputError(path, "file", path.name, f"is not plain CSV ({problem})") from None
    return rows


def is_number(cell):
    """Whether a cell reads as a number, NaN and infinity included."""
    try:
        float(cell)
    except ValueError:
        return False
    return True


def finite_number(path, line, cell):
    """The number in a cell; InputError names the line for text, an empty cell, NaN or infinity."""
    value = float(cell) if is_number(cell) else math.nan
    if not math.isfinite(value):
        raise InputError(path, f"line {line}", cell, "must be a finite number")
    return value
