"""Mutations of text and bytes by lot: what a disk, a spreadsheet, a slip of the hand or a stranger makes of a file."""

import re

NUMBER = re.compile(rb"(?<![\w.])-?\d*\.?\d+(?![\w.])")
WORDS = (
    b"nan", b"inf", b"-inf", b"1e300", b"1e-300", b"5e-324", b"-1", b"0", b"1e9", b"99999", b"1,5", b"MM", b"x",
    b"", b"1e400", b"0x10", b"--", b"\xb0", b"(", b"123456789012345678901234567890",
)  # fmt: skip


def numbers_replaced(raw, lot):
    """One to three numbers become other words."""
    places = list(NUMBER.finditer(raw))
    for found in sorted(lot.sample(places, min(len(places), lot.randint(1, 3))), key=lambda m: -m.start()):
        raw = raw[: found.start()] + lot.choice(WORDS) + raw[found.end() :]
    return raw


def numbers_scaled(raw, lot):
    """A run of numbers in another unit."""
    places = list(NUMBER.finditer(raw))
    if not places:
        return raw
    first = lot.randrange(len(places))
    factor = lot.choice((1e-6, 1e-3, 0.1, -1.0, 10.0, 1e3, 1e6))
    for found in reversed(places[first : first + lot.choice((1, 10, 100))]):
        raw = raw[: found.start()] + f"{float(found[0]) * factor:g}".encode() + raw[found.end() :]
    return raw


def lines_moved(raw, lot):
    """Lines left out, doubled, exchanged, emptied."""
    lines = raw.split(b"\n")
    for _ in range(lot.randint(1, 4)):
        at, other = lot.randrange(len(lines)), lot.randrange(len(lines))
        way = lot.randrange(4)
        if way == 0 and len(lines) > 1:
            del lines[at]
        elif way == 1:
            lines.insert(other, lines[at])
        elif way == 2:
            lines[at], lines[other] = lines[other], lines[at]
        else:
            lines[at] = b""
    return b"\n".join(lines)


def cut(raw, lot):
    """The file stops early, or starts late, or is one endless line."""
    at = lot.randrange(len(raw) + 1)
    return lot.choice((raw[:at], raw[at:], raw.replace(b"\n", b" "), raw.split(b"\n")[0]))


def column_changed(raw, lot):
    """One cell of every line, from some line on, is another or gone."""
    lines = raw.split(b"\n")
    mark = lot.choice((b",", b";", b" "))
    first, at, word = lot.randrange(len(lines)), lot.randrange(4), lot.choice((*WORDS, None))
    for i in range(first, len(lines)):
        cells = lines[i].split(mark)
        if at < len(cells):
            cells[at : at + 1] = [] if word is None else [word]
            lines[i] = mark.join(cells)
    return b"\n".join(lines)


def bytes_flipped(raw, lot):
    """A few bytes are others."""
    changed = bytearray(raw)
    for _ in range(lot.randint(1, 8)):
        changed[lot.randrange(len(changed))] = lot.randrange(256)
    return bytes(changed)


def encoded(raw, lot):
    """As spreadsheets and editors write it: marks, 16 bits, line ends, decimal commas."""
    text = raw.decode("latin-1")
    ways = (
        lambda: text.encode("utf-8-sig"),
        lambda: text.encode("utf-16"),
        lambda: text.encode("utf-16-le"),
        lambda: raw.replace(b"\n", b"\r\n"),
        lambda: raw.replace(b"\n", b"\r"),
        lambda: re.sub(rb"(\d)\.(\d)", rb"\1,\2", raw),
        lambda: raw + b"\x1a",
        lambda: b"\x1f\x8b\x08\x00" + raw,
        lambda: raw.replace(b" ", b"\xa0"),
    )
    return lot.choice(ways)()


MUTATIONS = (numbers_replaced, numbers_scaled) * 2 + (lines_moved, column_changed, cut, bytes_flipped, encoded)


def mutated(raw, lot):
    """Bytes after one or two mutations; `lot` is a random.Random."""
    for _ in range(lot.choice((1, 1, 2))):
        raw = lot.choice(MUTATIONS)(raw, lot)
        raw = raw or b"\n"
    return raw
