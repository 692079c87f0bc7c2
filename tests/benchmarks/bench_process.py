"""Whole-process rows: help, a warm run of an hour, the first run ever, memory against hours."""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

from seaload.studies.load_study import load_study
from tests.benchmarks.first_study import ROOT, STUDY
from tests.benchmarks.measuring import REPEATS, row

COMMAND = [sys.executable, "-m", "seaload.command_line.main"]


def study_of(hours, folder):
    """The first study with other hours, written beside the real one's files."""
    text = STUDY.read_text(encoding="utf-8").replace("hours = 3.0", f"hours = {hours}")
    text = text.replace('"../', f'"{(STUDY.parent / "..").resolve().as_posix()}/')
    path = Path(folder) / f"hours-{str(hours).replace('.', '-')}.toml"
    path.write_text(text, encoding="utf-8")
    return path


def timed(arguments, **environment):
    """(wall seconds, peak resident megabytes) of one `seaload` process."""
    # the peak of children so far is all the system tells, so memory is asked of a process of its own
    script = (
        "import resource, subprocess, sys, time\n"
        "t = time.perf_counter()\n"
        "code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode\n"
        "print(code, time.perf_counter() - t, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", script, *COMMAND, *arguments], capture_output=True, text=True, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment}, check=True,
    ).stdout.split()  # fmt: skip
    assert said[0] in ("0", "1"), said
    return float(said[1]), float(said[2])


def marched_seconds(study, folder):
    """Processor seconds of wave field, march and counting in a run of a study, gusts and the worst minute left out."""
    told = subprocess.run(
        [*COMMAND, "run", str(study), "--out", str(folder), "--json"], capture_output=True, text=True, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False,
    ).stdout  # fmt: skip
    sampling = load_study(study).sampling
    simulated = sampling.realisations * (sampling.run_in + sampling.realisation_time)
    return simulated / json.loads(told)["real_time_factor"]


def memory_of(study, folder):
    """Peak resident megabytes of a run of a study without kept series.

    Asked of a process started by a small one: a peak is handed down from the process that starts another.
    """
    run = (
        "import resource, sys\n"
        "from seaload.studies.load_study import load_study\n"
        "from seaload.studies.single_run import run_study\n"
        "run_study(load_study(sys.argv[1]), out=sys.argv[2], rates_only=True)\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)\n"
    )
    small = "import subprocess, sys; print(subprocess.run(sys.argv[1:], capture_output=True, text=True).stdout)"
    words = [sys.executable, "-c", small, sys.executable, "-c", run, str(study), str(folder)]
    told = subprocess.run(
        words, capture_output=True, text=True, cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True
    )
    return float(told.stdout)


def process_rows():
    """Rows of whole processes, wall time."""
    rows = []
    helped = median(timed(["--help"])[0] for _ in range(REPEATS))
    rows.append(row("seaload --help [s]", helped, None, 0.5, "<=", ratio=helped))
    with tempfile.TemporaryDirectory() as folder:
        hour = study_of(1.0, folder)
        words = lambda study, out: ["run", str(study), "--out", f"{folder}/{out}", "--quiet"]  # noqa: E731
        run = lambda study, out, **e: timed(words(study, out), **e)  # noqa: E731
        run(hour, "warm")
        warm = median(run(hour, f"out{i}")[0] for i in range(REPEATS))
        march = median(marched_seconds(hour, f"{folder}/march{i}") for i in range(REPEATS))
        bound = f"its march alone takes {march:.1f} s: three realisations cost what sixteen do, and one core has them"
        name = "warm run of one simulated hour, whole process [s]"
        rows.append(row(name, warm, None, 5.0, "<=", bound if warm > 5.0 else "", ratio=warm))
        first = run(hour, "first", SEALOAD_CACHE=f"{folder}/cache")[0]
        rows.append(row("first run ever, compiling once [s]", first, None, 40.0, "<=", ratio=first))
        few, many = (memory_of(study_of(hours, folder), f"{folder}/m{hours}") for hours in (3.0, 9.0))
        full = many + (many - few) / 6.0 * 91.0
        bound = f"extrapolated from {few:.0f} MB at 3 h and {many:.0f} MB at 9 h"
        name = "memory of a 100-hour run without kept series [MB]"
        rows.append(row(name, full, None, 500.0, "<=", bound, ratio=full))
        rows.append(row("memory of 9 h over 3 h", many, few, 1.05, "<=", ratio=many / few))
    return rows


def machine():
    """The machine in plain words, no names."""
    model = "unknown processor"
    info = Path("/proc/cpuinfo")
    if info.exists():
        for line in info.read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
                break
    pages = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") if hasattr(os, "sysconf") else 0
    busy = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    return {
        "processor": model,
        "cores": os.cpu_count(),
        "memory_gb": round(pages / 1e9, 1),
        "load_at_start": round(busy, 1),
    }
