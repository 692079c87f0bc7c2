"""What a change does is told as far as it is known: a factor with its interval, or none at all."""

from math import isnan

import numpy as np
import pytest

from seaload.deciding.uncertainty import no_doubt
from seaload.deciding.variants import Change, Comparison, Effect, compare
from seaload.evidence.verdict import sampled_rates
from seaload.scenario.records import RiskLevels
from tests.deciding.fake_sailer import SCALE, FakeSailer

RISK = RiskLevels(10800.0, 0.02, 0.02)


@pytest.fixture
def compared(small_study, made_case):
    """Function: (effect, cases as they are) of a change that moves the block extremes from one location to another."""

    def go(before, after):
        def severity(setting, model):
            return after if model.get("hs_factor") else before

        setting = small_study.settings[0]
        sailer = FakeSailer(small_study, {(0, 0): setting}, made_case, severity)
        change = Change("worse", setting, (("hs_factor", 1.1),))
        effect = compare([Comparison(sailer, (0, 0), [change])])[0][change]
        sailer.sail([(0, 0, r) for r in range(40)])
        return effect, [sailer.records[0, 0, r] for r in range(40)]

    return go


def test_a_factor_comes_with_an_interval_that_holds_the_truth(compared):
    """A Gumbel tail moved by d is met exp(d / scale) times as often (its own law)."""
    factor, low, high = compared(0.70, 0.73)[0].factor("reverse")
    assert low < np.exp(0.03 / SCALE) < high
    assert low < factor < high < 6.0 * factor


def test_far_below_the_limit_no_factor_is_told(compared):
    assert all(isnan(x) for x in compared(-0.6, -0.3)[0].factor("reverse"))


def test_the_odds_after_a_change_are_those_of_the_load_it_moves_to_the_limit(compared, small_study):
    """What lay at 0.97 of the limit lies at the limit after a shift by 0.03: its rate is the rate after."""
    effect, records = compared(0.30, 0.33)
    assert effect.level["reverse"] == pytest.approx(0.97, abs=0.005)
    odds, _, high = effect.odds("reverse", sampled_rates(records, RISK), no_doubt(small_study), RISK)
    true = -np.expm1(-RISK.exposure * np.exp(-(1.0 - 0.33) / SCALE) / 10.0)
    assert true / 2.5 < odds < 2.5 * true and true < high < 15.0 * true


def test_the_worst_load_moves_as_the_load_does(compared):
    """The made-up change shifts every load by 0.03 and leaves its fluctuation alone."""
    effect, _ = compared(0.50, 0.53)
    change, low, high = effect.worst_change("reverse", 0.9)
    assert low <= change <= high and change == pytest.approx(0.03, abs=0.003)
    ended = Effect({}, {}, {}, np.inf, np.nan, False)
    assert all(isnan(x) for x in ended.worst_change("reverse", 0.9))


def test_what_the_changed_cases_show_stands_where_it_is_worse_than_foreseen(compared, small_study):
    """Loads that never come near the limit say nothing of it: the events of the changed cases do."""
    effect, records = compared(-3.6, 0.8)
    after = effect.odds("reverse", sampled_rates(records, RISK), no_doubt(small_study), RISK)
    assert after[1] > 0.99 and no_doubt(small_study).odds("reverse", sampled_rates(records, RISK), RISK)[2] < 0.01


def test_a_change_that_ends_a_case_has_no_bound(small_study):
    ended = Effect({}, {}, {}, np.inf, np.nan, False)
    assert ended.factor("normal") == (np.inf,) * 3
    assert ended.odds("normal", None, no_doubt(small_study), RISK) == (1.0, 0.0, 1.0)


def test_nothing_to_compare_is_no_error(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    assert compare([Comparison(sailer, (0, 0), [])]) == [{}]
    assert sailer.asked == []
