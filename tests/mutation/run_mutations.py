"""Break one token at a time of what a run passes through, and see whether that room's fast tests notice.

    python -m tests.mutation.run_mutations results/validation [--most N] [--again] [--rooms waves,foil]

draws COUNT mutations by SEED (draw.py), writes mutations.json into the folder after each, and takes up there when
started again: only what has no verdict yet is run, with --again also what was not noticed. Ends with 1 while fewer than
nine of ten are noticed. The checkout itself is never changed: tokens are broken in a copy in a temporary
folder. A room's tests are its mirror in tests/ and the files of its subject in tests/published (TESTS); the first that
fails is the verdict, and has to pass in the whole copy. A run of CPU_SECONDS counts as noticed.
"""

import argparse
import contextlib
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.mutation.draw import draw
from tests.mutation.reasons import REASONS

ROOT = Path(__file__).resolve().parents[2]
SEED, COUNT, NEEDED = 11, 150, 0.9
CPU_SECONDS = 600
COPIED = ("seaload", "tests", "scenarios", "README.md", "DEVELOPERS.md", "pyproject.toml")
TESTS = {
    "basis": ("basis/test_*.py", "waves/test_*.py", "boat/test_*.py", "foil/test_*.py", "fatigue/test_*.py"),
    "scenario": ("scenario/test_*.py", "studies/test_load_study.py"),
    "waves": ("waves/test_*.py", "published/test_sea_*.py"),
    "boat": ("boat/test_*.py", "published/test_boat_*.py"),
    "foil": ("foil/test_*.py", "published/test_foil_*.py", "published/test_structure_*.py"),
    "fatigue": ("fatigue/test_*.py", "published/test_counting_*.py", "published/test_fatigue_*.py"),
    "risk": ("risk/test_*.py", "published/test_risk_*.py"),
    "files": ("files/test_*.py", "published/test_sea_records.py"),
}  # every other room: its mirror
LATER = ("test_house_rules", "test_kernel_cache", "test_same_bits", "test_bit_equality", "test_reach")  # slow to notice
IN_EVERY_CHILD = ("numpy", "scipy.special", "scipy.optimize", "scipy.interpolate", "scipy.stats", "numba", "hypothesis",
                  "xarray", "pydantic", "pytest")  # fmt: skip


def tests_of(mutation, folder):
    """Test files of a mutation's room, those that name its module or definition first."""
    room, stem = mutation.module.split(".")[1:3]
    paths = {p for glob in TESTS.get(room, (f"{room}/test_*.py",)) for p in (folder / "tests").glob(glob)}

    def place(path):
        text = path.read_text(encoding="utf-8")
        near = 2 * (mutation.definition in text) + (f"{room}.{stem}" in text or f" {stem}" in text)
        return any(name in path.name for name in LATER), -near, len(text), path

    return [str(path.relative_to(folder)) for path in sorted(paths, key=place)]


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


def in_a_child(folder, tests, seconds=CPU_SECONDS):
    """(verdict, test): pytest in a forked process that has the libraries, but nothing of the package, loaded."""
    out = folder / "said.txt"
    child = os.fork()
    if child == 0:
        _be_the_tests(folder, tests, seconds, out)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        overrun = os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL)
        return ("noticed", f"more than {seconds} s") if overrun else ("noticed", "the process died")
    said = out.read_text(encoding="utf-8")
    failed = [line for line in said.splitlines() if line.startswith(("FAILED ", "ERROR "))]
    if os.WEXITSTATUS(status) in (1, 2) and failed:
        return "noticed", failed[0].split(" ", 1)[1].split(" - ")[0]
    return ("not noticed", "") if os.WEXITSTATUS(status) == 0 else ("no result", said[-500:])


def _be_the_tests(folder, tests, seconds, out):
    """What the child does; never returns."""
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    with open(out, "w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    _see_only(folder)
    import pytest

    code = pytest.main(["-x", "-rfE", "--tb=no", "-p", "no:cacheprovider", "--timeout=0", *tests])
    sys.stdout.flush()
    os._exit(int(code))


def fingerprint_folder(folder):
    """Where the copy keeps machine code; it changes with every source."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        _see_only(folder)
        from seaload.basis.compile import cache_folder

        os.write(writing, str(cache_folder()).encode())
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as told:
        text = told.read()
    os.waitpid(child, 0)
    return Path(text) if text else None


def _see_only(folder):
    """From here on this process knows the package and the tests of a folder only."""
    for name in [n for n in sys.modules if n.split(".")[0] in ("seaload", "tests")]:
        del sys.modules[name]
    os.chdir(folder)
    sys.path[0:0] = [str(folder)]
    os.environ.update(PYTHONPATH=str(folder), SEALOAD_CACHE=str(folder / "cache"), COLUMNS="200")
    os.environ.pop("NUMBA_CACHE_DIR", None)


@contextlib.contextmanager
def broken(folder, mutation, clock):
    """The copy with one token replaced; afterwards the file is as it was, its date too."""
    path = folder / mutation.file
    whole, before = path.read_text(encoding="utf-8"), path.stat()
    lines = whole.splitlines(keepends=True)
    line = lines[mutation.line - 1]
    if line[mutation.column : mutation.column + len(mutation.token)] != mutation.token:
        raise ValueError(f"{mutation.file}:{mutation.line} has no {mutation.token!r} at {mutation.column}")
    end = line[mutation.column + len(mutation.token) :]
    lines[mutation.line - 1] = line[: mutation.column] + mutation.broken + end
    path.write_text("".join(lines), encoding="utf-8")
    os.utime(path, (before.st_atime, before.st_mtime + clock))  # a date of its own: stale code is then known as such
    try:
        yield
    finally:
        path.write_text(whole, encoding="utf-8")
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))


def try_one(folder, mutation, clock, base):
    """Verdict of one mutation in the copy. Outside kernels the machine code of the whole copy still holds."""
    with broken(folder, mutation, clock):
        made = fingerprint_folder(folder)
        if not mutation.kernel and made and not made.exists():
            made.parent.mkdir(parents=True, exist_ok=True)
            made.symlink_to(base, target_is_directory=True)
        verdict = in_a_child(folder, tests_of(mutation, folder))
    if made and made.is_symlink():
        made.unlink()
    elif made and made != base:
        shutil.rmtree(made, ignore_errors=True)
    return verdict


def row_of(mutation, verdict, test):
    """What mutations.json says of one mutation."""
    return {
        "file": mutation.file, "line": mutation.line, "definition": mutation.definition, "kind": mutation.kind,
        "token": mutation.token, "broken": mutation.broken, "text": mutation.text, "kernel": mutation.kernel,
        "verdict": verdict, "test": test, "key": mutation.key(),
    }  # fmt: skip


def write(folder, drawn, verdicts):
    """mutations.json of all drawn, with the reason of each that no test can notice."""
    rows = []
    for mutation in drawn:
        verdict, test = verdicts.get(mutation.key(), ("not run", ""))
        reason = REASONS.get(mutation.key(), "") if verdict != "noticed" else ""
        rows.append({**row_of(mutation, verdict, test), "reason": reason})
    target = Path(folder) / "mutations.json"
    fresh = target.with_suffix(".part")
    fresh.write_text(json.dumps({"seed": SEED, "rows": rows}, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    fresh.replace(target)
    return rows


def earlier(folder):
    """Verdicts of an earlier run by key."""
    path = Path(folder) / "mutations.json"
    told = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    if not isinstance(told, dict) or told.get("seed") != SEED:
        return {}
    return {row["key"]: (row["verdict"], row["test"]) for row in told["rows"] if row["verdict"] != "not run"}


def run(folder, drawn, verdicts, todo):
    """Try every mutation of `todo`, plain ones before kernels, and note each verdict at once."""
    for name in IN_EVERY_CHILD:
        __import__(name)
    copy, sound = copy_of_the_tree(), {}
    base = fingerprint_folder(copy)
    base.mkdir(parents=True, exist_ok=True)
    try:
        for clock, mutation in enumerate(todo, start=1):
            verdict, test = try_one(copy, mutation, 2 * clock, base)
            if "::" in test and test not in sound:
                sound[test] = in_a_child(copy, [test])[0] == "not noticed"
            if not sound.get(test, True):
                verdict, test = "no result", f"{test} fails in the whole copy too"
            verdicts[mutation.key()] = verdict, test
            write(folder, drawn, verdicts)
            place = f"{mutation.file}:{mutation.line}"
            print(f"{verdict}: {place} {mutation.token} -> {mutation.broken} {test}", flush=True)
    finally:
        shutil.rmtree(copy, ignore_errors=True)


def main(arguments=None):
    """Draw, run what is left, print the count; 0 when enough were noticed."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder")
    parser.add_argument("--most", type=int, default=COUNT)
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--rooms", default="")
    asked = parser.parse_args(arguments)
    drawn, verdicts = draw(COUNT, SEED), earlier(asked.folder)
    print(f"{COUNT} mutations, seed {SEED}, {sum(m.kernel for m in drawn)} in kernels")
    done = ("noticed",) if asked.again else ("noticed", "not noticed")
    rooms = [room for room in asked.rooms.split(",") if room]
    todo = [m for m in drawn if verdicts.get(m.key(), ("not run",))[0] not in done and m.key() not in REASONS]
    todo = [m for m in todo if not rooms or m.module.split(".")[1] in rooms]
    run(asked.folder, drawn, verdicts, sorted(todo, key=lambda m: m.kernel)[: asked.most])
    counts = Counter(row["verdict"] for row in write(asked.folder, drawn, verdicts))
    print(", ".join(f"{number} {verdict}" for verdict, number in sorted(counts.items())))
    return 0 if counts["noticed"] >= NEEDED * COUNT else 1


if __name__ == "__main__":
    sys.exit(main())
