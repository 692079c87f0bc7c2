"""Resistance, thrust, keel fin and rudder: published spot values, closed forms, signs."""

from types import SimpleNamespace
from typing import NamedTuple

import numpy as np
import pytest

from seaload.boat.lifting_appendage import appendage_strips
from seaload.boat.resistance import (
    buried_bow_area,
    friction_coefficient,
    friction_resistance,
    hump_resistance,
    other_resistance,
    plunge_drag,
    thrust,
)
from seaload.boat.wetted_surface import wetted_surface
from tests.oracles.fin import appendage_normal_force, heave_damping

RHO = 1025.0

SLOPE = 5.0  # [1/rad]


class Fin(NamedTuple):
    area: float = 2.4
    span: float = 3.6
    root_x: float = 6.5
    root_y: float = 0.0
    root_z: float = 0.0
    tilt: float = 0.0
    thickness_share: float = 0.12
    effective_aspect: float = 8.0


def test_friction_line():
    assert friction_coefficient(1e7) == pytest.approx(0.003)  # 0.075/25 exactly
    assert friction_coefficient(1e9) == pytest.approx(0.075 / 49.0)
    assert np.isfinite(friction_coefficient(0.0))
    assert friction_resistance(-3.0, 16.0, 40.0, RHO) == -friction_resistance(3.0, 16.0, 40.0, RHO) < 0.0


def test_hump_plunge_and_the_rest():
    at_hump = 0.5 * np.sqrt(9.80665 * 17.5)
    assert hump_resistance(at_hump, 17.5, 1e5, 0.035) == pytest.approx(3500.0)
    assert hump_resistance(3.0 * at_hump, 17.5, 1e5, 0.035) < 1.0
    assert other_resistance(10.0, 0.02, RHO) == pytest.approx(1025.0)
    assert buried_bow_area(1.5, 1.0, 0.8, 4.0, 1.0, 3.0) == pytest.approx(2.0 * 0.5 * 0.8 * 0.25)
    assert buried_bow_area(1.5, 1.0, 0.8, 2.0, 1.0, 3.0) == 0.0 == buried_bow_area(0.9, 1.0, 0.8, 4.0, 1.0, 3.0)
    assert plunge_drag(10.0, 2.0, RHO) == pytest.approx(0.5 * RHO * 100.0 * 0.12 * 2.0)


def test_thrust_falls_with_speed_and_never_pulls_back():
    assert thrust(9000.0, 1.5, 11.0, 11.0) == 9000.0
    assert thrust(9000.0, 1.5, 12.1, 11.0) == pytest.approx(9000.0 * 0.85)
    assert thrust(9000.0, 1.5, 30.0, 11.0) == 0.0


@pytest.mark.parametrize("cant_deg, heel_deg", [(0.0, 18.0), (30.0, 18.0), (38.0, 21.0)])
def test_fin_heave_damping_equals_the_closed_form(cant_deg, heel_deg, logbook):
    """Strips in heave at small speed, summed, against 1/2 rho U S a sin^2(cant + heel)."""
    speed, rate = 11.0, 0.01
    strips = appendage_strips(Fin(), np.radians(cant_deg), 6.0, 0.0, 0.5)
    chi = strips.span_angle - np.radians(heel_deg)
    normal_z = np.cos(chi)
    force = sum(
        appendage_normal_force(-rate * normal_z, speed, area, SLOPE, 1.2, RHO) * normal_z
        for area in strips.area
    )
    expected = heave_damping(RHO, speed, 2.4, SLOPE, np.radians(cant_deg + heel_deg))
    ours = -force / rate
    met = abs(ours - expected) <= 1e-6 * expected
    logbook(
        stage="boat",
        quantity=f"heave damping of the keel fin [N s/m], cant {cant_deg:g}, heel {heel_deg:g} deg",
        source="quasi-steady closed form",
        origin="derived",
        published=expected,
        ours=ours,
        tolerance="1e-6",
        met=met,
        of=appendage_strips,
    )
    assert met


def test_canted_fin_reaches_to_windward_and_its_normal_points_up_and_to_windward():
    strips = appendage_strips(Fin(), np.radians(30.0), 6.0, 0.0, 0.5)
    assert np.all(strips.y < 0.0) and np.all(strips.z < -0.5)
    assert strips.x == pytest.approx(0.5)
    normal = (-np.sin(strips.span_angle), np.cos(strips.span_angle))
    assert normal[0] < 0.0 < normal[1]
    assert strips.area.sum() == pytest.approx(2.4)


def test_fin_lift_is_held_at_the_stall():
    force = appendage_normal_force(5.0, 10.0, 1.0, 5.0, 1.2, RHO)
    assert force == pytest.approx(0.5 * RHO * 100.0 * 1.2, rel=0.01)


def test_wetted_surface_of_hulls_alike_goes_as_the_square_of_their_length():
    """Froude's similarity: lengths doubled and speed by the root of two, the same shape is wet, four times as large."""
    small = SimpleNamespace(half_beam=2.0, half_beam_per_heel=-0.4, waterline_length=15.0, wetted_share=0.62,
                            wetted_loss=0.3)  # fmt: skip
    large = SimpleNamespace(**{**vars(small), "half_beam": 4.0, "half_beam_per_heel": -0.8, "waterline_length": 30.0})
    for speed in (1.0, 6.0, 12.0):
        ratio = wetted_surface(large, 0.3, np.sqrt(2.0) * speed) / wetted_surface(small, 0.3, speed)
        assert ratio == pytest.approx(4.0)
    rest, planing = (wetted_surface(small, 0.3, speed) for speed in (0.1, 15.0))
    assert 0.4 * 2.0 * 2.0 * 15.0 < planing < rest < 2.0 * 2.0 * 15.0  # less than the rectangle round it
