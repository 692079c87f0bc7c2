"""All benchmarks, for the vectors that this process's compiled code has.

    python -m tests.benchmarks.run_all FOLDER [PART]    writes FOLDER/benchmarks-256-bit.json and .md, or 512

On a processor with AVX-512 the narrower ones are made with NUMBA_CPU_FEATURES as `python -m tests.other_processors
features` prints it. Speed is held against what the arithmetic alone would take at the same width on the same machine.
"""

import json
import os
import sys
from importlib.metadata import version
from pathlib import Path

for name in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

from seaload.basis.machine_code import source_fingerprint  # noqa: E402
from seaload.simulation import block  # noqa: E402
from tests.benchmarks import (  # noqa: E402
    bench_limits,
    bench_log,
    bench_march,
    bench_process,
    bench_rainflow,
    bench_wave_field,
)
from tests.benchmarks.first_study import first_study, marched  # noqa: E402
from tests.benchmarks.measuring import row  # noqa: E402
from tests.other_processors import vector_bits  # noqa: E402

SHARE_OF_BOUND = 0.45  # [-] of the speed that bare arithmetic would have: what is asked for at every width


def a_run(study):
    """The `_Run` of a short block, its arrays as they stand in mid-march."""
    caught = {}
    real = block._Run.go

    def go(self, stop=None):
        caught["run"] = self
        return real(self, stop)

    block._Run.go = go
    try:
        marched(study, [(study.settings[0], r) for r in range(16)], 10.0)
    finally:
        block._Run.go = real
    return caught["run"]


def all_rows(only=None):
    """Every row, part by part; `only` names one part."""
    study = first_study()

    def march():
        rows, speed = bench_march.real_time_rows(study)
        return [*rows, bench_march.solver_row(study, speed), bench_march.worker_row(study)]

    parts = {
        "march": march,
        "limits": lambda: bench_limits.limit_rows(a_run(study)),
        "waves": bench_wave_field.wave_field_rows,
        "integrator": lambda: bench_march.integrator_rows(study),
        "rainflow": bench_rainflow.rainflow_rows,
        "log": bench_log.run,
        "process": bench_process.process_rows,
    }
    rows = []
    for name, part in parts.items():
        if only in (None, name):
            print(f"{name} ...", file=sys.stderr, flush=True)
            found = part()
            for each in found:
                print(each["name"], each["ratio"], each["goal"], each["met"], file=sys.stderr, flush=True)
            rows += found
    return explained(rows)


def explained(rows):
    """The rows, those of speed also as a share of the measured limit, missed goals with that limit beside them."""
    ceiling = next((r["ratio"] for r in rows if r["name"].startswith("real time if")), None)
    fast = [r for r in rows if r["name"].startswith("real time, one core") and ceiling]
    shares = [
        row(f"{r['name']}, over its bare arithmetic with {vector_bits()}-bit vectors",
            r["ratio"], ceiling, None if "9 real" in r["name"] else SHARE_OF_BOUND, ">=", ratio=r["ratio"] / ceiling)
        for r in fast
    ]  # fmt: skip
    for r in rows:
        if r["met"] is False and ceiling and r["name"].startswith("real time, one core") and not r["bound"]:
            r["bound"] = (
                f"loads and wave products at their bare arithmetic would give {ceiling:.0f}; the rest: interpolation, "
                "phases, motion, reading and counting"
            )
    return rows + shares


def table(rows, machine):
    """The rows as a Markdown page; `machine` holds, among others, the width of the vectors [bits]."""
    said = ", ".join(f"{key} {value}" for key, value in machine.items())
    lines = [f"# Benchmarks with {machine['vector_bits']}-bit vectors", "", f"Machine: {said}.", ""]
    lines += [
        "Medians of alternating repeats, processor time unless said. `ratio` is what the goal is held against; a row",
        "without a goal is only stated.", "",
        "| what | ours | other | ratio | goal | met | bound |", "| --- | --- | --- | --- | --- | --- | --- |",
    ]  # fmt: skip
    for r in rows:
        goal = "" if r["goal"] is None else f"{r['sense']} {r['goal']:g}"
        met = {None: "", True: "yes", False: "**no**"}[r["met"]]
        show = lambda value: "" if value is None else f"{value:.3g}"  # noqa: E731
        lines.append(
            f"| {r['name']} | {show(r['ours'])} | {show(r['other'])} | {show(r['ratio'])} "
            f"| {goal} | {met} | {r['bound']} |"
        )
    return "\n".join(lines) + "\n"


def main(folder, only=None):
    machine = bench_process.machine()
    machine.update({name: version(name) for name in ("numpy", "numba", "scipy")}, vector_bits=vector_bits())
    machine["sources"] = source_fingerprint()[:12]
    rows = all_rows(only)
    target = Path(folder)
    target.mkdir(parents=True, exist_ok=True)
    stem = f"benchmarks-{machine['vector_bits']}-bit"
    (target / f"{stem}.json").write_text(
        json.dumps(rows, indent=1, allow_nan=False) + "\n", encoding="utf-8"
    )
    (target / f"{stem}.md").write_text(table(rows, machine), encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
