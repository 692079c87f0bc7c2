"""Odds all told in other times than the exposure."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.units import HOUR
from seaload.deciding.doubt import Doubt
from seaload.deciding.rounds import State
from seaload.deciding.uncertainty import no_doubt
from seaload.evidence.verdict import sampled_rates
from seaload.result.duration_parts import HOURS, duration_parts
from seaload.risk.poisson import odds_in_exposure
from tests.deciding.fake_sailer import FakeSailer


@pytest.fixture
def told(small_study, made_case):
    """Function: the odds by duration of one setting with a doubt, and its `Sampled`."""
    study = replace(small_study, settings=small_study.settings[:1], seas=small_study.seas[:1])
    sailer = FakeSailer(study, {(0, 0): study.settings[0]}, made_case, lambda *_: 0.6)
    sailer.sail([(0, 0, r) for r in range(20)])
    sampled = sampled_rates([sailer.records[0, 0, r] for r in range(20)], study.risk)

    def go(doubt, exposure=study.risk.exposure):
        state = State({(0, 0): 20}, {0: doubt}, sampled={((0, 0), 20): sampled})
        return duration_parts(replace(study, risk=replace(study.risk, exposure=exposure)), state), sampled, study

    return go


def doubt_of(size):
    both = ("reverse", "normal")
    nothing = dict.fromkeys(both, np.zeros(1))
    return Doubt(("lift_slope",), dict.fromkeys(both, np.array([size])), nothing, dict.fromkeys(both, 0.0))


def test_with_everything_known_they_are_those_of_one_rate(told, small_study):
    parts, sampled, _ = told(no_doubt(small_study))
    rate = float(np.exp(sampled.curves["reverse"].ln_rate(1.0)))
    expected = [odds_in_exposure(rate, time) for time in parts["duration"][1]]
    assert parts["reverse_odds_in_duration"][1][0, 0] == pytest.approx(expected, rel=1e-3)


def test_what_is_uncertain_is_drawn_once_so_a_third_of_the_time_has_more_than_a_third_of_the_odds(told):
    """Bernoulli's inequality in the mean (Jensen 1906): odds all told are concave in the time."""
    parts, *_ = told(doubt_of(0.25))
    time, odds = parts["duration"][1], parts["reverse_odds_in_duration"][1][0, 0]
    steady = -np.log1p(-odds) / time
    assert np.all(np.diff(odds) > 0.0) and np.all(np.diff(steady) < 0.0)
    assert steady[1] > 1.3 * steady[2]  # an hour against three


def test_the_exposure_is_among_the_durations_with_the_odds_that_decide(told):
    parts, sampled, study = told(doubt_of(0.1), exposure=2.0 * HOUR)
    time = parts["duration"][1]
    assert sorted([*HOURS, 2.0]) == pytest.approx(list(time / HOUR))
    expected = doubt_of(0.1).all_told("reverse", sampled, replace(study.risk, exposure=2.0 * HOUR))
    found = [parts[f"reverse_odds_in_duration{end}"][1][0, 0, list(time).index(2.0 * HOUR)] for end in
             ("", "_low", "_high")]  # fmt: skip
    assert found == pytest.approx(expected)


def test_where_a_case_ended_the_upper_end_is_open(told, monkeypatch):
    parts, sampled, study = told(doubt_of(0.1))
    state = State({(0, 0): 20}, {0: doubt_of(0.1)}, sampled={((0, 0), 20): replace(sampled, not_shown=True)})
    assert np.all(duration_parts(study, state)["normal_odds_in_duration_high"][1] == 1.0)
    assert np.all(parts["normal_odds_in_duration_high"][1] < 1.0)
