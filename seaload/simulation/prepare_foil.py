"""From foil, keel and rudder records to the strip arrays of one lane."""

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.boat.heeling import heeled
from seaload.boat.lifting_appendage import appendage_strips
from seaload.foil.bending import added_mass_per_length, buoyancy_per_length, section_mass
from seaload.foil.geometry import foil_geometry
from seaload.foil.influence import TWO_PI
from seaload.foil.strip_axes import rake_incidence, strip_normal
from seaload.foil.strip_load import wetting_half_width
from seaload.foil.wet_states import STATES, fin_answers, foil_answers
from seaload.simulation import layout as L

KEEL_STRIPS, RUDDER_STRIPS = 4, 3
NEVER = 1e9  # a limit that is not there


def geometry_of(foil, extension, model):
    """`FoilGeometry` of a foil record at an `extension` [-], its limits times the factors of `model`."""
    return foil_geometry(foil, extension, model["normal_limit_factor"], model["reverse_limit_factor"])


def _common_rows(count):
    """Blank strip rows, (count, STRIP_ROWS): no ventilation, no cavitation."""
    rows = np.zeros((count, L.STRIP_ROWS))
    rows[:, L.S_VENT] = NEVER
    rows[:, L.S_ONSET] = NEVER
    rows[:, L.S_WASHOUT] = NEVER
    rows[:, [L.S_ONSET_CHORDS, L.S_WASHOUT_CHORDS, L.S_REWET_CHORDS]] = 1.0
    rows[:, [L.S_CAV_N0, L.S_CAV_R0]] = NEVER
    return rows


def foil_rows(foil, geometry, setting, centre, model):
    """Strip rows of the foil, (n, STRIP_ROWS), before the steady waves of the surface: those need the calm trim.

    `foil`, `setting` scenario records, `geometry` a `FoilGeometry`; `centre` (x, y, z) [m] of the centre of gravity
    in hull axes; `model` {name: value} of switches and factors, as `model_factors` gives them.
    """
    s = geometry.strips
    y, z = heeled(foil.exit_y + s.y - centre[1], foil.exit_z + s.z - centre[2], setting.heel)
    chi = s.chi_b - setting.heel
    mass = section_mass(foil.density, foil.fill, foil.area_coefficient, s.chord, s.thickness)
    rake = setting.rake + model["rake_zero_shift"]
    rows = _common_rows(len(s.length))
    rows[:, L.S_LENGTH] = s.length
    rows[:, L.S_X] = foil.exit_x - centre[0]
    rows[:, L.S_Y], rows[:, L.S_Z] = y, z
    rows[:, L.S_NY], rows[:, L.S_NZ] = strip_normal(chi)
    rows[:, L.S_CHORD] = s.chord
    rows[:, L.S_ZERO_LIFT] = s.zero_lift
    rows[:, L.S_INCIDENCE] = s.incidence + [rake_incidence(rake, turned) for turned in np.cos(s.chi_b)]
    rows[:, L.S_HALF_WIDTH] = wetting_half_width(s.length, chi, s.chord)
    rows[:, L.S_SLOPE] = foil.section_slope * model["lift_slope_factor"]
    rows[:, L.S_INDUCED] = model["lift_slope_factor"]
    rows[:, L.S_WAKE] = s.chord / np.sum(s.length)
    rows[:, L.S_PROFILE] = foil.profile_drag
    rows[:, L.S_ADDED] = foil.added_mass_share * added_mass_per_length(SEA_WATER_DENSITY, s.chord)
    rows[:, L.S_MASS] = mass
    rows[:, L.S_BUOYANCY] = buoyancy_per_length(
        SEA_WATER_DENSITY, STANDARD_GRAVITY, foil.area_coefficient, s.chord, s.thickness
    )
    rows[:, L.S_SHAPE] = geometry.mode.shape_normal
    cavitation = model["cavitation_factor"]
    if model["lift_limits"] == 0.0:
        rows[:, L.S_CL_MAX], rows[:, L.S_CL_MIN] = NEVER, -NEVER
        return rows
    rows[:, L.S_CL_MAX], rows[:, L.S_CL_MIN] = foil.cl_max, foil.cl_min
    rows[:, L.S_CAV_N0], rows[:, L.S_CAV_N1] = np.multiply(foil.cavitation_normal, cavitation)
    rows[:, L.S_CAV_R0], rows[:, L.S_CAV_R1] = np.multiply(foil.cavitation_reverse, cavitation)
    rows[:, L.S_VENT] = foil.ventilated_cl
    rows[:, L.S_ONSET], rows[:, L.S_WASHOUT] = foil.ventilation_onset, foil.washout
    rows[:, L.S_ONSET_CHORDS], rows[:, L.S_WASHOUT_CHORDS] = foil.onset_chords, foil.washout_chords
    rows[:, L.S_REWET_CHORDS] = foil.rewetting_chords
    return rows


def appendage_rows(surface, cant, setting, centre, count, switch):
    """Strip rows of keel fin or rudder, (count, STRIP_ROWS).

    `surface` and `setting` scenario records; `cant` [rad] to windward; `centre` (x, y, z) [m] of the centre of
    gravity in hull axes; `switch` [-] 0 leaves the surface out, 1 not.
    """
    a = appendage_strips(surface, cant, *centre, count=count)
    y, z = heeled(a.y, a.z, setting.heel)
    chi = a.span_angle - setting.heel
    rows = _common_rows(count)
    rows[:, L.S_LENGTH] = surface.span / count * switch
    rows[:, L.S_X], rows[:, L.S_Y], rows[:, L.S_Z] = a.x, y, z
    rows[:, L.S_NY], rows[:, L.S_NZ] = strip_normal(chi)
    rows[:, L.S_CHORD] = a.chord
    rows[:, L.S_SLOPE] = TWO_PI
    rows[:, L.S_HALF_WIDTH] = wetting_half_width(surface.span / count, chi, a.chord)
    rows[:, L.S_INDUCED] = 1.0
    rows[:, L.S_WAKE] = 1.0 / surface.effective_aspect
    rows[:, L.S_PROFILE] = surface.profile_drag
    rows[:, L.S_ADDED] = added_mass_per_length(SEA_WATER_DENSITY, a.chord)
    rows[:, L.S_BUOYANCY] = buoyancy_per_length(
        SEA_WATER_DENSITY, STANDARD_GRAVITY, surface.area_coefficient, a.chord, a.chord * a.thickness_share
    )
    rows[:, L.S_CL_MAX], rows[:, L.S_CL_MIN] = surface.cl_max, -surface.cl_max
    return rows


def span_columns(foil, boat, geometry, edge):
    """(states (k, 2 n, n), levels (4,), keel (2 m, m), rudder) of one lane as `layout.March` has them.

    `foil`, `boat` scenario records, `geometry` a `FoilGeometry`, `edge` (y, z) (n+1,) [m] of the strips from the centre
    of gravity at the mean heel. States are found from the first edge, so that lanes of other ballast share them.
    """
    y, z = edge
    strips = geometry.strips
    states, first, step = foil_answers(y - y[0], z - z[0], strips.chord, foil.section_slope)
    levels = np.array([first + z[0], 1.0 / step, STATES - 1.0, 1.0 / len(strips.chord)])
    keel = fin_answers(KEEL_STRIPS, boat.keel.effective_aspect, TWO_PI)
    return states, levels, keel, fin_answers(RUDDER_STRIPS, boat.rudder.effective_aspect, TWO_PI)
