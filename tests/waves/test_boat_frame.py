"""Signs between the compass, the edge and the boat axes: which side is leeward, and from where waves come."""

import numpy as np
import pytest

from seaload.waves.boat_frame import direction_in_boat, wrapped
from tests.oracles.boat_frame import leeward_side, waves_from_bow

DEGREE = np.pi / 180.0


def mu_degrees(wave_from, heading, tack):
    return direction_in_boat(wave_from * DEGREE, heading * DEGREE, tack) / DEGREE


@pytest.mark.parametrize("tack", ["starboard", "port"])
def test_head_and_following_sea(tack):
    assert abs(mu_degrees(40.0, 40.0, tack)) == pytest.approx(180.0)  # waves from where the bow points
    assert mu_degrees(220.0, 40.0, tack) == pytest.approx(0.0, abs=1e-9)


def test_waves_from_windward_travel_to_leeward_on_both_tacks():
    """Heading north. Starboard tack: wind and windward in the east; port tack: in the west."""
    assert mu_degrees(90.0, 0.0, "starboard") == pytest.approx(90.0)
    assert mu_degrees(270.0, 0.0, "port") == pytest.approx(90.0)
    # and waves from leeward travel to windward
    assert mu_degrees(270.0, 0.0, "starboard") == pytest.approx(-90.0)
    assert mu_degrees(90.0, 0.0, "port") == pytest.approx(-90.0)


def test_port_tack_is_from_plus_180_minus_heading():
    assert mu_degrees(300.0, 75.0, "port") == pytest.approx(300.0 + 180.0 - 75.0 - 360.0)


@pytest.mark.parametrize("from_bow", [-150.0, -30.0, 0.0, 45.0, 120.0])
@pytest.mark.parametrize("heading", [0.0, 110.0, 350.0])
def test_edge_angle_is_mirrored_by_the_tack_and_nothing_else_is(from_bow, heading):
    """A wave 45 degrees off the bow to windward has the same mu on both tacks: the model sails only one."""
    starboard = mu_degrees(heading + from_bow, heading, "starboard")  # windward is to starboard, clockwise
    port = mu_degrees(heading - from_bow, heading, "port")
    assert starboard == pytest.approx(port)
    assert waves_from_bow(starboard * DEGREE) / DEGREE == pytest.approx(from_bow)


def test_travel_direction_in_space():
    """Against plain geometry: unit vectors east and north, boat axes forward and to leeward."""
    for tack, side in (("starboard", -1.0), ("port", 1.0)):
        for heading in (10.0, 130.0, 285.0):
            for wave_from in (0.0, 77.0, 200.0):
                to = (wave_from + 180.0) * DEGREE
                travel = np.array([np.sin(to), np.cos(to)])
                h = heading * DEGREE
                forward = np.array([np.sin(h), np.cos(h)])
                starboard = np.array([np.cos(h), -np.sin(h)])
                leeward = side * starboard
                mu = mu_degrees(wave_from, heading, tack) * DEGREE
                assert np.cos(mu) == pytest.approx(travel @ forward)
                assert np.sin(mu) == pytest.approx(travel @ leeward)


def test_working_foil_is_the_leeward_one():
    assert leeward_side("starboard") == "port"
    assert leeward_side("port") == "starboard"
    for function in (leeward_side, lambda word: direction_in_boat(0.0, 0.0, word)):
        with pytest.raises(ValueError, match="tack must be"):
            function("larboard")


def test_wrapping_keeps_shape_and_range():
    angles = np.linspace(-20.0, 20.0, 1001)
    inside = wrapped(angles)
    assert inside.shape == angles.shape and np.all((inside >= -np.pi) & (inside < np.pi))
    assert np.exp(1j * inside) == pytest.approx(np.exp(1j * angles))
