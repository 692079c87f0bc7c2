"""Kernel: rows of a text table into columns of numbers."""

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
def parse_rows(data, stop, delimiter, decimal, kinds, slots, fields, out, odd, bad, totals):
    """Fill `out` (slots, rows) with the rows that end by a newline in bytes 0 to `stop` of `data`.

    kinds, slots (fields,): what each field is, and its row of `out`. `odd` (k, 4): row, slot, first byte, end of
    fields for Python; `bad` (k, 2): first byte and end of rows with another number of fields. Both fill up: the
    kernel then stops early, and goes on when called with what is left. `totals` (TOTALS,): rows written, bytes
    used, odd fields, bad rows, stamps that name their zone.
    """
    row, i, odd_count, bad_count, zoned_count = 0, 0, 0, 0, 0
    spaced = delimiter == SPACE
    while True:
        start = i
        end = i
        while (end < stop) and (data[end] != NEWLINE):
            end += 1
        if (end >= stop) or (row >= out.shape[1]):
            break
        if (odd_count + fields > odd.shape[0]) or (bad_count >= bad.shape[0]):
            break
        i = end + 1
        if (end > start) and (data[end - 1] == RETURN):
            end -= 1
        while spaced and (start < end) and (data[start] == SPACE):
            start += 1
        while spaced and (end > start) and (data[end - 1] == SPACE):
            end -= 1
        if (start == end) or (data[start] == HASH):
            continue
        field, place, odd_before, whole = 0, start, odd_count, True
        zoned_before = zoned_count
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
                break
            place += 1
            while spaced and (place < end) and (data[place] == SPACE):
                place += 1
        if whole and (field >= fields) and (field <= fields + 1):
            row += 1
        else:
            odd_count = odd_before
            zoned_count = zoned_before
            bad[bad_count, 0] = start
            bad[bad_count, 1] = end
            bad_count += 1
    totals[ROWS] = row
    totals[BYTES] = i
    totals[ODD_FIELDS] = odd_count
    totals[BAD_ROWS] = bad_count
    totals[ZONED] = zoned_count


def empty_lists(odd_room, bad_room):
    """Fresh (odd, bad, totals) for `parse_rows`."""
    return (
        np.empty((odd_room, 4), dtype=np.int64),
        np.empty((bad_room, 2), dtype=np.int64),
        np.zeros(TOTALS, dtype=np.int64),
    )
