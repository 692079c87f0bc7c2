"""Tails of runs over the same waves, on laws whose answer is known."""

import numpy as np
import pytest

from seaload.evidence.log_rate import high_loads, log_rate, tails_of, usable_level

SCALE = 0.06


def runs(*locations, n=16, blocks=120, seed=3):
    waves = np.random.default_rng(seed).gumbel(size=(n, blocks))
    return [location + SCALE * waves for location in locations]


def log_rates(blocks, level=1.0):
    tails, shape = tails_of(blocks)
    return [log_rate(tail, shape, 10.0, level) for tail in tails]


def test_a_shift_of_a_gumbel_tail_is_found():
    """Past a high level a Gumbel tail is exponential: a shift d multiplies its rate by exp(d/scale)."""
    low, high = log_rates(runs(0.45, 0.48), 0.8)
    assert high - low == pytest.approx(0.03 / SCALE, rel=0.15)


def test_the_rate_itself_is_near():
    (found,) = log_rates(runs(0.5, n=100))
    true = np.log(-np.expm1(-np.exp(-(1.0 - 0.5) / SCALE)) / 10.0)
    assert found == pytest.approx(true, abs=1.0)


def test_far_limits_are_not_extrapolated_to():
    tails = [(0.1, 0.1, np.full(50, 0.01))]
    assert usable_level(tails, 0.0) == pytest.approx(0.1 + 9.0 * 0.01)
    assert usable_level([(0.9, 0.1, np.full(50, 0.1))], 0.0) == 1.0


def test_the_high_load_is_where_the_law_puts_it():
    """Mean of a Gumbel law above its upper tenth, by its own quantiles; peaks stand for runs of blocks above it."""
    (found,) = high_loads(runs(0.5, n=200))
    odds = (np.arange(1000) + 0.5) / 1000 * 0.1
    assert found == pytest.approx(np.mean(0.5 - SCALE * np.log(-np.log1p(-odds))), abs=0.01)


def test_too_few_peaks_are_refused():
    with pytest.raises(ValueError, match="too few"):
        high_loads([np.zeros((1, 20))])
