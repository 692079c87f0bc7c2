"""Bending of the foil: stiffness, limits, moments from strip forces, also between the bearings.

The moment is taken about the boat's x axis: + turns the outboard part outward-up on the way y -> z, which
on the tip is up and inboard: the way the design lift bends it.
"""

import numpy as np


def flexural_rigidity(youngs_modulus, inertia_coefficient, chord, thickness):
    """Flapwise bending stiffness EI = E k c t^3 [N m2] of a solid-like section.

    `youngs_modulus` E [Pa], `inertia_coefficient` k [-] (0.036-0.038 for airfoil-like sections, rule from memory, +-10
    %), `chord` c and `thickness` t [m].
    """
    return youngs_modulus * inertia_coefficient * chord * thickness**3


def moment_limit(rigidity, thickness, strain):
    """Bending moment at which the surface reaches a `strain` [-]: strain x EI / (t/2) [N m].

    `rigidity` EI [N m2], `thickness` t [m] (beam theory, any text).
    """
    return strain * rigidity / (0.5 * thickness)


def surface_strain(moment, rigidity, thickness):
    """Strain at the surface under a bending `moment` M [N m]: M (t/2) / EI [-].

    `rigidity` EI [N m2], `thickness` t [m] (beam theory, any text).
    """
    return moment * 0.5 * thickness / rigidity


def section_mass(density, fill, area_coefficient, chord, thickness):
    """Structural mass per length [kg/m]: density x fill x k_A c t.

    `density` [kg/m3], `fill` [-] solid share, `area_coefficient` k_A [-] about 0.65 for airfoil-like sections (rule
    from memory, +-10 %), `chord` c and `thickness` t [m].
    """
    return density * fill * area_coefficient * chord * thickness


def buoyancy_per_length(water_density, gravity, area_coefficient, chord, thickness):
    """Buoyancy of a fully wet strip per length [N/m], up +: rho g k_A c t (Archimedes).

    `water_density` [kg/m3], `gravity` [m/s2], `area_coefficient` k_A [-] section area over c t, `chord` c and
    `thickness` t (n,) [m].
    """
    return water_density * gravity * area_coefficient * chord * thickness


def added_mass_per_length(water_density, chord):
    """Added mass of a fully wet flat strip moving along its normal [kg/m]: rho pi c^2 / 4 (flat plate, any text).

    `water_density` rho [kg/m3], `chord` c [m].
    """
    return water_density * np.pi * 0.25 * chord**2


def share_between_bearings(s, s_b, bearing_distance):
    """Share of the moment at the lower bearing left at material inside the hull [-], like `s`; 1 outside.

    `s` (n,) [m] material places, `s_b` [m] material at the lower bearing, `bearing_distance` [m]. Falls linearly
    to the upper bearing, and stays zero inboard of it: two supports that hold only sideways (common beam theory).
    """
    return np.clip(1.0 - (s_b - s) / bearing_distance, 0.0, 1.0)


def moment_arms(s_points, y_points, z_points, strips, s_b, bearing_distance):
    """Arms (from F_z, from F_y), each (p, n) [m]: moment = from_z @ F_z + from_y @ F_y.

    `s_points`, `y_points`, `z_points` (p,) [m] places where the moment is wanted, from the hull exit;
    `strips` `FoilStrips`; `s_b` [m] material at the lower bearing; `bearing_distance` [m]. A strip's
    force is even over its length, so a place inside a strip feels the part outboard of it. Between
    the bearings the moment falls linearly to the upper one; inboard of that it is zero. Forces in
    the same axes as the places (upright boat). Statics.
    """
    s_points = np.atleast_1d(np.asarray(s_points, dtype=float))
    inside = s_points < s_b
    s_k = np.where(inside, s_b, s_points)[:, None]
    y_k = np.where(inside, 0.0, np.atleast_1d(y_points))[:, None]
    z_k = np.where(inside, 0.0, np.atleast_1d(z_points))[:, None]
    outboard = np.clip((strips.s_edge[None, 1:] - s_k) / strips.length, 0.0, 1.0)
    shift = 0.5 * (1.0 - outboard) * strips.length  # centre of the outboard part, along the strip
    y_j = strips.y + shift * np.cos(strips.chi_b)
    z_j = strips.z + shift * np.sin(strips.chi_b)
    left = share_between_bearings(s_points, s_b, bearing_distance)[:, None]
    return left * outboard * (y_j - y_k), -left * outboard * (z_j - z_k)


def static_moments(s_points, y_points, z_points, strips, s_b, bearing_distance, force_y, force_z):
    """Bending moment at places along the foil [N m], + = design direction, (p,).

    `s_points`, `y_points`, `z_points`, `strips`, `s_b` and `bearing_distance` as in `moment_arms`; strip forces
    `force_y`, `force_z` (n,) [N] in the upright boat's axes. Sum over the strips outboard of (y - y_k) F_z - (z - z_k)
    F_y (statics).
    """
    from_z, from_y = moment_arms(s_points, y_points, z_points, strips, s_b, bearing_distance)
    return from_z @ np.asarray(force_z) + from_y @ np.asarray(force_y)
