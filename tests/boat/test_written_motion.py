"""A motion written in rows: what lies between them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seaload.boat.written_motion import joined


def test_two_rows_are_a_cubic_from_rest_to_rest():
    """3 p^2 - 2 p^3 with its derivatives (closed form)."""
    p = np.linspace(0.0, 1.0, 11)
    value, rate, acceleration = joined([0.0, 4.0], [1.0, 3.0], 4.0 * p)
    assert value == pytest.approx(1.0 + 2.0 * (3.0 * p**2 - 2.0 * p**3))
    assert rate == pytest.approx(0.5 * 6.0 * (p - p**2), abs=1e-12)
    assert acceleration == pytest.approx(0.125 * 6.0 * (1.0 - 2.0 * p), abs=1e-12)


def test_before_the_first_row_and_after_the_last_it_stands_still():
    value, rate, acceleration = joined([0.0, 1.0, 2.0], [5.0, 7.0, 6.0], [-3.0, -1e-9, 2.0 + 1e-9, 90.0])
    assert value == pytest.approx([5.0, 5.0, 6.0, 6.0]) and np.all(rate == 0.0) and np.all(acceleration == 0.0)


def test_rates_are_the_slope_of_the_values_and_have_no_steps():
    time, rows = [0.0, 0.7, 1.1, 2.0, 3.5], [0.0, 1.0, 0.4, 0.5, 2.0]
    at = np.linspace(-0.5, 4.0, 9001)
    value, rate, acceleration = joined(time, rows, at)
    assert rate[1:-1] == pytest.approx(np.gradient(value, at)[1:-1], abs=2e-2)
    assert np.abs(np.diff(rate)).max() < 1.1 * np.abs(acceleration).max() * (at[1] - at[0])


@given(st.lists(st.floats(-5.0, 5.0), min_size=2, max_size=8), st.randoms(use_true_random=False))
def test_between_two_rows_it_never_leaves_their_values(rows, chance):
    time = np.cumsum([chance.uniform(0.05, 3.0) for _ in rows])
    for k in range(len(rows) - 1):
        value, _, _ = joined(time, rows, np.linspace(time[k], time[k + 1], 30))
        low, high = sorted(rows[k : k + 2])
        assert value.min() > low - 1e-9 and value.max() < high + 1e-9


def test_a_free_fall_written_every_tenth_of_a_second_falls_freely():
    """h = -g t^2/2 within a centimetre and its acceleration within five per cent, away from start and end."""
    time = np.arange(0.0, 1.01, 0.1)
    at = np.linspace(0.25, 0.75, 101)
    value, _, acceleration = joined(time, -0.5 * 9.81 * time**2, at)
    assert value == pytest.approx(-0.5 * 9.81 * at**2, abs=0.01)
    assert np.mean(acceleration) == pytest.approx(-9.81, rel=0.05)
