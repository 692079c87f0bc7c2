"""Distances and courses on a sphere beside worked examples.

All from memory: Los Angeles to New York in Williams' aviation formulary (33 57 N 118 24 W to 40 38 N 73 47 W; great
circle 0.623585 rad at 66 degrees, rhumb line 0.629650 rad at 79.3 degrees; on a unit sphere), and Land's End to John
o' Groats in Veness' page on the same formulas (50 03 59 N 5 42 53 W to 58 38 38 N 3 04 12 W, 968.9 km at 009 07 11
degrees; sphere of 6371 km). A minute of latitude is a nautical mile, 1852 m, within 0.6 % of the sphere.
"""

import numpy as np
import pytest

from seaload.deciding.leg.earth import RADIUS, along_rhumb_line, great_circle, rhumb_line


def degrees(degrees_, minutes=0.0, seconds=0.0):
    return np.radians(degrees_ + minutes / 60.0 + seconds / 3600.0)


LAX, JFK = (degrees(33, 57), -degrees(118, 24)), (degrees(40, 38), -degrees(73, 47))
LANDS_END, GROATS = (degrees(50, 3, 59), -degrees(5, 42, 53)), (degrees(58, 38, 38), -degrees(3, 4, 12))
CASES = [
    ("great circle, Los Angeles to New York", great_circle, LAX, JFK, 0.623585 * RADIUS, 66.0, 2e-6, 0.15),
    ("rhumb line, Los Angeles to New York", rhumb_line, LAX, JFK, 0.629650 * RADIUS, 79.32, 2e-6, 0.01),
    ("great circle, Land's End to John o' Groats", great_circle, LANDS_END, GROATS, 968.9e3, 9.12, 1e-4, 0.01),
]


@pytest.mark.parametrize("words, way, start, end, distance, course, near, turn", CASES)
def test_worked_examples(words, way, start, end, distance, course, near, turn, logbook):
    ours, heading = way(start, end)
    met = abs(ours / distance - 1.0) < near and abs(np.degrees(heading) - course) < turn
    logbook(
        stage="leg", quantity=words, source="worked examples on great circles and rhumb lines", origin="memory",
        published=distance, ours=float(ours), tolerance=f"{near:g}, and {turn:g} degrees of course", met=met,
    )  # fmt: skip
    assert met


def test_a_minute_of_latitude_is_a_nautical_mile_within_the_sphere():
    assert great_circle((0.0, 0.0), (degrees(0, 1), 0.0))[0] == pytest.approx(1852.0, rel=0.006)


@pytest.mark.parametrize("course", [0.0, 37.0, 90.0, 143.0, 180.0, 225.0, 270.0, 359.0])
def test_there_and_back_over_the_date_line(course):
    start = (degrees(-47.5), degrees(179.5))
    place = along_rhumb_line(start, np.radians(course), 200e3)
    assert -np.pi <= place[1] <= np.pi
    distance, heading = rhumb_line(start, place)
    assert distance == pytest.approx(200e3, rel=1e-9)
    assert np.degrees(heading) % 360.0 == pytest.approx(course, abs=1e-6)


def test_along_a_parallel_and_along_a_meridian():
    assert rhumb_line((degrees(60), 0.0), (degrees(60), degrees(1)))[0] == pytest.approx(
        0.5 * rhumb_line((0.0, 0.0), (0.0, degrees(1)))[0], rel=1e-12
    )
    assert rhumb_line((degrees(10), 1.0), (degrees(20), 1.0))[0] == pytest.approx(
        great_circle((degrees(10), 1.0), (degrees(20), 1.0))[0], rel=1e-12
    )


def test_a_way_over_the_pole_is_refused():
    with pytest.raises(ValueError, match="pole"):
        along_rhumb_line((degrees(79), 0.0), 0.0, 2e6)
