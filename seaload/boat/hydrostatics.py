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


class _Edges(NamedTuple):
    """Edges of polygons, each (n, 5): where they begin, what they span, which are level and which rise."""

    y: np.ndarray  # [m]
    z: np.ndarray  # [m]
    dy: np.ndarray  # [m]
    dz: np.ndarray  # [m], of a level edge next to nothing
    flat: np.ndarray
    one_way: np.ndarray  # level or rising


def _edges_of(y, z):
    """`_Edges` of polygons with corners `y`, `z` (n, 5) [m] (definition)."""
    dy, dz = np.roll(y, -1, axis=1) - y, np.roll(z, -1, axis=1) - z
    flat = np.abs(dz) < 1e-12
    return _Edges(y, z, dy, np.where(flat, 1e-12, dz), flat, flat | (dz > 0.0))


def _wet_part(edges, surface):
    """(start, end, crossing), each (n, 5) [-] of an edge's length: the part of `edges` below the `surface` [m], and
    where the level cuts their lines (geometry).
    """
    crossing = (surface - edges.z) / edges.dz
    within = np.minimum(np.maximum(crossing, 0.0), 1.0)
    start = np.where(edges.one_way, 0.0, within)
    end = np.where(edges.flat, edges.z < surface, np.where(edges.one_way, within, 1.0))
    return start, end, crossing


def _area_below(edges, surface):
    """Area [m2] of each polygon below the `surface` [m], (n,), by the trapezoids under its `edges` (geometry)."""
    start, end, _ = _wet_part(edges, surface)
    middle = edges.z + 0.5 * (start + end) * edges.dz
    return ((surface - middle) * (end - start) * edges.dy).sum(axis=1)


def _below(edges, surface):
    """Area [m2], moments [m3], waterplane ends [m] and wetted girth [m] of polygons below a level, each (n,).

    `edges` `_Edges`, `surface` [m] height of the level. Geometry (polygon areas, in any text on geometry).
    """
    y, z, dy, dz = edges.y, edges.z, edges.dy, np.where(edges.flat, 0.0, edges.dz)
    start, end, crossing = _wet_part(edges, surface)
    moment_y = moment_z = np.zeros_like(y)
    for t, weight in ((start, 1.0), (0.5 * (start + end), 4.0), (end, 1.0)):  # Simpson, exact for cubics
        yy, zz = y + t * dy, z + t * dz
        measure = weight / 6.0 * (end - start) * dy
        moment_y = moment_y - yy * (zz - surface) * measure
        moment_z = moment_z - 0.5 * (zz**2 - surface**2) * measure
    wet_length = (end - start) * np.hypot(dy, dz)
    cut = (np.sign(z - surface) * np.sign(np.roll(z, -1, axis=1) - surface)) < 0
    y_cut = y + crossing * dy
    right = np.max(np.where(cut, y_cut, -np.inf), axis=1)
    left = np.min(np.where(cut, y_cut, np.inf), axis=1)
    right, left = np.where(np.isfinite(right), right, 0.0), np.where(np.isfinite(left), left, 0.0)
    girth = np.sum(wet_length, axis=1) - wet_length[:, 2]  # without the deck
    return _area_below(edges, surface), moment_y.sum(axis=1), moment_z.sum(axis=1), right, left, girth


class HeeledHull(NamedTuple):
    """Sections of a hull turned to a heel, in the upright earth frame relative to the keel point."""

    heel: float  # [rad]
    x: np.ndarray  # (n,) [m] from the transom
    edges: _Edges


def heeled_hull(form, heel, trim=0.0, trim_about=0.0):
    """`HeeledHull` of a hull `form`, SI, at a `heel` [rad] and a `trim` [rad], bow up +, about `trim_about` [m] from
    the transom (geometry).
    """
    x, y, z = section_corners(form)
    world_y, world_z = heeled(y, z, heel)
    return HeeledHull(heel, x, _edges_of(world_y, world_z + ((x - trim_about) * trim)[:, None]))


def flotation(form, mass, heel, trim=0.0, trim_about=0.0, density=SEA_WATER_DENSITY):
    """`Flotation` of the hull that carries `mass` [kg] at a heel [rad].

    `form` has the fields of a hull, SI; `trim` [rad] is bow-up +, turned about `trim_about` [m] from the transom;
    `density` [kg/m3]. The lift of foil and keel and the volumes of fin, bulb and foil are left out (about 3 % of the
    displacement); pass the mass that the hull itself has to carry. Raises ValueError when the hull cannot. Archimedes;
    sections with straight sides are integrated exactly.
    """
    return afloat(heeled_hull(form, heel, trim, trim_about), mass, density)


def afloat(hull, mass, density=SEA_WATER_DENSITY):
    """`Flotation` of `hull`, a `HeeledHull` that carries `mass` [kg] in water of `density` [kg/m3]; source as there.

    Raises ValueError when the hull cannot.
    """
    x, edges = hull.x, hull.edges
    dx, low, high = x[1] - x[0], edges.z.min(), edges.z.max()

    def volume_at(surface):
        return _area_below(edges, surface).sum() * dx

    wanted = mass / density
    if volume_at(high) < wanted:
        raise ValueError(f"the hull cannot carry {mass:g} kg at heel {np.degrees(hull.heel):g} deg")
    surface = brentq(lambda s: volume_at(s) - wanted, low, high, xtol=1e-10)
    area, moment_y, moment_z, right, left, girth = _below(edges, surface)
    breadth = right - left
    plane = breadth.sum() * dx
    middle = (breadth * x).sum() * dx / plane
    return Flotation(
        heel=hull.heel,
        keel_point_depth=surface,
        draught=surface - low,
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
