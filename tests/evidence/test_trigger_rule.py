"""The rule that tells a worse sea: as strong as the law of a variance lets it be, its odds honest, silent in calm
water, and none at all where no reading tells.
"""

from functools import cache

import numpy as np
import pytest
from scipy.stats import chi2

from seaload.evidence.trigger_rule import (
    BETWEEN_ALARMS,
    PASSED,
    SHARE,
    SPREAD,
    STATISTICS,
    SWING,
    TIMES,
    Rule,
    Shown,
    Statistic,
    best_rule,
    called_by,
    called_in,
    passed_by,
    rules_of,
    set_anew,
)

SPAN = 1200.0  # [s]
ALLOWED = SPAN / BETWEEN_ALARMS  # odds a realisation, near enough
USABLE = {side: np.array([True, True]) for side in (-1, 1)}
NO_DRIFT = np.zeros(2)


def sea(size, seed, realisations=32, every=8.0, mean=0.3):
    """Independent normal readings about a mean, one `every` seconds, of bearing and one station."""
    draw = np.random.default_rng(seed).normal(size=(realisations, int(SPAN / every), 2))
    return Shown(mean + size * draw, 1.0 / every)


@cache
def waves(size, seed, realisations=32, mean=0.3):
    """Readings of a narrow band: waves of nine seconds whose height wanders, one reading a second."""
    parts = 40
    draw, time = np.random.default_rng(seed), np.arange(SPAN)
    omega = 2.0 * np.pi * (0.11 + 0.025 * draw.normal(size=(realisations, parts, 2)))
    phase = draw.uniform(0.0, 2.0 * np.pi, size=(realisations, parts, 2))
    summed = np.zeros((realisations, len(time), 2))
    for k in range(parts):
        summed += np.cos(omega[:, None, k] * time[None, :, None] + phase[:, None, k])
    return Shown(mean + size * summed / np.sqrt(0.5 * parts), 1.0)


CALM = sea(0.002, 99, realisations=1)


def test_a_reading_passed_so_often_is_the_one_of_that_rank():
    values = np.arange(120.0)[None, :, None]
    assert passed_by(values, 1, 1200.0).ravel().tolist() == [119.0]
    assert passed_by(values, 4, 600.0).ravel().tolist() == [56.0, 116.0]


def test_statistics_of_readings_that_are_known():
    """A sine of amplitude 0.2 about 0.3: swing 0.4, spread 0.2 / sqrt(2), below 0.3 - 0.2 cos(pi 0.05) for 5 %."""
    time = np.arange(0.0, SPAN, 0.02)
    row = Shown((0.3 + 0.2 * np.sin(2.0 * np.pi * time / 5.0))[None, :, None], 50.0)
    score = lambda statistic: float(called_by(row, statistic, 600.0)[0, 0])  # noqa: E731
    assert np.exp(score(Statistic(SWING))) == pytest.approx(0.4, rel=1e-3)
    assert np.exp(score(Statistic(SPREAD))) == pytest.approx(0.2 / np.sqrt(2.0), rel=1e-3)
    assert score(Statistic(SHARE, -1, 1, 0.05)) == pytest.approx(-(0.3 - 0.2 * np.cos(0.05 * np.pi)), abs=1e-3)
    assert score(Statistic(PASSED, -1, 8)) == pytest.approx(-0.1, abs=1e-3)
    assert score(Statistic(PASSED, 1, 1)) == pytest.approx(0.5, abs=1e-3)


@pytest.mark.parametrize("every", [8.0, 12.0, 20.0])
def test_the_spread_is_as_strong_a_detector_as_the_law_of_a_variance_says(every):
    """n independent normal readings, variance times 1.44: the level is the point of chi-square that the odds allowed
    pass, the power what passes it over 1.44 (Neyman & Pearson 1933: no test of a variance is stronger)."""
    size, count = 0.1, int(SPAN / every)
    odds = -np.expm1(-ALLOWED)
    point = chi2.isf(odds, count - 1)
    level, power = size * np.sqrt(point / count), chi2.sf(point / 1.44, count - 1)
    assumed, worse = sea(size, 1, 600, every), sea(1.2 * size, 2, 600, every)
    rule, likely = rules_of(assumed, worse, Statistic(SPREAD), SPAN, NO_DRIFT)[1]
    assert rule.threshold == pytest.approx(level, rel=0.02)
    assert 1.0 - rule.missed_alarm == pytest.approx(power, abs=0.06)
    assert 1.0 - likely == pytest.approx(power, abs=0.06)


@pytest.mark.parametrize("statistic", STATISTICS)
def test_every_rule_calls_once_in_twelve_hours_of_other_waves(statistic):
    """Within a factor of two and a half: extremes of a narrow band are not quite those of the law fitted to them."""
    drift = np.full(2, 0.02)
    assumed = waves(0.1, 1, 400)
    rule, _ = rules_of(assumed, assumed, statistic, 600.0, drift)[1]
    found = called_in(rule, waves(0.1, 3, 400), drift)
    assert ALLOWED / 2.5 < found < 2.5 * ALLOWED


def test_odds_hold_in_seas_that_the_rule_was_not_picked_on():
    """The odds told for few waves are those in many new ones: what picking among many rules flatters is little."""
    calm, worse, rules = waves(0.1, 3, 400), waves(0.12, 501, 150), []
    for seed in range(5):
        rules.append(best_rule(waves(0.1, seed), waves(0.12, 100 + seed), CALM, NO_DRIFT, USABLE))
    assert all(np.isfinite(rule.threshold) for rule in rules)
    missed = np.mean([1.0 - called_in(rule, worse, NO_DRIFT) for rule in rules])
    assert np.mean([rule.missed_alarm for rule in rules]) == pytest.approx(missed, abs=0.08)
    assert np.mean([called_in(rule, calm, NO_DRIFT) for rule in rules]) < 2.0 * ALLOWED


def test_a_rule_set_anew_in_other_waves_calls_as_seldom_as_it_is_to():
    """Over many small samples: the soonest of many rules calls more often than allowed, set anew it does not."""
    calm, usable, calls = waves(0.1, 3, 400), {side: np.array([False, True]) for side in (-1, 1)}, []
    for seed in range(24):
        rule = best_rule(waves(0.1, 1000 + seed, 16), waves(0.12, 2000 + seed, 16), CALM, NO_DRIFT, usable)
        again = set_anew(rule, waves(0.1, 3000 + seed, 16), waves(0.12, 4000 + seed, 16), CALM, NO_DRIFT)
        if np.isfinite(again.threshold):
            assert again.statistic == rule.statistic and again.window == rule.window
            calls.append([called_in(each, calm, NO_DRIFT) for each in (rule, again)])
    picked, anew = np.mean(calls, axis=0)
    assert len(calls) > 12 and anew < 1.5 * ALLOWED < 2.0 * ALLOWED < picked


def test_a_rule_that_does_not_tell_in_other_waves_is_none():
    rule = best_rule(waves(0.1, 1), waves(0.12, 101), CALM, NO_DRIFT, USABLE)
    alike = set_anew(rule, waves(0.1, 7), waves(0.1, 8), CALM, NO_DRIFT)
    assert np.isnan(alike.threshold) and alike.realisations == 32


def test_swing_or_spread_tells_a_higher_sea_where_extremes_and_a_drifting_zero_do_not():
    drift = np.full(2, 0.05)
    rule = best_rule(waves(0.1, 1), waves(0.12, 2), CALM, drift, USABLE)
    single = [
        each for statistic in STATISTICS if statistic.kind == PASSED for window in (300.0, 600.0, SPAN)
        for each, _ in rules_of(waves(0.1, 1), waves(0.12, 2), statistic, window, drift)
    ]  # fmt: skip
    assert rule.kind in (SWING, SPREAD) and rule.missed_alarm < min(each.missed_alarm for each in single) - 0.1


def test_a_rule_that_calm_water_would_call_is_none():
    """A foil that reads 0.5 in calm water and less in waves: high readings tell of calm."""
    above = sea(0.002, 7, 1, mean=0.9)
    heavy = {-1: np.zeros(2, dtype=bool), 1: np.ones(2, dtype=bool)}
    assumed, worse = waves(0.1, 1), waves(0.13, 2)
    readings = [
        rule for statistic in STATISTICS if statistic.side > 0 and statistic.drifts
        for rule, _ in rules_of(assumed, worse, statistic, SPAN, NO_DRIFT)
    ]  # fmt: skip
    assert all(called_in(rule, above, NO_DRIFT) == 1.0 for rule in readings)
    picked = best_rule(assumed, worse, above, NO_DRIFT, heavy)
    assert picked.kind in (SWING, SPREAD) and called_in(picked, above, NO_DRIFT) == 0.0
    noisy = Shown(above.values + np.array([0.0, 1.0] * 75)[:, None], 1.0)  # nothing tells it from a sea
    assert np.isnan(best_rule(assumed, worse, noisy, NO_DRIFT, heavy).threshold)


def test_no_reading_tells_seas_alike():
    none = best_rule(waves(0.1, 1), waves(0.1, 2), CALM, NO_DRIFT, USABLE)
    assert np.isnan(none.threshold) and none.realisations == 32
    assert none.bounds("false_alarm") == (0.0, 1.0) and none.bounds("missed_alarm")[1] == 1.0
    assert np.isnan(best_rule(waves(0.1, 1), waves(0.08, 2), CALM, NO_DRIFT, USABLE).threshold)


def test_the_bearing_has_no_sensor_and_nothing_usable_gives_no_rule():
    assumed, worse = waves(0.1, 1), waves(0.2, 2)
    assert best_rule(assumed, worse, CALM, NO_DRIFT, USABLE).place == 1
    none = {side: np.zeros(2, dtype=bool) for side in (-1, 1)}
    assert np.isnan(best_rule(assumed, worse, CALM, NO_DRIFT, none).threshold)


@pytest.mark.parametrize("missed", [0.0, 0.25, 0.81])
def test_delay_is_that_of_windows_which_notice_by_chance(missed):
    """Windows half a realisation long notice with odds 1 - sqrt(missed): a geometric law waits one over that."""
    rule = Rule(window=600.0, span=1200.0, missed_alarm=missed)
    assert rule.delay == pytest.approx(600.0 / (1.0 - np.sqrt(missed)))


def test_waves_are_counted_in_doublings():
    assert np.array_equal(np.diff(np.log2(TIMES)), np.ones(len(TIMES) - 1))


def test_bounds_of_an_alarm_are_those_of_so_many_realisations():
    """Clopper & Pearson 1934: none of 32 leaves up to 1 - 0.05^(1/32), at 90 % two-sided."""
    rule = Rule(false_alarm=0.0, missed_alarm=0.5, realisations=32)
    assert rule.bounds("false_alarm") == pytest.approx((0.0, 1.0 - 0.05 ** (1.0 / 32.0)))
    low, high = rule.bounds("missed_alarm")
    assert low < 0.5 < high and low + high == pytest.approx(1.0)
