"""An SQLite file that one process alone writes: a lock held for as long as it is open, gone with the process."""

import sqlite3
from pathlib import Path

from seaload.basis.errors import CannotRun

BUSY = "another seaload process is using this folder; wait for it, or choose another --out"


def open_alone(path, tables):
    """Connection to the SQLite file at `path`, locked against any other writer; `tables` are statements that make
    what is missing. CannotRun when it is in use, or the disk refuses.
    """
    path = Path(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        base = sqlite3.connect(path, timeout=0.2, isolation_level=None)
        base.execute("PRAGMA locking_mode=EXCLUSIVE")
        base.execute("PRAGMA synchronous=FULL")
        base.execute("BEGIN EXCLUSIVE")
        for statement in tables:
            base.execute(statement)
        base.execute("COMMIT")
    except (sqlite3.Error, OSError) as error:
        raise refused(path, error) from None
    return base


def refused(path, error):
    """`CannotRun` with the file and why."""
    text = str(error)
    if "locked" in text or "busy" in text:
        return CannotRun(f"{path}: {BUSY}")
    return CannotRun(f"{path}: {text}")


def roll_back(base):
    """Undo a transaction that failed, if there still is one."""
    try:
        base.execute("ROLLBACK")
    except sqlite3.Error:
        pass
