"""Finished cases in one SQLite file of the result folder, written by one process alone.

A case is found by the hash of its inputs. Beside it stands the hash of each input by itself, so that a
study can say which one has changed. A file lock held by SQLite for as long as the store is open keeps a
second writer out, and goes with the process, however that ends.
"""

import sqlite3
from pathlib import Path

from seaload.files.sole_writer import guarded, open_alone, refused, roll_back
from seaload.sailing.record_bytes import record_from_bytes, record_to_bytes

STORE_NAME = "cases.sqlite"
INPUTS = ("boat", "foil", "sea", "setting", "sampling", "model", "gust", "source")
AT_ONCE = 500  # keys in one question


class CaseStore:
    """Open store of a result folder; use as a context manager."""

    def __init__(self, folder):
        self.path = Path(folder) / STORE_NAME
        columns = ", ".join(f"{name} TEXT NOT NULL" for name in INPUTS)
        table = f"CREATE TABLE IF NOT EXISTS cases (key TEXT PRIMARY KEY, {columns}, record BLOB NOT NULL)"
        look = f"SELECT {', '.join(('key', *INPUTS, 'record'))} FROM cases LIMIT 0"  # fails on a stranger's table
        self._base = open_alone(self.path, [table, look])

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._base.close()

    def find(self, keys):
        """{key: CaseRecord} of those keys that are finished."""
        found, keys = {}, list(keys)
        with guarded(self.path):
            for first in range(0, len(keys), AT_ONCE):
                some = keys[first : first + AT_ONCE]
                marks = ",".join("?" * len(some))
                rows = self._base.execute(f"SELECT key, record FROM cases WHERE key IN ({marks})", some)
                found.update({key: record_from_bytes(packed) for key, packed in rows})
        return found

    def add(self, cases):
        """Store finished cases in one transaction; `cases` is a list of (key, {input: hash}, CaseRecord)."""
        rows = [(key, *(inputs[n] for n in INPUTS), record_to_bytes(record)) for key, inputs, record in cases]
        marks = ",".join("?" * (2 + len(INPUTS)))
        self._together(f"INSERT OR REPLACE INTO cases VALUES ({marks})", rows)

    def count(self):
        """Number of finished cases in the store."""
        with guarded(self.path):
            return self._base.execute("SELECT COUNT(*) FROM cases").fetchone()[0]

    def changed_inputs(self, current):
        """Names of inputs none of whose stored hashes is in use now; `current` is {input: set of hashes}."""
        if self.count() == 0:
            return []
        changed = []
        with guarded(self.path):
            for name in INPUTS:
                stored = {row[0] for row in self._base.execute(f"SELECT DISTINCT {name} FROM cases")}
                if not stored & current[name]:
                    changed.append(name)
        return changed

    def delete_others(self, keys):
        """Delete every case whose key is not among `keys`; gives the number deleted."""
        keep = set(keys)
        with guarded(self.path):
            gone = [row[0] for row in self._base.execute("SELECT key FROM cases") if row[0] not in keep]
        self._together("DELETE FROM cases WHERE key = ?", [(key,) for key in gone])
        return len(gone)

    def _together(self, statement, rows):
        """A statement for many rows, all or none."""
        try:
            self._base.execute("BEGIN")
            self._base.executemany(statement, rows)
            self._base.execute("COMMIT")
        except sqlite3.Error as error:
            roll_back(self._base)
            raise refused(self.path, error) from None
