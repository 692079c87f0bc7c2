"""What parts of a boat say to one another: inside the hull, in their order, carried by it, and stiff enough to march.

Bounds are wide: they keep slips of the decimal point out, not unusual boats. All are assumptions of this project unless
a source is named.
"""

from math import radians, tan

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.basis.units import DEGREE, PERCENT
from seaload.scenario.written import Refused

CENTRE_SHARE = (0.1, 0.8)  # of the length: where the centre of gravity may be
WIDER = 1.2  # topsides over the chine beam
BELOW = 0.5  # [m] under the lowest keel point, where fins may have their root
ROLL_SHARE, ROLL_REACH = 0.2, 0.6  # gyradius over beam, at least; over sail height and keel span, at most
PITCH_SHARE = (0.1, 0.5)  # gyradius over length
FASTEST_DAMPING = 20.0  # [1/s] damping over inertia: the march steps by a fiftieth of a second
SLOWEST_HOLD = 0.5  # [rad/s] of the controller that holds mean speed: a period of thirteen seconds
FLOATS = (0.01, 0.5)  # displacement over the volume under the deck
WATERLINE_SHARE = 0.5
FIN_CHORD = (0.05, 3.0)  # [m] mean
ASPECTS = (0.3, 2.5)  # effective over span^2/area; a mirror makes it 2
BEAM_LEFT, STEEPEST_DEADRISE = 0.15, 75.0 * DEGREE  # of the heeled section
FOIL_MASS_SHARE = 0.2


def refuse_no_boat(boat, *, heel_window):
    """Raise Refused when the parts of a `BoatSpec` cannot be those of one boat, worked at a `heel_window` [rad]."""
    fits_lengthwise(boat)
    fits_across(boat)
    fits_in_height(boat)
    fins_are_fins(boat)
    heeled_sections_are_left(boat.hull, heel_window)
    floats(boat)
    turns_like_a_boat(boat)
    foils_are_apart(boat.foil)


def held(key, value, low, high, why):
    """Raise Refused of the `key` unless its value lies from `low` to `high`."""
    if not low <= value <= high:
        raise Refused(key, value, f"{why}: allowed here is {low:.4g} to {high:.4g}")


def fits_lengthwise(boat):
    """Every part between transom and bow, rudder aft of keel."""
    hull, length = boat.hull, boat.hull.length_m
    held("hull.waterline_length_m", hull.waterline_length_m, WATERLINE_SHARE * length, length, "of this hull's length")
    low, high = (share * length for share in CENTRE_SHARE)
    held("cg_from_transom_m", boat.cg_from_transom_m, low, high, "within the hull")
    held("keel.root_from_transom_m", boat.keel.root_from_transom_m, 0.0, length, "within the hull")
    rudder, keel = boat.rudder.root_from_transom_m, boat.keel.root_from_transom_m
    if not rudder < keel:
        allowed = f"the rudder stands aft of the keel: below keel.root_from_transom_m = {keel:g}"
        raise Refused("rudder.root_from_transom_m", rudder, allowed)
    for side, foil in boat.foil.items():
        held(f"foil.{side}.exit_from_transom_m", foil.exit_from_transom_m, 0.0, length, "within the hull")
    for name in ("mast_from_transom_m", "cockpit_from_transom_m"):
        if (place := getattr(boat.motion, name)) is not None:
            held(f"motion.{name}", place, 0.0, length, "within the hull")
    for name, tank in boat.tanks.items():
        held(f"tanks.{name}.from_transom_m", tank.from_transom_m, 0.0, length, "within the hull")
    if hull.bow_from_cg_m is not None:
        ahead = length - boat.cg_from_transom_m
        held("hull.bow_from_cg_m", hull.bow_from_cg_m, 0.0, ahead, "within the hull")


def fits_across(boat):
    """Every part no further out than the topsides."""
    out = WIDER * boat.hull.half_beam_m
    for name in ("keel", "rudder"):
        held(f"{name}.root_to_leeward_m", getattr(boat, name).root_to_leeward_m, -out, out, "within the hull's beam")
    for side, foil in boat.foil.items():
        held(f"foil.{side}.exit_from_centre_m", foil.exit_from_centre_m, 0.0, out, "within the hull's beam")
    for name, tank in boat.tanks.items():
        held(f"tanks.{name}.to_leeward_m", tank.to_leeward_m, -out, out, "within the hull's beam")


def fits_in_height(boat):
    """Every part between keel and deck; the centre of gravity between the keel's tip and the deck."""
    hull = boat.hull
    top = max(deck_heights(hull))
    held("cg_height_m", boat.cg_height_m, -boat.keel.span_m, top, "between keel and deck")
    for name in ("keel", "rudder"):
        held(f"{name}.root_height_m", getattr(boat, name).root_height_m, -BELOW, top, "between keel and deck")
    for side, foil in boat.foil.items():
        deck = float(np.interp(foil.exit_from_transom_m, hull.station_m, deck_heights(hull)))
        held(f"foil.{side}.exit_height_m", foil.exit_height_m, -0.1, deck, "between keel and deck where it leaves")
    for name, tank in boat.tanks.items():
        if tank.height_m is not None:
            held(f"tanks.{name}.height_m", tank.height_m, -boat.keel.span_m, top, "between keel and deck")
    if hull.draught_m is not None:
        held("hull.draught_m", hull.draught_m, 0.0, top, "no deeper than the deck is high")
    least = max(boat.cg_height_m, 0.0)
    held("rig.sail_height_m", boat.rig.sail_height_m, least + 0.5, 4.0 * hull.length_m, "above hull and mass")


def fins_are_fins(boat):
    """Chord and effective aspect ratio that go with area and span."""
    for name in ("keel", "rudder"):
        fin = getattr(boat, name)
        held(f"{name}.area_m2", fin.area_m2, *(chord * fin.span_m for chord in FIN_CHORD), "with this span")
        low, high = (share * fin.span_m**2 / fin.area_m2 for share in ASPECTS)
        held(f"{name}.effective_aspect", fin.effective_aspect, low, high, "with this span and area")


def heeled_sections_are_left(hull, heel_window):
    """The section that stands in for the heeled one has some beam, and bottom sides that are no walls."""
    heel = heel_window[1] / DEGREE
    beam = hull.half_beam_m + hull.half_beam_per_heel_m_per_deg * heel
    if beam < BEAM_LEFT * hull.half_beam_m:
        allowed = f"leaves a half-beam of {beam:.3g} m at {heel:.0f} degrees of heel; {BEAM_LEFT:.0%} must be left"
        raise Refused("hull.half_beam_per_heel_m_per_deg", hull.half_beam_per_heel_m_per_deg, allowed)
    rise = radians(hull.deadrise_deg + hull.deadrise_per_heel_deg_per_deg * heel)
    if rise > STEEPEST_DEADRISE:
        allowed = f"makes a deadrise of {rise / DEGREE:.0f} degrees at {heel:.0f} degrees of heel; at most 75"
        raise Refused("hull.deadrise_per_heel_deg_per_deg", hull.deadrise_per_heel_deg_per_deg, allowed)


def floats(boat):
    """The hull carries boat and full tanks with its deck well above the water."""
    volume = volume_under_deck(boat.hull)
    low, high = (share * volume * SEA_WATER_DENSITY for share in FLOATS)
    held("mass_kg", boat.mass_kg, low, high, f"the hull holds {volume:.3g} m3 under its deck")
    water = sum(tank.mass_kg for tank in boat.tanks.values())
    if boat.mass_kg + water > high:
        raise Refused("tanks", water, f"with full tanks the hull carries {high:.4g} kg at most, boat and water")
    weight = boat.mass_kg * STANDARD_GRAVITY
    held("rig.reference_thrust_n", boat.rig.reference_thrust_n, 1e-4 * weight, weight, "of this boat's weight")
    for side, foil in boat.foil.items():
        if foil_mass(foil) > FOIL_MASS_SHARE * boat.mass_kg:
            allowed = f"the foil weighs {foil_mass(foil):.4g} kg outside; at most a fifth of the boat"
            raise Refused(f"foil.{side}.chord_m", foil.chord_m, allowed)


def turns_like_a_boat(boat):
    """Inertia, damping and the controller of speed that go with the sizes of the boat."""
    hull, rig = boat.hull, boat.rig
    low, high = 2.0 * ROLL_SHARE * hull.half_beam_m, ROLL_REACH * (rig.sail_height_m + boat.keel.span_m)
    inertias = (boat.mass_kg * max(low, 0.0) ** 2, boat.mass_kg * max(low, high) ** 2)
    held("roll_inertia_kg_m2", boat.roll_inertia_kg_m2, *inertias, "with this mass, beam and rig")
    low, high = (share * hull.length_m for share in PITCH_SHARE)
    held("pitch_gyradius_m", boat.pitch_gyradius_m, low, high, "with this length")
    pitch_inertia = boat.mass_kg * boat.pitch_gyradius_m**2
    most = FASTEST_DAMPING * pitch_inertia
    held("rig.pitch_damping_n_m_s_per_rad", rig.pitch_damping_n_m_s_per_rad, 0.0, most, "with this inertia")
    most = FASTEST_DAMPING * boat.roll_inertia_kg_m2
    held("rig.roll_damping_n_m_s_per_rad", rig.roll_damping_n_m_s_per_rad, 0.0, most, "with this inertia")
    rate = boat.motion.speed_hold_n_per_s_per_m_per_s
    held("motion.speed_hold_n_per_s_per_m_per_s", rate, 0.0, SLOWEST_HOLD**2 * boat.mass_kg, "with this mass")


def foils_are_apart(foils):
    """Two foils are two physical foils: each has its own name in the ledger."""
    names = [foil.id for foil in foils.values() if foil.id]
    if len(set(names)) < len(names):
        side = list(foils)[-1]
        raise Refused(f"foil.{side}.id", names[-1], "the other foil has this id; the wear of each is kept by itself")


def deck_heights(hull):
    """Heights of the deck above the lowest keel point [m], one for each station."""
    rise = tan(radians(hull.deadrise_deg))
    beams = (share * hull.half_beam_m for share in hull.half_beam_share)
    return [keel + beam * rise + hull.side_height_m for keel, beam in zip(hull.keel_rise_m, beams, strict=True)]


def volume_under_deck(hull):
    """Volume of the upright hull between keel and deck [m3]: V bottom and straight sides, straight lines between
    stations.
    """
    beam = hull.half_beam_m * np.array(hull.half_beam_share)
    area = beam**2 * tan(radians(hull.deadrise_deg)) + 2.0 * beam * hull.side_height_m
    return float(np.trapezoid(area, hull.station_m))


def foil_mass(foil):
    """Mass of a foil outside the hull, fully out [kg]."""
    structure, chord = foil.structure, np.array(foil.chord_m)
    section = structure.area_coefficient * chord**2 * np.array(foil.thickness_percent) * PERCENT
    solid = structure.density_kg_m3 * structure.fill_percent * PERCENT
    return float(solid * np.trapezoid(section, foil.material_m))
