"""Tails of many seas with one shape, and the prediction interval of a coming exposure."""

import numpy as np
import pytest

from seaload.risk.extremes import declustered_peaks, gpd_by_l_moments
from seaload.risk.joined_rate import tail_of_peaks
from seaload.risk.pooled_tail import BOUNDS, mean_excess, pooled_tail, rates_past, sea_peaks
from seaload.risk.prediction import largest_quantile, odds_under


def blocks_of(generator, realisations, count, shape=0.0, scale=1.0):
    """Independent blocks with a generalised Pareto law of this shape and scale."""
    odds = generator.uniform(size=(realisations, count))
    return scale * (-np.log(odds) if shape == 0.0 else (odds**-shape - 1.0) / shape)


@pytest.mark.parametrize("shape", [-0.15, 0.0, 0.1])
def test_the_common_shape_of_many_seas_is_found(shape):
    """Independent blocks of a generalised Pareto law: over any threshold its shape is the same (Pickands 1975)."""
    generator = np.random.default_rng(1)
    seas = [sea_peaks(blocks_of(generator, 100, 500, shape, s), 10.0) for s in (0.5, 1.0, 2.0)]
    assert pooled_tail(seas).shape == pytest.approx(shape, abs=0.03)  # 15,000 blocks: standard error 0.01


def test_the_highest_of_each_group_alone_would_be_told_too_thin_a_tail():
    blocks = blocks_of(np.random.default_rng(8), 200, 500)
    threshold = np.quantile(blocks, 0.9)
    highest = np.concatenate(declustered_peaks(blocks, threshold)) - threshold
    assert gpd_by_l_moments(highest)[0] < -0.03 < pooled_tail([sea_peaks(blocks, 10.0)]).shape


def test_the_rate_past_the_threshold_is_what_was_counted_and_falls_beyond():
    sea = sea_peaks(blocks_of(np.random.default_rng(2), 30, 400), 10.0)
    tail = pooled_tail([sea], shape=0.0)
    counted = sum(sea.groups) / (30 * 400 * 10.0)
    assert rates_past(tail, sea.threshold)[0] == pytest.approx(counted, rel=1e-12)
    levels = np.linspace(0.0, 12.0, 60)
    rates = [rates_past(tail, level)[0] for level in levels]
    assert np.all(np.diff(rates) < 0.0)
    # e-foldings per unit of load of an exponential law of scale 1
    assert np.log(rates[30] / rates[40]) == pytest.approx(levels[40] - levels[30], rel=0.08)


@pytest.mark.parametrize("shape", [-0.15, 0.1])
def test_the_rate_far_out_is_that_of_the_law(shape):
    """Blocks of a generalised Pareto law of scale 1 pass x with odds (1 + shape x)^(-1/shape) (Pickands 1975)."""
    sea = sea_peaks(blocks_of(np.random.default_rng(9), 200, 500, shape), 10.0)
    tail = pooled_tail([sea], shape=shape)
    for odds in (1e-2, 1e-4):
        level = (odds**-shape - 1.0) / shape
        groups = 0.9  # [-] of independent blocks over a tenth are the first of their group
        assert rates_past(tail, level)[0] == pytest.approx(groups * odds / 10.0, rel=0.25)


def test_a_bounded_tail_ends():
    sea = sea_peaks(blocks_of(np.random.default_rng(3), 10, 400, -0.2), 10.0)
    tail = pooled_tail([sea], shape=-0.2)
    end = tail.threshold[0] + tail.scale[0] / 0.2
    assert rates_past(tail, 1.001 * end)[0] == 0.0 < rates_past(tail, 0.99 * end)[0]


def test_the_shape_is_kept_within_its_bounds():
    generator = np.random.default_rng(4)
    assert pooled_tail([sea_peaks(blocks_of(generator, 5, 200, 0.6), 10.0)]).shape == BOUNDS[1]


def test_picks_take_whole_realisations():
    sea = sea_peaks(blocks_of(np.random.default_rng(5), 6, 100), 10.0)
    alone = pooled_tail([sea], [np.array([2])], shape=0.0)
    assert alone.rate[0] == pytest.approx(sea.groups[2] / 1000.0)
    assert alone.scale[0] == pytest.approx(sea.excesses[2].mean())


def test_mean_excess_of_an_exponential_law_is_flat():
    _, mean, error = mean_excess(np.random.default_rng(6).exponential(2.0, 20000))
    assert np.all(np.abs(mean - 2.0) < 4.0 * error)


def test_prediction_intervals_hold_the_largest_of_a_hundred_hours():
    """Ten hours foretell the largest of a hundred: in 82 to 97 of 100 repeats within the 90 % interval (binomial odds
    of a right method to fail: 1.2 %). Peaks come 15 an hour, exponential above a threshold.
    """
    held = 0
    for repeat in range(100):
        generator = np.random.default_rng(repeat)
        excesses = generator.exponential(0.1, generator.poisson(150))
        tail = tail_of_peaks(excesses, 0.5, 36000.0)
        low, high = (largest_quantile(tail, 360000.0, share) for share in (0.05, 0.95))
        held += low <= 0.5 + generator.exponential(0.1, generator.poisson(1500)).max() <= high
    assert 82 <= held <= 97


def test_odds_of_staying_under_fall_with_the_exposure():
    tail = tail_of_peaks(np.random.default_rng(7).exponential(0.1, 200), 0.5, 36000.0)
    odds = [odds_under(1.2, tail, exposure) for exposure in (3600.0, 36000.0, 360000.0)]
    assert odds[0] > odds[1] > odds[2] > 0.0
    assert odds_under(largest_quantile(tail, 3600.0, 0.7), tail, 3600.0) == pytest.approx(0.7, abs=1e-6)
