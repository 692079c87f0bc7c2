"""Two-dimensional sea spectra in SWAN's standard spectral text file.

Keywords as the SWAN user manual describes them (from memory, and as seen in a sample file): TIME, LOCATIONS
or LONLAT, AFREQ or RFREQ, NDIR (nautical: compass, FROM) or CDIR (Cartesian: anticlockwise from east, TO),
QUANT, then for each time and location FACTOR with whole numbers, ZERO or NODATA.
"""

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files.sea_record import checked_bands, checked_record, chosen_index, existing_file, time_text
from seaload.scenario.text_file import file_text, lines_of


class _Lines:
    """Lines of the file, one after the other, with their numbers, comments left out."""

    def __init__(self, path, text):
        self.path = path
        self.rest = [(number, line) for number, line in lines_of(text) if line[:1] != "$"]
        self.at = 0

    def more(self):
        return self.at < len(self.rest)

    def keyword(self):
        return self.rest[self.at][1].split()[0] if self.more() else ""

    def words(self):
        if not self.more():
            raise InputError(self.path, "file", "end of file", "a whole spectral file; this one stops early")
        line = self.rest[self.at][1]
        self.at += 1
        return line.split()

    def numbers(self, count):
        """Exactly the first `count` numbers of the next line; what stands behind is a comment."""
        number = self.rest[self.at][0] if self.more() else 0
        words = self.words()
        try:
            return [float(word) for word in words[:count]] if len(words) >= count else int("")
        except ValueError:
            found = " ".join(words)[:40]
            raise InputError(self.path, f"line {number}", found, f"{count} numbers") from None

    def count(self, largest=100_000):
        number = self.rest[self.at][0] if self.more() else 0
        value = self.numbers(1)[0]
        if not (1 <= value <= largest and value == int(value)):
            raise InputError(self.path, f"line {number}", value, f"a whole number, 1 to {largest}")
        return int(value)


def read_sea_swan(path, record_time, place=None):
    """SeaRecord of one time and location of a SWAN spectral file.

    record_time such as 2016-10-11T00:00Z, or None in a file of one time; place: a whole number from 0
    (location in the file), or None in a file of one location. Raises InputError for a one-dimensional file,
    other quantities than variance density, NODATA, and all that cannot be read.
    """
    path = existing_file(path)
    lines = _Lines(path, file_text(path))
    if lines.keyword() != "SWAN":
        raise InputError(path, "first line", lines.keyword(), "the word SWAN")
    lines.words()
    timed, places, frequency, direction, scale, exception, notes = _header(lines)
    if place is None and places == 1:
        place = 0
    if not (isinstance(place, int) and 0 <= place < places):
        raise InputError(path, "place", place, f"a whole number 0 to {places - 1} (location in the file)")
    times, blocks = [], []
    while lines.more():
        times.append(_time(path, lines.words()[0]) if timed else np.datetime64("1970-01-01T00:00", "m"))
        for at in range(places):
            block = _block(lines, len(frequency), len(direction))
            if at == place:
                blocks.append(block)
    index = chosen_index(path, times, record_time if timed else None)
    density = blocks[index]
    if density is None:
        raise InputError(path, f"record {time_text(times[index])}", "NODATA", "a location with data")
    density = np.where(density == exception, 0.0, density) * scale
    return checked_record(path, times[index], frequency, density, direction=direction, notes=notes)


def _header(lines):
    timed, places, frequency, direction, notes = False, 0, None, None, ["no tail added"]
    while lines.more():
        keyword = lines.words()[0]
        if keyword == "TIME":
            timed = True
            lines.words()
        elif keyword in ("LOCATIONS", "LONLAT"):
            places = lines.count()
            for _ in range(places):
                lines.numbers(2)
        elif keyword in ("AFREQ", "RFREQ"):
            frequency = checked_bands(lines.path, [lines.numbers(1)[0] for _ in range(lines.count(1000))])
            if keyword == "RFREQ":
                notes.append("frequencies relative to the current")
        elif keyword in ("NDIR", "CDIR"):
            angle = np.array([lines.numbers(1)[0] for _ in range(lines.count(1000))]) * DEGREE
            direction = angle if keyword == "NDIR" else 1.5 * np.pi - angle
        elif keyword == "QUANT":
            scale, exception = _quantity(lines, direction)
            if not places or frequency is None:
                raise InputError(lines.path, "file", "QUANT", "locations and frequencies before it")
            return timed, places, frequency, direction, scale, exception, notes
        else:
            raise InputError(lines.path, "keyword", keyword, "a keyword of a spectral file")
    raise InputError(lines.path, "file", "no QUANT", "a whole spectral file")


def _quantity(lines, direction):
    """Factor to m2/Hz per radian, and the value that stands for no data."""
    if direction is None:
        raise InputError(lines.path, "directions", "none", "a two-dimensional file, with NDIR or CDIR")
    if lines.count() != 1:
        raise InputError(lines.path, "QUANT", "more than one", "one quantity, VaDens")
    name = lines.words()[0]
    unit = lines.words()[0]
    if name != "VaDens" or unit.lower() != "m2/hz/degr":
        raise InputError(lines.path, "QUANT", f"{name} {unit}", "VaDens in m2/Hz/degr")
    return 1.0 / DEGREE, lines.numbers(1)[0]


def _time(path, word):
    try:
        date, clock = word.split(".")
        text = f"{date[:4]}-{date[4:6]}-{date[6:8]}T{clock[:2]}:{clock[2:4]}"
        return np.datetime64(text, "m")
    except ValueError:
        raise InputError(path, "time", word, "YYYYMMDD.hhmmss") from None


def _block(lines, frequencies, directions):
    """Density of one location (frequencies, directions), in the file's units, or None for NODATA."""
    keyword = lines.words()[0]
    if keyword == "NODATA":
        return None
    if keyword == "ZERO":
        return np.broadcast_to(0.0, (frequencies, directions))  # takes no memory: a file may hold thousands
    if keyword != "FACTOR":
        raise InputError(lines.path, "keyword", keyword, "FACTOR, ZERO or NODATA")
    factor = lines.numbers(1)[0]
    if not 0.0 <= factor < np.inf:
        raise InputError(lines.path, "FACTOR", factor, "a finite number, not negative")
    return factor * np.array(_whole_table(lines, frequencies * directions)).reshape(frequencies, directions)


def _whole_table(lines, size):
    values = []
    while len(values) < size:
        words = lines.words()
        try:
            values.extend(float(word) for word in words)
        except ValueError:
            raise InputError(lines.path, "table", " ".join(words)[:40], "numbers with a decimal point only") from None
    if len(values) != size:
        raise InputError(lines.path, "table", len(values), f"{size} numbers")
    return values
