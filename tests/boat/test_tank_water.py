"""Water in tanks: centre of gravity and moments of inertia, against laws of rigid bodies (any text on mechanics)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seaload.boat.tank_water import loaded_centre, loaded_inertia

MASS, CENTRE = 8000.0, (6.0, -0.4, 0.3)
PLACE = st.floats(-10.0, 10.0)
TANK = st.tuples(st.floats(1.0, 2000.0), PLACE, PLACE, PLACE)


def test_no_water_moves_nothing():
    assert loaded_centre(MASS, CENTRE, ()) == pytest.approx(CENTRE)
    assert loaded_inertia(MASS, CENTRE, (), CENTRE) == (0.0, 0.0)


@given(st.lists(TANK, min_size=1, max_size=4))
def test_boat_and_water_balance_on_their_common_centre(water):
    whole = loaded_centre(MASS, CENTRE, water)
    for axis in range(3):
        moments = [MASS * (CENTRE[axis] - whole[axis])] + [row[0] * (row[1 + axis] - whole[axis]) for row in water]
        assert sum(moments) == pytest.approx(0.0, abs=1e-6 * MASS)


@given(TANK)
def test_one_tank_adds_the_reduced_mass_at_its_distance(tank):
    """Two bodies about their common centre: m M/(m + M) times the square of the distance between them."""
    whole = loaded_centre(MASS, CENTRE, [tank])
    reduced = MASS * tank[0] / (MASS + tank[0])
    x, y, z = (tank[1 + axis] - CENTRE[axis] for axis in range(3))
    roll, pitch = loaded_inertia(MASS, CENTRE, [tank], whole)
    assert roll == pytest.approx(reduced * (y * y + z * z), abs=1e-6)
    assert pitch == pytest.approx(reduced * (x * x + z * z), abs=1e-6)


@given(TANK)
def test_two_halves_of_a_tank_are_the_tank(tank):
    half = (0.5 * tank[0], *tank[1:])
    whole = loaded_centre(MASS, CENTRE, [tank])
    assert loaded_centre(MASS, CENTRE, [half, half]) == pytest.approx(whole)
    assert np.allclose(loaded_inertia(MASS, CENTRE, [half, half], whole), loaded_inertia(MASS, CENTRE, [tank], whole))
