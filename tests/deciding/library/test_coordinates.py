"""What a library covers, and the features that its surfaces are drawn over."""

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from seaload.deciding.library.coordinates import (
    ANGLE,
    HEIGHT,
    NAMES,
    PERIOD,
    cover_of,
    features_of,
    hull_of,
    inside_hull,
    products_of,
    refusal,
)
from tests.deciding.library.invented import QUESTION


def asked(**other):
    question = QUESTION.copy()
    for name, value in other.items():
        question[NAMES.index(name)] = value
    return question


@pytest.fixture
def points():
    draws = np.random.default_rng(4)
    rows = np.tile(QUESTION, (60, 1))
    rows[:, 0] = draws.choice([0.6, 1.0], 60)
    rows[:, HEIGHT], rows[:, PERIOD] = draws.uniform(1.5, 4.0, 60), draws.uniform(7.0, 12.0, 60)
    rows[:, ANGLE] = np.linspace(-np.pi, np.pi, 60)
    return rows


def test_hull_has_the_corners_of_another_library():
    """scipy's ConvexHull (Barber, Dobkin & Huhdanpaa 1996)."""
    places = np.random.default_rng(1).normal(size=(200, 2))
    ours = hull_of(np.unique(places, axis=0))
    theirs = places[ConvexHull(places).vertices]
    assert set(map(tuple, ours)) == set(map(tuple, theirs))
    assert all(inside_hull(ours, place) for place in places)
    assert not inside_hull(ours, ours[0] + 1e-3 * (ours[0] - places.mean(axis=0)))


def test_hull_of_one_sea_and_of_seas_in_a_row():
    one = hull_of(np.array([[3.0, 2.0]]))
    assert inside_hull(one, np.array([3.0, 2.0])) and not inside_hull(one, np.array([3.0, 2.01]))
    row = hull_of(np.array([[1.0, 2.0], [2.0, 2.0], [3.0, 2.0]]))
    assert inside_hull(row, np.array([1.7, 2.0]))
    assert not inside_hull(row, np.array([1.7, 2.01])) and not inside_hull(row, np.array([3.1, 2.0]))


def test_every_point_is_covered(points):
    cover = cover_of(points)
    assert all(refusal(cover, point) is None for point in points)


@pytest.mark.parametrize("name, value", [("extension", 0.55), ("rake", 0.1), ("speed_set", 9.2), ("sea_hs", 4.2),
                                         ("sea_tp", 13.0), ("peak_enhancement", 1.0), ("spreading", 4.0)])  # fmt: skip
def test_what_lies_outside_is_refused_by_its_name(points, name, value):
    found = refusal(cover_of(points), asked(**{name: value}))
    assert found.name == name and found.value == value
    assert found.low == points[:, NAMES.index(name)].min() and found.high == points[:, NAMES.index(name)].max()


def test_a_steep_corner_without_seas_is_refused(points):
    points = points[points[:, HEIGHT] < 0.35 * points[:, PERIOD]]
    found = refusal(cover_of(points), asked(sea_hs=3.3, sea_tp=7.6))
    assert found.name == "sea" and found.low < found.high < 3.3


def test_a_gap_of_wave_angles_is_bridged_up_to_sixty_degrees(points):
    angles = np.radians([-170.0, -120.0, -40.0, 0.0, 45.0, 140.0])
    points[:, ANGLE] = np.resize(angles, len(points))
    cover = cover_of(points)
    told = {degrees: refusal(cover, asked(waves_from_bow=np.radians(degrees))) for degrees in (-145, -80, 20, 90, 165)}
    assert {degrees for degrees, found in told.items() if found is None} == {-145, 20, 165}
    assert np.degrees([told[90].high, told[90].low]) == pytest.approx([45.0, 140.0])


def test_features_are_what_varies_and_close_the_circle(points):
    cover = cover_of(points)
    found = features_of(cover, points)
    assert found.shape[1] == 6 and np.all(np.abs(found) <= 1.0 + 1e-12)  # extension, height, period, angle twice
    ends = features_of(cover, [asked(sea_hs=2.0, sea_tp=8.0), asked(sea_hs=4.0, sea_tp=8.0 * np.sqrt(2.0))])
    assert ends[0, -1] == pytest.approx(ends[1, -1]) and not np.allclose(ends[0, 1:3], ends[1, 1:3])  # as steep
    ends = features_of(cover, [asked(waves_from_bow=-np.pi), asked(waves_from_bow=np.pi)])
    assert ends[0] == pytest.approx(ends[1], abs=1e-12)


def test_long_crested_seas_are_the_end_of_spreading(points):
    points[:, NAMES.index("spreading")] = np.resize([5.0, 20.0, np.inf], len(points))
    cover = cover_of(points)
    column = features_of(cover, points)[:, -2]
    assert np.unique(column) == pytest.approx([-1.0, -0.5, 1.0])
    assert refusal(cover, asked(spreading=np.inf)) is None and refusal(cover, asked(spreading=4.0)).name == "spreading"


def test_products_are_all_of_two():
    assert products_of(np.array([[2.0, 3.0]])).tolist() == [[2.0, 3.0, 4.0, 6.0, 9.0]]
