"""An SQLite file that one process alone writes: a lock held for as long as it is open, gone with the process."""

import sqlite3
import zlib
from contextlib import contextmanager
from pathlib import Path

from seaload.basis.errors import CannotRun

KEPT = "what was finished before is kept, the same command goes on from there"
REMEDY = "move the file aside, and a new one is begun"
OF_THE_DISK = ("full", "readonly", "read-only", "unable to open", "disk I/O", "permission")
BUSY = "another seaload process is using this folder; wait for it, or choose another --out"


def open_alone(path, tables):
    """Connection to the SQLite file at `path`, locked against any other writer; `tables` are statements that make
    what is missing. CannotRun when it is in use, or the disk refuses.
    """
    path = Path(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        # threads of one process may take turns at it, one at a time
        base = sqlite3.connect(path, timeout=0.2, isolation_level=None, check_same_thread=False)
        base.execute("PRAGMA locking_mode=EXCLUSIVE")
        base.execute("PRAGMA synchronous=FULL")
        base.execute("BEGIN EXCLUSIVE")
        for statement in tables:
            base.execute(statement)
        base.execute("COMMIT")
    except (sqlite3.Error, OSError, UnicodeError) as error:  # damaged bytes get into its messages, too
        raise refused(path, error) from None
    return base


def refused(path, error):
    """`CannotRun` with the file and why; with the remedy where the file is damaged or another program's."""
    text = " ".join(str(error).split())
    if "locked" in text or "busy" in text:
        return CannotRun(f"{path}: {BUSY}")
    if isinstance(error, OSError) or any(word in text for word in OF_THE_DISK):
        return CannotRun(f"{path}: {text}; {KEPT}")
    return CannotRun(f"{path}: damaged, or not made by seaload ({text}); {REMEDY}")


@contextmanager
def guarded(path):
    """While the body reads the file at `path`: what its bytes make of SQLite and of readers becomes `CannotRun`."""
    try:
        yield
    except (sqlite3.Error, ValueError, TypeError, LookupError, AttributeError, zlib.error) as error:
        raise refused(path, error) from None


def roll_back(base):
    """Undo a transaction that failed, if there still is one."""
    try:
        base.execute("ROLLBACK")
    except sqlite3.Error:
        pass
