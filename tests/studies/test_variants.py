"""What a change does is told as far as it is known: a factor with its interval, or none at all."""

from math import isnan, log

import numpy as np
import pytest
from fake_sailer import SCALE, FakeSailer

from seaload.scenario.records import RiskLevels
from seaload.studies.uncertainty import Doubt
from seaload.studies.variants import Change, Comparison, compare
from seaload.studies.verdict import SIDES, Verdict

RISK = RiskLevels(10800.0, 0.02, 0.02)
EXACT = Doubt((), {}, dict.fromkeys(SIDES, 0.0), {}, dict.fromkeys(SIDES, ()))


@pytest.fixture
def effect_of(small_study, made_case):
    """Function: effect of a change that moves the block extremes from one location to another."""

    def go(before, after):
        def severity(setting, model):
            return after if model.get("hs_factor") else before

        setting = small_study.settings[0]
        sailer = FakeSailer(small_study, {(0, 0): setting}, made_case, severity)
        return compare([Comparison(sailer, (0, 0), [Change("worse", setting, (("hs_factor", 1.1),))])])[0]["worse"]

    return go


def verdict_with(high):
    rates = {side: (0.1 * high, 0.01 * high, high) for side in SIDES}
    return Verdict(1, 1, rates, rates, dict.fromkeys(SIDES, 1.87e-6), 0.5, 0.0, 1.0)


def test_a_factor_comes_with_an_interval_that_holds_the_truth(effect_of):
    """A Gumbel tail moved by d is met exp(d / scale) times as often (its own law)."""
    factor, low, high = effect_of(0.70, 0.73).factor("reverse")
    assert low < np.exp(0.03 / SCALE) < high
    assert low < factor < high < 6.0 * factor


def test_far_below_the_limit_no_factor_is_told(effect_of):
    effect = effect_of(-0.6, -0.3)
    assert all(isnan(x) for x in effect.factor("reverse"))


def test_far_below_the_limit_the_rate_after_is_the_changed_cases_own(effect_of):
    """Seventy e-foldings between two tiny rates say nothing: the changed cases' own tail does."""
    effect = effect_of(-3.6, 0.2)
    assert effect.log_factor["reverse"] > log(1e9)
    rate, low, high = effect.rates("reverse", verdict_with(1e-9), EXACT, RISK)
    assert high < 1e-4 and rate <= high


def test_near_the_limit_the_rate_after_is_the_factor_times_the_rate(effect_of):
    effect = effect_of(0.70, 0.73)
    after = effect.rates("reverse", verdict_with(1e-6), EXACT, RISK)
    assert after[2] == pytest.approx(1e-6 * np.exp(effect.log_factor["reverse"]))


def test_nothing_to_compare_is_no_error(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    assert compare([Comparison(sailer, (0, 0), [])]) == [{}]
    assert sailer.asked == []
