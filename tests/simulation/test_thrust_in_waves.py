"""What waves ask of the sails: nothing in still water, more in a higher sea, and as much free as held.

Laws: over many encounters a boat gathers no way, so mean thrust is mean resistance (Newton).
"""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.records import STATUS_DONE, STATUS_FOREDECK_BURIED, STATUS_THRUST_FLOOR
from seaload.basis.units import KNOT
from seaload.boat.resistance import floor_speed, thrust
from seaload.scenario.records import Sampling
from seaload.simulation.block import march_block
from tests.simulation.still_water import demo_study, still_water_records, varied

SPEEDS = (14.0, 18.0, 20.0, 24.0)  # kn
STEPS = 3000  # of a minute


def marched(cases, model, *, seconds=240.0, keep=None, **boat):
    """Records of cases in the first study's sea, with some of the boat changed."""
    study = demo_study()
    sampling = Sampling(seed=1, realisations=1, realisation_time=seconds, run_in=60.0, components=120)
    changed = replace(study.boat, **boat)
    foil = changed.foils[study.foil_side]
    return march_block(changed, foil, study.seas[0], cases, sampling, {**study.model, **model}, keep=keep)[0]


@pytest.fixture(scope="module")
def free_and_still():
    """Records with the speed free in still water, at several speeds set."""
    return still_water_records([varied(speed_knots=v) for v in SPEEDS], model={"speed": "free"})


def test_in_still_water_the_free_speed_is_the_calm_attainable_one(free_and_still):
    for knots, record in zip(SPEEDS, free_and_still, strict=True):
        assert record.speed_mean == pytest.approx(knots * KNOT, rel=1e-4)
        assert record.thrust_mean == pytest.approx(record.thrust_calm, rel=1e-4)


def test_a_fresher_breeze_drives_her_to_where_still_water_asks_as_much():
    """Nothing accelerates at the end: what the sails give is the thrust that still water asks for at that speed, and a
    hundredth for the side force, which the crew has not yet eased to what her heel asks for.
    """
    wind = np.full(STEPS + 1, 1.15)
    settings = [varied(speed_knots=v) for v in SPEEDS[:3]]
    for knots, record in zip(SPEEDS, still_water_records(settings, 20.0, 40.0, {"speed": "free"}, wind), strict=False):
        faster = record.speed_mean / (knots * KNOT)
        assert 1.01 < faster < 1.2
        assert record.thrust_mean == pytest.approx(record.thrust_calm, rel=1.5e-2)
        assert record.speed_std < 0.01


@pytest.mark.slow
def test_a_higher_sea_never_makes_her_faster():
    """Free, in the same waves at no height, half of it and all: paired differences of four realisations."""
    setting = varied(speed_knots=20.0)
    speeds = []
    for height in (1e-6, 0.5, 1.0):
        records = marched([(setting, r) for r in range(4)], {"speed": "free", "hs_factor": height})
        speeds.append(np.array([record.speed_mean for record in records]))
    for calmer, rougher in zip(speeds[:-1], speeds[1:], strict=True):
        lost = calmer - rougher
        assert lost.mean() > 2.0 * lost.std(ddof=1) / 2.0
    assert speeds[0] == pytest.approx(20.0 * KNOT, rel=1e-4)


@pytest.mark.slow
def test_free_speed_is_where_held_added_resistance_meets_the_thrust_to_spare():
    """Held at four speeds the waves ask so much; the sails give that and calm thrust at the free mean speed."""
    study, top = demo_study(), 20.0 * KNOT
    held = [replace(study.settings[0], speed=share * top) for share in (0.85, 0.9, 0.95, 1.0)]
    runs = marched([(setting, r) for setting in held for r in range(4)], {})
    free = marched([(replace(study.settings[0], speed=top), r) for r in range(4)], {"speed": "free"})
    calm_top = still_water_records([replace(study.settings[0], speed=top)])[0].thrust_mean
    speeds = np.array([record.speed_mean for record in runs]).reshape(4, 4)
    short = np.array([thrust(calm_top, study.boat.thrust_slope, r.speed_mean, top) - r.thrust_mean for r in runs])
    for realisation in range(4):
        asked = short.reshape(4, 4)[:, realisation]
        crossing = np.interp(0.0, asked[::-1], speeds[::-1, realisation])
        assert free[realisation].speed_mean == pytest.approx(crossing, rel=0.015)
        assert free[realisation].speed_mean < 0.97 * top


def test_time_past_the_sails_floor_is_counted():
    """Against the kept speed itself, with a thrust that ends two and a half percent above the speed set."""
    slope = 40.0
    case = [(varied(speed_knots=20.0), 0)]
    tight = replace(demo_study().boat.limits_of_validity, thrust_floor_share=0.0)
    (record,) = marched(case, {}, seconds=60.0, keep=0, thrust_slope=slope, limits_of_validity=tight)
    ends = floor_speed(20.0 * KNOT, slope)
    assert thrust(1.0, slope, ends * 0.999, 20.0 * KNOT) > 0.0 == thrust(1.0, slope, ends * 1.001, 20.0 * KNOT)
    past = record.series["speed"] > np.float32(ends)
    assert 0 < past.sum() == pytest.approx(record.thrust_floor_time / 0.02)
    assert record.status == STATUS_THRUST_FLOOR


def test_a_buried_foredeck_is_counted_and_ends_the_validity():
    """Sides of a hand's breadth are under for seconds, those she has never."""
    case = [(varied(speed_knots=20.0), 0)]
    low = replace(demo_study().boat.hull, side_height=0.1)
    (record,) = marched(case, {}, seconds=60.0, hull=low)
    loose = replace(demo_study().boat.limits_of_validity, speed_held=0.5)  # a minute is too short to hold a speed
    (dry,) = marched(case, {}, seconds=60.0, limits_of_validity=loose)
    assert 0.5 < record.foredeck_time < 60.0 and record.status == STATUS_FOREDECK_BURIED
    assert dry.foredeck_time == 0.0 and dry.status == STATUS_DONE


def test_still_water_never_reaches_the_foredeck(free_and_still):
    assert all(record.foredeck_time == 0.0 == record.thrust_floor_time for record in free_and_still)
