"""A study of thousands of settings becomes a result in time and memory that grow no faster than it (made-up cases), and
a hundred hours of one setting are marched in little memory.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.benchmarks.bench_process import memory_of, study_of

ROOT = Path(__file__).resolve().parents[2]
MADE = """
import resource, sys, time
from dataclasses import replace
import numpy as np
from seaload.files.result_file import write_result
from seaload.result.assemble_dataset import assemble_dataset
from tests.report.invented_result import invented_record, invented_settings, invented_study
study, count = invented_study("quick-look"), int(sys.argv[1])
first = invented_settings(study.settings[0])
record = {(i, r): invented_record(study, setting, r) for i, setting in enumerate(first) for r in range(3)}
rakes = np.linspace(0.0, 0.1, count)
study = replace(study, seas=study.seas[:1], settings=tuple(
    replace(first[i % len(first)], rake=float(rakes[i])) for i in range(count)))
cases = {(i, 0, r): record[i % len(first), r] for i in range(count) for r in range(3)}
before, began = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
path = write_result(assemble_dataset(study, cases, verb="sweep"), sys.argv[2])
after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(time.process_time() - began, (after - before) / 1024, after / 1024, path.stat().st_size / 1e6)
"""


def assembled(count, folder):
    """(processor seconds, MB more, MB in all, MB of file) of so many settings, three cases each."""
    told = subprocess.run(
        [sys.executable, "-c", MADE, str(count), str(folder / str(count))], cwd=ROOT, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True,
    )  # fmt: skip
    return [float(word) for word in told.stdout.split()[-4:]]


@pytest.mark.slow  # minutes
@pytest.mark.timeout(1800)
def test_time_and_memory_grow_with_the_settings_and_no_faster(tmp_path):
    """1,000 and 10,000 settings; SEALOAD_SETTINGS names another large number."""
    many = int(os.environ.get("SEALOAD_SETTINGS", 10_000))
    few = many // 10
    small, large = assembled(few, tmp_path), assembled(many, tmp_path)
    for count, told in ((few, small), (many, large)):
        print(count, "settings: {:.1f} s, {:.0f} MB more, {:.0f} MB in all, file {:.1f} MB".format(*told))
    assert large[0] < 1.3 * 10.0 * small[0]
    assert large[1] < 1.3 * 10.0 * max(small[1], 10.0)
    assert small[2] < 500.0


@pytest.mark.slow  # minutes
@pytest.mark.timeout(3600)
def test_a_hundred_hours_of_one_setting_are_marched_in_little_memory(tmp_path):
    """Peak of the whole process, marched and not extrapolated; SEALOAD_HOURS names another number."""
    hours = float(os.environ.get("SEALOAD_HOURS", 100.0))
    peak = memory_of(study_of(hours, tmp_path), tmp_path / "out")
    print(f"{hours:.0f} h of one setting: peak {peak:.0f} MB")
    assert peak < 500.0
