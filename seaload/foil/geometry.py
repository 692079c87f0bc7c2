"""The foil of a boat file at one extension: its strips outside the hull, its limits, its bending mode.

`foil` carries the fields of a foil as a scenario gives them, SI.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.foil.bending import (
    added_mass_per_length,
    buoyancy_per_length,
    flexural_rigidity,
    moment_limit,
    section_mass,
    static_moments,
)
from seaload.foil.curve import (
    CurveShape,
    FoilStrips,
    SectionRows,
    bearing_material,
    foil_strips,
    section_at,
    slope_angle,
)
from seaload.foil.first_mode import FirstMode, first_mode, modal_mass, root_flexibility

GRID_STEP = 0.1  # [m] of the material grid on which damage is kept, at most
SHAPE_SHARE = 0.15  # [-] of the added mass in the one mode shape kept: dry and wet frequency then both within 1 %


class FoilGeometry(NamedTuple):
    """The foil at one extension, with its limits and its bending mode."""

    strips: FoilStrips
    bearing: float  # [m] material at the lower bearing
    mode: FirstMode
    dry_mass: float  # [kg] modal mass in air
    channel_s: np.ndarray  # (channels,) [m] material of bearing, stations, grid
    normal_limit: np.ndarray  # (channels,) [N m]
    reverse_limit: np.ndarray  # (channels,) [N m]


def curve_of(foil):
    """(`CurveShape`, `SectionRows`) of a foil, all lengths in [m] and angles in [rad]."""
    curve = CurveShape(
        foil.shaft_length,
        foil.shaft_angle,
        foil.elbow_length,
        foil.tip_length,
        foil.tip_angle,
        foil.least_extension,
    )
    rows = SectionRows(foil.material_s, foil.chord, foil.thickness_share, foil.zero_lift, foil.incidence)
    return curve, rows


def strips_outside(foil, extension):
    """`FoilStrips` of a foil at an `extension` [-]; ValueError for one it cannot have."""
    curve, rows = curve_of(foil)
    return foil_strips(extension, foil.strips, curve, rows)


def material_grid(foil):
    """Places in the material of a `foil` where damage is kept [m], (points,), even, at most `GRID_STEP` apart."""
    count = int(np.ceil(foil.outside_length / GRID_STEP - 1e-9))
    return np.linspace(0.0, foil.outside_length, count + 1)


def limits_at(foil, material_s):
    """Normal and reverse moment limits of a `foil` [N m], each (n,), at `material_s` (n,) [m]; both positive."""
    _, rows = curve_of(foil)
    chord, thickness, _, _ = section_at(material_s, rows)
    rigidity = flexural_rigidity(foil.youngs_modulus, foil.inertia_coefficient, chord, thickness)
    return (
        moment_limit(rigidity, thickness, foil.strain_normal),
        moment_limit(rigidity, thickness, foil.strain_reverse),
    )


def foil_geometry(foil, extension, normal_factor=1.0, reverse_factor=1.0):
    """`FoilGeometry` of a `foil` at an `extension` [-]; its limits times `normal_factor` and `reverse_factor` [-].

    ValueError for an extension it cannot have.
    """
    curve, rows = curve_of(foil)
    strips = foil_strips(extension, foil.strips, curve, rows)
    bearing = bearing_material(extension, curve)
    chord_e, thickness_e, _, _ = section_at(strips.s_edge, rows)
    rigidity = flexural_rigidity(foil.youngs_modulus, foil.inertia_coefficient, chord_e, thickness_e)
    mass = section_mass(foil.density, foil.fill, foil.area_coefficient, strips.chord, strips.thickness)
    added = foil.added_mass_share * added_mass_per_length(SEA_WATER_DENSITY, strips.chord)
    mode = first_mode(
        strips.s_edge,
        strips.y_edge,
        strips.z_edge,
        rigidity,
        mass,
        root_flexibility(foil.bearing_distance, rigidity[0]),
        SHAPE_SHARE * added,
    )
    channel_s = np.concatenate([[bearing], foil.stations, material_grid(foil)])
    normal, reverse = limits_at(foil, channel_s)
    return FoilGeometry(
        strips,
        bearing,
        mode,
        modal_mass(mode, mass, strips.length),
        channel_s,
        normal * normal_factor,
        reverse * reverse_factor,
    )


def own_weight_moments(foil, extension, places, water_height=-np.inf):
    """Bending moment of the foil's own weight at rest [N m], + = design direction, (p,): the boat upright and still.

    `extension` [-]; `places` (p,) [m] in the material; `water_height` [m] of still water above the hull exit: what
    lies below it is buoyant, minus infinity leaves the foil dry. Weight less buoyancy of each strip at its arm.
    """
    curve, rows = curve_of(foil)
    s = foil_strips(extension, foil.strips, curve, rows)
    weight = STANDARD_GRAVITY * section_mass(foil.density, foil.fill, foil.area_coefficient, s.chord, s.thickness)
    lift = buoyancy_per_length(SEA_WATER_DENSITY, STANDARD_GRAVITY, foil.area_coefficient, s.chord, s.thickness)
    force = (np.where(s.z < water_height, lift, 0.0) - weight) * s.length
    y, z = (np.interp(places, s.s_edge, edge) for edge in (s.y_edge, s.z_edge))
    bearing = bearing_material(extension, curve)
    return static_moments(places, y, z, s, bearing, foil.bearing_distance, 0.0 * force, force)


def shaft_axis(foil, bearing, heel):
    """Unit vector along the shaft of a `foil` at the bearing, outward, in the heeled plane: (y to leeward, z up) [-].

    `bearing` [m] material now at the lower bearing, `heel` [rad] leeward side down +. Geometry.
    """
    angle = slope_angle(bearing, foil.shaft_length, foil.shaft_angle, foil.elbow_length, foil.tip_angle) - heel
    return float(np.cos(angle)), float(np.sin(angle))
