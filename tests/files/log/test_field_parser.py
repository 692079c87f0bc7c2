"""Fields of a text table become the numbers and moments that Python's own readers make of them."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.files.log.field_parser import (
    BLANK,
    CLOCK,
    ODD,
    READ,
    STAMP_DMY,
    STAMP_MDY,
    STAMP_YMD,
    number_at,
    stamp_at,
)


def number(text, decimal="."):
    data = np.frombuffer(text.encode() + b" ", dtype=np.uint8)
    return number_at(data, 0, len(data) - 1, ord(decimal))


def stamp(text, kind=STAMP_YMD):
    data = np.frombuffer(text.encode() + b" ", dtype=np.uint8)
    return stamp_at(data, 0, len(data) - 1, kind)


@settings(deadline=None)
@given(st.integers(-(10**15) + 1, 10**15 - 1), st.integers(0, 22))
def test_fifteen_digits_become_exactly_the_nearest_number(digits, places):
    text = f"{digits}e-{places}"
    assert number(text) == (float(text), READ)


@settings(deadline=None)
@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e20, max_value=1e20))
def test_the_shortest_text_of_any_number_comes_back_within_one_unit_in_the_last_place(value):
    found, how = number(repr(value))
    if how == READ:
        assert abs(found - value) <= np.spacing(abs(value))
    else:
        assert how == ODD, "left to Python: exponents past 22"


@pytest.mark.parametrize(
    ("text", "value"),
    [("+1.5", 1.5), ("-.5", -0.5), ("5.", 5.0), ("1E3", 1000.0), (" 7 ", 7.0), ("0", 0.0), ("1" * 25, float("1" * 25))],
)
def test_numbers_as_people_write_them(text, value):
    found, how = number(text)
    assert how == READ and found == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize("text", ["", "  ", "nan", "NaN"])
def test_a_blank_field_is_missing_without_complaint(text):
    found, how = number(text)
    assert how == BLANK and np.isnan(found)


@pytest.mark.parametrize("text", ["abc", "1.2.3", "1,5", "--1", "1e", "inf", "0x10", "12 34", "."])
def test_what_is_no_plain_number_is_left_to_python(text):
    assert number(text)[1] == ODD


def test_a_decimal_comma_is_a_point():
    assert number("-1,25", ",") == (-1.25, READ)


@settings(deadline=None)
@given(st.datetimes(datetime(1970, 1, 2), datetime(2199, 12, 31)), st.sampled_from(["T", " "]), st.integers(-840, 840))
def test_iso_moments_are_those_of_the_standard_library(moment, gap, minutes):
    """ISO 8601 as Python's datetime.isoformat writes it; offsets up to 14 h either way."""
    local = stamp(moment.isoformat(sep=gap))
    expected = moment.replace(tzinfo=UTC).timestamp()
    assert local[1:] == (READ, False) and local[0] == pytest.approx(expected, abs=2e-6)
    sign, size = ("-" if minutes < 0 else "+"), abs(minutes)
    zoned = stamp(f"{moment.isoformat(sep=gap)}{sign}{size // 60:02d}:{size % 60:02d}")
    assert zoned[1:] == (READ, True)
    assert zoned[0] == pytest.approx(expected - timedelta(minutes=minutes).total_seconds(), abs=2e-6)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("2026-03-13T05:40:00Z", STAMP_YMD),
        ("20260313T054000Z", STAMP_YMD),
        ("2026/03/13 05:40", STAMP_YMD),
        ("13.03.2026 05:40:00", STAMP_DMY),
        ("13/3/2026 5:40", STAMP_DMY),
        ("03/13/2026 05:40:00,000", STAMP_MDY),
    ],
)
def test_one_moment_in_many_spellings(text, kind):
    seconds, how, _ = stamp(text, kind)
    assert (seconds, how) == (1773380400.0, READ)


@pytest.mark.parametrize("text", ["2026-13-01T00:00", "2026-02-29T00:00", "2026-01-01T24:30", "yesterday", "12:00", ""])
def test_no_moment_is_odd(text):
    assert stamp(text)[1] == ODD


def test_a_time_of_day_counts_from_midnight():
    assert stamp("05:40:00.25", CLOCK) == (20400.25, READ, False)
