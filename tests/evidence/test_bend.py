"""A line through what an input does at five deviations."""

import numpy as np
import pytest

from seaload.evidence.bend import NODES, Bend, bent, extended

TABLE = np.array([-0.2, -0.12, 0.0, 0.2, 0.5])


def test_it_passes_through_the_table_and_goes_straight_on():
    assert bent(TABLE, NODES) == pytest.approx(TABLE)
    assert bent(TABLE, np.array([3.0, 5.0])) == pytest.approx([0.8, 1.4])
    assert bent(TABLE, -4.0) == pytest.approx(-0.36)


def test_a_straight_table_is_a_straight_line():
    at = np.linspace(-5.0, 5.0, 41)
    assert bent(0.07 * NODES, at) == pytest.approx(0.07 * at)


def test_it_rises_where_the_table_rises():
    assert np.all(np.diff(bent(TABLE, np.linspace(-6.0, 6.0, 301))) > 0.0)


def test_nothing_stays_nothing():
    assert not bent(np.zeros(5), np.linspace(-3.0, 3.0, 7)).any()


def test_the_slope_is_that_of_the_load_which_comes_as_often_as_the_limit():
    bend = Bend(0, np.array([0.0, -0.01, 0.0, 0.03, 0.0]), np.array([0.0, -0.1, 0.0, 0.2, 0.0]))
    assert bend.slope(-0.5) == pytest.approx(0.5 * (0.04 + 1.5 * 0.3))


@pytest.mark.parametrize("known, expected", [
    ([1, 1, 1, 1, 1], [-0.2, -0.12, 0.0, 0.2, 0.5]),
    ([1, 1, 1, 1, 0], [-0.2, -0.12, 0.0, 0.2, 0.4]),
    ([0, 1, 1, 1, 1], [-0.24, -0.12, 0.0, 0.2, 0.5]),
    ([1, 1, 1, 0, 0], [-0.2, -0.12, 0.0, 0.12, 0.24]),
    ([0, 0, 1, 0, 0], [0.0, 0.0, 0.0, 0.0, 0.0]),
])  # fmt: skip
def test_what_was_not_run_is_told_by_the_step_before_it(known, expected):
    assert extended(TABLE, np.array(known, dtype=bool)) == pytest.approx(expected)
