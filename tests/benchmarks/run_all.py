"""All benchmarks: `python -m tests.benchmarks.run_all FOLDER` writes FOLDER/benchmarks.json and benchmarks.md."""

import json
import os
import sys
from importlib.metadata import version
from pathlib import Path

for name in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

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
    """Missed speed goals with the measured limit beside them."""
    ceiling = next((r["ratio"] for r in rows if r["name"].startswith("real time if")), None)
    for r in rows:
        if r["met"] is False and ceiling and r["name"].startswith("real time, one core") and not r["bound"]:
            r["bound"] = (
                f"loads and wave products at their bare arithmetic would give {ceiling:.0f}; the rest: interpolation, "
                "phases, motion, reading and counting"
            )
    return rows


def table(rows, machine):
    """The rows as a Markdown page."""
    said = ", ".join(f"{key} {value}" for key, value in machine.items())
    lines = ["# Benchmarks", "", f"Machine: {said}.", ""]
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
    machine.update({name: version(name) for name in ("numpy", "numba", "scipy")})
    rows = all_rows(only)
    target = Path(folder)
    target.mkdir(parents=True, exist_ok=True)
    (target / "benchmarks.json").write_text(
        json.dumps(rows, indent=1, allow_nan=False) + "\n", encoding="utf-8"
    )
    (target / "benchmarks.md").write_text(table(rows, machine), encoding="utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:])
