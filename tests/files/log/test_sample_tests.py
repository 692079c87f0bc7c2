"""Tests of single samples, after the QARTOD manuals.

Formulas: READ in ioos/ioos_qc, commit 9c1853a. Where that library is installed it is asked too, at whole seconds, where
it is right (ioos-qc 2.3.0: all flags equal).
"""

import importlib.util

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.files.log import sample_tests
from seaload.files.log.sample_tests import (
    AROUND,
    CLIP_LOW,
    FROZEN,
    LEAST,
    LIMITS,
    LONGEST,
    OUT_OF_RANGE,
    ROUGHNESS,
    STANDING,
    TOO_FAST,
    UNUSUAL,
    USUAL_LEAST,
    Samples,
    find_spikes,
    fresh_state,
    mark_samples,
    spike_height,
)

LIBRARY = pytest.mark.skipif(importlib.util.find_spec("ioos_qc") is None, reason="the community's library is not here")


def limits_with(**changes):
    """Limits that nothing passes, but for those given by name."""
    limits = np.full(LIMITS, np.inf)
    limits[[LEAST, USUAL_LEAST, CLIP_LOW]] = -np.inf
    limits[LONGEST], limits[ROUGHNESS] = 0.1, 0.0
    for place, value in changes.items():
        limits[getattr(sample_tests, place)] = value
    return limits


def marks_of(time, x, limits):
    """Marks of a whole record."""
    marks = np.empty(len(x), dtype=np.uint16)
    mark_samples(Samples(time, x, np.zeros(len(x), dtype=np.uint8), 0), limits, fresh_state(), marks)
    return marks


def flags_of(marks, suspect, fail=0):
    """QARTOD numbers from two marks."""
    return np.where(marks & fail, 4, np.where(marks & suspect, 3, 1))


def record(seed, n=400, digits=1):
    """(time by whole seconds, values of few digits, so that many stand still)."""
    rng = np.random.default_rng(seed)
    return np.arange(n, dtype=float), np.round(np.cumsum(rng.normal(0.0, 0.03, n)), digits)


@LIBRARY
@pytest.mark.parametrize("seed", range(3))
def test_gross_range_is_that_of_the_library(seed):
    from ioos_qc import qartod

    time, x = record(seed)
    ours = marks_of(time, x, limits_with(LEAST=-0.4, MOST=0.4, USUAL_LEAST=-0.2, USUAL_MOST=0.2))
    theirs = qartod.gross_range_test(x, fail_span=(-0.4, 0.4), suspect_span=(-0.2, 0.2))
    np.testing.assert_array_equal(flags_of(ours, UNUSUAL, OUT_OF_RANGE), np.asarray(theirs))


@LIBRARY
@pytest.mark.parametrize("seed", range(3))
def test_rate_of_change_is_that_of_the_library_at_whole_seconds(seed):
    from ioos_qc import qartod

    time, x = record(seed, digits=3)
    theirs = qartod.rate_of_change_test(x, time.astype("datetime64[s]"), threshold=0.05)
    ours = marks_of(time, x, limits_with(FASTEST=0.05))
    np.testing.assert_array_equal(flags_of(ours, TOO_FAST)[1:], np.asarray(theirs)[1:])


@LIBRARY
@pytest.mark.parametrize("seed", range(3))
def test_flat_line_is_that_of_the_library_at_whole_seconds(seed):
    from ioos_qc import qartod

    time, x = record(seed)
    theirs = qartod.flat_line_test(
        x, time.astype("datetime64[s]"), suspect_threshold=4, fail_threshold=8, tolerance=1e-9
    )
    ours = marks_of(time, x, limits_with(STANDS=4.0, FREEZES=8.0))
    np.testing.assert_array_equal(flags_of(ours, STANDING, FROZEN), np.asarray(theirs))


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 1000), scale=st.sampled_from([0.005, 0.02, 0.1, 3.0]))
def test_rate_and_flat_line_are_told_in_true_seconds(seed, scale):
    """A record stretched in time, with its limits stretched alike, has the same flags."""
    time, x = record(seed)
    slow = marks_of(time, x, limits_with(FASTEST=0.05, STANDS=3.5, FREEZES=6.5))
    fast = marks_of(time * scale, x, limits_with(FASTEST=0.05 / scale, STANDS=3.5 * scale, FREEZES=6.5 * scale))
    np.testing.assert_array_equal(slow, fast)
    assert np.any(slow & TOO_FAST) and np.any(slow & (STANDING | FROZEN))


@given(st.floats(-5.0, 5.0), st.floats(-1.0, 1.0), st.floats(0.1, 9.0))
@settings(max_examples=50, deadline=None)
def test_the_height_of_one_high_sample_is_the_average_form_of_qartod(before, rise, height):
    """QARTOD: |x[n-1] - (x[n] + x[n-2]) / 2|; never more than the sample stands over the nearer neighbour."""
    x = np.array([before, before + 0.5 * rise + height, before + rise])
    average = abs(x[1] - 0.5 * (x[0] + x[2]))
    nearer = min(abs(x[1] - x[0]), abs(x[1] - x[2])) if (x[1] - x[0]) * (x[1] - x[2]) > 0.0 else 0.0
    assert spike_height(x, 1, 1) == pytest.approx(min(average, nearer), abs=1e-12)


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 1000), shift=st.floats(-100.0, 100.0), size=st.floats(0.1, 50.0), mirror=st.booleans())
def test_spikes_do_not_depend_on_unit_zero_or_sign(seed, shift, size, mirror):
    rng = np.random.default_rng(seed)
    x = np.sin(0.1 * np.arange(300)) + rng.normal(0.0, 0.01, 300)
    x[[60, 150, 151, 220]] += [0.8, -0.5, -0.6, 0.4]
    found, other = np.zeros(300, dtype=np.uint8), np.zeros(300, dtype=np.uint8)
    find_spikes(x, 0.005, 10, found)
    find_spikes((-x if mirror else x) * size + shift, 0.005 * size, 10, other)
    assert set(np.flatnonzero(found == 2)) == {60, 150, 151, 220}
    np.testing.assert_array_equal(found, other)


def test_a_ringing_load_has_no_spikes():
    """A mode of 20 Hz sampled at 50 Hz alternates from sample to sample and is no fault."""
    t = np.arange(500) / 50.0
    x = np.where(t > 3.0, np.exp(-1.5 * np.maximum(t - 3.0, 0.0)) * np.sin(2.0 * np.pi * 20.0 * (t - 3.0)), 0.0)
    x += np.random.default_rng(1).normal(0.0, 0.005, 500)
    found = np.zeros(500, dtype=np.uint8)
    find_spikes(x, 0.005, 10, found)
    assert not np.any(found == 2)
    assert AROUND == 8, "the roughness near a sample reaches far enough to see the ringing after it begins"
