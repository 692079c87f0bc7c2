"""Floating at a heel: true heeled sections of the hull, its sinkage, wetted surface and righting arm.

The march uses symmetric stand-in sections; here the real ones (V bottom, chine, vertical topside,
flat deck) are turned and cut by the water, exactly for straight sides.
"""

from typing import NamedTuple

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.boat.heeling import heeled
from seaload.boat.hull_section import section_shapes

FINE_SLICES = 90  # of the hull in hydrostatics


class Flotation(NamedTuple):
    """How the hull floats at one heel and trim. Heights and sides in the upright earth frame."""

    heel: float  # [rad]
    keel_point_depth: float  # [m] water surface above the keel point of the boat's axes
    draught: float  # [m] water surface above the lowest point of the heeled hull
    volume: float  # [m3]
    centre_y: float  # [m] centre of buoyancy to leeward of the keel point
    centre_z: float  # [m] above the keel point, - below
    centre_x: float  # [m] from the transom
    waterplane_area: float  # [m2]
    waterplane_inertia_pitch: float  # [m4] about its own centre of area
    wetted_surface: float  # [m2] hull alone
    waterline_length: float  # [m]
    half_breadth_max: float  # [m] half of the largest wetted breadth


def section_corners(form, slices=FINE_SLICES):
    """Corners of the upright sections: x (n,), y and z (n, 5) [m]: keel, chine, deck, deck, chine.

    Runs round each section with leeward (y > 0) first, so that areas come out positive. `form` has the fields of a
    hull, SI; `slices` number n of even slices along it; the topside stands `side_height` above the chine. Geometry.
    """
    dx = form.length / slices
    x = (np.arange(slices) + 0.5) * dx
    inside = np.clip(x, form.station_x[0], form.station_x[-1])
    keel = PchipInterpolator(form.station_x, form.keel_rise)(inside)
    beam = form.half_beam * PchipInterpolator(form.station_x, form.half_beam_share)(inside)
    chine = keel + beam * np.tan(form.deadrise)
    deck = chine + form.side_height
    y = np.stack([np.zeros(slices), beam, beam, -beam, -beam], axis=1)
    z = np.stack([keel, chine, deck, deck, chine], axis=1)
    return x, y, z


def _below(y, z, surface):
    """Area [m2], moments [m3], waterplane ends [m] and wetted girth [m] of polygons below a level, each (n,).

    `y`, `z` (n, 5) [m] corners, `surface` (n, 1) [m] height of the level. Geometry (polygon areas, in any text on
    geometry).
    """
    y2, z2 = np.roll(y, -1, axis=1), np.roll(z, -1, axis=1)
    dy, dz = y2 - y, z2 - z
    level = np.where(np.abs(dz) < 1e-12, 1e-12, dz)
    crossing = (surface - z) / level
    # the part of each edge under water runs from `start` to `end` of its length
    flat_wet = np.where(z < surface, 1.0, 0.0)
    start = np.where(np.abs(dz) < 1e-12, 0.0, np.where(dz > 0, 0.0, np.clip(crossing, 0.0, 1.0)))
    end = np.where(np.abs(dz) < 1e-12, flat_wet, np.where(dz > 0, np.clip(crossing, 0.0, 1.0), 1.0))
    area = moment_y = moment_z = 0.0
    for t, weight in ((start, 1.0), (0.5 * (start + end), 4.0), (end, 1.0)):  # Simpson, exact for cubics
        yy, zz = y + t * dy, z + t * dz
        measure = weight / 6.0 * (end - start) * dy
        area = area - (zz - surface) * measure
        moment_y = moment_y - yy * (zz - surface) * measure
        moment_z = moment_z - 0.5 * (zz**2 - surface**2) * measure
    wet_length = (end - start) * np.hypot(dy, dz)
    cut = (np.sign(z - surface) * np.sign(z2 - surface)) < 0
    y_cut = y + crossing * dy
    right = np.max(np.where(cut, y_cut, -np.inf), axis=1)
    left = np.min(np.where(cut, y_cut, np.inf), axis=1)
    right, left = np.where(np.isfinite(right), right, 0.0), np.where(np.isfinite(left), left, 0.0)
    girth = np.sum(wet_length, axis=1) - wet_length[:, 2]  # without the deck
    return area.sum(axis=1), moment_y.sum(axis=1), moment_z.sum(axis=1), right, left, girth


def _turned(form, heel, trim, trim_about):
    """Sections turned to the heel: x (n,), world y and z (n, 5) [m] relative to the keel point.

    `form` a hull, SI; `heel` [rad], `trim` [rad] bow up + about `trim_about` [m] from the transom.
    """
    x, y, z = section_corners(form)
    world_y, world_z = heeled(y, z, heel)
    return x, world_y, world_z + ((x - trim_about) * trim)[:, None]


def flotation(form, mass, heel, trim=0.0, trim_about=0.0, density=SEA_WATER_DENSITY):
    """`Flotation` of the hull that carries `mass` [kg] at a heel [rad].

    `form` has the fields of a hull, SI; `trim` [rad] is bow-up +, turned about `trim_about` [m] from the transom;
    `density` [kg/m3]. The lift of foil and keel and the volumes of fin, bulb and foil are left out (about 3 % of the
    displacement); pass the mass that the hull itself has to carry. Raises ValueError when the hull cannot. Archimedes;
    sections with straight sides are integrated exactly.
    """
    x, y, z = _turned(form, heel, trim, trim_about)
    dx = x[1] - x[0]

    def volume_at(surface):
        return _below(y, z, np.full((len(x), 1), surface))[0].sum() * dx

    wanted = mass / density
    if volume_at(z.max()) < wanted:
        raise ValueError(f"the hull cannot carry {mass:g} kg at heel {np.degrees(heel):g} deg")
    surface = brentq(lambda s: volume_at(s) - wanted, z.min(), z.max(), xtol=1e-10)
    area, moment_y, moment_z, right, left, girth = _below(y, z, np.full((len(x), 1), surface))
    breadth = right - left
    plane = breadth.sum() * dx
    middle = (breadth * x).sum() * dx / plane
    return Flotation(
        heel=heel,
        keel_point_depth=surface,
        draught=surface - z.min(),
        volume=wanted,
        centre_y=moment_y.sum() * dx / wanted,
        centre_z=moment_z.sum() * dx / wanted,
        centre_x=(area * x).sum() * dx / wanted,
        waterplane_area=plane,
        waterplane_inertia_pitch=(breadth * (x - middle) ** 2).sum() * dx,
        wetted_surface=girth.sum() * dx,
        waterline_length=float((breadth > 0).sum() * dx),
        half_breadth_max=0.5 * breadth.max(),
    )


def strip_hull_draught(stations, mass, fullness, density=SEA_WATER_DENSITY):
    """Draught of the lowest point [m] at which the march's own level stations carry `mass` [kg] at rest.

    `stations` a `HullStations`, `fullness` [-] of the section family, `density` [kg/m3] (Archimedes).
    """
    beam, inverse = stations.half_beam, stations.inverse_chine_height

    def volume_at(draught):
        _, _, area = section_shapes(draught - stations.keel_rise, inverse, beam, fullness)
        return np.sum(area * stations.dx)

    return brentq(lambda d: volume_at(d) - mass / density, 0.0, 10.0, xtol=1e-10)
