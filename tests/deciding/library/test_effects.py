"""Designed runs at a point give back effects that are known, by one of each input, and how far off they may be."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.records import STATUS_BROACHED
from seaload.deciding.library.effects import RUN, UNCERTAIN, effects_of, no_effects, plan_of
from seaload.evidence.verdict import SIDES
from seaload.studies.library.designed import EVERY, SEAS, DesignedRuns, is_designed
from tests.deciding.fake_sailer import FakeSailer

TRUE = {"lift_slope_factor": 0.20, "rake_zero_shift": 4.0}  # location per unit
PAIR = (0, 0)


def designed(study, made_case, severity, broken=()):
    """(own, runs, plan) of made-up runs of the first setting."""
    sailer = FakeSailer(study, {PAIR: study.settings[0]}, made_case, severity)
    further = DesignedRuns(sailer, [PAIR], {PAIR: range(6)}, {PAIR: np.nan})
    for one in (sailer, *further.runs):
        one.sail([(*PAIR, r) for r in range(6)])
    own, *runs = ([one.records[*PAIR, r] for r in range(6)] for one in (sailer, *further.runs))
    for number in broken:
        runs[number][2] = replace(runs[number][2], status=STATUS_BROACHED)
    return own, runs, further


def moved(setting, model):
    """How severe the made-up boat's sea is."""
    steps = [TRUE["lift_slope_factor"] * (model.get("lift_slope_factor", 1.0) - 1.0)]
    return 0.5 + sum(steps) + TRUE["rake_zero_shift"] * model.get("rake_zero_shift", 0.0)


def test_effects_are_told_by_one_of_each_input(small_study, made_case):
    own, runs, further = designed(small_study, made_case, moved)
    found = effects_of(own, runs, further.plan, further.curve)
    assert set(found) == set(no_effects())
    for i in range(len(SIDES)):
        change = found["load_shift"][i] + found["load_growth"][i]  # about a mean of nothing
        if i == SIDES.index("reverse"):
            assert change[UNCERTAIN.index("lift_slope")] == pytest.approx(TRUE["lift_slope_factor"], rel=0.05)
            assert change[UNCERTAIN.index("rake_zero")] == pytest.approx(TRUE["rake_zero_shift"], rel=0.05)
            assert abs(change[UNCERTAIN.index("roll_inertia")]) < 1e-6
    assert np.all(np.isfinite(found["load_shift"][:, : len(RUN)]))
    assert np.all(found["load_shift_error"][:, : len(RUN)] > 0.0)


def test_chance_shows_in_the_columns_that_no_input_has(small_study, made_case):
    """A load that hangs on which run it is, by lot: effects scatter by about the error told."""
    draws = np.random.default_rng(3)
    lots = {}

    def severity(setting, model):
        return 0.5 + lots.setdefault(tuple(sorted(model.items())), 0.02 * draws.normal())

    own, runs, further = designed(small_study, made_case, severity)
    found = effects_of(own, runs, further.plan, further.curve)
    ratio = found["load_shift"][0, : len(RUN)] / found["load_shift_error"][0, : len(RUN)]
    assert 0.2 < np.sqrt(np.mean(ratio**2)) < 5.0  # two spare columns tell a deviation no better


def test_a_run_that_ended_early_tells_nothing(small_study, made_case):
    own, runs, further = designed(small_study, made_case, moved, broken=(4,))
    found = effects_of(own, runs, further.plan, further.curve)
    assert all(np.isnan(value).all() for value in found.values())


def test_inputs_that_surfaces_tell_have_no_runs(small_study):
    plan = plan_of(small_study.uncertain)
    assert {"forecast_hs", "forecast_tp", "forecast_heading"}.isdisjoint(entry.name for entry in plan.entries)
    assert plan.signs.shape[1] > len(plan.entries) and len(plan.changes) == len(plan.signs)
    assert plan_of(()).changes == []


def test_every_third_of_the_first_seas_has_further_runs():
    assert [n for n in range(60) if is_designed(n)] == list(range(0, SEAS * EVERY, EVERY))
