"""Reads a scatter table of the sea: how much of the time each height comes with each period, as CSV.

Lines that start with # are remarks. The first row begins with hs_lower_m; its other cells are tz_N (mean up-crossing
period) or tp_N (peak period), N the lower edge of a bin in seconds, rising. Each further row is the lower edge of a bin
of significant wave height in metres, rising, then hours (whole numbers, of any sum) or shares of the time, which sum to
one. The last bin is as wide as the one before it.
"""

import csv
import re
from math import isfinite
from pathlib import Path
from typing import NamedTuple

from seaload.basis.errors import InputError
from seaload.scenario.text_file import file_text, lines_of, shown

CORNER, COLUMN = "hs_lower_m", re.compile(r"t([zp])_(\d+(?:\.\d+)?)$")
LARGEST, LARGEST_TABLE = 500, 2_000_000  # rows or columns, [bytes]
SEPARATORS = (";", "\t", ",")
SUM_WITHIN = 1e-3  # [-] of shares that sum to one
HIGHEST, LONGEST = 30.0, 60.0  # [m], [s]


class Scatter(NamedTuple):
    """Cells of a table with any time in them."""

    period: str  # "tz" or "tp"
    cells: tuple  # of (height [m], period [s], share [-]), middles of the bins
    hours: float  # sum of a table of whole numbers, nan of one of shares


def read_scatter(path):
    """The `Scatter` of a CSV file; InputError, one line, for anything that is not such a table."""
    path = Path(path)
    name, rows = shown(path), rows_of(path)
    if not rows or not rows[0] or rows[0][0].strip() != CORNER:
        first = shown(rows[0][0]) if rows and rows[0] else ""
        raise InputError(name, "first column", first, f"the first row must start with {CORNER}")
    if not 2 <= len(rows) <= LARGEST or not 2 <= len(rows[0]) <= LARGEST:
        raise InputError(name, "size", f"{len(rows)} rows", "a row of periods and one of heights at least")
    kind, periods = periods_of(name, rows[0][1:])
    heights, table = [], []
    for row in rows[1:]:
        if len(row) != len(rows[0]):
            raise InputError(name, f"row {shown(row[0])}", f"{len(row)} columns", f"{len(rows[0])} columns")
        height, *values = [value_of(name, f"row {shown(row[0])}", word) for word in row]
        heights.append(height)
        table.append(values)
    if heights[-1] > HIGHEST or any(not b > a for a, b in zip(heights, heights[1:], strict=False)):
        raise InputError(name, CORNER, heights[-1], f"heights that rise from row to row, up to {HIGHEST:g} m")
    return scatter_of(name, kind, middles(heights), middles(periods), table)


def rows_of(path):
    """The rows of a CSV file as words, remarks left out."""
    try:
        text = file_text(path, field="usage", largest=LARGEST_TABLE)
        lines = [line for _, line in lines_of(text) if not line.lstrip().startswith("#")]
        mark = next((mark for mark in SEPARATORS if mark in (lines or [""])[0]), ",")
        return [row if mark == "," else [cell.replace(",", ".") for cell in row]
                for row in csv.reader(lines, delimiter=mark)]  # fmt: skip
    except csv.Error:
        raise InputError(shown(path), "usage", shown(path.name), "not a readable CSV file") from None


def periods_of(name, heads):
    """("tz" or "tp", lower edges [s]) of the heads of the columns of the file `name`."""
    found = [COLUMN.match(head.strip()) for head in heads]
    for head, match in zip(heads, found, strict=True):
        if match is None:
            allowed = "tz_N or tp_N, N the lower edge of the bin in seconds: the header says which period it is"
            raise InputError(name, "first row", shown(head), allowed)
    kinds = {match[1] for match in found}
    if len(kinds) > 1:
        raise InputError(name, "first row", "tz and tp", "one kind of period in a table")
    edges = [float(match[2]) for match in found]
    if edges[-1] > LONGEST or any(not b > a for a, b in zip(edges, edges[1:], strict=False)):
        raise InputError(name, "first row", shown(heads[-1]), f"periods that rise, up to {LONGEST:g} s")
    return f"t{kinds.pop()}", edges


def value_of(name, field, word):
    """A word as a number of at least 0; InputError of the file `name` for anything else."""
    try:
        value = float(word)
    except ValueError:
        value = float("nan")
    if not isfinite(value) or not 0.0 <= value <= 1e9:
        raise InputError(name, field, shown(word), "a number of hours or a share, at least 0")
    return value


def middles(edges):
    """Middles of bins with these lower `edges`; the last as wide as the one before, a single one of width 1."""
    width = edges[-1] - edges[-2] if len(edges) > 1 else 1.0
    ends = [*edges[1:], edges[-1] + width]
    return [0.5 * (low + high) for low, high in zip(edges, ends, strict=True)]


def scatter_of(name, kind, heights, periods, table):
    """`Scatter` of a `table` of rows; InputError of the file `name` where nothing is in it or shares are no whole."""
    total = sum(map(sum, table))
    whole = all(value == int(value) for row in table for value in row)
    if not total > 0.0:
        raise InputError(name, "sum", total, "some time in some cell")
    if not whole and abs(total - 1.0) > SUM_WITHIN:
        raise InputError(name, "sum", f"{total:.6g}", "shares that sum to 1, or hours as whole numbers")
    cells = tuple(
        (height, period, value / total)
        for height, row in zip(heights, table, strict=True)
        for period, value in zip(periods, row, strict=True)
        if value > 0.0
    )
    return Scatter(kind, cells, total if whole else float("nan"))
