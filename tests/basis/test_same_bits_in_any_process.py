"""A march has the same bits in a process that compiled its kernels, one that loaded them, and one that had used
single formulas before: no compiled copy may stand in for another.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
MARCH = """
import hashlib
from dataclasses import replace
import numpy as np
from seaload.sailing.blas_threads import one_blas_thread
one_blas_thread()
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study
study = load_study("scenarios/studies/bow-quarter-swell.toml")
sampling = replace(study.sampling, realisation_time=30.0, run_in=10.0, components=40)
records, _ = march_block(study.boat, study.boat.foils["port"], study.seas[0], [(study.settings[0], 0)], sampling)
record = records[0]
parts = (record.moment_mean, record.moment_max, record.damage, record.grid_damage, [record.pitch_std])
print(hashlib.sha256(np.concatenate([np.ravel(p) for p in parts]).tobytes()).hexdigest())
"""
FORMULAS = """
from seaload.boat.hull_section import hull_section_load
from seaload.boat.resistance import friction_resistance
from seaload.fatigue.constant_life import cycle_damage
from seaload.foil.mode_step import mode_step
from seaload.foil.strip_load import soft_limited
hull_section_load(*[0.2] * 15)
friction_resistance(10.0, 17.0, 30.0, 1025.0)
cycle_damage(0.5, 0.1, 2.5, 1.0, 10.0, 1.0)
mode_step(0.1, 0.1, 1.0, 2.0, 1.0, 0.1, 100.0, 0.02)
soft_limited(0.5, 1.0)
"""


def bits(program, cache):
    """What a fresh process prints."""
    told = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, check=True, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "SEALOAD_CACHE": str(cache)},
    )  # fmt: skip
    return told.stdout.strip()


@pytest.mark.slow  # compiles everything afresh; the sweep's kill and cluster tests watch the same promise
def test_a_march_has_the_same_bits_in_any_process(tmp_path):
    compiled = bits(MARCH, tmp_path)
    assert len(compiled) == 64
    assert bits(MARCH, tmp_path) == compiled
    assert bits(FORMULAS + MARCH, tmp_path) == compiled


TWO_PARTS = """
from numba.core import event
from seaload.sailing import compile_first
from seaload.sailing.block_task import BlockTask
from seaload.studies.load_study import load_study
study = load_study("scenarios/studies/bow-quarter-swell.toml")
cases = ((study.settings[0], 0),)
task = BlockTask(study.boat, study.boat.foils["port"], study.seas[0], cases, study.sampling, study.model)
assert compile_first.compile_apart(task)
class Listener(event.Listener):
    def on_start(self, started):
        raise SystemExit("compiled " + started.data["dispatcher"].py_func.__name__)
    def on_end(self, ended):
        pass
event.register("numba:compile", Listener())
"""


@pytest.mark.slow
def test_two_parts_compiled_side_by_side_leave_nothing_to_compile_and_the_same_bits(tmp_path):
    assert bits(TWO_PARTS + MARCH, tmp_path / "two") == bits(MARCH, tmp_path / "one")
