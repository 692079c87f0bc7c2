"""The joined rate at its limits: the count where there are events, the tail where there are none, no switch between."""

import numpy as np
import pytest
from scipy import stats

from seaload.risk.joined_rate import (
    TAU_PRIOR,
    counted_rates,
    joined_rates,
    log_exceedance,
    measured_tau,
    rate_grid,
    tail_of_peaks,
)

HOUR = 3600.0


def tail_of(shape=0.0, peaks=400, seed=2, exposure=40.0 * HOUR):
    sample = stats.genpareto.rvs(shape, scale=0.1, size=peaks, random_state=np.random.default_rng(seed))
    return tail_of_peaks(sample, 0.5, exposure)


def test_without_faith_in_the_tail_it_is_the_gamma_law_of_the_count():
    """tau without end: the posterior of ln(rate) is that of n (and half a group, n/(n + 1)) events, a gamma law."""
    tail, count = tail_of(), 12
    found = joined_rates(tail, [0.8], [count], 40.0, [1.0])[0]
    shape = count + 0.5 * count / (count + 1.0)
    expected = stats.gamma.ppf([0.5, 0.05, 0.95], shape) / tail.exposure
    assert found == pytest.approx(expected, rel=0.02)


def test_many_events_are_the_count_whatever_the_tail_says():
    tail = tail_of()
    found = joined_rates(tail, [0.9], [4000], 0.5, [1.0])[0]  # the tail says some 7
    assert found[0] == pytest.approx(4000 / tail.exposure, rel=0.02)
    assert np.log(found[2] / found[1]) == pytest.approx(2.0 * 1.645 / np.sqrt(4000), rel=0.5)


def test_none_seen_far_out_is_the_tail():
    """An exponential law of scale 0.1, seven scales out, where 0.4 events would be expected in the record."""
    tail = tail_of(peaks=4000, exposure=400.0 * HOUR)
    truth = tail.peaks / tail.exposure * np.exp(-12.0)
    found = joined_rates(tail, [0.5 + 1.2], [0], 0.3, [1.0])[0]
    assert found[1] < truth < found[2]
    assert abs(np.log(found[0] / truth)) < 0.8


def test_the_rate_moves_from_tail_to_count_without_a_jump():
    """With one more event at a time the rate rises each time, by less than the count alone would."""
    tail = tail_of()
    rates = [joined_rates(tail, [0.9], [n], 0.5, [1.0])[0] for n in range(1, 40)]
    steps = np.diff(np.log([rate[0] for rate in rates]))
    assert np.all(steps > 0.0) and np.all(steps < np.log(np.arange(2, 40) / np.arange(1, 39)) + 0.02)


def test_grouped_events_count_for_fewer():
    tail = tail_of()
    one, grouped = (joined_rates(tail, [0.7], [50], 0.5, [phi])[0] for phi in (1.0, 5.0))
    assert np.log(grouped[2] / grouped[1]) > 1.5 * np.log(one[2] / one[1])


@pytest.mark.parametrize("shape", [-0.2, 0.0, 0.15])
def test_shape_and_scale_of_a_long_sample_are_found(shape):
    tail = tail_of(shape, peaks=20000)
    assert tail.weight @ tail.shape == pytest.approx(shape, abs=0.03)
    assert tail.weight @ tail.scale == pytest.approx(0.1, rel=0.04)
    assert tail.weight.sum() == pytest.approx(1.0)


def test_exceedance_is_that_of_the_library():
    for shape in (-0.3, 0.0, 0.2):
        expected = stats.genpareto.logsf(0.25, shape, scale=0.1)
        found = log_exceedance(np.array([[0.25]]), np.array([0.1]), np.array([shape]))[0, 0]
        assert found == pytest.approx(expected, rel=1e-6)
    assert log_exceedance(np.array([[9.0]]), np.array([0.1]), np.array([-0.3]))[0, 0] == -np.inf


def test_tau_is_what_tail_and_count_differ_by():
    """Counts as the tail says leave the prior or less; counts e times as many ask for about 1."""
    tail = tail_of(peaks=4000, exposure=400.0 * HOUR)
    levels = (0.6, 0.7, 0.8)
    says = tail.peaks * np.exp(-(np.array(levels) - 0.5) / 0.1)
    agreed, apart = (measured_tau(tail, levels, np.round(f * says), [1.0] * 3) for f in (1.0, np.e))
    assert agreed <= TAU_PRIOR[0] * 1.05 and apart > agreed + 0.1
    assert measured_tau(tail, (0.1, 0.2), [9, 9], [1.0] * 2) == pytest.approx(TAU_PRIOR[0], rel=0.1)


def test_a_tail_with_an_end_leaves_an_upper_bound_of_this_world():
    """Peaks of an even law: seen none a hundred widths on, the bound is small and the rate not resolved."""
    sample = np.random.default_rng(3).uniform(0.0, 0.1, 60)
    tail = tail_of_peaks(sample, 0.5, 3.0 * HOUR)
    rate, low, high = joined_rates(tail, [1.4], [0], 0.5, [1.0])[0]
    assert low >= 0.999 * np.exp(rate_grid(tail)[0]) and low <= rate <= high < 1e-5


def test_a_count_alone_has_the_exact_bounds():
    """Garwood 1936; the rate in between is the median of Jeffreys's posterior, also of none."""
    found = counted_rates([0, 7], HOUR, [1.0, 1.0])
    assert found[0] * HOUR == pytest.approx([stats.gamma.ppf(0.5, 0.5), 0.0, -np.log(0.05)])
    assert found[1] * HOUR == pytest.approx([stats.gamma.ppf(0.5, 7.5), *(stats.chi2.ppf([0.05, 0.95], [14, 16]) / 2)])
