"""A copy of package and tests in a temporary folder, one token broken, and tests run in it by a forked process."""

import contextlib
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("seaload", "tests", "scenarios", "README.md", "DEVELOPERS.md", "pyproject.toml")
LIBRARIES = ("numpy", "scipy.special", "scipy.optimize", "scipy.interpolate", "scipy.stats", "numba", "hypothesis",
             "xarray", "pydantic", "pytest")  # fmt: skip
CALLS = "calls.json"  # {test: definitions of the package that it calls}
UNCOMPILED_SECONDS = 20  # a test that takes longer uncompiled is left to the compiled code


def load_libraries():
    """Have the libraries in this process, so that its forks need not load them."""
    for name in LIBRARIES:
        __import__(name)


def copy_of_the_tree():
    """A fresh folder with package and tests."""
    folder = Path(tempfile.mkdtemp(prefix="mutation-"))
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, folder)
    return folder


class Calls:
    """Pytest plugin: which definitions of the package each test calls, as plain Python; compiled ones are not seen."""

    def __init__(self, folder):
        self.folder, self.inside = folder, str(folder / "seaload") + "/"
        self.found, self.failed = {}, set()

    def pytest_runtest_logstart(self, nodeid, location):
        """Watch from here on."""
        mine = self.found.setdefault(nodeid, set())

        def called(frame, event, argument):
            code = frame.f_code
            if code.co_filename.startswith(self.inside):
                mine.add(f"{code.co_filename[len(self.inside) :]}:{code.co_qualname.split('.')[0]}")

        sys.settrace(called)

    def pytest_runtest_logreport(self, report):
        """A test that fails in the whole copy is none to go by."""
        if report.failed:
            self.failed.add(report.nodeid)

    def pytest_runtest_logfinish(self, nodeid, location):
        """Watch no longer."""
        sys.settrace(None)

    def pytest_sessionfinish(self):
        """Leave what was seen."""
        told = {test: None if test in self.failed else sorted(seen) for test, seen in self.found.items()}
        (self.folder / CALLS).write_text(json.dumps(told), encoding="utf-8")


def calls_of(folder, tests, uncompiled=False):
    """{test: definitions it calls, or None where it fails} of the test files, run once in the whole copy.

    `uncompiled` runs the kernels as plain Python, so that their calls are seen too.
    """
    _in_a_fork(folder, tests, None, watch=True, uncompiled=uncompiled)
    return json.loads((folder / CALLS).read_text(encoding="utf-8"))


def said_by(folder, tests, seconds, without=(), uncompiled=False):
    """(verdict, test) of tests in a copy: the first that fails, or "not noticed"; past `seconds` of CPU it is noticed.

    The tests `without` are left out.
    """
    chosen = [*tests, *(f"--deselect={test}" for test in without)]
    status, said = _in_a_fork(folder, chosen, seconds, uncompiled=uncompiled)
    if os.WIFSIGNALED(status):
        overrun = os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL)
        return ("noticed", f"more than {seconds} s") if overrun else ("noticed", "the process died")
    failed = [line for line in said.splitlines() if line.startswith(("FAILED ", "ERROR "))]
    if os.WEXITSTATUS(status) in (1, 2, 4) and failed:
        return "noticed", failed[0].split(" ", 1)[1].split(" - ")[0]
    return ("not noticed", "") if os.WEXITSTATUS(status) == 0 else ("no result", said[-500:])


def _in_a_fork(folder, tests, seconds, watch=False, uncompiled=False):
    """(wait status, what pytest said) of a child that knows the libraries, and the package of the copy only."""
    out = folder / "said.txt"
    child = os.fork()
    if child == 0:
        try:
            _be_the_tests(folder, tests, seconds, out, watch, uncompiled)
        finally:
            os._exit(70)
    _, status = os.waitpid(child, 0)
    return status, out.read_text(encoding="utf-8")


def _be_the_tests(folder, tests, seconds, out, watch, uncompiled):
    """What the child does; never returns."""
    if seconds:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    with open(out, "w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    _see_only(folder)
    import hypothesis
    import numba
    import pytest

    numba.config.DISABLE_JIT = uncompiled
    hypothesis.settings.register_profile("no clock", deadline=None)  # a busy machine is no finding
    hypothesis.settings.load_profile("no clock")
    options = ["-rfE", "--tb=no", "-p", "no:cacheprovider", "-p", "no:warnings"]
    options.append(f"--timeout={UNCOMPILED_SECONDS if watch and uncompiled else 0}")
    if watch:
        code = pytest.main([*options, *tests], plugins=[Calls(folder)])
    else:
        code = pytest.main(["-x", *options, *tests])
    sys.stdout.flush()
    os._exit(int(code))


def _see_only(folder):
    """From here on this process knows the package and the tests of a folder only."""
    for name in [n for n in sys.modules if n.split(".")[0] in ("seaload", "tests")]:
        del sys.modules[name]
    os.chdir(folder)
    sys.path[0:0] = [str(folder)]
    os.environ.update(PYTHONPATH=str(folder), SEALOAD_CACHE=str(folder / "cache"), COLUMNS="200")


def code_folder(folder):
    """Where a copy keeps machine code; its name changes with every source."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            _see_only(folder)
            from seaload.basis.machine_code import folder_name

            os.write(writing, folder_name().encode())
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as told:
        name = told.read()
    os.waitpid(child, 0)
    return folder / "cache" / "seaload" / "kernels" / (name or "does not import")


def code_of_the_whole(folder):
    """Machine code of the copy as it is, taken over from the checkout where that has been compiled."""
    from seaload.basis.machine_code import kernel_folder

    base, known = code_folder(folder), kernel_folder()
    if known is not None and known.name == base.name:
        shutil.copytree(known, base)
    base.mkdir(parents=True, exist_ok=True)
    return base


@contextlib.contextmanager
def broken(folder, mutation, clock):
    """The copy with one token replaced; afterwards the file is as it was, its date too."""
    path = folder / mutation.file
    whole, before = path.read_text(encoding="utf-8"), path.stat()
    lines = whole.splitlines(keepends=True)
    line = lines[mutation.line - 1]
    end = mutation.column + len(mutation.token)
    if line[mutation.column : end] != mutation.token:
        raise ValueError(f"{mutation.file}:{mutation.line} has no {mutation.token!r} at {mutation.column}")
    lines[mutation.line - 1] = line[: mutation.column] + mutation.broken + line[end:]
    path.write_text("".join(lines), encoding="utf-8")
    os.utime(path, (before.st_atime, before.st_mtime + clock))  # a date of its own: stale code is then known as such
    try:
        yield
    finally:
        path.write_text(whole, encoding="utf-8")
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))


@contextlib.contextmanager
def machine_code(folder, mutation, base):
    """Outside kernels the machine code of the whole copy still holds for the broken one; else it starts with none."""
    made = code_folder(folder)
    if not mutation.kernel and not made.exists():
        made.parent.mkdir(parents=True, exist_ok=True)
        made.symlink_to(base, target_is_directory=True)
    try:
        yield
    finally:
        if made.is_symlink():
            made.unlink()
        elif made != base:
            shutil.rmtree(made, ignore_errors=True)
