"""Break one token at a time of what a run passes through, and see whether that room's fast tests notice.

    python -m tests.mutation.run_mutations results/validation [--most N] [--again] [--rooms waves,foil] [--part plain]

draws COUNT mutations by SEED (draw.py), writes mutations.json into the folder after each, and takes up there when
started again: only what has no verdict yet is run, with --again also what was not noticed. Ends with 1 while fewer than
nine of ten are noticed. The checkout itself is never changed: tokens are broken in a copy in a temporary
folder. A room's tests are its mirror in tests/ and the files named in TESTS; each is first run in the whole copy, what
fails there is left out, and it is noted which definitions it calls: only tests that call the broken one are then
run, all of the room where the broken one works at import. A kernel is first broken uncompiled, for the tests that call
it and end soon without a compiler; only what these let pass is compiled, and met with the whole room. CPU_SECONDS
without an end count as noticed.
"""

import argparse
import json
import shutil
import sys
from collections import Counter
from pathlib import Path

from tests import reach
from tests.mutation.copy_tree import (
    ROOT,
    broken,
    calls_of,
    code_of_the_whole,
    copy_of_the_tree,
    load_libraries,
    machine_code,
    said_by,
)
from tests.mutation.draw import draw
from tests.mutation.reasons import REASONS

SEED, COUNT, NEEDED = 11, 150, 0.9
CPU_SECONDS = 600
TESTS = {
    "basis": ("basis/test_*.py", "waves/test_*.py", "boat/test_*.py", "foil/test_*.py", "fatigue/test_*.py"),
    "scenario": ("scenario/test_*.py", "studies/test_load_study.py"),
    "waves": ("waves/test_*.py", "published/test_sea_*.py"),
    "boat": ("boat/test_*.py", "published/test_boat_*.py"),
    "foil": ("foil/test_*.py", "published/test_foil_*.py", "published/test_structure_*.py"),
    "fatigue": ("fatigue/test_*.py", "published/test_counting_*.py", "published/test_fatigue_*.py"),
    "risk": ("risk/test_*.py", "published/test_risk_*.py"),
    "files": ("files/**/test_*.py", "published/test_sea_records.py"),
    "result": ("result/test_*.py", "studies/test_single_run.py", "studies/test_sweep.py"),
    "sailing": ("sailing/test_*.py", "studies/test_single_run.py"),
}  # every other room: its mirror
FORMULAS = ("basis", "waves", "boat", "foil", "fatigue", "risk")  # rooms whose tests end soon uncompiled
LATER = ("test_house_rules", "test_kernel_cache", "test_same_bits", "test_bit_equality", "test_reach")  # of the tree


def room_of(mutation):
    return mutation.module.split(".")[1]


def files_of(room, folder):
    """Test files of a room, in the order of their names."""
    globs = TESTS.get(room, (f"{room}/**/test_*.py",))
    found = sorted({p for glob in globs for p in (folder / "tests").glob(glob)})
    return [str(p.relative_to(folder)) for p in found if not p.stem.startswith(LATER)]


def users_of(mutation):
    """Definitions "file:name" whose call shows the mutation; nothing where it works at import."""
    known = reach.definitions()
    statements = known[mutation.module, mutation.definition]
    kinds = {type(statement).__name__ for statement in statements}
    if "ClassDef" in kinds and mutation.at_import:
        return set()
    if kinds <= {"FunctionDef", "ClassDef"}:
        nodes = {(mutation.module, mutation.definition)}
    else:
        nodes = reach.users(mutation.module, mutation.definition)
    return {f"{module.replace('.', '/')[len('seaload/') :]}.py:{name}" for module, name in nodes}


def callers(mutation, files, calls):
    """Tests of these files that call what is broken, those that call least first."""
    mine = {test: set(seen) for test, seen in calls.items() if seen is not None and test.split("::")[0] in files}
    users = users_of(mutation)
    return sorted((test for test, seen in mine.items() if seen & users), key=lambda test: (len(mine[test]), test))


def tests_for(mutation, files, calls):
    """Tests of the room that can show the mutation, those that call least first, or all that name it first."""
    some = [] if mutation.kernel else callers(mutation, files, calls)
    if not some:
        texts = {file: (ROOT / file).read_text(encoding="utf-8") for file in files}
        return sorted(files, key=lambda file: (mutation.definition not in texts[file], len(texts[file]), file))
    return some


def row_of(mutation, verdict, test):
    """What mutations.json says of one mutation."""
    reason = REASONS.get(mutation.key(), "") if verdict != "noticed" else ""
    return {
        "file": mutation.file, "line": mutation.line, "definition": mutation.definition, "kind": mutation.kind,
        "token": mutation.token, "broken": mutation.broken, "text": mutation.text, "kernel": mutation.kernel,
        "verdict": verdict, "test": test, "reason": reason, "key": mutation.key(),
    }  # fmt: skip


def write(folder, drawn, verdicts):
    """mutations.json of all drawn, with the reason of each that no test can notice."""
    rows = [row_of(m, *verdicts.get(m.key(), ("not run", ""))) for m in drawn]
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


class Tries:
    """One copy of the tree in which tokens are broken one after the other; what each test calls is found once."""

    def __init__(self):
        self.copy = copy_of_the_tree()
        self.base = code_of_the_whole(self.copy)
        self.calls, self.uncompiled, self.clock = {}, {}, 0

    def known(self, files, uncompiled):
        """What the tests of these files call, see `calls_of`."""
        calls = self.uncompiled if uncompiled else self.calls
        if not set(files) <= {test.split("::")[0] for test in calls}:
            calls.update(calls_of(self.copy, files, uncompiled))
        return calls

    def verdict(self, mutation):
        """(verdict, test) of one mutation."""
        self.clock += 2
        files = files_of(room_of(mutation), self.copy)
        alone = mutation.kernel and room_of(mutation) in FORMULAS
        tests = callers(mutation, files, self.known(files, True)) if alone else []
        if tests:
            with broken(self.copy, mutation, self.clock):
                verdict, test = said_by(self.copy, tests, CPU_SECONDS, uncompiled=True)
            if verdict == "noticed":
                return verdict, test
        calls = self.known(files, False)
        without = [test for test, seen in calls.items() if seen is None]
        with broken(self.copy, mutation, self.clock), machine_code(self.copy, mutation, self.base):
            verdict, test = said_by(self.copy, tests_for(mutation, files, calls), CPU_SECONDS, without)
            if verdict == "not noticed" and not mutation.kernel:  # a shared fixture worked it out for other tests
                verdict, test = said_by(self.copy, files, CPU_SECONDS, without)
        return verdict, test


def run(folder, drawn, verdicts, todo):
    """Try every mutation of `todo`, plain ones before kernels, and note each verdict at once."""
    load_libraries()
    tries = Tries()
    try:
        for mutation in todo:
            verdict, test = verdicts[mutation.key()] = tries.verdict(mutation)
            write(folder, drawn, verdicts)
            place = f"{mutation.file}:{mutation.line}"
            print(f"{verdict}: {place} {mutation.token} -> {mutation.broken} {test}", flush=True)
    finally:
        shutil.rmtree(tries.copy, ignore_errors=True)


def main(arguments=None):
    """Draw, run what is left, print the count; 0 when enough were noticed."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder")
    parser.add_argument("--most", type=int, default=COUNT)
    parser.add_argument("--again", action="store_true", help="also what was not noticed before")
    parser.add_argument("--rooms", default="", help="only these, with commas between")
    parser.add_argument("--part", choices=("all", "plain", "kernels"), default="all")
    asked = parser.parse_args(arguments)
    verdicts = earlier(asked.folder)
    drawn = draw(COUNT, SEED, verdicts)
    print(f"{COUNT} mutations, seed {SEED}, {sum(m.kernel for m in drawn)} in kernels")
    done = ("noticed",) if asked.again else ("noticed", "not noticed")
    rooms = [room for room in asked.rooms.split(",") if room]
    todo = [m for m in drawn if verdicts.get(m.key(), ("not run",))[0] not in done]
    todo = [m for m in todo if not rooms or room_of(m) in rooms]
    todo = [m for m in todo if asked.part == "all" or m.kernel == (asked.part == "kernels")]
    run(asked.folder, drawn, verdicts, sorted(todo, key=lambda m: m.kernel)[: asked.most])
    counts = Counter(row["verdict"] for row in write(asked.folder, drawn, verdicts))
    print(", ".join(f"{number} {verdict}" for verdict, number in sorted(counts.items())))
    return 0 if counts["noticed"] >= NEEDED * COUNT else 1


if __name__ == "__main__":
    sys.exit(main())
