"""A doubt about the load, told as odds."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.deciding.doubt import ByExtension, Doubt, between
from seaload.evidence.all_told import normal_weights
from seaload.evidence.bend import NODES, Bend, bent
from seaload.evidence.verdict import sampled_rates
from tests.deciding.fake_sailer import FakeSailer

NAMES = ("lift_slope", "rake_zero", "forecast_hs", "forecast_tp")


def doubt_of(size=1.0, hs=0.06 * NODES, tp=-0.03 * NODES, correlation=0.4):
    """Two straight inputs, height and period."""
    bends = Bend(2, np.zeros(5), size * hs), Bend(3, size * tp, np.zeros(5))
    shifts = size * np.array([0.02, 0.03, 0.0, 0.5 * (tp[3] - tp[1])])
    growths = size * np.array([0.01, 0.0, 0.5 * (hs[3] - hs[1]), 0.0])
    sides = ("reverse", "normal")
    return Doubt(
        NAMES, dict.fromkeys(sides, shifts), dict.fromkeys(sides, growths), dict.fromkeys(sides, -0.5),
        dict.fromkeys(sides, bends), correlation, (0.1, 0.0, 1.0, -0.5),
    )  # fmt: skip


@pytest.fixture
def sampled(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.3)
    sailer.sail([(0, 0, r) for r in range(12)])
    return sampled_rates([sailer.records[0, 0, r] for r in range(12)], small_study.risk)


def test_a_doubt_about_fluctuation_counts_for_more_the_lower_the_mean():
    """A height known to 10 % moves what is left between the mean and the limit by 10 %; a mean moves as it is."""
    doubt = Doubt(("height", "mean"), {"reverse": [0.0, 0.03]}, {"reverse": [0.1, 0.0]}, {"reverse": 0.0})
    assert doubt.effects("reverse", -3.0) == pytest.approx([0.4, 0.03])
    assert doubt.load_spread("reverse", 0.7) == pytest.approx(np.hypot(0.03, 0.03))


def test_spreads_add_as_variances_do_with_twice_what_two_have_in_common():
    """Var(a + b) = Var a + Var b + 2 rho s_a s_b, height up and period down against each other."""
    doubt = doubt_of()
    own = doubt.spreads("reverse")
    assert own == pytest.approx(np.abs(doubt.effects("reverse")), rel=1e-3)  # straight bends
    common = -2.0 * 0.4 * own[2] * own[3]
    assert doubt.load_spread("reverse") ** 2 == pytest.approx(np.sum(own**2) + common, rel=1e-3)
    assert doubt.wear == pytest.approx(np.sqrt(0.01 + 1.0 + 0.25 - 2.0 * 0.4 * 0.5))


def test_a_period_that_is_worst_as_it_is_has_no_slope_and_a_spread_all_the_same():
    table = -0.02 * NODES**2
    doubt = doubt_of(tp=table)
    at = np.linspace(-4.0, 4.0, 41)
    weights = normal_weights(at)
    moved = bent(table, at)
    assert doubt.effects("reverse")[3] == 0.0
    assert doubt.spreads("reverse")[3] == pytest.approx(np.sqrt(weights @ moved**2 - (weights @ moved) ** 2))
    assert doubt.shares("reverse")[3] > 0.0


def test_a_bent_input_is_not_counted_twice():
    lean = doubt_of().lean("reverse", -0.5)
    assert not lean.shifts[2:].any() and not lean.growths[2:].any() and len(lean.bends) == 2


def test_a_bound_is_stricter_than_the_odds_all_told(small_study, sampled):
    doubt, strict = doubt_of(), replace(small_study.risk, confidence=0.95)
    told, bound = doubt.odds("reverse", sampled, small_study.risk), doubt.odds("reverse", sampled, strict)
    assert bound[2] > told[2] and bound[0] < told[0]
    assert doubt.all_told("reverse", sampled, strict) == told


def test_the_worst_load_told_is_passed_with_the_odds_told(small_study, sampled):
    doubt = doubt_of()
    worst = doubt.worst("reverse", sampled, small_study.risk)
    for name, odds in (("median", 0.5), ("one_in_twenty", 0.05)):
        found = doubt.odds("reverse", sampled, small_study.risk, worst[name][0])[0]
        assert found == pytest.approx(odds, rel=1e-3)
    assert worst["median"][0] < worst["one_in_twenty"][0]


def test_a_sea_that_is_higher_by_what_the_height_does_is_a_limit_that_is_nearer(small_study, sampled):
    """One input that lets the fluctuation about the mean grow: a deviation more is a limit so much nearer."""
    nothing, mean = dict.fromkeys(("reverse", "normal"), np.zeros(1)), dict.fromkeys(("reverse", "normal"), -0.5)
    bends = dict.fromkeys(("reverse", "normal"), (Bend(0, np.zeros(5), 0.06 * NODES),))
    doubt = Doubt(("forecast_hs",), nothing, nothing, mean, bends)
    start = sampled.means["reverse"]
    nearer = start + (1.0 - start) * np.exp(-0.06)
    higher = doubt.in_higher_sea(1.0).odds("reverse", sampled, small_study.risk)
    assert higher == pytest.approx(doubt.odds("reverse", sampled, small_study.risk, nearer), rel=1e-9)
    assert higher[0] > doubt.odds("reverse", sampled, small_study.risk)[0]
    sure = replace(doubt, names=("lift_slope",), bends={})
    assert sure.in_higher_sea(1.0) is sure


def test_to_know_the_height_is_worth_most_where_it_does_most(small_study, sampled):
    ranges = dict(zip(NAMES, doubt_of().known("reverse", sampled, small_study.risk), strict=True))
    wide = {name: np.log(high / low) for name, (low, high) in ranges.items()}
    assert max(wide, key=wide.get) == "forecast_hs" and all(low < high for low, high in ranges.values())


def test_shares_add_up_and_the_largest_own_input_is_named():
    doubt = doubt_of()
    assert doubt.shares("reverse").sum() == pytest.approx(1.0)
    assert doubt.measure_first == "lift_slope"  # 0.02 + 1.5 x 0.01 against 0.03


def test_what_no_boat_can_measure_is_never_to_be_measured_first():
    sides = ("reverse", "normal")
    only = Doubt(
        ("tail_level", "wind_sea_share", "second_order_crests", "forecast_hs"), dict.fromkeys(sides, np.ones(4)),
        dict.fromkeys(sides, np.zeros(4)), dict.fromkeys(sides, 0.0),
    )  # fmt: skip
    assert only.measure_first == ""


def test_between_two_extensions_everything_is_told_by_a_straight_line():
    one, other = doubt_of(1.0), doubt_of(3.0)
    found = ByExtension((0.6, 1.0), (one, other)).at(0.7)
    for side in ("reverse", "normal"):
        assert found.effects(side) == pytest.approx(1.5 * one.effects(side))
        for bend, first in zip(found.bends[side], one.bends[side], strict=True):
            assert bend.number == first.number and bend.growths == pytest.approx(1.5 * first.growths)
    assert found.wears == pytest.approx(one.wears) and found.correlation == one.correlation


def test_what_was_not_told_at_either_end_is_said_in_between_once():
    one, other = (replace(doubt_of(), untold=words) for words in (("steep",), ("steep", "ended")))
    assert between(one, other, 0.5).untold == ("steep", "ended")


def test_a_single_doubt_holds_for_every_extension():
    doubt = doubt_of()
    assert doubt.at(0.5) is doubt.at(None) is doubt


def test_a_doubt_whose_runs_ended_early_makes_no_odds_sure(sampled, small_study):
    """Nothing known of the inputs is not the same as nothing uncertain."""
    seeing, blind = doubt_of(), replace(doubt_of(0.0), blind=True)
    for doubt in (blind, between(seeing, blind, 0.25)):
        for told in (doubt.odds, doubt.all_told):
            best, _, high = told("reverse", sampled, small_study.risk)
            assert high == 1.0 and best < 1.0
    assert seeing.all_told("reverse", sampled, small_study.risk)[2] < 1.0


def test_a_doubt_whose_runs_ended_early_tells_no_worst_load_and_no_range(sampled, small_study):
    """A worst load as if all were known would read as margin."""
    blind = replace(doubt_of(), blind=True)
    assert all(np.isnan(worst).all() for worst in blind.worst("reverse", sampled, small_study.risk).values())
    assert np.isnan(blind.known("reverse", sampled, small_study.risk)).all()
