"""Speed of the march in two checkouts, turn by turn: what changes of the code cost, whatever else the machine does.

One process a checkout keeps its kernels and marches a block of the first study when asked; the two take turns, so that
a pair is seconds apart, and the ratio of a pair says what noise leaves. The studies must name the same boat.

    python -m tests.benchmarks.paired OUT.json PAIRS BEFORE STUDY AFTER STUDY
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from statistics import median, quantiles

from tests.other_processors import vector_bits

LENGTH = 300.0  # [s] of sea in one timing
BLOCKS = ("one setting, 16 realisations", "16 settings in one sea")
WORKER = """
import sys
from pathlib import Path
import tests.benchmarks.first_study as first
first.STUDY = Path(sys.argv[1])
study = first.first_study()
setting = study.settings[0]
blocks = [[(setting, r) for r in range(16)], [(each, 0) for each in first.sixteen_settings(study)]]
for cases in blocks:
    first.marched(study, cases, 2.0)
print("ready", flush=True)
for line in sys.stdin:
    print(first.real_time(first.marched(study, blocks[int(line)], float(sys.argv[2]))[1]), flush=True)
"""


class Worker:
    """A process that marches with the package of one `folder`, and caches of its own."""

    def __init__(self, folder, study, cache):
        env = dict(os.environ, PYTHONPATH=str(folder), SEALOAD_CACHE=str(cache), OMP_NUM_THREADS="1")
        command = [sys.executable, "-c", WORKER, str(Path(study).resolve()), str(LENGTH)]
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(command, cwd=folder, env=env, stdin=pipe, stdout=pipe, text=True)
        self.process.stdout.readline()

    def speed(self, block):
        """Simulated over processor time [-] of a `block` of BLOCKS by number."""
        self.process.stdin.write(f"{block}\n")
        self.process.stdin.flush()
        return float(self.process.stdout.readline())


def commit(folder):
    """What is checked out in a `folder`; with a sign when something was changed in it."""
    command = ["git", "-C", str(folder), "describe", "--always", "--dirty"]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


def compare(pairs, workers):
    """{name of a block: summary of the ratios after / before} of so many `pairs`, the order turned each time."""
    found = {}
    for block, name in enumerate(BLOCKS):
        before, after = [], []
        for number in range(pairs):
            for which in (0, 1) if number % 2 else (1, 0):
                (before, after)[which].append(workers[which].speed(block))
        ratios = [b / a for a, b in zip(before, after, strict=True)]
        low, _, high = quantiles(ratios, n=4)
        error = 1.25 * (high - low) / 1.35 / len(ratios) ** 0.5  # of a median, from the quartiles
        found[name] = {
            "real time before": round(median(before)),
            "real time after": round(median(after)),
            "ratio": round(median(ratios), 3),
            "standard error": round(error, 3),
        }
    return found


def page(found):
    """What was found as a Markdown page."""
    lines = [
        f"# Speed of the march: {found['after']} against {found['before']}",
        "",
        f"{found['pairs']} pairs in turns of {LENGTH:g} s of sea, one core, {found['bits of a vector']}-bit vectors.",
        "",
        "| block | simulated over processor time, before | after | ratio, median of pairs | its standard error |",
        "| --- | --- | --- | --- | --- |",
    ]
    lines += ["| " + " | ".join([name, *(f"{value:g}" for value in found[name].values())]) + " |" for name in BLOCKS]
    return "\n".join(lines) + "\n"


def main(out, pairs, before, before_study, after, after_study):
    """Time both checkouts and write what was found to the file `out`, and as a page beside it."""
    out = Path(out).resolve()
    cache = Path(os.environ.get("SEALOAD_CACHE", out.parent / "paired-cache"))
    checkouts = enumerate([(before, before_study), (after, after_study)])
    workers = [Worker(Path(folder).resolve(), study, cache / str(i)) for i, (folder, study) in checkouts]
    found = {"before": commit(before), "after": commit(after), "bits of a vector": vector_bits(), "pairs": int(pairs)}
    found |= compare(int(pairs), workers)
    out.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    out.with_suffix(".md").write_text(page(found), encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
