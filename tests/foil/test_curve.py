"""The curve: unit speed along the material, shape kept when it slides, and what is refused."""


import numpy as np
import pytest

from seaload.foil.curve import (
    bearing_material,
    check_curve,
    foil_strips,
    outside_points,
    section_at,
    slope_angle,
)
from tests.foil.demo_foil import CURVE, SECTIONS, SHAPE, strips_at


def test_slope_is_the_direction_of_the_curve():
    s = np.linspace(0.0, 5.0, 2001)
    y, z = outside_points(0.0, s, *SHAPE)
    assert np.allclose(np.hypot(np.diff(y), np.diff(z)), np.diff(s), rtol=1e-4)
    middle = 0.5 * (s[1:] + s[:-1])
    assert np.allclose(np.arctan2(np.diff(z), np.diff(y)), slope_angle(middle, *SHAPE), atol=1e-4)


def test_ends_are_straight_and_the_elbow_starts_without_a_kink():
    assert slope_angle([0.0, 2.5], *SHAPE) == pytest.approx([CURVE.shaft_angle] * 2)
    assert slope_angle([3.2, 5.0], *SHAPE) == pytest.approx([CURVE.tip_angle] * 2)
    assert slope_angle(2.85, *SHAPE) == pytest.approx(0.5 * (CURVE.shaft_angle + CURVE.tip_angle))
    near = slope_angle(2.5 + 1e-4, *SHAPE) - CURVE.shaft_angle
    assert abs(near) < 1e-6


@pytest.mark.parametrize("extension", [1.0, 0.85, 0.5])
def test_what_is_outside_keeps_its_shape(extension):
    """Distances between elbow and tip do not change with extension; the bearing is on the shaft's line."""
    s = np.array([2.5, 2.85, 3.2, 5.0])
    out_y, out_z = outside_points(0.0, s, *SHAPE)
    s_b = bearing_material(extension, CURVE)
    y, z = outside_points(s_b, s, *SHAPE)
    assert y - y[0] == pytest.approx(out_y - out_y[0])
    assert z - z[0] == pytest.approx(out_z - out_z[0])
    assert np.hypot(y[0], z[0]) == pytest.approx(2.5 - s_b)


def test_strips_cover_what_is_outside():
    s = strips_at(0.8)
    assert s.s_edge[0] == pytest.approx(1.0)
    assert s.s_edge[-1] == pytest.approx(5.0)
    assert s.length.sum() == pytest.approx(4.0)
    assert (s.y_edge[0], s.z_edge[0]) == pytest.approx((0.0, 0.0), abs=1e-12)
    chord, thickness, zero_lift, incidence = section_at(s.s_mid, SECTIONS)
    assert s.chord == pytest.approx(chord)
    assert s.thickness == pytest.approx(thickness)
    assert s.zero_lift == pytest.approx(zero_lift)
    assert s.incidence == pytest.approx(incidence)


def test_an_elbow_inside_the_bearing_is_refused():
    with pytest.raises(ValueError, match="elbow would turn inside the bearing"):
        check_curve(CURVE._replace(shaft_length=2.4, tip_length=1.9))
    check_curve(CURVE)  # equality is allowed
    with pytest.raises(ValueError, match="past the straight shaft"):
        outside_points(2.6, [3.0], *SHAPE)


@pytest.mark.parametrize("extension", [0.49, 1.01, float("nan")])
def test_extensions_that_cannot_be_are_refused(extension):
    with pytest.raises(ValueError, match="extension"):
        foil_strips(extension, 24, CURVE, SECTIONS)
