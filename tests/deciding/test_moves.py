"""Changes that are compared: within what a boat can set, both ways, and named."""

import math
from dataclasses import replace

import pytest

from seaload.basis.units import KNOT
from seaload.deciding.follow_on import eased_heel, turned_speed
from seaload.deciding.known_wind import table_speed
from seaload.deciding.moves import move_changes, only_below, tolerance_changes, within_reach
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays


@pytest.fixture
def setting(small_study):
    return small_study.settings[0]


def test_tolerance_is_one_actuator_at_a_time(small_study, setting):
    changes = tolerance_changes(setting, small_study.boat)
    assert len(changes) == 12
    for change in changes:
        name, word = change.name.split(" ")
        step = getattr(change.setting, name) - getattr(setting, name)
        tolerance = small_study.boat.worked[name].tolerance
        assert step == pytest.approx(tolerance if word == "more" else -tolerance)
        assert replace(change.setting, **{name: getattr(setting, name)}) == setting


def test_a_foil_fully_out_cannot_go_further(small_study, setting):
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    out = replace(setting, extension=1.0)
    assert all(c.setting.extension <= 1.0 for c in tolerance_changes(out, boat))
    assert "extension more" not in [c.name for c in move_changes(out, boat, foil, small_study.seas[0])]
    assert not within_reach(replace(setting, extension=0.2), boat, foil)


def test_every_move_of_the_boat_file_is_compared_both_ways(small_study, setting):
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    names = {c.name for c in move_changes(setting, boat, foil, small_study.seas[0])}
    assert names == {
        "ease_sheets", "bear_away", "reef", "rake less", "rake more", "cant less", "cant more", "extension less",
        "extension more", "ballast less", "ballast more",
    }  # fmt: skip


def test_bearing_away_brings_waves_from_windward_further_aft(small_study, setting):
    """Inside, mu = pi - angle from the bow: turning away from the wind makes the angle larger and mu smaller."""
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    change = next(c for c in move_changes(setting, boat, foil, small_study.seas[0]) if c.name == "bear_away")
    assert dict(change.model)["heading_shift"] == pytest.approx(-math.radians(15.0))
    assert replace(change.setting, speed=setting.speed) == setting


def test_bearing_away_has_the_speed_of_its_wind(small_study, setting):
    """In the ratio of the speed table at both wind angles; unchanged in a wind that the table does not hold."""
    boat, sea = small_study.boat, small_study.seas[0]
    table, angle = boat.speed_table, math.radians(15.0)
    ratio = table_speed(table, sea.true_wind_speed, sea.true_wind_angle + angle)
    ratio /= table_speed(table, sea.true_wind_speed, sea.true_wind_angle)
    assert abs(ratio - 1.0) > 0.01
    assert turned_speed(setting, angle, boat, sea) == pytest.approx(ratio * setting.speed)
    assert turned_speed(setting, angle, boat, replace(sea, true_wind_speed=99.0)) == setting.speed


def test_eased_she_comes_up_and_loses_heeling_moment_as_she_loses_thrust(small_study, setting):
    boat, foil = small_study.boat, small_study.boat.foils["port"]
    ease = next(c for c in move_changes(setting, boat, foil, small_study.seas[0]) if c.name == "ease_sheets")
    assert ease.setting.speed == pytest.approx(setting.speed - 2.0 * KNOT)
    assert boat.heel_window[0] <= ease.setting.heel < setting.heel - math.radians(0.5)
    lanes = [setting, ease.setting] * (LANES // 2)
    model = model_factors(small_study.model)
    march, _, _ = march_arrays(boat, foil, lanes, [1.0] * LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, lanes))
    left = [trim.heel_moment[1] / trim.heel_moment[0], trim.thrust[1] / trim.thrust[0]]
    assert left[0] == pytest.approx(left[1], rel=5e-3) and left[1] < 0.98
    assert eased_heel(setting, setting.speed, boat, foil, small_study.model) == pytest.approx(setting.heel)


def test_a_move_may_need_less_speed(small_study):
    assert only_below(small_study.boat, "extension less") == pytest.approx(15 * 1852 / 3600)
    assert only_below(small_study.boat, "ease_sheets") == float("inf")
