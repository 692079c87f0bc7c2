"""Words for odds, rates and intervals: what a reader sees, and that rounding never flatters."""

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seaload.report.answer import Bears
from seaload.report.shared import wording as w
from seaload.report.shared.answer_words import bears_words


@pytest.mark.parametrize(
    ("odds", "said"),
    [
        (0.0, "none"),
        (1e-9, "under 1 in 10,000"),
        (1 / 1234, "1 in 1,200"),
        (1 / 13, "1 in 13"),
        (0.02, "1 in 50"),
        (0.33, "1 in 3"),
        (0.5, "5 in 10"),
        (0.72, "7 in 10"),
        (0.97, "almost certain"),
        (math.nan, "unknown"),
    ],
)
def test_odds_are_said_as_one_in_so_many(odds, said):
    assert w.one_in(odds) == said


def as_number(said):
    """The odds that a phrase claims."""
    if said == "almost certain":
        return 1.0
    top, bottom = said.replace(",", "").split(" in ")
    return float(top) / float(bottom)


@given(st.floats(min_value=2e-4, max_value=1.0))
def test_the_bound_is_never_said_to_be_smaller_than_it_is(odds):
    assert as_number(w.one_in(odds, "risk")) >= odds * (1.0 - 1e-6)


@given(st.floats(min_value=2e-4, max_value=0.999))
def test_the_nearest_phrase_is_within_a_quarter(odds):
    assert as_number(w.one_in(odds)) == pytest.approx(odds, rel=0.26, abs=0.051)


@pytest.mark.parametrize(
    ("kwargs", "said"),
    [
        ({"odds": 0.02, "high": 0.05}, "1 in 50 (at worst 1 in 20)"),
        ({"odds": 0.0, "high": 0.9502, "seen": 0, "hours": 3}, "none in 3 h: too few hours to tell"),
        ({"odds": 0.0, "high": 1 / 13.4, "seen": 0, "hours": 40}, "none in 40 h; at worst 1 in 13"),
        (
            {"odds": 1e-3, "high": 0.004, "seen": 0, "hours": 40},
            "1 in 1,000 (none seen in 40 h; at worst 1 in 250)",
        ),
        ({"odds": 0.3, "high": 0.6, "at_least": True}, "at least 1 in 3"),
        ({"odds": math.nan, "high": math.nan}, "not known: no case ran to its end"),
    ],
)
def test_odds_carry_their_interval(kwargs, said):
    assert w.odds_words(kwargs.pop("odds"), kwargs.pop("high"), **kwargs) == said


def test_rates_carry_their_interval_and_none_is_not_nothing():
    assert w.rate_words(0.333, 0.0171, 1.581) == "0.33 (0.017 to 1.6) per hour"
    assert w.rate_words(0.0, 0.0, 0.9986, hours=3, seen=0) == "none in 3 h (up to 1 per hour)"
    assert w.rate_words(2.0, 1.0, math.inf) == "2 (1 or more) per hour"


@given(st.floats(min_value=1e-6, max_value=1e9))
def test_directed_rounding_brackets_the_number(value):
    below = float(w.downwards(value).replace(",", ""))
    above = float(w.upwards(value).replace(",", ""))
    assert below <= value * (1 + 1e-9) and above >= value * (1 - 1e-9)
    assert above <= value * 1.11 and below >= value * 0.9


def test_numbers_are_never_printed_in_powers_of_ten():
    assert w.significant(1234567.0) == "1,200,000"
    assert w.significant(0.00001234) == "0.000012"
    assert w.significant(0.0) == "0"
    assert w.significant(-3.456) == "-3.5"
    assert w.significant(math.inf) == "unknown"


def test_time_is_said_in_hours_or_minutes():
    assert w.hours_words(1 / 3) == "20 minutes"
    assert w.hours_words(1.0) == "1 hour"
    assert w.hours_words(3.0) == "3 hours"


def test_limits_say_what_they_mean_or_that_nobody_said():
    assert "not where the foil breaks" in w.limit_words("working")
    assert "does not say" in w.limit_words("")


def test_every_status_has_words():
    from seaload.basis.records import STATUS_NAMES

    assert set(STATUS_NAMES.values()) == set(w.STATUS_WORDS)


def test_one_full_load_swing_is_a_millionth_of_the_reference():
    assert w.full_load_cycles(3e-6) == pytest.approx(3.0)


@pytest.mark.parametrize(("angle", "word"), [(0, "ahead"), (45, "on the bow"), (90, "abeam"), (135, "on the quarter")])
def test_wave_angles_have_a_sailors_name(angle, word):
    assert word in w.angle_from_bow_words(float(angle))


def test_a_single_sea_that_a_setting_bears_is_not_told_as_a_stretch():
    bears = Bears(math.nan, 15.2, 15.21, math.nan, math.nan, "")
    answer = SimpleNamespace(seas={0: SimpleNamespace(bears=bears, shown=0, absent=())})
    assert bears_words(answer, 0) == "Within the limits for a peak period of 15.2 s, each with the rest as it is."
    wide = SimpleNamespace(seas={0: SimpleNamespace(bears=replace(bears, tp_most=16.0), shown=0, absent=())})
    assert "peak periods from 15.2 to 16.0 s" in bears_words(wide, 0)


def test_where_runs_ended_the_sea_borne_is_said_to_be_unknown_beyond():
    bears = Bears(2.7, 9.0, 12.0, math.nan, math.nan, "higher, shorter")
    answer = SimpleNamespace(seas={0: SimpleNamespace(bears=bears, shown=0, absent=())})
    assert "in waves still higher, shorter is not known: runs ended there" in bears_words(answer, 0)
