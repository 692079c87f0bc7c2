"""How a text table is laid out: where its header is, what separates its cells, which decimal mark it has.

The header is the line that holds names of the description; nothing else is asked of the lines above it. No logger is
known by its make.
"""

import csv
import difflib
import re
from dataclasses import dataclass

from seaload.basis.errors import InputError
from seaload.files.log.field_parser import COUNT, NUMBER, SKIP, STAMP_YMD
from seaload.scenario.log_channels import COUNT_UNITS, KINDS, TIMES, unit_word
from seaload.scenario.read_toml import shown

HEAD = 262_144  # [bytes] looked at
HEADER_WITHIN = 200  # lines
ROWS_TRIED = 500  # below the header, for the decimal mark
SEPARATORS = (",", ";", "\t", "|", " ")
BYTE_ORDER_MARK = b"\xef\xbb\xbf"
TEXT_ORDERS = {"iso": 0, "ymd": 0, "dmy": 1, "mdy": 2}
UNIT_IN_NAME = re.compile(r"[\[(]([^\[\]()]+)[\])]\s*$")
ALL_UNITS = frozenset(unit for kind in KINDS.values() for unit in kind.units) - {"share", "percent"}
BLANK_WORDS = frozenset({"", "nan", "na", "n/a", "null", "none", "-", "--", "---", "#n/a"})


@dataclass(frozen=True)
class TableLayout:
    """How to read one text table."""

    separator: str
    decimal: str  # "." or ","
    body: int  # [bytes] from the start of the file to the first row
    first_line: int  # number of the line the body starts with, from 1
    fields: int  # cells of a row
    columns: tuple  # of (place in the row, LogColumn)


def table_layout(path, head, log):
    """TableLayout of a file from its first bytes `head`; InputError with the one thing to mend."""
    if b"\0" in head:
        raise InputError(path, "file", path.name, "is not a text table (it holds zero bytes)")
    if not head.strip():
        raise InputError(path, "file", path.name, "the file is empty")
    lines, offsets = split_lines(head)
    if b"\n" not in head and b"\r" in head:
        raise InputError(path, "file", path.name, "lines must end by a newline")
    number, separator, cells = header_of(path, lines, log)
    columns = matched(path, cells, log)
    rows = [decoded(line) for line in lines[number + 1 : -1][:ROWS_TRIED]]
    rows = [(place, split(row, separator)) for place, row in enumerate(rows) if is_row(row)]
    below = number + 1
    if rows and units_row(path, rows[0][1], columns):
        below += rows[0][0] + 1
        rows = rows[1:]
    return TableLayout(
        separator=separator,
        decimal=decimal_mark(path, [row for _, row in rows], columns),
        body=offsets[below],
        first_line=below + 1,
        fields=len(cells),
        columns=tuple(columns),
    )


def split_lines(head):
    """Lines of some bytes without their ends, and the offset of each (and of what comes after the last)."""
    lines = head.split(b"\n")
    offsets = [0]
    for line in lines:
        offsets.append(offsets[-1] + len(line) + 1)
    if lines[0].startswith(BYTE_ORDER_MARK):
        lines[0] = lines[0][len(BYTE_ORDER_MARK) :]
    return [line.rstrip(b"\r") for line in lines], offsets


def decoded(line):
    """A line as text: UTF-8, else the older single-byte alphabet of western Europe."""
    try:
        return line.decode("utf-8")
    except UnicodeDecodeError:
        return line.decode("latin-1")


def is_row(line):
    """Whether a line holds something other than a comment."""
    return bool(line.strip()) and not line.lstrip().startswith("#")


def split(line, separator):
    """Cells of a line, trimmed."""
    if separator == " ":
        line = line.strip()
    try:
        cells = next(csv.reader([line], delimiter=separator, skipinitialspace=separator == " "), [])
    except csv.Error:
        return []
    return [" ".join(cell.split()) for cell in cells]


def header_of(path, lines, log):
    """(line from 0, separator, names) of the line that holds most names of the description."""
    best, fewest = (0, None, None, None), []
    for number, line in enumerate(lines[:HEADER_WITHIN]):
        text = decoded(line).lstrip("#").strip()
        for separator in SEPARATORS:
            cells = split(text, separator)
            found = len(set(cells) & set(log.columns))
            if found > best[0]:
                best = (found, number, separator, cells)
            if len(cells) > len(fewest) and separator != " ":
                fewest = cells
    if best[0] == 0:
        raise InputError(path, "header", ", ".join(fewest[:8]), f"no column of {shown(log.file.name)} stands in it")
    return best[1:]


def matched(path, names, log):
    """(place, LogColumn) of the columns that the header and the description share; InputError for one too many."""
    columns = [(place, log.columns[name]) for place, name in enumerate(names) if name in log.columns]
    seen = {}
    for _, column in columns:
        if column.channel in seen:
            other = seen[column.channel]
            said = "stands twice in the header" if other == column.name else f'"{other}" is {column.channel} too'
            raise InputError(path, "column", column.name, said)
        seen[column.channel] = column.name
        check_unit(path, column, UNIT_IN_NAME.search(column.name))
    if "time" not in seen and not {"date", "clock"} <= set(seen):
        missing = [c.name for c in log.columns_of(*TIMES) if c.channel not in seen]
        raise InputError(path, "header", ", ".join(names[:8]), f"no time column {near(missing[0], names)}")
    if set(seen) <= set(TIMES):
        missing = [c.name for c in log.columns.values() if c.channel not in TIMES]
        raise InputError(path, "header", ", ".join(names[:8]), f"only times in it, no {near(missing[0], names)}")
    return columns


def near(name, names):
    """The missing name, with the nearest of the names that are there."""
    close = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    return f'"{shown(name)}"' + (f' (the nearest is "{shown(close[0])}")' if close else "")


def check_unit(path, column, said):
    """InputError when a name, a row of units or an attribute says another unit than the description."""
    word = unit_word(said[1] if isinstance(said, re.Match) else said) if said else ""
    if column.channel not in TIMES and word in ALL_UNITS and word != column.unit:
        raise InputError(path, f"unit of {column.name}", word, f'the description says "{column.unit}"')


def units_row(path, cells, columns):
    """Whether the first row under the header holds units in place of numbers; they are checked."""
    wanted = [(cells[place], column) for place, column in columns if place < len(cells)]
    quantities = [(cell, column) for cell, column in wanted if column.channel not in TIMES]
    if any(looks_numeric(cell) or cell.lower() in BLANK_WORDS - {"", "-"} for cell, _ in quantities):
        return False
    if not any(cell for cell, _ in quantities):
        return False
    for cell, column in quantities:
        check_unit(path, column, cell)
    return True


def looks_numeric(cell):
    """Whether a cell is a number, with either decimal mark."""
    try:
        float(cell.replace(",", "."))
    except ValueError:
        return False
    return True


def decimal_mark(path, rows, columns):
    """ "." or ",": what stands in the numbers of these rows; InputError when both do."""
    marks = {}
    for cells in rows:
        for place, column in columns:
            counts = column.channel in TIMES and column.unit not in COUNT_UNITS
            if counts or place >= len(cells) or not looks_numeric(cells[place]):
                continue
            for mark in ".,":
                if mark in cells[place]:
                    marks.setdefault(mark, (column.name, cells[place]))
    if len(marks) == 2:
        name, cell = marks[","]
        raise InputError(path, f"column {name}", cell, "some numbers have a decimal comma, others a point")
    return "," if "," in marks else "."


def field_kinds(layout):
    """{place in the row: (kind, LogColumn)} for the row parser."""
    kinds = {}
    for place, column in layout.columns:
        if column.channel == "time":
            texts = column.unit not in COUNT_UNITS
            kinds[place] = STAMP_YMD + TEXT_ORDERS[column.unit] if texts else COUNT
        elif column.channel == "date":
            kinds[place] = STAMP_YMD + 3 + TEXT_ORDERS[column.unit]
        elif column.channel == "clock":
            kinds[place] = STAMP_YMD + 6 if column.unit == "hms" else NUMBER
        else:
            kinds[place] = NUMBER
    return [kinds.get(place, SKIP) for place in range(layout.fields)]
