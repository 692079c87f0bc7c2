"""What a long season does: kills at any moment, and sweep after sweep on a small disk. Slow; numbers by environment.

SEALOAD_KILLS (100) kills are spread over a sweep and a log, SEALOAD_MINUTES (60) of sweeps go to a small file system.
"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from seaload.files.result_file import read_result
from tests.small_disk import small_disk_at
from tests.small_study import STUDIES

ROOT = Path(__file__).resolve().parents[2]
LOGS = STUDIES.parent / "logs"
KILLS, MINUTES = int(os.environ.get("SEALOAD_KILLS", 100)), float(os.environ.get("SEALOAD_MINUTES", 60.0))
SWEEP = [sys.executable, "-m", "tests.studies.sweep_script"]
LOG = [sys.executable, "-m", "seaload.command_line.main", "log", str(LOGS / "morning.toml"),
       str(LOGS / "morning-1.csv"), str(LOGS / "morning-2.csv"), "--quiet", "--out"]  # fmt: skip
MOST_GROWN = 10.0  # [MB]
pytestmark = [pytest.mark.slow, pytest.mark.timeout(3 * 3600)]


def process(command, folder, longest=None):
    """(exit code, seconds) of a command that writes to a folder, killed after `longest` seconds: then code -9."""
    words = [*command, str(folder), *(["2"] if command is SWEEP else [])]
    began = time.monotonic()
    with subprocess.Popen(words, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as started:
        try:
            started.wait(longest)
        except subprocess.TimeoutExpired:
            started.kill()
    return started.returncode, time.monotonic() - began


def same_data(one, other):
    """Names of variables of two results that differ in any bit."""
    assert list(one.variables) == list(other.variables)
    pairs = [(name, one[name].values, other[name].values) for name in one.variables]
    return [name for name, a, b in pairs if a.tobytes() != b.tobytes() and (a.dtype != object or (a != b).any())]


@pytest.mark.parametrize("command", [SWEEP, LOG], ids=["sweep", "log"])
def test_killed_at_any_moment_it_ends_with_the_same_numbers(command, tmp_path, fresh_seed):
    lot, made = random.Random(fresh_seed), 0
    code, whole = process(command, tmp_path / "whole")
    assert code == 0
    (path,) = (tmp_path / "whole").rglob("result.nc")
    expected = read_result(path)
    for kill in range(KILLS // 2):
        folder = tmp_path / f"after-{made}"
        code, _ = process(command, folder, lot.uniform(0.0, 1.1 * whole))
        assert code in (0, -9), f"seed {fresh_seed}: kill {kill} was followed by exit code {code}"
        made += code == 0
    assert process(command, folder)[0] == 0
    results = sorted(tmp_path.glob("after-*/*/result.nc"))
    print(f"{KILLS // 2} kills within {whole:.1f} s, {len(results)} finished")
    assert all(same_data(expected, read_result(path)) == [] for path in results)


REPEATED = """
import sys, time
from dataclasses import replace
from seaload.sailing import block_task
from seaload.simulation.prepared import Prepared
from seaload.studies.sweep import sweep_study
from tests.studies.sweep_script import few_realisations, small_sweep
few_realisations()
block_task._PREPARED = Prepared(64, 64)  # full after three sweeps; as it is, of 110 MB, after 36
study, until, seed = small_sweep(1), time.monotonic() + 60.0 * float(sys.argv[2]), 0
resident = lambda: int(open("/proc/self/statm").read().split()[1]) * 4096 / 1e6
while time.monotonic() < until or seed < 6:
    seed += 1
    again = replace(study, sampling=replace(study.sampling, seed=seed))
    sweep_study(again, out=sys.argv[1], workers=2, clean=True)
    print(seed, resident(), flush=True)
"""


@pytest.fixture
def small_disk(tmp_path):
    """A file system of 16 MB in memory."""
    with small_disk_at(tmp_path / "disk", "16m") as place:
        yield place


def test_sweep_after_sweep_on_a_small_disk_neither_fills_it_nor_takes_more_memory(small_disk):
    """What a process remembers of settings and seas, so many at most, fills first: the later half of the sweeps tells
    whether anything else grows.
    """
    told = subprocess.run(
        [sys.executable, "-c", REPEATED, str(small_disk), str(MINUTES)], cwd=ROOT, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr[-2000:]
    resident = np.array([float(line.split()[1]) for line in told.stdout.splitlines()])
    later = resident[len(resident) // 2 :]
    grown = np.polyfit(np.arange(len(later)), later, 1)[0] * (len(later) - 1)
    print(f"{len(resident)} sweeps, {grown:.1f} MB more by the line through the later half of", resident.round(1))
    assert grown < MOST_GROWN and resident[-1] < resident[2] + 40.0
