"""What a change multiplies a rare rate by, on tails whose answer is known."""

import numpy as np
import pytest

from seaload.studies.log_rate import level_effect, log_rates, paired_change, usable_level

SCALE = 0.06


def runs(*locations, n=16, blocks=120, seed=3):
    waves = np.random.default_rng(seed).gumbel(size=(n, blocks))
    return [location + SCALE * waves for location in locations]


def test_a_shift_of_a_gumbel_tail_is_found():
    """Past a high level a Gumbel tail is exponential: a shift d multiplies its rate by exp(d/scale)."""
    low, high = log_rates(runs(0.45, 0.48), 10.0)
    assert high - low == pytest.approx(0.03 / SCALE, rel=0.15)


def test_the_rate_itself_is_near():
    (found,) = log_rates(runs(0.5, n=100), 10.0)
    true = np.log(-np.expm1(-np.exp(-(1.0 - 0.5) / SCALE)) / 10.0)
    assert found == pytest.approx(true, abs=1.0)


def test_a_higher_limit_makes_events_rarer():
    effect = level_effect(runs(0.5, 0.52), 10.0, 0.05)
    assert effect == pytest.approx(-0.05 / SCALE, rel=0.35)


def test_far_limits_are_not_extrapolated_to():
    tails = [(0.1, 0.1, np.full(50, 0.01))]
    assert usable_level(tails, 0.0) == pytest.approx(0.1 + 9.0 * 0.01)
    assert usable_level([(0.9, 0.1, np.full(50, 0.1))], 0.0) == 1.0


def test_common_waves_make_a_small_change_visible():
    found = [np.diff(log_rates(runs(0.5, 0.503, seed=s), 10.0))[0] for s in range(20)]
    assert np.mean(found) == pytest.approx(0.05, abs=0.02)  # 0.003 / 0.06
    assert np.std(found) < 0.05


def test_too_few_peaks_are_refused():
    with pytest.raises(ValueError, match="too few"):
        log_rates([np.zeros((1, 20))], 10.0)


def test_error_of_a_change_is_that_of_its_scatter():
    found = [paired_change(runs(0.5, 0.53, seed=s), 10.0) for s in range(20)]
    spread = np.std([change for change, *_ in found])
    assert np.mean([error for _, error, _ in found]) == pytest.approx(spread, rel=0.8)
    # a short record's tail mostly looks a little bounded, which makes far changes larger: 13 % on the factor here
    assert np.mean([change for change, *_ in found]) == pytest.approx(0.5, abs=0.15)
