"""The highest reading of ten minutes and the reading to leave by: against the laws of extremes, and by lot."""

import numpy as np
import pytest

from seaload.deciding.leg.gauge import FALSE_ALARM, best_gauge, law_of, readings

BLOCKS, HOURS = 60, 12.0


def quantiles(mode=0.3, scale=0.05):
    """50, 90 and 99 % of exponential excesses over a mode: 0.3 + 0.05 ln(1/(1 - p))."""
    return mode - scale * np.log(1.0 - np.array([0.5, 0.9, 0.99]))


def test_the_highest_of_sixty_blocks_by_lot():
    """60 exponential blocks, 20,000 times: its quantiles as the law tells them."""
    draws = np.random.default_rng(1)
    highest = (0.3 + draws.exponential(0.05, (20_000, BLOCKS))).max(axis=1)
    law = law_of(quantiles()[None], 0.0)
    for share in (0.05, 0.5, 0.95):
        assert law.quantile(share)[0] == pytest.approx(np.quantile(highest, share), abs=0.004)


def test_scatter_widens_it_as_a_sum_of_independent_deviations():
    """Deviation of a Gumbel law pi/sqrt(6) of its scale (Gumbel 1958), joined to a normal one by squares."""
    draws = np.random.default_rng(2)
    highest = (0.3 + draws.exponential(0.05, (20_000, BLOCKS))).max(axis=1) + draws.normal(0.0, 0.08, 20_000)
    law = law_of(quantiles()[None], 0.08)
    assert law.quantile(0.95)[0] == pytest.approx(np.quantile(highest, 0.95), abs=0.006)
    assert highest.std() == pytest.approx(np.hypot(0.05 * np.pi / np.sqrt(6.0), 0.08), rel=0.03)


def test_one_false_alarm_in_twelve_hours():
    """72 windows of ten minutes: none passes with odds 1/e (Poisson)."""
    law = law_of(quantiles().reshape(1, 1, 1, 3), 0.02)
    told = readings(law, law)
    assert law.under(told.leave)[0, 0, 0] ** (HOURS * 6.0) == pytest.approx(np.exp(-1.0))
    assert told.missed[0, 0, 0] == pytest.approx(1.0 - FALSE_ALARM)


def test_a_sea_twice_as_hard_is_seldom_missed_and_the_gauge_that_tells_it_best_is_taken():
    """Three gauges, two sides: the second gauge's reverse side doubles in the worse sea, the others hardly change."""
    one = np.tile(quantiles(), (4, 3, 2, 1))
    worse = 1.05 * one
    worse[:, 1, 0] = 2.0 * one[:, 1, 0]
    told = readings(law_of(one, 0.02), law_of(worse, 0.02))
    assert best_gauge(told) == (1, 0)
    assert np.all(told.missed[:, 1, 0] < 0.1) and np.all(told.missed[:, 0, 1] > 0.8)
    assert np.all(np.diff(told.shown, axis=0) > 0.0) and np.all(told.leave > told.shown[1])


def test_a_gauge_inside_the_hull_is_not_taken_and_no_worse_sea_is_no_reading_to_leave_by():
    one = np.tile(quantiles(), (2, 2, 2, 1))
    one[:, 0] = np.nan
    nowhere = law_of(one, 0.02)._replace(mode=np.full((2, 2, 2), np.nan))
    told = readings(law_of(one, 0.02), nowhere)
    assert best_gauge(told)[0] == 1 and np.isnan(told.missed).all()
    assert best_gauge(readings(law_of(one * np.nan, 0.02), nowhere)) == (-1, 0)
