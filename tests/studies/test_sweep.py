"""A sweep gives the same bytes for any number of workers, after a kill, and on a cluster."""

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import CannotRun, InputError
from seaload.basis.vocabulary import attributes
from seaload.deciding import choice, triggers, uncertainty, variants
from seaload.evidence.verdict import DECISION_NAMES, UNREACHABLE
from seaload.files.result_file import read_result
from seaload.sailing.case_store import STORE_NAME
from seaload.sailing.sail_cases import Account
from seaload.studies.sweep import sweep_study
from tests.studies.sweep_script import few_realisations, small_sweep

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = "tests.studies.sweep_script"
FLAG_WORDS = {"flag_values", "flag_meanings", "bounds", "coverage_content_type"}


@pytest.fixture(scope="module", autouse=True)
def light():
    """Few realisations in comparisons, in this file only."""
    kept = [(module, module.REALISATIONS) for module in (triggers, uncertainty, variants)]
    gusts = choice.GUST_REALISATIONS
    few_realisations()
    yield
    for module, count in kept:
        module.REALISATIONS = count
    choice.GUST_REALISATIONS = gusts


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """Outcome of the small sweep on one worker."""
    return sweep_study(small_sweep(), out=tmp_path_factory.mktemp("one"), workers=1)


def assert_same_bits(one, other):
    assert list(one.variables) == list(other.variables)
    for name in one.variables:
        a, b = one[name].values, other[name].values
        same = np.array_equal(a, b) if a.dtype == object else a.tobytes() == b.tobytes()
        assert a.dtype == b.dtype and same, name


def test_every_variable_stands_in_the_vocabulary(small):
    for name, variable in small.dataset.variables.items():
        said = {key: value for key, value in variable.attrs.items() if key not in FLAG_WORDS}
        assert said == attributes(name), name


def test_answer_is_whole(small):
    data = small.dataset
    meanings = data["decision"].attrs["flag_meanings"].split()
    assert meanings == ["not_sailed", *DECISION_NAMES]
    assert data["choice_reason"].values[0]
    assert data["uncertain_share_reverse"].sum() in (0.0, pytest.approx(1.0))
    assert data["move_name"].size == 5 and np.all(np.diff(data["move_time"]) >= 0.0)
    for name in ("reverse_odds_all_told", "reverse_worst_one_in_twenty"):
        low, middle, high = (data[name + end].values for end in ("_low", "", "_high"))
        assert np.all(low <= middle) and np.all(middle <= high)
    assert np.all(data["reverse_worst_median"] <= data["reverse_worst_one_in_twenty"])
    assert np.all(data["reverse_odds_known_low"] <= data["reverse_odds_known_high"])
    assert small.settings[1]["extension"] == pytest.approx(0.7)
    assert small.done > 0 and small.reused == 0


def test_the_prescribed_motion_starts_from_the_suggested_setting_or_the_nearest(small):
    data = small.dataset
    chosen, nearest = int(data["chosen_setting"][0]), int(data["least_bad_setting"][0])
    assert int(data["prescribed_setting"][0]) == (chosen if chosen >= 0 else nearest)
    assert float(data["prescribed_normal_share"][0, 0]) > 0.05 and str(data["prescribed_foil"].values[0]) == "starboard"


def test_a_killed_sweep_goes_on_with_two_workers_to_the_same_bytes(small, tmp_path):
    command = [sys.executable, "-m", SCRIPT, str(tmp_path), "2"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT) as first:
        for line in first.stdout:
            if int(line.split()[0]) >= 20:
                os.kill(first.pid, signal.SIGKILL)
                break
    assert not list(tmp_path.rglob("result.nc"))
    (store,) = tmp_path.rglob(STORE_NAME)
    with closing(sqlite3.connect(store)) as base:  # rounds are stored whole: what was told may be a little more
        (stored,) = base.execute("SELECT COUNT(*) FROM cases").fetchone()
    said = []
    again = sweep_study(small_sweep(), out=tmp_path, workers=2, account=Account(say=said.append))
    assert again.reused == stored > 10 and f"{again.reused} reused" in " ".join(said)
    assert again.done + again.reused == small.done
    assert_same_bits(read_result(again.result_path), read_result(small.result_path))


@pytest.mark.slow
def test_more_sea_reuses_what_is_there(small, tmp_path):
    sweep_study(small_sweep(2), out=tmp_path, workers=2)
    more = sweep_study(small_sweep(), out=tmp_path, workers=2)
    assert more.done == 2  # one more realisation of two settings
    assert_same_bits(more.dataset, small.dataset)


@pytest.mark.slow
def test_clean_deletes_what_is_not_needed(tmp_path):
    study = small_sweep(2)
    first = sweep_study(study, out=tmp_path)
    other = replace(study, sampling=replace(study.sampling, seed=2))
    sweep_study(other, out=tmp_path, clean=True)
    again = sweep_study(study, out=tmp_path)
    assert (again.done, again.reused) == (first.done, 0)


@pytest.mark.slow
def test_a_speed_the_thrust_cannot_hold_is_unreachable_and_not_sailed(tmp_path):
    study = small_sweep(2)
    fast = replace(study.settings[1], speed=30.0)
    outcome = sweep_study(replace(study, settings=(study.settings[0], fast)), out=tmp_path)
    assert outcome.dataset["decision"].values[1, 0] == UNREACHABLE
    assert np.all(outcome.dataset["status"].values[1] == -1)
    with pytest.raises(InputError, match="can hold"):
        sweep_study(replace(study, settings=(fast,)), out=tmp_path)


def test_a_case_that_leaves_the_validity_is_named_and_the_others_finish(tmp_path):
    study = small_sweep(2)
    tight = replace(study.boat.limits_of_validity, pitch=1e-4, pitch_share=0.0)
    outcome = sweep_study(replace(study, boat=replace(study.boat, limits_of_validity=tight)), out=tmp_path)
    assert len(outcome.failed) == 4 and "pitch_beyond_validity" in outcome.failed[0]
    assert np.all(outcome.dataset["chosen_setting"] == -1)
    assert np.all(outcome.dataset["reverse_odds_high"] == 1.0)


@pytest.mark.slow
def test_seas_decided_in_turns_give_each_what_it_gives_by_itself(small, tmp_path):
    """Another sea beside it, that is decided in between, moves no number of the first."""
    study = small_sweep()
    first = study.seas[0]
    both = replace(study, seas=(first, replace(first, name="another")))
    found = [sweep_study(both, out=tmp_path / str(workers), workers=workers) for workers in (1, 2)]
    assert found[0].result_path.read_bytes() == found[1].result_path.read_bytes()
    of_sea = [name for name, variable in small.dataset.variables.items() if "sea" in variable.dims and name != "sea"]
    assert len(of_sea) > 100
    for name in of_sea:
        ours, alone = (data[name].isel(sea=0).values for data in (found[1].dataset, small.dataset))
        same = np.array_equal(ours, alone) if ours.dtype == object else ours.tobytes() == alone.tobytes()
        assert same, name


@pytest.mark.slow  # one block goes to a cluster with every test run, see test_single_run.py
def test_dask_gives_the_same_bytes(small, tmp_path):
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        again = sweep_study(small_sweep(), out=tmp_path, scheduler=cluster.scheduler_address)
    assert again.result_path.read_bytes() == small.result_path.read_bytes()


def test_a_scheduler_that_does_not_answer_is_said_to(tmp_path, monkeypatch):
    pytest.importorskip("distributed")
    monkeypatch.setattr("seaload.sailing.cluster.PATIENCE", 0.5)
    with pytest.raises(CannotRun, match="does not answer"):
        sweep_study(small_sweep(1), out=tmp_path, scheduler="tcp://127.0.0.1:1")
