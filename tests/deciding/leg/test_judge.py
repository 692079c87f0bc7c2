"""The rule by which a plan that is marched again is rejected: as seldom wrong as it says, and as sharp as it says."""

import numpy as np
import pytest

from seaload.deciding.leg.judge import ALARM, TIMES, judged
from seaload.deciding.leg.whole_odds import doubt_cases

SURE = np.array([1.0])


def test_a_count_as_told_passes_and_one_far_above_fails():
    assert not judged(0.5, 20, np.array([20.0]), SURE).fails
    assert judged(0.5, 40, np.array([20.0]), SURE).fails
    assert not judged(0.5, 2, np.array([20.0]), SURE).fails  # fewer fails nothing
    assert judged(0.5, 2, np.array([20.0]), SURE).odds_fewer < 1e-4


def test_odds_of_a_poisson_count():
    """P(N >= 3) of mean 1 is 1 - 2.5 exp(-1), any table."""
    assert judged(0.5, 3, np.array([1.0]), SURE).odds == pytest.approx(1.0 - 2.5 * np.exp(-1.0))


@pytest.mark.parametrize("mean", [0.3, 4.0, 60.0])
@pytest.mark.parametrize("spread", [0.0, 0.4])
def test_a_right_plan_is_rejected_no_more_often_than_said_and_a_wrong_one_as_often(mean, spread):
    deviations, weights = doubt_cases(7)
    expected = mean * np.exp(spread * deviations)
    draws = np.random.default_rng(1)
    rates = expected[draws.choice(len(weights), p=weights, size=4000)]
    counts = draws.poisson(rates)
    fails = {count: judged(0.5, count, expected, weights).fails for count in np.unique(counts)}
    assert np.mean([fails[count] for count in counts]) <= ALARM + 3.0 * np.sqrt(ALARM / 4000)
    twice = draws.poisson(TIMES[0] * mean, size=4000)
    known = {count: judged(0.5, count, expected, weights).fails for count in np.unique(twice)}
    power = judged(0.5, 0, expected, weights).power[0]
    assert np.mean([known[count] for count in twice]) == pytest.approx(power, abs=4.0 * 0.5 / np.sqrt(4000))
