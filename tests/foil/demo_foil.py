"""The invented demonstration foil in plain numbers: the values of the demo boat file."""

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.basis.units import DEGREE
from seaload.foil.bending import added_mass_per_length, flexural_rigidity, section_mass
from seaload.foil.curve import CurveShape, SectionRows, foil_strips, section_at
from seaload.foil.first_mode import first_mode, root_flexibility

CURVE = CurveShape(2.5, -65.0 * DEGREE, 0.7, 1.8, 26.0 * DEGREE, 0.5)
SECTIONS = SectionRows(
    np.array([0.0, 2.5, 2.85, 3.2, 3.8, 4.4, 5.0]),
    np.array([0.85, 0.81, 0.805, 0.80, 0.72, 0.58, 0.40]),
    np.array([0.17, 0.115, 0.11, 0.11, 0.107, 0.103, 0.10]),
    np.array([-0.5, -0.5, -1.5, -2.5, -2.5, -2.5, -2.5]) * DEGREE,
    np.array([0.0, 0.0, 0.5, 1.0, 1.0, 1.0, 1.0]) * DEGREE,
)
SHAPE = (CURVE.shaft_length, CURVE.shaft_angle, CURVE.elbow_length, CURVE.tip_angle)
BEARING_DISTANCE = 0.9  # [m]


def strips_at(extension, strips=24):
    return foil_strips(extension, strips, CURVE, SECTIONS)


def rigidity_at(s):
    chord, thickness, _, _ = section_at(s, SECTIONS)
    return flexural_rigidity(85e9, 0.038, chord, thickness)


def masses(strips):
    """Structural and fully wet added mass per length of the strips [kg/m]."""
    mass = section_mass(1600.0, 0.68, 0.65, strips.chord, strips.thickness)
    return mass, 0.8 * added_mass_per_length(SEA_WATER_DENSITY, strips.chord)


def mode_at(extension, wet_share=0.0, strips=24):
    """First bending mode at an extension with a share of the added mass."""
    s = strips_at(extension, strips)
    mass, added = masses(s)
    flexibility = root_flexibility(BEARING_DISTANCE, rigidity_at(s.s_edge[:1])[0])
    return first_mode(
        s.s_edge, s.y_edge, s.z_edge, rigidity_at(s.s_edge), mass, flexibility, wet_share * added
    )
