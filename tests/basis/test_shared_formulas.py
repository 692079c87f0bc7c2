"""The few compiled functions of basis against numpy and their own laws."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.fading import LONGEST, fading
from seaload.basis.lane_index import LANES, at, wide
from seaload.basis.sine_cosine import sine_cosine, sine_cosine_within
from seaload.basis.smooth_step import smooth_step, smooth_step_slope


@settings(deadline=None)
@given(st.floats(0.0, LONGEST))
def test_fading_is_the_exponential(exponent):
    assert abs(fading(exponent) - np.exp(-exponent)) < 1e-13
    assert fading(exponent) == pytest.approx(np.exp(-exponent), rel=1e-8)


def test_fading_stays_between_its_ends():
    assert fading(-1.0) == 1.0 and fading(1e6) == fading(LONGEST) < 1e-17


@settings(deadline=None)
@given(st.floats(-1e6, 1e6))
def test_sine_and_cosine_of_any_angle(angle):
    assert sine_cosine(angle) == pytest.approx((np.sin(angle), np.cos(angle)), abs=2e-13 + 3e-16 * abs(angle))


@settings(deadline=None)
@given(st.floats(-np.pi, np.pi))
def test_sine_and_cosine_within_half_a_turn(angle):
    assert sine_cosine_within(angle) == pytest.approx((np.sin(angle), np.cos(angle)), abs=2e-13)


@settings(deadline=None)
@given(st.floats(-0.5, 1.5))
def test_ramp_is_as_far_from_its_end_as_its_mirror_from_its_start(position):
    assert smooth_step(position) + smooth_step(1.0 - position) == pytest.approx(1.0)
    assert 0.0 <= smooth_step(position) <= 1.0


def test_slope_of_the_ramp_is_its_derivative():
    p, step = np.linspace(-0.2, 1.2, 57), 1e-5
    for x in p[(np.abs(p) > 0.01) & (np.abs(p - 1.0) > 0.01)]:
        slope = (smooth_step(x + step) - smooth_step(x - step)) / (2.0 * step)
        assert smooth_step_slope(x) == pytest.approx(slope, abs=1e-6)


@pytest.mark.parametrize("place, width", [(at, LANES), (wide, 2 * LANES)])
def test_rows_follow_each_other_without_a_gap(place, width):
    """The flat place is that of numpy's own row-major order."""
    shape = (5, width)
    for row, lane in np.ndindex(shape):
        assert int(place(row, lane)) == np.ravel_multi_index((row, lane), shape)
