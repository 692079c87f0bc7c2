"""Kernel: rows of a text table into columns of numbers."""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled
from seaload.files.log.field_parser import (
    CLOCK,
    HASH,
    NEWLINE,
    ODD,
    QUOTE,
    RETURN,
    SKIP,
    SPACE,
    STAMP_YMD,
    number_at,
    stamp_at,
)

TOTALS = 5
ROWS, BYTES, ODD_FIELDS, BAD_ROWS, ZONED = range(TOTALS)
COUNTS_ONLY = -1


class RowForm(NamedTuple):
    """How a row is written."""

    delimiter: int  # byte
    decimal: int  # byte
    kinds: np.ndarray  # (fields,) int64, what each field is
    slots: np.ndarray  # (fields,) int64, its row of the columns read
    fields: int


class RowLists(NamedTuple):
    """What the kernel leaves for Python; both lists fill up."""

    odd: np.ndarray  # (k, 4) int64: row, slot, first byte, end of fields it cannot read
    bad: np.ndarray  # (k, 2) int64: first byte and end of rows with another number of fields
    totals: np.ndarray  # (TOTALS,) int64: rows written, bytes used, odd fields, bad rows, stamps that name their zone


@compiled
def field_end(data, i, end, delimiter):
    """(first byte, byte after the last, place of the delimiter or end, whether quotes close) of the field at byte i."""
    if (i < end) and (data[i] == QUOTE):
        j = i + 1
        while (j < end) and (data[j] != QUOTE):
            j += 1
        last = j
        closed = j < end
        while (j < end) and (data[j] != delimiter):
            j += 1
        return i + 1, last, j, closed
    j = i
    while (j < end) and (data[j] != delimiter):
        j += 1
    return i, j, j, True


@compiled
def line_at(data, i, stop, spaced):
    """(first byte, byte after the last, first byte of the next line) of the line at byte i, which is past `stop` where
    no newline ends the line.

    Without a return at its end, and without spaces round it where fields are `spaced` by them.
    """
    end = i
    while (end < stop) and (data[end] != NEWLINE):
        end += 1
    start, after = i, end + 1
    if (end > start) and (data[end - 1] == RETURN):
        end -= 1
    while spaced and (start < end) and (data[start] == SPACE):
        start += 1
    while spaced and (end > start) and (data[end - 1] == SPACE):
        end -= 1
    return start, end, after


@compiled
def read_row(data, line, form, row, out, odd, odd_count):
    """(number of fields, whether each is a field, odd fields so far, stamps that name their zone) of a `line` of
    `data`, its first byte and the one after its last.

    `form` a `RowForm`; values into column `row` of `out`, fields it cannot read into `odd` from `odd_count` on.
    """
    delimiter, decimal, kinds, slots, fields = form
    place, end = line
    field, whole, zoned_count = 0, True, 0
    while True:
        first, last, place, closed = field_end(data, place, end, delimiter)
        whole &= closed
        if field < fields:
            kind = kinds[field]
            if kind != SKIP:
                slot = slots[field]
                if (kind >= STAMP_YMD) & (kind <= CLOCK):
                    value, how, zoned = stamp_at(data, first, last, kind)
                    zoned_count += zoned
                else:
                    value, how = number_at(data, first, last, decimal)
                out[slot, row] = value
                if how == ODD:
                    odd[odd_count, 0] = row
                    odd[odd_count, 1] = slot
                    odd[odd_count, 2] = first
                    odd[odd_count, 3] = last
                    odd_count += 1
        elif last > first:
            whole = False
        field += 1
        if place >= end:
            return field, whole, odd_count, zoned_count
        place += 1
        while (delimiter == SPACE) and (place < end) and (data[place] == SPACE):
            place += 1


@compiled
def parse_rows(data, stop, form, out, lists):
    """Fill `out` (slots, rows) with the rows that end by a newline in bytes 0 to `stop` of `data`.

    `form` a `RowForm`, `lists` a `RowLists`: when one of them is full the kernel stops early, and goes on when called
    with what is left.
    """
    odd, bad, totals = lists
    row, i, odd_count, bad_count, zoned_count = 0, 0, 0, 0, 0
    while row < out.shape[1]:
        start, end, after = line_at(data, i, stop, form.delimiter == SPACE)
        if (after > stop) or (odd_count + form.fields > odd.shape[0]) or (bad_count >= bad.shape[0]):
            break
        i = after
        if (start == end) or (data[start] == HASH):
            continue
        found, whole, odd_now, zoned = read_row(data, (start, end), form, row, out, odd, odd_count)
        if whole and (found >= form.fields) and (found <= form.fields + 1):
            row, odd_count, zoned_count = row + 1, odd_now, zoned_count + zoned
        else:
            bad[bad_count, 0] = start
            bad[bad_count, 1] = end
            bad_count += 1
    totals[ROWS] = row
    totals[BYTES] = i
    totals[ODD_FIELDS] = odd_count
    totals[BAD_ROWS] = bad_count
    totals[ZONED] = zoned_count


def empty_lists(odd_room, bad_room):
    """Fresh `RowLists` with room for so many fields and rows."""
    return RowLists(
        np.empty((odd_room, 4), dtype=np.int64),
        np.empty((bad_room, 2), dtype=np.int64),
        np.zeros(TOTALS, dtype=np.int64),
    )
