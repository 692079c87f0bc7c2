"""What the mode of bending takes along."""

import numpy as np
import pytest

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.foil.bending import flexural_rigidity, section_mass
from seaload.foil.curve import section_at
from seaload.foil.first_mode import first_mode, root_flexibility
from seaload.foil.geometry import SHAPE_SHARE, curve_of, foil_geometry
from tests.simulation.still_water import demo_study


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
