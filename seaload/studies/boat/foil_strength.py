"""The foil by itself: section and limits along the material, what each gauge reads in the shed, bending frequencies."""

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.basis.units import TONNE_FORCE
from seaload.deciding.display import shown, zero_moment
from seaload.foil.bending import added_mass_per_length, flexural_rigidity
from seaload.foil.curve import section_at
from seaload.foil.geometry import curve_of, foil_geometry, limits_at, material_grid, own_weight_moments
from seaload.foil.pull_test import tip_force_at_limits, tip_levers
from seaload.scenario.crew_records import Sensors

PLACES = ("extension", "place")
PLAIN_DISPLAY = Sensors("percent_of_normal", 1.0, 0.0, 0.0, "never", 0.0)  # where the boat file has no [sensors]


def foil_geometries(question):
    """`FoilGeometry` at every extension."""
    return [foil_geometry(question.foil, float(e)) for e in question.extensions]


def foil_parts(question, geometries):
    """{name: (dims, values)} of limits, gauges and frequencies; `geometries` one an extension."""
    foil = question.foil
    return {**material_parts(foil), **place_parts(question, geometries), **frequency_parts(foil, geometries)}


def material_parts(foil):
    """Chord, thickness, stiffness and limits along the material."""
    grid = material_grid(foil)
    chord, thickness, _, _ = section_at(grid, curve_of(foil)[1])
    normal, reverse = limits_at(foil, grid)
    values = {
        "material": grid,
        "chord": chord,
        "thickness": thickness,
        "bending_stiffness": flexural_rigidity(foil.youngs_modulus, foil.inertia_coefficient, chord, thickness),
        "grid_normal_limit": normal,
        "grid_reverse_limit": reverse,
    }
    return {name: (("material",), each) for name, each in values.items()}


def place_parts(question, geometries):
    """Bearing and stations at every extension: where they are, their limits, what their gauges read for one tonne-force
    at the tip; and the force at the tip that brings the first place outside to its limit.
    """
    foil, boat = question.foil, question.boat
    sensors, count = boat.sensors or PLAIN_DISPLAY, 1 + len(foil.stations)
    rows = []
    for extension, geometry in zip(question.extensions, geometries, strict=True):
        at, normal, reverse = (a[:count] for a in (geometry.channel_s, geometry.normal_limit, geometry.reverse_limit))
        lever = tip_levers(foil, extension, at)
        display = lambda moment: shown(moment, normal, reverse, sensors, foil.strain_normal)  # noqa: B023, E731
        weight = own_weight_moments(foil, extension, at) - zero_moment(boat, foil, extension, at, sensors)
        every = tip_levers(foil, extension, geometry.channel_s)
        up, up_at = tip_force_at_limits(every, geometry.channel_s, geometry.bearing, geometry.normal_limit)
        down, down_at = tip_force_at_limits(every, geometry.channel_s, geometry.bearing, geometry.reverse_limit)
        rows.append({
            "place_material": at, "place_inside": (at < geometry.bearing - 1e-9).astype(np.int8),
            "normal_limit": normal, "reverse_limit": reverse, "tip_lever": lever,
            "gauge_up": display(TONNE_FORCE * lever), "gauge_down": display(-TONNE_FORCE * lever),
            "gauge_weight": display(weight),
            "tip_force_normal": up, "tip_place_normal": up_at, "tip_force_reverse": down, "tip_place_reverse": down_at,
        })  # fmt: skip
    stacked = {name: np.array([row[name] for row in rows]) for name in rows[0]}
    return {name: (PLACES if values.ndim == 2 else PLACES[:1], values) for name, values in stacked.items()}


def frequency_parts(foil, geometries):
    """First bending frequency of what is out, in air and with all of it under water [1/s]."""
    dry, wet = [], []
    for geometry in geometries:
        mode, strips = geometry.mode, geometry.strips
        added = foil.added_mass_share * added_mass_per_length(SEA_WATER_DENSITY, strips.chord)
        heavy = geometry.dry_mass + np.sum(added * mode.shape_normal**2 * strips.length)
        dry.append(np.sqrt(mode.stiffness / geometry.dry_mass) / (2.0 * np.pi))
        wet.append(np.sqrt(mode.stiffness / heavy) / (2.0 * np.pi))
    return {
        "bending_frequency_dry": (("extension",), np.array(dry)),
        "bending_frequency_wet": (("extension",), np.array(wet)),
    }
