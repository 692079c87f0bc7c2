"""Attainable speed: the reference setting gives back its table, more resistance or less stability costs speed."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.units import DEGREE, KNOT
from seaload.deciding.known_wind import table_speed
from seaload.sailing.sail_cases import Account
from seaload.studies.attainable import Reach, settle_all


@pytest.fixture(scope="module")
def reach(small_study):
    settle_all(small_study, small_study.model, Account())
    return Reach(small_study.boat, small_study.boat.foils["port"], small_study.model)


def test_reference_setting_reaches_its_table(small_study, reach):
    speed = reach.attainable(small_study.boat.reference_setting, small_study.seas[0])  # 24 knots at 110 degrees
    assert speed == pytest.approx(22.0 * KNOT, rel=2e-3)


def test_table_is_read_between_its_entries(small_study):
    table = small_study.boat.speed_table
    assert table_speed(table, 24.0 * KNOT, 110.0 * DEGREE) == pytest.approx(22.0 * KNOT)
    assert table_speed(table, 22.0 * KNOT, 115.0 * DEGREE) == pytest.approx((20 + 20.5 + 22 + 23) / 4.0 * KNOT)
    assert table_speed(table, 60.0 * KNOT, 110.0 * DEGREE) is None


def test_less_cant_stands_up_less_and_no_cant_is_slowest(small_study, reach):
    """Thrust follows righting moment (common practice, no source).

    Between 15 and 30 degrees both are flat: the canted fin meets the leeway with a lift that also leans upward, on the
    windward side, and takes back what the bulb's weight rights.
    """
    sea = small_study.seas[0]
    reference = small_study.boat.reference_setting
    canted = [replace(reference, cant=c * DEGREE) for c in (0.0, 15.0, 30.0)]
    speeds = np.array([reach.attainable(setting, sea) for setting in canted])
    moments = np.array([reach.curve(setting).at("heel_moment", speeds[0]) for setting in canted])
    assert np.all(moments[1:] > 1.01 * moments[0]) and moments[2] == pytest.approx(moments[1], rel=0.02)
    assert np.all(speeds[1:] > 1.005 * speeds[0]) and speeds[2] == pytest.approx(speeds[1], rel=2e-3)


def test_a_speed_above_the_attainable_one_is_unreachable(small_study, reach):
    sea = small_study.seas[0]
    fast = replace(small_study.boat.reference_setting, speed=26.0 * KNOT)
    slow = replace(small_study.boat.reference_setting, speed=18.0 * KNOT)
    assert reach.settle(fast, sea)[2].startswith("thrust holds")
    assert reach.settle(slow, sea)[2] == ""


def test_attainable_is_worked_out(small_study, reach):
    asked = replace(small_study.boat.reference_setting, attainable=True)
    setting, speed, why = reach.settle(asked, small_study.seas[0])
    assert why == "" and setting.speed == speed


def test_without_a_table_only_near_the_calibrated_wind(small_study):
    boat = replace(small_study.boat, speed_table=None)
    own = Reach(boat, boat.foils["port"], small_study.model)
    sea = small_study.seas[0]
    assert own.attainable(boat.reference_setting, sea) > 10.0
    assert np.isnan(own.attainable(boat.reference_setting, replace(sea, true_wind_speed=2.0 * sea.true_wind_speed)))


@pytest.mark.parametrize("knots", [5.0, 44.0])
def test_a_speed_outside_the_usual_window_is_judged_at_itself(small_study, reach, knots):
    upright = replace(small_study.boat.reference_setting, speed=knots * KNOT, heel=4.0 * DEGREE, cant=0.0)
    speeds = reach.curve_to(upright).speeds
    assert speeds[0] == min(upright.speed, reach.window[0]) and speeds[-1] == max(upright.speed, reach.window[1])
    assert (reach.settle(upright, small_study.seas[0])[2] == "") == (knots < 22.0)


def test_a_heel_that_no_keel_can_hold_against_the_sails_is_told(small_study, reach):
    """At five knots the fin would have to lift past its stall: q S cl is under the side force that heels her so far."""
    slow = replace(small_study.boat.reference_setting, speed=5.0 * KNOT)
    assert reach.settle(slow, small_study.seas[0])[2] == "no leeway meets the side force"


def test_thrust_without_end_gives_no_speed_instead_of_the_windows_top(small_study):
    boat = replace(small_study.boat, speed_table=None, reference_thrust=1e9, thrust_slope=0.0)
    endless = Reach(boat, boat.foils["port"], small_study.model)
    curve = endless.curve(boat.reference_setting, (endless.window[0], 2.0 * endless.window[1]))
    speed = endless.attainable(boat.reference_setting, small_study.seas[0])
    assert np.isnan(speed) == bool(curve.balanced[-1])
