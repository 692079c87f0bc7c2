"""Lift of a foil in calm water: what is dry, and what the mode of bending takes along."""

import numpy as np
import pytest

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.foil.bending import flexural_rigidity, section_mass
from seaload.foil.calm_lift import calm_lift
from seaload.foil.curve import section_at
from seaload.foil.first_mode import first_mode, root_flexibility
from seaload.foil.geometry import SHAPE_SHARE, curve_of, foil_geometry
from seaload.foil.lifting_surface import span_loading
from tests.simulation.still_water import demo_study

EDGES = np.linspace(-2.0, 1.0, 13)  # [m] heights of a strut through the surface, from the deep end


def strut(surface):
    """`CalmLift` of a leaning strut with its upper strips in the air."""
    middles = 0.5 * (EDGES[1:] + EDGES[:-1])
    return calm_lift(0.3 * EDGES, EDGES, middles, np.full(12, 0.5), 2.0 * np.pi, surface, 10.0, 9.81)


def test_a_strip_in_the_air_lifts_as_the_nearest_wet_one_when_a_wave_reaches_it():
    found = strut(0.0)
    wet = slice(0, 8)
    assert np.all(found.slope[8:] == found.slope[7]) and found.slope[7] != found.slope[0]
    assert np.all(found.slope[wet] > 0.0) and np.all(found.steady_gap[8:] == 0.0)


def test_a_span_out_of_the_water_lifts_and_drags_nothing():
    found = span_loading(0.3 * EDGES, EDGES, np.full(12, 0.5), surface_z=-5.0)
    assert not found.lift_slope.any() and not found.induced_drag.any()
    assert found.total_slope == 0.0 and found.total_induced == 0.0


def test_the_mode_takes_a_share_of_the_water_round_the_foil_along():
    """Added mass of a section moving broadside: rho pi c^2/4 a length (any text on unsteady wings); here a share."""
    foil = demo_study().boat.foils["port"]
    found = foil_geometry(foil, 1.0)
    s, (_, rows) = found.strips, curve_of(foil)
    chord, thickness, _, _ = section_at(s.s_edge, rows)
    rigidity = flexural_rigidity(foil.youngs_modulus, foil.inertia_coefficient, chord, thickness)
    mass = section_mass(foil.density, foil.fill, foil.area_coefficient, s.chord, s.thickness)
    water = SHAPE_SHARE * foil.added_mass_share * SEA_WATER_DENSITY * np.pi * s.chord**2 / 4.0
    root = root_flexibility(foil.bearing_distance, rigidity[0])
    mode = first_mode(s.s_edge, s.y_edge, s.z_edge, rigidity, mass, root, water)
    assert found.mode.omega == pytest.approx(mode.omega, rel=1e-9)
    assert mode.omega < 0.99 * first_mode(s.s_edge, s.y_edge, s.z_edge, rigidity, mass, root).omega
