"""Rows of a text table as blocks of times and values, in bounded memory."""

from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.files.log.local_time import rising_rows, utc_from_local
from seaload.files.log.log_chunk import Skipped
from seaload.files.log.row_parser import BAD_ROWS, BYTES, ODD_FIELDS, ROWS, ZONED, RowForm, empty_lists, parse_rows
from seaload.files.log.table_layout import BLANK_WORDS, field_kinds
from seaload.scenario.instants import zone_of
from seaload.scenario.log_channels import COUNT_UNITS, TIMES
from seaload.scenario.read_toml import shown

BLOCK = 1_000_000  # [bytes]
ODD_ROOM, BAD_ROOM = 65_536, 4096
LONGEST_LINE = 1_000_000  # [bytes]


class Block(NamedTuple):
    """Some rows of one file, times rising."""

    time: np.ndarray  # (n,) [s] since 1970-01-01 UTC
    values: dict  # {channel: (n,) SI}, nan where missing


class Troubles:
    """What was left out of one file while it was read; told once, at its end."""

    def __init__(self, path):
        self.path, self.found = path, {}

    def add(self, what, rows, example):
        """Count rows (or fields) left out for one reason, with the first example."""
        count, first = self.found.get(what, (0, example))
        self.found[what] = (count + int(rows), first)

    def told(self):
        """Skipped records."""
        return [
            Skipped(self.path.name, f"{count} {what}, first {example}", count)
            for what, (count, example) in self.found.items()
        ]


def table_blocks(path, layout, size, log, skipped, block_bytes=BLOCK):
    """Blocks of a text table up to byte `size` of the file; what is left out goes to the list `skipped`.

    Raises InputError where the file is not what the description says: a column that is mostly no number, stamps of
    which some name their zone and some do not, stamps that stand still.
    """
    reader = TableReader(path, layout, log)
    with open(path, "rb") as stream:
        stream.seek(layout.body)
        left, rest = size - layout.body, b""
        while left > 0:
            data = stream.read(min(block_bytes, left))
            if not data:
                break
            left -= len(data)
            data = rest + data
            used = data.rfind(b"\n") + 1
            rest = data[used:]
            if len(rest) > LONGEST_LINE:
                raise InputError(path, f"line {reader.line}", len(rest), "no end of line found: not a text table")
            if used:
                yield from reader.blocks(np.frombuffer(data, dtype=np.uint8, count=used))
    if rest.strip():
        reader.troubles.add("last line without an end (cut off, or still being written)", 1, f"line {reader.line}")
    yield from reader.last_row()
    skipped.extend(reader.troubles.told())


class TableReader:
    """State of reading one table: where it is, and the row held back."""

    def __init__(self, path, layout, log):
        self.path, self.layout = path, layout
        kinds = field_kinds(layout)
        slots = np.zeros(layout.fields, dtype=np.int64)
        for slot, (place, _) in enumerate(layout.columns):
            slots[place] = slot
        marks = ord(layout.separator), ord(layout.decimal)
        self.form = RowForm(*marks, np.array(kinds, dtype=np.int64), slots, layout.fields)
        self.columns = [column for _, column in layout.columns]
        self.zone = zone_of(log.time_zone)
        self.lists = empty_lists(max(ODD_ROOM, 2 * layout.fields), BAD_ROOM)
        self.line, self.last, self.held = layout.first_line, -np.inf, None
        self.troubles = Troubles(path)
        self.started = False

    def blocks(self, data):
        """Blocks of whole lines in `data` (bytes)."""
        while len(data):
            rows = int(np.count_nonzero(data == 10))
            out = np.empty((len(self.columns), rows))
            parse_rows(data, len(data), self.form, out, self.lists)
            out = out[:, : self.lists.totals[ROWS]]
            used = int(self.lists.totals[BYTES])
            self.resolve(data, out)
            self.line += int(np.count_nonzero(data[:used] == 10))
            data = data[used:]
            if out.shape[1]:
                yield from self.risen(out)

    def resolve(self, data, out):
        """Read the odd fields, and note what cannot be read."""
        for first, end in self.lists.bad[: self.lists.totals[BAD_ROWS]].tolist():
            self.troubles.add("lines with another number of cells", 1, self.place(data, first, end))
        known, unread = {}, {}
        for row, slot, first, end in self.lists.odd[: self.lists.totals[ODD_FIELDS]].tolist():
            text = data[first:end].tobytes()
            if text not in known:
                known[text] = python_number(text, self.layout.decimal)
            is_time = self.columns[slot].channel in TIMES
            value, readable = (np.nan, False) if is_time else known[text]
            out[slot, row] = value
            if not readable:
                count, _ = unread.get(slot, (0, None))
                unread[slot] = (count + 1, unread.get(slot, (0, self.place(data, first, end)))[1])
        for slot, (count, example) in unread.items():
            name = shown(self.columns[slot].name)
            if not self.started and 2 * count > out.shape[1]:
                what = "a stamp as its unit says" if self.columns[slot].channel in TIMES else "a number"
                said = f"is not {what}; wrong column, or wrong unit in the description?"
                raise InputError(self.path, f"column {name}", example, said)
            what = "rows" if self.columns[slot].channel in TIMES else "values"
            self.troubles.add(f'{what} that cannot be read in column "{name}"', count, example)
        self.started = self.started or out.shape[1] > 0

    def place(self, data, first, end):
        """Words for a place in the file: "line 12 ('abc')"."""
        text = data[first : min(end, first + 40)].tobytes().decode("utf-8", errors="replace")
        return f"line {self.line + int(np.count_nonzero(data[:first] == 10))} ({shown(repr(text))})"

    def risen(self, out):
        """The block of rows whose times rise; the very last row waits for the next block."""
        time = self.times(out)
        if self.held is not None:
            time, out = np.r_[self.held[0], time], np.concatenate([self.held[1], out], axis=1)
        finite = np.isfinite(time)
        steps = np.diff(time[finite])
        if self.last == -np.inf and len(steps) > 2 and 2 * np.count_nonzero(steps == 0.0) > len(steps):
            raise InputError(self.path, "time", float(time[0]), "stamps stand still; give a time with decimals")
        keep = rising_rows(time, self.last)
        behind = int(np.count_nonzero(finite & ~keep))
        if behind:
            example = float(time[np.flatnonzero(finite & ~keep)[0]])
            self.troubles.add("rows whose stamp is not after the one before", behind, utc_text(example))
        kept = np.flatnonzero(keep)
        if len(kept) == 0:
            return
        self.held = (time[kept[-1:]], out[:, kept[-1:]])
        kept = kept[:-1]
        if len(kept):
            self.last = float(time[kept[-1]])
            whole = kept[-1] - kept[0] + 1 == len(kept)
            yield self.block(time[kept], out[:, kept[0] : kept[-1] + 1] if whole else out[:, kept])

    def last_row(self):
        """The block of the row held back."""
        if self.held is not None:
            yield self.block(*self.held)

    def times(self, out):
        """(n,) [s] since 1970-01-01 UTC of the rows."""
        total, texts = 0.0, False
        for slot, column in enumerate(self.columns):
            if column.channel in TIMES:
                counts = column.unit in COUNT_UNITS
                texts = texts or not (counts and column.channel == "time")
                total = total + (out[slot] * COUNT_UNITS[column.unit] + column.since if counts else out[slot])
        finite = np.isfinite(total)
        zoned, rows = int(self.lists.totals[ZONED]), int(np.count_nonzero(finite))
        if not texts or (zoned and zoned == rows):
            return total
        if zoned:
            raise InputError(self.path, "time", f"{zoned} of {rows}", "some stamps name their zone, others do not")
        if np.all(finite):
            return utc_from_local(self.path, total, self.zone)
        total[finite] = utc_from_local(self.path, total[finite], self.zone)
        return total

    def block(self, time, out):
        """The block in SI."""
        values = {
            column.channel: in_si(out[slot], column)
            for slot, column in enumerate(self.columns)
            if column.channel not in TIMES
        }
        return Block(time, values)


def in_si(raw, column):
    """SI values of (n,) raw ones: sign x gain x (raw - zero) x unit; what is not finite is missing."""
    values = (raw - column.zero) * column.factor if column.zero else raw * column.factor
    if not np.all(np.isfinite(values)):
        values[~np.isfinite(values)] = np.nan
    return values


def python_number(text, decimal):
    """(value, whether it was readable) of an odd field: any number Python reads; blank words are nan and readable."""
    word = text.decode("utf-8", errors="replace").strip().strip('"').strip()
    if word.lower() in BLANK_WORDS:
        return np.nan, True
    if decimal == "," and "." in word or "_" in word:
        return np.nan, False
    try:
        value = float(word.replace(decimal, "."))
    except ValueError:
        return np.nan, False
    return (value, True) if np.isfinite(value) else (np.nan, False)


def utc_text(seconds):
    """A moment as people write it: 2026-03-13T05:40:00.02Z."""
    if not abs(seconds) < 2.5e11:
        return f"{seconds:g} s"
    moment = np.datetime64(0, "ms") + np.timedelta64(round(seconds * 1000.0), "ms")
    return str(moment).removesuffix("0").removesuffix("0").removesuffix(".0") + "Z"
