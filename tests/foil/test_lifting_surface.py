"""Span loading: what must hold for any foil, deep or cut by the surface."""


import numpy as np
import pytest

from seaload.basis.units import DEGREE
from tests.foil.demo_foil import strips_at
from tests.oracles.lattice_reading import induced_drag_factor, span_lift_slope
from tests.oracles.lifting_surface import span_loading


def heeled(strips, heel):
    c, s = np.cos(heel), np.sin(heel)
    return c * strips.y_edge + s * strips.z_edge, -s * strips.y_edge + c * strips.z_edge


@pytest.mark.parametrize("surface", [None, 0.3, -0.7])
def test_number_of_strips_hardly_matters(surface):
    found = []
    for count in (16, 24, 48):
        strips = strips_at(1.0, count)
        found.append(span_loading(*heeled(strips, 18 * DEGREE), strips.chord, surface_z=surface).total_slope)
    assert found[0] == pytest.approx(found[2], rel=5e-3)
    assert found[1] == pytest.approx(found[2], rel=3e-3)


def test_turning_a_deep_foil_changes_nothing():
    strips = strips_at(0.8)
    upright = span_lift_slope(*heeled(strips, 0.0), strips.chord)
    assert span_lift_slope(*heeled(strips, 0.6), strips.chord) == pytest.approx(upright, rel=1e-9)


def test_a_very_deep_surface_is_no_surface():
    strips = strips_at(0.8)
    y, z = heeled(strips, 0.3)
    assert span_lift_slope(y, z, strips.chord, surface_z=500.0) == pytest.approx(
        span_lift_slope(y, z, strips.chord), rel=1e-4
    )


def test_surface_takes_lift_away_and_more_when_nearer():
    strips = strips_at(1.0)
    y, z = heeled(strips, 18 * DEGREE)
    found = [span_loading(y, z, strips.chord, surface_z=h).total_slope for h in (2.0, 1.0, 0.5, 0.1)]
    assert np.all(np.diff(found) < 0.0)


def test_dry_strips_carry_nothing():
    strips = strips_at(1.0)
    y, z = heeled(strips, 18 * DEGREE)
    loading = span_loading(y, z, strips.chord, surface_z=-1.0)
    dry = np.minimum(z[1:], z[:-1]) > -1.0
    wet = np.maximum(z[1:], z[:-1]) < -1.0
    assert dry.any() and wet.any()
    assert np.all(loading.lift_slope[dry] == 0.0)
    assert np.all(loading.wet_share[dry] == 0.0)
    assert loading.wet_share[wet] == pytest.approx(1.0)
    assert np.all(loading.lift_slope[wet] > 0.0)


def test_all_dry_is_all_zero():
    strips = strips_at(0.5)
    loading = span_loading(strips.y_edge, strips.z_edge, strips.chord, surface_z=-50.0)
    assert loading.total_slope == 0.0
    assert np.all(loading.lift_slope == 0.0)


def test_section_slope_carries_through():
    """A very long wing has its section's slope in the middle; a short one gains less."""
    span = np.linspace(0.0, 300.0, 26)
    chord = np.ones(25)
    assert span_lift_slope(span, 0 * span, chord, 5.8)[12] == pytest.approx(5.8, rel=0.015)
    short = np.linspace(0.0, 4.0, 25)
    gain = span_loading(short, 0 * short, np.ones(24), 6.6).total_slope
    gain /= span_loading(short, 0 * short, np.ones(24), 6.0).total_slope
    assert 1.0 < gain < 1.1


def test_incidence_only_scales_and_shapes():
    strips = strips_at(1.0)
    y, z = heeled(strips, 18 * DEGREE)
    even = span_loading(y, z, strips.chord)
    twice = span_loading(y, z, strips.chord, incidence=np.full(24, 2.0))
    assert twice.lift_slope == pytest.approx(even.lift_slope)
    tip_up = span_loading(y, z, strips.chord, incidence=np.linspace(0.2, 1.0, 24))
    assert tip_up.lift_slope[2] > even.lift_slope[2]  # the tip's lift raises a root that asks for little
    assert induced_drag_factor(y, z, strips.chord) == pytest.approx(even.induced_drag)
