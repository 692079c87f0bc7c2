"""Functions compiled to make no array keep no count of who holds one: none may give an array to what does count."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
AMONG_THEMSELVES = {"anchors_of", "with_waves"}  # called in the march alone
GIVING = """
import sys
from dataclasses import replace
from numba import types
from seaload.sailing.blas_threads import one_blas_thread
one_blas_thread()
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study
def holds_an_array(kind):
    if isinstance(kind, types.BaseTuple):
        return any(holds_an_array(each) for each in kind)
    return isinstance(kind, types.Array)
study = load_study("scenarios/studies/bow-quarter-swell.toml")
sampling = replace(study.sampling, realisation_time=4.0, run_in=2.0, components=40)
march_block(study.boat, study.boat.foils["port"], study.seas[0], [(study.settings[0], 0)], sampling, study.model)
loaded = [module for name, module in list(sys.modules.items()) if name.startswith("seaload.")]
found = {each for module in loaded for each in vars(module).values() if hasattr(each, "nopython_signatures")}
used = [each for each in found if each.targetoptions.get("_nrt") is False and each.nopython_signatures]
giving = {e.py_func.__name__ for e in used if any(holds_an_array(s.return_type) for s in e.nopython_signatures)}
print(len(used), *sorted(giving))
"""


@pytest.mark.slow  # compiles everything afresh: what is loaded says nothing of what it calls
def test_only_what_is_called_in_the_march_alone_gives_arrays_back(tmp_path):
    told = subprocess.run(
        [sys.executable, "-c", GIVING], cwd=ROOT, check=True, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "SEALOAD_CACHE": str(tmp_path)},
    )  # fmt: skip
    used, *giving = told.stdout.split()
    assert int(used) > 100 and set(giving) == AMONG_THEMSELVES
