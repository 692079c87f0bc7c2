"""Prescribed motions of a run: what is handed on of them, and that the waves know nothing of them."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.deciding.choice import SeaChoice
from seaload.scenario.records import PrescribedMotion
from seaload.simulation.prescribed_loads import prescribed_records
from seaload.studies.prescribed_motions import begin_motions
from seaload.studies.single_run import run_study
from seaload.studies.sweep import shown_settings

LEAP = PrescribedMotion("leap", "up and down", False, (0.0, 0.5, 1.0), None, None, None, (0.0, 1.5, 0.0), None)
ROLL = PrescribedMotion("roll", "", True, (0.0, 1.5), (0.3, -0.2), None, None, None, None)


@pytest.fixture(scope="module")
def moved_run(small_study, tmp_path_factory):
    """The small run with two motions."""
    return run_study(replace(small_study, prescribed=(LEAP, ROLL)), out=tmp_path_factory.mktemp("moved"), workers=2)


def test_numbers_are_those_of_the_motions_led_through_by_themselves(moved_run, small_study):
    study, data = small_study, moved_run.dataset
    foils = study.boat.foils["port"], study.boat.foils["starboard"]
    records = prescribed_records(
        study.boat, foils, study.settings[0], (LEAP, ROLL), study.sampling.step, study.model
    )  # fmt: skip
    for number, record in enumerate(records):
        for side in ("normal", "reverse"):
            worst = getattr(record, side)
            for name, value in vars(worst).items():
                assert float(data[f"prescribed_{side}_{name}"][0, number]) == pytest.approx(value, nan_ok=True)
        kept = data["prescribed_series_time"].values[0, number]
        assert np.isfinite(kept).sum() == len(record.series["time"])
        moment = data["prescribed_grid_moment_min"].values[0, number]
        assert moment == pytest.approx(record.grid_moment_min)
        shear = data["prescribed_shear_max"].values[0, number]
        assert shear == pytest.approx(record.shear_max) and shear[0] > 0.0 and shear[-1] == 0.0
    assert list(data["prescribed_name"].values) == ["leap", "roll"]
    assert list(data["prescribed_foil"].values) == ["port", "starboard"]
    assert list(data["prescribed_setting"].values) == [0]


def test_what_the_waves_do_is_the_same_with_and_without_them(moved_run, small_run):
    """No odds, rates, wear or loads hold a motion: every other variable has the same bytes."""
    alone = small_run.dataset
    assert not any(name.startswith("prescribed") for name in alone.variables)
    for name in alone.variables:
        assert alone[name].dims == moved_run.dataset[name].dims
        assert alone[name].values.tobytes() == moved_run.dataset[name].values.tobytes() or alone[name].dtype == object


class Crew:
    """Does at once what is asked for, and counts it."""

    def __init__(self):
        self.tasks = []

    def submit(self, task):
        self.tasks.append(task)
        return SimpleNamespace(result=lambda: [None] * len(task.motions))


def test_seas_of_one_setting_share_their_motions(small_study):
    """Flat water has no sea: a motion is led through once for every setting that differs."""
    first = small_study.settings[0]
    faster, crew = replace(first, speed=first.speed + 1.0), Crew()
    study = replace(small_study, prescribed=(LEAP,), seas=small_study.seas * 3)
    sailer = SimpleNamespace(study=study, crew=crew, settings={(0, 0): first}, compile_first=lambda: None,
                             task=lambda cases: SimpleNamespace(cases=cases))  # fmt: skip
    parts = begin_motions(sailer, {0: (0, first), 1: (4, faster), 2: (0, first)})()
    assert [task.setting for task in crew.tasks] == [first, faster]
    assert list(parts["prescribed_setting"][1]) == [0, 4, 0]
    assert parts["prescribed_name"][1][0] == "leap"
    assert begin_motions(sailer, {})() == {}
    assert begin_motions(SimpleNamespace(study=small_study), {0: (0, first)})() == {}


def test_a_sweep_shows_the_suggested_setting_or_the_nearest_to_the_levels():
    settings = {(0, 0): "slow", (1, 0): "fast", (1, 1): "fast in the second"}
    choices = {0: SeaChoice(0, chosen=1), 1: SeaChoice(1, least_bad=1), 2: SeaChoice(2)}
    assert shown_settings(choices, settings) == {0: (1, "fast"), 1: (1, "fast in the second")}
