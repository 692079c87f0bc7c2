"""Where machine code is kept between two runs, and what becomes of it when that folder is damaged or missing.

The compiler's own cache looks only at the file of the function it stores. It would serve a stale
answer after a change in another file that the function calls. So the folder carries a hash
of every source file that compiled code or a constant can come from, of the versions that compile it, and of the
processor it is made for. It does not depend on where the package is installed: a second install of the same sources
loads what the first one compiled.

The compiler also falls back on a folder beside the sources. Here it never does: machine code is kept in the
cache folder or not at all.
"""

import hashlib
import logging
import os
import stat
import sys
import tempfile
from functools import cache
from importlib.metadata import version
from pathlib import Path

from numba.core.caching import CompileResultCacheImpl, FunctionCache, _CacheLocator
from numba.core.registry import cpu_target

from seaload.basis.errors import CannotRun

MODEL_ROOMS = ("basis", "waves", "boat", "foil", "fatigue", "risk", "simulation")
COMPILED_ROOMS = (*MODEL_ROOMS, "files/log")
ONLY_NAMES = "vocabulary"  # sources that begin so hold names, units and meanings alone
PACKAGE = Path(__file__).resolve().parent.parent
MARK = "complete"  # file of a folder in which all kernels have been compiled
GIVEN = ("SEALOAD_CACHE", "XDG_CACHE_HOME")  # environment variables that name a cache folder, first one first
SAID = []  # remarks of this process


def say_once(line):
    """Log a remark as a warning, the first time in this process."""
    if line not in SAID:
        SAID.append(line)
        logging.getLogger("seaload").warning("note: %s", line)


@cache
def source_fingerprint(rooms=MODEL_ROOMS):
    """Hash of the sources of these rooms and of the versions that compile them, 16 hexadecimal digits.

    Those of the model decide what a simulated case is. Names and meanings in a result decide nothing of it.
    """
    digest = hashlib.sha256()
    for room in rooms:
        for path in sorted((PACKAGE / room).glob("*.py")):
            if path.stem.startswith(ONLY_NAMES):
                continue
            digest.update(f"{room}/{path.name}".encode())
            digest.update(path.read_bytes())
    for library in ("numba", "llvmlite", "numpy"):
        digest.update(f"{library} {version(library)}".encode())
    return digest.hexdigest()[:16]


def folder_name():
    """Fingerprint of the sources, then a hash of the Python and the processor that machine code is made for."""
    processor = cpu_target.target_context.codegen()  # pyrefly: ignore[missing-attribute]  (a property of the compiler)
    made_for = (sys.implementation.cache_tag, *processor.magic_tuple())
    return f"{source_fingerprint(COMPILED_ROOMS)}-{hashlib.sha256(repr(made_for).encode()).hexdigest()[:8]}"


def given_root():
    """(variable, folder) that the user named for caches, or None; a relative XDG_CACHE_HOME counts as not given, as
    its specification (freedesktop.org, XDG Base Directory) says.
    """
    for name in GIVEN:
        folder = os.environ.get(name)
        if folder and (name == "SEALOAD_CACHE" or os.path.isabs(folder)):
            return name, Path(folder).absolute()
    return None


def open_to_others(folder):
    """Why code read from a folder may be another user's, or None: whoever can write there decides what runs here.

    A folder of this user or of the system that no one else can write; the group counts as no one else where it is the
    user's own (the usual private group). Systems without such owners are not asked.
    """
    if os.name != "posix":
        return None
    state = folder.stat()
    own_group = state.st_gid == os.getegid() == os.geteuid()
    if state.st_mode & stat.S_IWOTH or (state.st_mode & stat.S_IWGRP and not own_group):
        return f"{folder} can be written by others, whose code would run here: chmod go-w"
    if state.st_uid not in (0, os.geteuid()):
        return f"{folder} belongs to another user, whose code would run here"
    return None


def refusal(folder):
    """Why machine code can be neither kept in nor read from a folder, made if need be; None when it can.

    `folder` lies three levels under a cache folder. That may be one for everybody, such as a temporary folder, when no
    one can exchange what others have in it (sticky).
    """
    root, *inner = (folder.parents[2], folder.parents[1], folder.parents[0], folder)
    try:
        root.mkdir(parents=True, exist_ok=True)
        for part in inner:
            part.mkdir(mode=0o700, exist_ok=True)
        shared = os.name == "posix" and root.stat().st_mode & stat.S_ISVTX
        if reason := next(filter(None, map(open_to_others, inner if shared else [root, *inner])), None):
            return reason
        tempfile.TemporaryFile(dir=folder).close()
    except OSError as error:
        if not os.path.isfile(folder / MARK):
            return error.strerror or str(error)
        return next(filter(None, map(open_to_others, inner)), None)
    return None


@cache
def kernel_folder():
    """Folder of this process's machine code, or None when there is nowhere to keep it, which is said.

    CannotRun when the user named a folder that cannot be used.
    """
    given = given_root()
    if given is not None:
        name, root = given
        folder = root / "seaload" / "kernels" / folder_name()
        if reason := refusal(folder):
            raise CannotRun(f"{root}: the cache folder that {name} names cannot be used: {reason}")
        return folder
    try:
        root = Path.home() / ".cache"
    except RuntimeError:
        root, folder, reason = None, None, "no home folder"
    else:
        folder = root / "seaload" / "kernels" / folder_name()
        reason = refusal(folder)
    if reason:
        where = f"{root}: {reason}" if root else reason
        say_once(f"machine code cannot be kept ({where}): compiled anew each time, unless SEALOAD_CACHE names a folder")
        return None
    return folder


class _Place(_CacheLocator):
    """Folder and freshness of one function's machine code: whatever the install path and the file's date."""

    def __init__(self, formula, file):
        path = Path(file).resolve()
        ours = path.is_relative_to(PACKAGE)
        self._folder = kernel_folder() / (
            path.parent.relative_to(PACKAGE) if ours else self.get_suitable_cache_subpath(file)
        )
        self._stamp = hashlib.sha256(path.read_bytes()).hexdigest()
        self._line = formula.__code__.co_firstlineno
        self._py_file = file  # what the warning names when a function cannot be kept

    def ensure_cache_path(self):
        self._folder.mkdir(parents=True, exist_ok=True)

    def get_cache_path(self):
        return str(self._folder)

    def get_source_stamp(self):
        return self._stamp

    def get_disambiguator(self):
        return str(self._line)

    @classmethod
    def from_function(cls, formula, file):
        return cls(formula, file)


class _Implementation(CompileResultCacheImpl):
    _locator_classes = [_Place]


class KeptCode(FunctionCache):
    """Machine code of one function on disk; what cannot be read is compiled anew, what cannot be written is not
    kept.
    """

    _impl_class = _Implementation

    def load_overload(self, sig, target_context):
        try:
            return super().load_overload(sig, target_context)
        except OSError:
            return None
        except Exception:  # a damaged file fails in whatever way its bytes make it
            say_once(f"{kernel_folder()}: damaged machine code, compiled anew")
            self._forget()
            return None

    def save_overload(self, sig, data):
        try:
            super().save_overload(sig, data)
        except OSError as error:
            say_once(f"{kernel_folder()}: machine code cannot be kept: {error.strerror or error}")

    def _forget(self):
        try:
            (kernel_folder() / MARK).unlink(missing_ok=True)
            self.flush()
        except OSError:
            self.disable()


def keep(kernel):
    """Have a compiled function's machine code kept, where there is a folder for it; gives the function back."""
    if kernel_folder() is not None and hasattr(kernel, "py_func"):
        kernel._cache = KeptCode(kernel.py_func)
    return kernel
