"""Sails by wind: which heel and which speeds they allow."""

import numpy as np

from seaload.deciding.leg.ladder import carried, rows_in
from seaload.scenario.leg_records import Sails

LADDER = (Sails(0.0, 0.35, 0.6), Sails(8.0, 0.35, 1.0), Sails(16.0, 0.25, 0.8))
SETTINGS = np.array([[1.0, 0.0, heel, 0.5, 0.0, speed] for heel in (0.25, 0.32) for speed in (6.0, 10.0)])
SHARES = np.array([[0.7] * 4, [1.0] * 4, [0.9] * 4])


def test_the_row_of_a_wind_is_the_last_that_it_reaches():
    assert rows_in(LADDER, np.array([0.0, 7.99, 8.0, 15.0, 16.0, 40.0])).tolist() == [0, 0, 1, 1, 2, 2]


def test_heel_and_speed_are_bounded_by_the_row():
    """Thrust holds 10.5 m/s in the sea: 70 % of it in little wind, 90 % in much."""
    wind, most = np.array([[4.0, 10.0, 20.0]]), np.full((1, 3, 4), 10.5)
    allowed = carried(LADDER, SETTINGS, wind, most, SHARES)[0]
    assert allowed.tolist() == [
        [True, False, True, False],  # light: not ten metres a second
        [True, True, True, True],
        [True, False, False, False],  # much: 9.45 m/s, and the greater heel is not sailed
    ]


def test_where_the_library_tells_no_speed_only_heel_bounds():
    allowed = carried(LADDER, SETTINGS, np.array([[20.0]]), np.full((1, 1, 4), np.inf), SHARES)[0, 0]
    assert allowed.tolist() == [True, True, False, False]
