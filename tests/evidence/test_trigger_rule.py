"""The rule that tells a worse sea: its odds are honest, counting tells more than one extreme, no sensor no rule."""

import numpy as np
import pytest

from seaload.evidence.trigger_rule import FALSE_ALARM, TIMES, Rule, best_rule, called_by, passed_by, rules_of

BOTH = {-1: np.array([True, True, False]), 1: np.array([False, False, False])}


def blocks(size, seed, realisations=40):
    """Lowest readings of each block at bearing and two stations: Rayleigh waves of this size."""
    waves = np.random.default_rng(seed).rayleigh(size=(2, realisations, 120, 3))
    return {-1: 0.3 - size * waves, 1: np.full((2, realisations, 120, 3), 0.5)}


def test_a_reading_passed_so_often_is_the_one_of_that_rank():
    values = np.arange(120.0)[None, None, :, None]
    assert passed_by(values, 1, 1200.0).ravel().tolist() == [119.0]
    assert passed_by(values, 4, 600.0).ravel().tolist() == [56.0, 116.0]


def odds_of(rule, sea):
    """Odds that a rule calls in twenty minutes of this sea."""
    values = called_by(rule.side * sea[rule.side], rule.times, rule.window)[..., rule.place]
    return np.mean(values > rule.side * rule.threshold)


def test_every_rule_gives_as_many_false_alarms():
    sea, other = blocks(0.1, 1, realisations=200), blocks(0.1, 2, realisations=200)
    for rule in rules_of(sea[-1], sea[-1], -1, BOTH[-1]):
        assert odds_of(rule, other) == pytest.approx(FALSE_ALARM, abs=4.0 * np.sqrt(2.0 * FALSE_ALARM / 400))


def test_odds_hold_in_seas_that_the_rule_was_not_picked_on():
    """The odds told for few waves are those in many new ones: what picking among many rules flatters is little."""
    calm, worse, rules = blocks(0.1, 500, 200), blocks(0.115, 501, 200), []
    for seed in range(20):
        rules.append(best_rule(blocks(0.1, seed, 16), blocks(0.115, 100 + seed, 16), BOTH))
    missed = [1.0 - odds_of(rule, worse) for rule in rules]
    assert np.mean([rule.missed_alarm for rule in rules]) == pytest.approx(np.mean(missed), abs=0.08)
    false = np.mean([odds_of(rule, calm) for rule in rules])
    assert np.mean([rule.false_alarm for rule in rules]) == pytest.approx(false, abs=0.04)
    assert false < 0.12  # few realisations set the reading a little too near


def test_counting_notices_a_worse_sea_sooner_than_one_extreme_does():
    assumed, worse = blocks(0.1, 1), blocks(0.115, 2)
    rule = best_rule(assumed, worse, BOTH)
    once = [r.delay for r in rules_of(assumed[-1], worse[-1], -1, BOTH[-1]) if r.times == 1]
    assert rule.times > 1 and rule.delay < 0.8 * min(once)


def test_the_bearing_has_no_sensor_and_nothing_usable_gives_no_rule():
    assumed, worse = blocks(0.1, 1), blocks(0.3, 2)
    assert best_rule(assumed, worse, BOTH).place == 1
    none = best_rule(assumed, worse, {side: np.zeros(3, dtype=bool) for side in (-1, 1)})
    assert none == Rule() or np.isnan(none.threshold)


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
