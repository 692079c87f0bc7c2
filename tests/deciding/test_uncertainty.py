"""The designed ensemble gives back effects that are known, and their shares."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from seaload.deciding.uncertainty import REALISATIONS, Doubt, Ensemble, design, deviation, no_doubt, sail_ensembles
from seaload.evidence.verdict import judge, sampled_rates
from tests.deciding.fake_sailer import BELOW, SCALE, FakeSailer

TRUE = {"hs_factor": 0.30, "lift_slope_factor": 0.20, "rake_zero_shift": 4.0}  # location per unit


def test_design_is_balanced_and_orthogonal():
    """Plackett & Burman 1946: every column half up, half down, every pair of columns unrelated."""
    d = design()
    assert d.shape == (12, 11) and set(np.unique(d)) == {-1, 1}
    assert np.array_equal(d.T @ d, 12 * np.eye(11, dtype=int))


@pytest.fixture(scope="module")
def doubt(small_study, made_case):
    def severity(setting, model):
        moved = TRUE["hs_factor"] * (model.get("hs_factor", 1.0) - 1.0)
        moved += TRUE["lift_slope_factor"] * (model.get("lift_slope_factor", 1.0) - 1.0)
        return 0.5 + moved + TRUE["rake_zero_shift"] * model.get("rake_zero_shift", 0.0)

    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, severity)
    return sail_ensembles(sailer, {0: (0, 0)})[0]


def test_loads_move_by_what_the_inputs_do_to_the_load(small_study, doubt):
    """The made-up boat's load moves by known amounts: the doubt in load is those, whatever the tail does to rates."""
    entries = {entry.name: entry for entry in small_study.uncertain}
    found = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    for name, factor in (("forecast_hs", "hs_factor"), ("lift_slope", "lift_slope_factor"),
                         ("rake_zero", "rake_zero_shift")):  # fmt: skip
        assert found[name] == pytest.approx(TRUE[factor] * deviation(entries[name]), rel=0.1)
    assert abs(found["roll_inertia"]) < 0.002


def test_a_doubt_about_fluctuation_counts_for_more_the_lower_the_mean(small_study):
    """A height known to 10 % moves what is left between the mean and the limit by 10 %; a mean moves as it is."""
    doubt = Doubt(("height", "mean"), {"reverse": [0.0, 0.03]}, {"reverse": [0.1, 0.0]}, {"reverse": 0.0})
    assert doubt.effects("reverse", -3.0) == pytest.approx([0.4, 0.03])
    assert doubt.load_spread("reverse", 0.7) == pytest.approx(np.hypot(0.03, 0.03))


@pytest.mark.parametrize("severity", [0.2, 0.5, 0.7])
def test_the_odds_told_are_those_of_the_load_with_the_doubt_in_it(small_study, made_case, doubt, severity):
    """A Gumbel law of scale 0.06 whose mean is known as well as the doubt says: the mean over many draws."""
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: severity)
    sailer.sail([(0, 0, r) for r in range(60)])
    records = [sailer.records[0, 0, r] for r in range(60)]
    risk = small_study.risk
    verdict = judge(sampled_rates(records, risk), doubt.told(sampled_rates(records, risk), risk), risk)
    mean = severity - BELOW
    lean = doubt.lean("reverse", mean)
    draws = np.random.default_rng(1).standard_normal((40000, len(doubt.names)))
    level = mean + (1.0 - mean - draws @ lean.shifts) * np.exp(-draws @ lean.growths)
    rate = np.exp(-(level - severity) / SCALE) / 10.0
    expected = np.mean(-np.expm1(-rate * risk.exposure))
    _, low, high = verdict.odds("reverse", risk.exposure)
    assert low <= expected * 1.05 and expected <= high * 1.05
    if severity < 0.3:  # rare: the draws that bring it near rule the odds
        assert verdict.rates["reverse"][0] > 2.0 * verdict.sampling_rates["reverse"][0]


def test_a_working_limit_is_a_line_and_not_a_strength(small_study, made_case, doubt):
    """The example boat's limits are working ones: their spread is nothing. Where the foil breaks, it counts."""
    entries = {entry.name: entry for entry in small_study.uncertain}
    effect = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    assert effect["limit_reverse"] == effect["limit_normal"] == 0.0
    foil = replace(small_study.boat.foils[small_study.foil_side], limit_basis="break")
    boat = replace(small_study.boat, foils={**small_study.boat.foils, small_study.foil_side: foil})
    study = replace(small_study, boat=boat)
    sailer = FakeSailer(study, {(0, 0): study.settings[0]}, made_case, lambda *_: 0.5)
    strong = sail_ensembles(sailer, {0: (0, 0)})[0]
    effect = dict(zip(strong.names, strong.effects("reverse"), strict=True))
    assert effect["limit_reverse"] == deviation(entries["limit_reverse"]) and effect["limit_normal"] == 0.0


def test_a_bound_is_stricter_than_the_odds_all_told(small_study, made_case, doubt):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.3)
    sailer.sail([(0, 0, r) for r in range(12)])
    sampled = sampled_rates([sailer.records[0, 0, r] for r in range(12)], small_study.risk)
    told = doubt.odds("reverse", sampled, small_study.risk)
    bound = doubt.odds("reverse", sampled, replace(small_study.risk, confidence=0.95))
    assert bound[2] > told[2] and bound[0] < told[0]
    assert doubt.all_told("reverse", sampled, replace(small_study.risk, confidence=0.95)) == told


def test_the_worst_load_told_is_passed_with_the_odds_told(small_study, made_case, doubt):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.3)
    sailer.sail([(0, 0, r) for r in range(12)])
    sampled = sampled_rates([sailer.records[0, 0, r] for r in range(12)], small_study.risk)
    worst = doubt.worst("reverse", sampled, small_study.risk)
    for name, odds in (("median", 0.5), ("one_in_twenty", 0.05)):
        found = doubt.odds("reverse", sampled, small_study.risk, worst[name][0])[0]
        assert found == pytest.approx(odds, rel=1e-3)
    assert worst["median"][0] < worst["one_in_twenty"][0]


def test_crests_act_as_the_height_does(small_study, doubt):
    entries = {entry.name: entry for entry in small_study.uncertain}
    found = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    ratio = deviation(entries["second_order_crests"]) / deviation(entries["forecast_hs"])
    assert found["second_order_crests"] == pytest.approx(ratio * found["forecast_hs"])


def test_shares_add_up_and_the_largest_own_input_is_named(doubt):
    assert doubt.shares("reverse").sum() == pytest.approx(1.0)
    own = {n: s for n, s in zip(doubt.names, doubt.shares("reverse"), strict=True) if "forecast" not in n}
    assert doubt.measure_first == max(own, key=own.get)


def test_even_spread_has_its_own_deviation(small_study):
    even = next(e for e in small_study.uncertain if e.distribution == "uniform")
    assert deviation(even) == pytest.approx(even.spread / sqrt(3.0))


def test_ensemble_is_small(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    jobs = Ensemble(sailer, (0, 0)).jobs()
    assert len(jobs) == 12 and all(len(wanted) == REALISATIONS for _, wanted in jobs)


def test_no_doubt_widens_nothing(small_study):
    nothing = no_doubt(small_study)
    assert nothing.load_spread("reverse") == nothing.load_spread("normal") == 0.0


def test_doubt_about_wear_is_that_of_the_swings_times_the_slope(small_study, made_case):
    """Wear of swings a tenth larger is 1.1 to the slope: with the limit's own doubt, counted in shares of it."""
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    ensemble = Ensemble(sailer, (0, 0))
    count = len(ensemble.entries) + len(ensemble.others)
    slope = small_study.boat.foils[small_study.foil_side].fatigue.slope
    assert ensemble.wear_spread(np.zeros(count), 0.1 * np.eye(count)[0]) == pytest.approx(0.1 * slope)
    assert ensemble.wear_spread(np.ones(count), np.zeros(count)) == pytest.approx(slope)  # the limit's shift alone
