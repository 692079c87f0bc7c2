"""The one decorator that compiles a formula or a kernel, and the folder its machine code is kept in.

Every compiled function takes the same options, because a callee otherwise takes those of its first
caller: other last digits, other speed, and exceptions where infinities were meant. A callee is always inlined.
Left to itself it would be a symbol of its own, and of two compiled copies the one loaded first would serve all
callers: a process that had used a formula alone then marched to other last digits (measured).

The compiler's own cache looks only at the file of the function it stores. It would serve a stale
answer after a change in another file that the function calls. So the cache folder carries a hash
of every source file that compiled code or a constant can come from, and of the versions that compile it.
"""

import hashlib
import os
from importlib.metadata import version
from pathlib import Path

MODEL_ROOMS = ("basis", "waves", "boat", "foil", "fatigue", "risk", "simulation")
COMPILED_ROOMS = (*MODEL_ROOMS, "files/log")
PACKAGE = Path(__file__).resolve().parent.parent


def source_fingerprint(rooms=MODEL_ROOMS):
    """Hash of the sources of these rooms and of the versions that compile them, 16 hexadecimal digits.

    Those of the model decide what a simulated case is.
    """
    digest = hashlib.sha256()
    for room in rooms:
        for path in sorted((PACKAGE / room).glob("*.py")):
            digest.update(f"{room}/{path.name}".encode())
            digest.update(path.read_bytes())
    for library in ("numba", "llvmlite", "numpy"):
        digest.update(f"{library} {version(library)}".encode())
    return digest.hexdigest()[:16]


def cache_folder():
    """Folder for machine code: the user's cache folder, then one subfolder a fingerprint."""
    home = os.environ.get("SEALOAD_CACHE") or os.environ.get("XDG_CACHE_HOME")
    root = Path(home) if home else Path.home() / ".cache"
    return root / "seaload" / "kernels" / source_fingerprint(COMPILED_ROOMS)


os.environ["NUMBA_CACHE_DIR"] = str(cache_folder())

import numba  # noqa: E402  (the folder must be set before the first import)

numba.config.CACHE_DIR = os.environ["NUMBA_CACHE_DIR"]

compiled = numba.njit(
    cache=True,
    error_model="numpy",
    fastmath={"reassoc", "contract", "nsz"},
    nogil=True,
    forceinline=True,
)
