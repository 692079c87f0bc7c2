"""Gauges held against each other: what lies inside the hull reads nothing and is no gauge mistaken for another."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.files.log.companions import expected_readings, gauge_swaps
from seaload.scenario.read_boat import read_boat
from tests.files.log.log_makers import BOAT

FOIL = read_boat(BOAT)[1].foils["port"]
GAUGES = [f"strain_{n + 1}" for n in range(len(FOIL.stations))]


def found(extension, silent=None):
    """Findings where every gauge reads what an even pressure gives, but for a silent one."""
    spread = {**expected_readings(FOIL, GAUGES), **({silent: 0.0} if silent else {})}
    sums = SimpleNamespace(names=GAUGES, spread=spread.get, least_extension=extension)
    log = SimpleNamespace(boat=SimpleNamespace(foils={"port": FOIL}), foil_side="port")
    return list(gauge_swaps(log, sums))


def test_a_gauge_inside_the_hull_is_not_taken_for_a_swapped_one():
    assert FOIL.stations[0] < 0.2 * FOIL.outside_length < FOIL.stations[1]
    assert found(0.8, silent=GAUGES[0]) == []


@pytest.mark.parametrize("extension", [1.0, 0.8, np.nan])
def test_gauges_that_read_as_the_boat_says_are_not_swapped(extension):
    assert found(extension) == []


def test_a_silent_gauge_outside_the_hull_is_told():
    assert [channel for channel, _ in found(1.0, silent=GAUGES[0])]
