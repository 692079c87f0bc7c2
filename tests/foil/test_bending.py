"""Moments: sign, equilibrium of the whole foil, the fall between the bearings; limits of the demo foil."""


import numpy as np
import pytest

from seaload.foil.bending import (
    buoyancy_per_length,
    moment_arms,
    moment_limit,
    section_mass,
    static_moments,
    surface_strain,
)
from seaload.foil.curve import bearing_material, outside_points, section_at
from tests.foil.demo_foil import BEARING_DISTANCE, CURVE, SECTIONS, SHAPE, rigidity_at, strips_at


def moments(extension, places, force_y, force_z, strips=24):
    s_b = bearing_material(extension, CURVE)
    y, z = outside_points(s_b, places, *SHAPE)
    s = strips_at(extension, strips)
    return static_moments(places, y, z, s, s_b, BEARING_DISTANCE, force_y, force_z)


def test_design_lift_bends_every_place_the_normal_way():
    """Even lift along each strip's own normal gives + everywhere outside, and - when it turns round."""
    s = strips_at(1.0)
    lift_y, lift_z = -np.sin(s.chi_b) * s.length, np.cos(s.chi_b) * s.length
    places = np.array([0.0, 1.3, 2.5, 3.3, 4.1])
    found = moments(1.0, places, lift_y, lift_z)
    assert np.all(found > 0.0)
    assert np.all(np.diff(found) < 0.0)
    assert moments(1.0, places, -lift_y, -lift_z) == pytest.approx(-found)


def test_an_upward_load_on_the_tip_is_normal():
    force = np.zeros(24)
    force[-1] = 1000.0
    s = strips_at(1.0)
    found = moments(1.0, np.array([0.0]), np.zeros(24), force)
    assert found[0] == pytest.approx(1000.0 * s.y[-1])


def test_weight_alone_is_reverse():
    assert moments(1.0, np.array([0.0]), np.zeros(24), -np.ones(24))[0] < 0.0


@pytest.mark.parametrize("extension", [1.0, 0.8, 0.5])
def test_moment_falls_linearly_between_the_bearings(extension):
    s_b = bearing_material(extension, CURVE)
    places = s_b - BEARING_DISTANCE * np.array([0.0, 0.25, 0.5, 1.0, 1.3])
    found = moments(extension, places, np.zeros(24), np.ones(24))
    assert found == pytest.approx(found[0] * np.array([1.0, 0.75, 0.5, 0.0, 0.0]))


def test_moment_is_continuous_along_the_material():
    places = np.linspace(0.0, 5.0, 4001)
    s = strips_at(1.0)
    found = moments(1.0, places, -np.sin(s.chi_b) * s.length, np.cos(s.chi_b) * s.length)
    assert np.max(np.abs(np.diff(found))) < 3.0 * np.ptp(found) / 4000
    assert found[-1] == pytest.approx(0.0, abs=1e-9)


def test_strip_number_hardly_matters():
    """An even lift on 24 strips against 400: within 0.2 % of the bearing's moment at every place."""
    places = np.array([0.0, 0.05, 1.3, 2.5, 3.3, 4.1])
    found = []
    for count in (24, 400):
        s = strips_at(1.0, count)
        found.append(moments(1.0, places, -np.sin(s.chi_b) * s.length, np.cos(s.chi_b) * s.length, count))
    assert np.max(np.abs(found[0] - found[1])) < 0.002 * found[1][0]


def test_arms_are_the_moment_of_unit_forces():
    s = strips_at(0.9)
    places = np.array([0.5, 2.0])
    y, z = outside_points(0.5, places, *SHAPE)
    from_z, from_y = moment_arms(places, y, z, s, 0.5, BEARING_DISTANCE)
    assert from_z.shape == from_y.shape == (2, 24)
    assert from_z[0] == pytest.approx(s.y)
    assert from_y[0] == pytest.approx(-s.z)


def test_limits_of_the_demo_foil():
    """2 000 microstrain: 229, 147, 91, 75, 39 kN m; a thin elbow weakens the outer half."""
    places = np.array([0.0, 1.3, 2.5, 3.3, 4.1])
    _, thickness, _, _ = section_at(places, SECTIONS)
    limits = moment_limit(rigidity_at(places), thickness, 2e-3)
    assert limits / 1e3 == pytest.approx([229.3, 147.3, 90.8, 75.4, 39.1], abs=0.1)
    assert surface_strain(limits, rigidity_at(places), thickness) == pytest.approx(2e-3)


@pytest.mark.parametrize("chord, thickness", [(0.3, 0.04), (0.9, 0.1)])
def test_a_solid_strip_as_dense_as_water_neither_floats_nor_sinks(chord, thickness):
    """Archimedes: buoyancy is the weight of the water displaced."""
    weight = 9.80665 * section_mass(1025.0, 1.0, 0.65, chord, thickness)
    assert buoyancy_per_length(1025.0, 9.80665, 0.65, chord, thickness) == pytest.approx(weight)
