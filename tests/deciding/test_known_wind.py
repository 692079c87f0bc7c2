"""A table of speeds gives its own numbers back, between them the plane through four, and nothing outside."""

import numpy as np
import pytest

from seaload.deciding.known_wind import table_speed
from seaload.scenario.crew_records import SpeedTable

WINDS, ANGLES = np.array([5.0, 8.0, 12.0]), np.array([0.8, 1.5, 2.4])
SPEEDS = 1.0 + 0.3 * WINDS[:, None] + 0.5 * ANGLES + 0.2 * WINDS[:, None] * ANGLES  # bilinear: closed form everywhere
TABLE = SpeedTable(WINDS, ANGLES, SPEEDS, "made here")


@pytest.mark.parametrize("row", range(3))
@pytest.mark.parametrize("column", range(3))
def test_a_corner_reads_as_itself(row, column):
    assert table_speed(TABLE, WINDS[row], ANGLES[column]) == pytest.approx(SPEEDS[row, column])


@pytest.mark.parametrize(("wind", "angle"), [(6.3, 1.1), (11.0, 2.3), (12.0, 2.0), (9.0, 2.4)])
def test_between_corners_it_is_bilinear(wind, angle):
    assert table_speed(TABLE, wind, angle) == pytest.approx(1.0 + 0.3 * wind + 0.5 * angle + 0.2 * wind * angle)


@pytest.mark.parametrize(("wind", "angle"), [(4.9, 1.5), (12.1, 1.5), (8.0, 0.7), (8.0, 2.5)])
def test_outside_nothing_is_known(wind, angle):
    assert table_speed(TABLE, wind, angle) is None
