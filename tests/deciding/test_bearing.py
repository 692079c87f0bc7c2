"""The sea that a setting bears, on loads that move as they are told to."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.deciding.bearing import ROW, borne_sea, nearer_seas, number_at, other_seas, step_of, stretch
from seaload.deciding.uncertainty import no_doubt
from seaload.deciding.variants import Effect
from seaload.evidence.rate_curve import RateCurve
from seaload.evidence.verdict import Sampled, accepted_rates

SLOPE = 20.0  # ln(rate) a limit


@pytest.fixture
def borne(small_study):
    """Function: (`Borne`, study) of a setting with this rate at the limit, whose load that comes as often as the limit
    lies at these levels two deviations either way, {name of a model number: (lower, upper)}."""

    def go(rate, levels, **changes):
        at = np.linspace(-1.0, 2.0, 61)
        ln_rate = np.log(rate) - SLOPE * (at - 1.0)
        quiet = RateCurve(at, *[np.full(61, -100.0)] * 3)
        curves = {"reverse": RateCurve(at, *[ln_rate] * 3), "normal": quiet}
        sampled = Sampled({}, curves, {"reverse": 0.0, "normal": 0.0}, {}, 3600.0, False)
        verdict = SimpleNamespace(limits=accepted_rates(small_study.risk))

        def effect_of(change):
            name, end = change.name.split()
            level = levels.get(name, (1.0, 1.0))[int(float(end) > 0.0)]
            level = 1.0 + (level - 1.0) * abs(float(end)) / 2.0
            nothing = {"reverse": 0.0, "normal": 0.0}
            valid = change.name not in changes.get("invalid", ())
            own = Sampled({}, {"reverse": quiet, "normal": quiet}, nothing, {}, 3600.0, False)
            return Effect({"reverse": level, "normal": 1.0}, nothing, {}, 1.0, 0.0, valid, ("a case",), own)

        sea = small_study.seas[0]
        effects = {change: effect_of(change) for change in other_seas(small_study.settings[0], small_study, sea)}
        effects |= {change: effect_of(change) for change in nearer_seas(small_study, effects, sea)}
        return borne_sea(small_study, verdict, sampled, no_doubt(small_study), effects, small_study.seas[0])

    return go


LIMIT = 1.87e-6  # [1/s] 2 % in 3 h


def test_a_setting_within_bears_more_until_the_rate_is_the_accepted_one(borne, small_study):
    """e^2 below the level and a load that falls by 0.2 over two deviations, 20 e-foldings a limit: half the way."""
    found = borne(LIMIT * np.exp(-2.0), {"hs_factor": (1.2, 0.8)})
    sea = small_study.seas[0]
    grid = (ROW[1] - ROW[0]) * step_of(small_study, sea, "hs_factor")
    assert found.hs_most == pytest.approx(number_at(small_study, sea, "hs_factor", 1.0), rel=1.01 * grid)
    ends = [np.exp(end * step_of(small_study, sea, "tp_factor")) for end in (-2.0, 2.0)]  # of a log-normal period
    assert (found.tp_least, found.tp_most) == pytest.approx(ends)
    assert found.turn_most == -found.turn_least == 2.0 * step_of(small_study, sea, "heading_shift")


def test_a_setting_outside_gets_the_nearest_sea_that_it_bears(borne, small_study):
    found = borne(LIMIT * np.exp(2.0), {"hs_factor": (1.2, 0.8), "tp_factor": (0.8, 1.2)})
    sea = small_study.seas[0]
    step = ROW[1] - ROW[0]
    for name, value, off in (("hs_factor", found.hs_most, -1.0), ("tp_factor", found.tp_least, 1.0)):
        grid = step * step_of(small_study, sea, name)
        assert value == pytest.approx(number_at(small_study, sea, name, off), rel=1.01 * grid)
    assert found.tp_most == pytest.approx(number_at(small_study, sea, "tp_factor", 2.0))
    assert np.isnan(found.turn_least) and np.isnan(found.turn_most)


def test_beyond_a_case_that_ended_nothing_is_borne(borne):
    """And that is said of these ways alone."""
    ended = ("hs_factor +2", "hs_factor +1", "heading_shift -2", "heading_shift -1")
    found = borne(LIMIT / 100.0, {}, invalid=ended)
    assert found.hs_most == 1.0 and found.turn_least == 0.0 and found.turn_most > 0.1
    assert found.ended == ("higher", "further aft")


def test_where_a_case_two_deviations_off_ended_the_sea_one_deviation_off_tells(borne, small_study):
    """Up to there it bears the same as a setting whose cases all came through."""
    sea = small_study.seas[0]
    near = borne(LIMIT * np.exp(-2.0), {"hs_factor": (1.1, 0.9)}, invalid=("hs_factor +2",))
    assert near.hs_most == pytest.approx(number_at(small_study, sea, "hs_factor", 1.0)) and near.ended == ("higher",)
    levels = {"hs_factor": (1.3, 0.7)}
    whole, cut = (borne(LIMIT * np.exp(-2.0), levels, invalid=ways) for ways in ((), ("hs_factor +2",)))
    assert cut.hs_most == whole.hs_most < near.hs_most and cut.ended == ()


def test_the_stretch_nearest_to_the_sea_as_it_is():
    inside = np.zeros(len(ROW), dtype=bool)
    assert all(np.isnan(stretch(inside)))
    inside[3:6] = inside[30:33] = True
    assert stretch(inside) == (ROW[30], ROW[32])
