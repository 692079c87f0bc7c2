"""Load histories from CSV files, piece by piece: one column of load, or a time column and a load column."""

import csv
import math
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.scenario.text_file import text_pieces

FEWEST_VALUES = 2


def load_pieces(path):
    """Loads (n,) of a load history file, float64 in the file's own unit, one piece of the file after the other.

    One number a line, or two with the time first and rising; comma, semicolon or tab between, with the last two a
    decimal comma is allowed; lines that start with # and one header line are skipped. Raises InputError naming the
    file and line for a missing file, text or NaN in a column, a time that does not rise, or fewer than two values.
    """
    path = Path(path)
    separator, columns, headed, seen, before, time = None, None, False, 0, 0, -math.inf
    for text in text_pieces(path):
        lines = text.split("\n")
        if separator is None:
            first = next((line for line in lines if line.strip() and not line.lstrip().startswith("#")), None)
            if first is not None:
                separator = next((mark for mark in (";", "\t", ",") if mark in first), ",")
        values = None if columns is None else plain_numbers(lines, separator, columns)
        if values is None:
            rows = rows_of(path, lines, separator or ",", before)
            if rows and not headed:
                headed, rows = True, rows if is_number(rows[0][1][-1]) else rows[1:]
            if rows and columns is None:
                columns = column_count(path, rows)
            values = numbers_of(path, rows, columns)
        if columns == 2 and len(values):
            stuck = np.flatnonzero(np.diff(values[:, 0], prepend=time) <= 0.0)
            if len(stuck):
                line, cells = rows_of(path, lines, separator, before)[-len(values) :][stuck[0]]
                raise InputError(path, f"time in line {line}", cells[0], "times must rise from line to line")
            time = values[-1, 0]
        before += len(lines) - (not lines[-1])
        seen += len(values)
        if len(values):
            yield values[:, -1].copy()
    if seen < FEWEST_VALUES:
        raise InputError(path, "rows", seen, f"a load history needs at least {FEWEST_VALUES} values")


def plain_numbers(lines, separator, columns):
    """(n, columns) of lines that hold finite numbers and nothing else, or None when one has to be looked at."""
    lines = lines if lines[-1] else lines[:-1]
    if any(line.count(separator) != columns - 1 for line in lines):
        return None
    text = separator.join(lines)
    if separator != ",":
        text = text.replace(",", ".")
    try:
        values = np.array(text.split(separator), dtype=float)
    except ValueError:
        return None
    return values.reshape(-1, columns) if np.all(np.isfinite(values)) else None


def column_count(path, rows):
    """Number of columns by the first row, or None without rows."""
    if rows and len(rows[0][1]) > 2:
        raise InputError(path, "columns", len(rows[0][1]), "give one column of load, or time and load")
    return len(rows[0][1]) if rows else None


def numbers_of(path, rows, columns):
    """(n, columns) of the numbers in rows of (line number, cells); InputError names the line of what is none."""
    values = np.empty((len(rows), columns or 1))
    for i, (line, cells) in enumerate(rows):
        if len(cells) != columns:
            raise InputError(path, f"line {line}", ",".join(cells), f"expected {columns} column(s) as above")
        for j, cell in enumerate(cells):
            values[i, j] = finite_number(path, line, cell)
    return values


def rows_of(path, lines, separator, before):
    """List of (line number, cells) of the lines that hold something, `before` of the file stand before them; comments
    left out.
    """
    rows = []
    try:
        for number, cells in enumerate(csv.reader(lines, delimiter=separator), start=before + 1):
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
