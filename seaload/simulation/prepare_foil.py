"""From foil, keel and rudder records to the strip arrays of one lane."""

from typing import NamedTuple

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.boat.lifting_appendage import appendage_strips
from seaload.foil.bending import added_mass_per_length, flexural_rigidity, moment_limit, section_mass
from seaload.foil.curve import CurveShape, SectionRows, bearing_material, foil_strips, section_at, slope_angle
from seaload.foil.first_mode import first_mode, root_flexibility
from seaload.simulation.layout import *  # noqa: F403  (row names only)

KEEL_STRIPS, RUDDER_STRIPS = 4, 3
GRID_STEP = 0.1  # [m] of the material grid on which damage is kept, at most
SHAPE_SHARE = 0.15  # [-] of the added mass in the one mode shape kept: dry and wet frequency then both within 1 %
NEVER = 1e9  # a limit that is not there


class FoilGeometry(NamedTuple):
    """The foil at one extension, with its limits and its bending mode."""

    strips: object  # FoilStrips
    bearing: float  # [m] material at the lower bearing
    mode: object  # FirstMode
    dry_mass: float  # [kg] modal mass in air
    channel_s: np.ndarray  # (channels,) [m] material of bearing, stations, grid
    normal_limit: np.ndarray  # (channels,) [N m]
    reverse_limit: np.ndarray  # (channels,) [N m]


def curve_of(foil):
    """`CurveShape` and `SectionRows` of a foil record."""
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


def material_grid(foil):
    """Places in the material where damage is kept [m], even, at most `GRID_STEP` apart."""
    count = int(np.ceil(foil.outside_length / GRID_STEP - 1e-9))
    return np.linspace(0.0, foil.outside_length, count + 1)


def limits_at(foil, material_s):
    """Normal and reverse moment limits [N m] at material places."""
    _, rows = curve_of(foil)
    chord, thickness, _, _ = section_at(material_s, rows)
    rigidity = flexural_rigidity(foil.youngs_modulus, foil.inertia_coefficient, chord, thickness)
    return (
        moment_limit(rigidity, thickness, foil.strain_normal),
        moment_limit(rigidity, thickness, foil.strain_reverse),
    )


def foil_geometry(foil, extension, model):
    """`FoilGeometry` of a foil record at an extension [-]. ValueError for an extension it cannot have."""
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
    dry = float(np.sum(mass * (mode.shape_y**2 + mode.shape_z**2) * strips.length))
    channel_s = np.concatenate([[bearing], foil.stations, material_grid(foil)])
    normal, reverse = limits_at(foil, channel_s)
    normal = normal * model["normal_limit_factor"]
    reverse = reverse * model["reverse_limit_factor"]
    return FoilGeometry(strips, bearing, mode, dry, channel_s, normal, reverse)


def heeled(y, z, heel):
    """Places relative to the centre of gravity after heeling leeward side down: (y, z) [m]."""
    return y * np.cos(heel) + z * np.sin(heel), -y * np.sin(heel) + z * np.cos(heel)


def _common_rows(count):
    rows = np.zeros((count, STRIP_ROWS))
    rows[:, S_VENT] = NEVER
    rows[:, S_ONSET] = NEVER
    rows[:, S_WASHOUT] = NEVER
    rows[:, [S_ONSET_CHORDS, S_WASHOUT_CHORDS, S_REWET_CHORDS]] = 1.0
    rows[:, [S_CAV_N0, S_CAV_R0]] = NEVER
    return rows


def foil_rows(foil, geometry, setting, centre, model):
    """Strip rows of the foil, (n, STRIP_ROWS), before lift slopes: those need the calm trim.

    `centre` (x, y, z) [m] of the centre of gravity in hull axes; `model` the switches and factors.
    """
    s = geometry.strips
    y, z = heeled(foil.exit_y + s.y - centre[1], foil.exit_z + s.z - centre[2], setting.heel)
    chi = s.chi_b - setting.heel
    mass = section_mass(foil.density, foil.fill, foil.area_coefficient, s.chord, s.thickness)
    rake = setting.rake + model["rake_zero_shift"]
    rows = _common_rows(len(s.length))
    rows[:, S_LENGTH] = s.length
    rows[:, S_X] = foil.exit_x - centre[0]
    rows[:, S_Y], rows[:, S_Z] = y, z
    rows[:, S_NY], rows[:, S_NZ] = -np.sin(chi), np.cos(chi)
    rows[:, S_CHORD] = s.chord
    rows[:, S_ZERO_LIFT] = s.zero_lift
    rows[:, S_INCIDENCE] = s.incidence + rake * np.cos(s.chi_b)
    rows[:, S_HALF_WIDTH] = 0.5 * s.length * np.abs(np.sin(chi)) + 0.15 * s.chord
    rows[:, S_PROFILE] = foil.profile_drag
    rows[:, S_ADDED] = foil.added_mass_share * added_mass_per_length(SEA_WATER_DENSITY, s.chord)
    rows[:, S_MASS] = mass
    rows[:, S_BUOYANCY] = (
        SEA_WATER_DENSITY * STANDARD_GRAVITY * foil.area_coefficient * s.chord * s.thickness
    )
    rows[:, S_SHAPE] = geometry.mode.shape_normal
    cavitation = model["cavitation_factor"]
    if model["lift_limits"] == 0.0:
        rows[:, S_CL_MAX], rows[:, S_CL_MIN] = NEVER, -NEVER
        return rows
    rows[:, S_CL_MAX], rows[:, S_CL_MIN] = foil.cl_max, foil.cl_min
    rows[:, S_CAV_N0], rows[:, S_CAV_N1] = np.multiply(foil.cavitation_normal, cavitation)
    rows[:, S_CAV_R0], rows[:, S_CAV_R1] = np.multiply(foil.cavitation_reverse, cavitation)
    rows[:, S_VENT] = foil.ventilated_cl
    rows[:, S_ONSET], rows[:, S_WASHOUT] = foil.ventilation_onset, foil.washout
    rows[:, S_ONSET_CHORDS], rows[:, S_WASHOUT_CHORDS] = foil.onset_chords, foil.washout_chords
    rows[:, S_REWET_CHORDS] = foil.rewetting_chords
    return rows


def appendage_rows(surface, cant, setting, centre, count, switch):
    """Strip rows of keel fin or rudder, (count, STRIP_ROWS); `switch` 0 leaves the surface out."""
    a = appendage_strips(surface, cant, *centre, count=count)
    y, z = heeled(a.y, a.z, setting.heel)
    chi = a.span_angle - setting.heel
    rows = _common_rows(count)
    rows[:, S_LENGTH] = surface.span / count * switch
    rows[:, S_X], rows[:, S_Y], rows[:, S_Z] = a.x, y, z
    rows[:, S_NY], rows[:, S_NZ] = -np.sin(chi), np.cos(chi)
    rows[:, S_CHORD] = a.chord
    rows[:, S_SLOPE] = a.lift_slope
    rows[:, S_HALF_WIDTH] = 0.5 * surface.span / count * np.abs(np.sin(chi)) + 0.15 * a.chord
    rows[:, S_INDUCED] = 1.0 / (np.pi * surface.effective_aspect)
    rows[:, S_PROFILE] = 0.008
    rows[:, S_ADDED] = added_mass_per_length(SEA_WATER_DENSITY, a.chord)
    rows[:, S_BUOYANCY] = (
        SEA_WATER_DENSITY * STANDARD_GRAVITY * 0.65 * a.chord**2 * a.thickness_share
    )
    rows[:, S_CL_MAX], rows[:, S_CL_MIN] = 1.0, -1.0
    return rows


def shaft_axis(foil, bearing, heel):
    """Unit vector along the shaft at the bearing, outward, in the heeled plane (y, z) [-]."""
    angle = slope_angle(bearing, foil.shaft_length, foil.shaft_angle, foil.elbow_length, foil.tip_angle) - heel
    return float(np.cos(angle)), float(np.sin(angle))
