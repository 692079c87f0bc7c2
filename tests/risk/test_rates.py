"""Rates, odds, tails and their combination: known values, limits, bad input."""

import math
import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from seaload.risk.combine import combined_interval
from seaload.risk.extremes import declustered_peaks, gpd_by_l_moments
from seaload.risk.poisson import (
    clustered_rate_interval,
    odds_in_exposure,
    poisson_interval,
    rate_for_odds,
    rate_interval,
)
from seaload.risk.resample import mean_interval
from tests.oracles.counts import exposure_to_show

HOUR = 3600.0


def test_none_seen_is_not_none():
    """Rule of three (Hanley & Lippman-Hand 1983, from memory): none in T has the 95 % bound 3/T."""
    rate, low, high = rate_interval(0, 3.0 * HOUR)
    assert rate == low == 0.0
    assert high * 3.0 * HOUR == pytest.approx(-math.log(0.05), rel=1e-12)


@pytest.mark.parametrize("count", [1, 2, 5, 10, 40])
def test_bounds_are_chi_square_quantiles(count):
    """Garwood 1936: half chi-square quantiles with 2 n and 2 n + 2 degrees of freedom."""
    low, high = poisson_interval(count)
    assert low == pytest.approx(0.5 * stats.chi2.ppf(0.05, 2 * count), rel=1e-10)
    assert high == pytest.approx(0.5 * stats.chi2.ppf(0.95, 2 * count + 2), rel=1e-10)


@settings(deadline=None)
@given(st.floats(1e-9, 0.999), st.floats(1.0, 1e6))
def test_odds_and_rate_are_inverse(odds, exposure):
    assert float(odds_in_exposure(rate_for_odds(odds, exposure), exposure)) == pytest.approx(odds, rel=1e-9)


def test_clustering_only_widens():
    even = clustered_rate_interval([2, 2, 2, 2, 2], 1200.0)
    exact = rate_interval(10, 6000.0)
    assert even[:3] == exact and even[3] == 1.0
    grouped = clustered_rate_interval([10, 0, 0, 0, 0], 1200.0)
    assert grouped[1] < exact[1] and grouped[2] > exact[2] and grouped[3] == pytest.approx(10.0)


def test_hours_to_decide():
    """Odds of 2 % in 3 h need 445 h without an event: why rare odds come from the tail."""
    limit = rate_for_odds(0.02, 3.0 * HOUR)
    assert exposure_to_show(limit) / HOUR == pytest.approx(3.0 * math.log(20.0) / -math.log(0.98), rel=1e-12)


@pytest.mark.parametrize("wrong", [-1.0, math.nan])
def test_impossible_counts_and_exposures(wrong):
    with pytest.raises(ValueError):
        poisson_interval(wrong)
    with pytest.raises(ValueError):
        rate_interval(1, wrong)


def test_one_realisation_that_holds_most_is_said():
    assert mean_interval([1.0, 1.0, 1.0, 1.0, 30.0]).one_holds_most
    assert not mean_interval([1.0, 1.2, 0.9, 1.1, 1.0]).one_holds_most
    assert mean_interval([1.0, 2.0]).too_few
    assert mean_interval([3.0]).high == math.inf
    nothing = mean_interval([0.0] * 6)
    assert nothing.mean == nothing.low == nothing.high == 0.0


def test_same_damages_give_the_same_bits_and_scale():
    damages = np.random.default_rng(1).lognormal(size=12)
    one, two, scaled = mean_interval(damages), mean_interval(damages), mean_interval(damages * 4.0)
    assert one == two
    assert (scaled.low, scaled.high) == pytest.approx((4.0 * one.low, 4.0 * one.high), rel=1e-12)


@pytest.mark.parametrize("wrong", [[], [-1.0, 2.0], [math.nan, 1.0]])
def test_impossible_damages(wrong):
    with pytest.raises(ValueError):
        mean_interval(wrong)


def test_neighbouring_blocks_are_one_peak():
    blocks = np.array([[0.1, 0.8, 0.9, 0.2, 0.7, 0.1], [0.9, 0.1, 0.1, 0.1, np.nan, 0.8]])
    peaks = declustered_peaks(blocks, 0.5)
    assert [p.tolist() for p in peaks] == [[0.9, 0.7], [0.9, 0.8]]


@pytest.mark.parametrize("shape", [-0.2, 0.0, 0.15])
def test_fit_gives_back_the_shape_of_a_long_sample(shape):
    sample = stats.genpareto.rvs(shape, scale=0.1, size=100000, random_state=np.random.default_rng(2))
    found, scale = gpd_by_l_moments(sample)
    assert found == pytest.approx(shape, abs=0.02) and scale == pytest.approx(0.1, rel=0.02)


@settings(deadline=None)
@given(st.floats(1e-3, 1e3), st.floats(1.0, 20.0), st.floats(1.0, 20.0), st.floats(0.0, 2.0))
def test_more_doubt_never_narrows(rate, down, up, spread):
    low, high = combined_interval(rate, rate / down, rate * up, spread)
    assert low <= rate / down * (1 + 1e-12) and high >= rate * up * (1 - 1e-12)


def test_combination_at_its_limits():
    assert combined_interval(2.0, 1.0, 4.0, 0.0) == pytest.approx((1.0, 4.0))
    low, high = combined_interval(2.0, 2.0, 2.0, 0.5)
    assert high / 2.0 == pytest.approx(math.exp(1.6448536 * 0.5)) and low * high == pytest.approx(4.0)
    none = rate_interval(0, HOUR)
    assert combined_interval(*none, 0.0) == pytest.approx((0.0, none[2]))
    assert combined_interval(*none, 0.7)[1] > none[2]
    assert combined_interval(0.0, 0.0, 0.0, 1.0) == (0.0, 0.0)


def test_a_rare_rate_keeps_its_lower_bound():
    """Intervals have no unit: a rate told per second or per day is as uncertain."""
    day = 86400.0
    a_second = combined_interval(2.0 / day, 1.0 / day, 4.0 / day, 0.5)
    assert np.multiply(a_second, day) == pytest.approx(combined_interval(2.0, 1.0, 4.0, 0.5))
    assert a_second[0] > 0.0


def test_doubt_about_none_seen_grows_from_the_rate_that_half_of_such_records_have():
    """None in T is as likely as not at ln 2 / T; a log-normal doubt of deviation s reaches 1.645 s above, in
    quadrature with the exact bound 3.0 / T (-ln 0.05)."""
    middle, bound, wide = np.log(2.0) / HOUR, -np.log(0.05) / HOUR, 1.6448536 * 0.9
    expected = middle * np.exp(np.hypot(np.log(bound / middle), wide))
    assert combined_interval(*rate_interval(0, HOUR), 0.9)[1] == pytest.approx(expected, rel=1e-6)


def test_realisations_too_far_apart_tell_no_upper_bound_and_no_warning():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = mean_interval(np.array([1e-290, 1.0, 1e-250, 1e-280, 1e-270]))
    assert found.mean == pytest.approx(0.2) and found.high == np.inf
