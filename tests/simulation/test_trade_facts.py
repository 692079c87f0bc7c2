"""What sailors of such boats know, held against the model in still water.

Source of every fact: common practice, no source. Directions are asserted for mean load, righting moment, trim and
drag only; where reverse load is least is for the model to say.
"""

import numpy as np
import pytest

from seaload.basis.units import KNOT, TONNE_FORCE
from seaload.foil.geometry import foil_geometry, limits_at, material_grid
from tests.simulation.still_water import demo_study, still_water_records, varied


@pytest.fixture(scope="module")
def by_extension():
    return still_water_records([varied(extension_percent=e) for e in (50, 60, 70, 80, 90, 100)])


@pytest.fixture(scope="module")
def by_rake():
    return still_water_records([varied(rake_deg=r) for r in (0, 1, 2, 3, 4, 5)])


@pytest.fixture(scope="module")
def by_speed():
    return still_water_records([varied(speed_knots=v) for v in (10, 12, 16, 20, 24, 28, 30)])


def rises(values):
    return np.all(np.diff(values) > 0.0)


def test_more_extension_gives_more_righting_moment_more_load_and_more_drag(by_extension):
    assert rises([r.righting_moment_mean for r in by_extension])
    assert rises([r.moment_mean[0] for r in by_extension])
    assert rises([r.foil_drag_mean for r in by_extension])


def test_more_rake_gives_more_load_and_lift(by_rake):
    assert rises([r.moment_mean[0] for r in by_rake])
    assert rises([r.vertical_lift_mean for r in by_rake])


def test_rake_acts_on_the_tip_while_the_steep_shaft_hardly_changes():
    foil = demo_study().boat.foils["port"]
    strips = foil_geometry(foil, 0.8).strips
    turned = np.cos(strips.chi_b)  # change of inflow angle per radian of rake
    assert turned[0] < 0.45 and turned[-1] > 0.88
    assert abs(foil.shaft_angle) >= np.radians(65.0) - 1e-9


def test_load_follows_speed_from_next_to_nothing_to_very_much(by_speed):
    """A boat that waits behind a wave at 10-12 kn and then surfs at twice the speed."""
    load = np.array([r.moment_mean[0] for r in by_speed])
    assert rises(load)
    assert load[4] / load[1] > 3.0  # 24 against 12 kn
    exponent = np.log(load[4] / load[1]) / np.log(2.0)
    assert 1.5 < exponent < 3.0


def test_weight_forward_gives_less_bow_up():
    records = still_water_records([varied(ballast_shift_m=b) for b in (-0.5, -0.25, 0.0, 0.25, 0.5)])
    assert rises([-r.pitch_mean for r in records])


def test_calm_trim_is_level_to_one_degree_bow_up_where_she_is_sailed(by_speed):
    trim = np.degrees([r.pitch_mean for r in by_speed])
    assert np.all(trim[:5] > 0.0) and np.all(trim < 2.0)
    assert np.all(trim > -0.6)  # past 26 kn the drive high up presses the bow down


def test_no_self_excited_pitching_from_ten_to_thirty_knots(by_speed):
    assert np.all(np.degrees([r.pitch_std for r in by_speed]) < 3e-3)  # what the slow hold of heel still moves
    assert np.all([r.heave_std for r in by_speed] < np.array(1e-2))
    assert all(r.status == 0 for r in by_speed)


def test_vertical_lift_is_three_to_seven_tonnes_from_20_to_28_knots():
    settings = [varied(speed_knots=v, extension_percent=e) for v in (20, 24, 28) for e in (80, 100)]
    lift = [r.vertical_lift_mean / TONNE_FORCE for r in still_water_records(settings)]
    assert all(3.0 < value < 7.0 for value in lift), lift


def test_hold_down_line_carries_about_nine_tonnes_at_full_foil_load():
    """Scaled from 28 kn, full extension, to 100 % of the normal limit at its most loaded place; a third either way."""
    record = still_water_records([varied(speed_knots=28, extension_percent=100, rake_deg=4)])[0]
    foil = demo_study().boat.foils["port"]
    share = np.max(record.grid_moment_mean / limits_at(foil, material_grid(foil))[0])
    assert 0.4 < share < 1.0
    assert record.hold_down_mean / share / TONNE_FORCE == pytest.approx(9.0, rel=1.0 / 3.0)


def test_five_stations_from_root_to_tip_and_a_far_smaller_reverse_limit():
    foil = demo_study().boat.foils["port"]
    assert len(foil.stations) == 5 and rises(foil.stations)
    normal, reverse = limits_at(foil, foil.stations)
    assert np.all(reverse <= 0.5 * normal)


def test_too_much_rake_lifts_her_out_in_a_gust():
    """The same gust: the hull carries less of her weight, and the foil's tip comes nearer the surface."""
    steps = int(40.0 / 0.02)
    gust = 1.0 + 0.69 * np.clip(np.arange(steps + 1) * 0.02 / 5.0 - 4.0, 0.0, 1.0)
    fast = [varied(speed_knots=24, rake_deg=r, extension_percent=100) for r in (1, 3)]
    modest, much = still_water_records(fast, gust=gust)
    assert much.vertical_lift_mean > 1.2 * modest.vertical_lift_mean
    assert much.speed_mean > 20 * KNOT
