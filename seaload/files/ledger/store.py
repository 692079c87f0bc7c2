"""The ledger in `ledger.sqlite`: stretches by foil, page and place; one transaction a file; one writer.

A page is a foil between two repairs, with the same gauges and the same curve. What is stored of a stretch never
changes; totals are worked out from all stretches in the order of time, so the order of adding does not matter.
"""

import json
import sqlite3
import zlib
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.fatigue.cycle_bins import MEAN_BINS, RANGE_BINS
from seaload.files.ledger.curve import Curve
from seaload.files.ledger.stretch import LEVELS, Stretch
from seaload.files.sole_writer import guarded, open_alone, refused, roll_back

LEDGER_NAME = "ledger.sqlite"
PLAIN = (
    "place", "start", "stop", "step", "day", "setting", "anew", "seconds", "loaded",
    "highest", "highest_time", "lowest", "lowest_time",
)  # fmt: skip
TABLES = (
    "CREATE TABLE IF NOT EXISTS page (id INTEGER PRIMARY KEY, foil TEXT NOT NULL, name TEXT NOT NULL,"
    " curve TEXT NOT NULL, UNIQUE (foil, name))",
    f"CREATE TABLE IF NOT EXISTS stretch (page INTEGER NOT NULL, file TEXT NOT NULL, {', '.join(PLAIN)},"
    " damage REAL NOT NULL, damage_steep REAL NOT NULL, cycles BLOB NOT NULL, residue BLOB NOT NULL,"
    " excursions BLOB NOT NULL, UNIQUE (page, place, start))",
)


class Ledger:
    """Open ledger of a folder of results; use as a context manager."""

    def __init__(self, folder):
        self.path = Path(folder) / LEDGER_NAME
        self._base = open_alone(self.path, TABLES)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._base.close()

    def page(self, foil, name, curve):
        """Number of a foil's page, begun if there is none. InputError when it was counted by another curve."""
        text = json.dumps(curve._asdict())
        with guarded(self.path):
            found = self._base.execute("SELECT id, curve FROM page WHERE foil=? AND name=?", (foil, name)).fetchone()
            if found is None:
                row = (foil, name, text)
                return self._base.execute("INSERT INTO page (foil, name, curve) VALUES (?, ?, ?)", row).lastrowid
            number, stored = found
            before = Curve(**{key: float(value) for key, value in json.loads(stored).items()})
        if before != curve:
            key = next(k for k, value in curve._asdict().items() if value != getattr(before, k))
            allowed = (
                f"the ledger counted page '{name}' of foil '{foil}' with {getattr(before, key):g}; "
                "start a page under another name, or move the ledger away"
            )
            raise InputError(self.path.name, key, getattr(curve, key), allowed)
        return number

    def pages(self, foil):
        """[(number, name, Curve)] of a foil, in the order in which they were begun."""
        with guarded(self.path):
            rows = self._base.execute("SELECT id, name, curve FROM page WHERE foil=? ORDER BY id", (foil,))
            return [(number, name, Curve(**json.loads(text))) for number, name, text in rows]

    def counted(self, page):
        """{place: (k, 2) first and last sample [s] of every stretch, rising}."""
        found = {}
        with guarded(self.path):
            rows = self._base.execute("SELECT place, start, stop FROM stretch WHERE page=? ORDER BY start", (page,))
            for place, start, stop in rows:
                found.setdefault(place, []).append((float(start), float(stop)))
        return {place: np.array(times) for place, times in found.items()}

    def add(self, page, file, stretches):
        """Store the stretches of one file, all or none."""
        marks = ",".join("?" * (len(PLAIN) + 7))
        rows = [(page, file, *row_of(stretch)) for stretch in stretches]
        try:
            self._base.execute("BEGIN")
            self._base.executemany(f"INSERT INTO stretch VALUES ({marks})", rows)
            self._base.execute("COMMIT")
        except sqlite3.Error as error:
            roll_back(self._base)
            raise refused(self.path, error) from None

    def stretches(self, page):
        """{place: [Stretch] in the order of time} of a page."""
        names = ", ".join(PLAIN)
        question = (
            f"SELECT {names}, damage, damage_steep, cycles, residue, excursions"
            " FROM stretch WHERE page=? ORDER BY place, start"
        )
        found = {}
        with guarded(self.path):
            for row in self._base.execute(question, (page,)):
                found.setdefault(row[0], []).append(stretch_of(row))
        return found

    def files(self, page):
        """Names of the files that a page has stretches of."""
        with guarded(self.path):
            return [row[0] for row in self._base.execute("SELECT DISTINCT file FROM stretch WHERE page=?", (page,))]


def row_of(stretch):
    """Values of a stretch in the order of the table."""
    plain = [getattr(stretch, name) for name in PLAIN]
    excursions = {
        name: [rows.tolist(), runs_on, None if np.isnan(head) else head, over]
        for name, (rows, runs_on, head, over) in stretch.excursions.items()
    }
    return (
        *plain,
        *(float(d) for d in stretch.damage),
        zlib.compress(stretch.cycles.astype("<f8").tobytes()),
        stretch.residue.astype("<f8").tobytes(),
        zlib.compress(json.dumps(excursions).encode()),
    )


def stretch_of(row):
    """The `Stretch` of a row."""
    *plain, damage, steep, cycles, residue, excursions = row
    told = json.loads(zlib.decompress(excursions))
    listed = {}
    for name in LEVELS:
        rows, runs_on, head, over = told[name]
        listed[name] = (np.array(rows, dtype=float).reshape(-1, 3), runs_on, np.nan if head is None else head, over)
    return Stretch(
        **dict(zip(PLAIN, plain, strict=True)) | {"anew": bool(plain[PLAIN.index("anew")])},
        damage=np.array([damage, steep]),
        cycles=np.frombuffer(zlib.decompress(cycles), dtype="<f8").reshape(RANGE_BINS, MEAN_BINS),
        residue=np.frombuffer(residue, dtype="<f8"),
        excursions=listed,
    )
