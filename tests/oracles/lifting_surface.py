"""Steady lift slope along the curved wet span: a horseshoe lattice with a surface image.

Quarter chord straight across the stream; ROWS bound vortices along the chord, each on the quarter of
its panel, the condition met on the three-quarter line of each panel; trailing legs straight aft. The
strips given are covered by a finer mesh, crowded towards both ends of each wet stretch, so that the
answer does not hang on the strips' number. One row is Weissinger's method.

Water surface: each vortex has an image with both end nodes mirrored in z, same node order, same
circulation. Its potential is the negative mirror of the vortex's own, so the potential is zero on
the surface: the infinite-Froude condition, right for the fast part of the load.
"""

from typing import NamedTuple

import numpy as np
from scipy.interpolate import CubicSpline

CELLS = 24  # of the finer mesh, on each wet stretch
ROWS = 4  # along the chord; one row loses 8 % of a long foil's lift a tenth of a chord deep
TWO_PI = 2.0 * np.pi


class SpanLoading(NamedTuple):
    """Loading of a span for a given incidence. n strips; dry strips hold zeros."""

    lift_slope: np.ndarray  # (n,) [1/rad] local lift coefficient per local incidence, over the wet part
    induced_drag: np.ndarray  # (n,) [-] k of c_di = k Cl^2
    wet_share: np.ndarray  # (n,) [-] of the strip's length
    total_slope: float  # [1/rad] of the wet area, per unit incidence
    total_induced: float  # [-] K of C_Di = K C_L^2 over the wet area


class _Mesh(NamedTuple):
    """One wet stretch: m cells, nodes between them."""

    s: np.ndarray  # (m+1,) [m] from the first edge
    y: np.ndarray
    z: np.ndarray
    chord_node: np.ndarray
    y_mid: np.ndarray
    z_mid: np.ndarray
    s_mid: np.ndarray
    n_y: np.ndarray
    n_z: np.ndarray
    chord: np.ndarray


def _wet_stretches(s, z, surface_z):
    """Stretches (from, to) of arc length that lie under the surface [m]; the whole span without a surface.

    `s`, `z` (n+1,) [m] arc length and height of the edges, `surface_z` [m] or None.
    """
    if surface_z is None:
        return [(s[0], s[-1])]
    depth = surface_z - z
    stretches = []
    for i in range(len(s) - 1):
        d0, d1 = depth[i], depth[i + 1]
        if max(d0, d1) <= 0.0:
            continue
        cut = s[i] + (s[i + 1] - s[i]) * (d0 / (d0 - d1) if d0 != d1 else 0.0)
        start, end = (s[i] if d0 > 0.0 else cut), (s[i + 1] if d1 > 0.0 else cut)
        if end <= start:
            continue
        if stretches and abs(stretches[-1][1] - start) < 1e-12 * s[-1]:
            stretches[-1] = (stretches[-1][0], end)
        else:
            stretches.append((start, end))
    return stretches


def _mesh(stretch, s_edge, y_edge, z_edge, chord_mid, cells):
    """Cosine mesh (`_Mesh`) of one wet `stretch` (from, to) [m], nodes on the strips' edge line.

    `s_edge`, `y_edge`, `z_edge` (n+1,) [m] of the strips, `chord_mid` (n,) [m], `cells` their number. Cosine spacing:
    common practice.
    """
    theta = np.linspace(0.0, np.pi, cells + 1)
    middle, half = 0.5 * (stretch[0] + stretch[1]), 0.5 * (stretch[1] - stretch[0])
    s = middle - half * np.cos(theta)
    s_mid = middle - half * np.cos(0.5 * (theta[1:] + theta[:-1]))
    y, z = np.interp(s, s_edge, y_edge), np.interp(s, s_edge, z_edge)
    along = np.hypot(np.diff(y), np.diff(z))
    s_strip = 0.5 * (s_edge[1:] + s_edge[:-1])
    share = (s_mid - s[:-1]) / np.diff(s)
    return _Mesh(
        s, y, z, np.interp(s, s_strip, chord_mid), y[:-1] + share * np.diff(y), z[:-1] + share * np.diff(z),
        s_mid, -np.diff(z) / along, np.diff(y) / along, np.interp(s_mid, s_strip, chord_mid),
    )  # fmt: skip


def _leg_wash(dx, dy, dz):
    """Velocity (y, z) times 4 pi [1/m] from unit vortex legs that run aft from nodes; `dx`, `dy`, `dz` point less node
    [m].

    Biot-Savart, in any text on wings.
    """
    square = dy * dy + dz * dz
    swirl = (1.0 + dx / np.sqrt(dx * dx + square)) / square
    return -dz * swirl, dy * swirl


def _bound_wash(dx, dy, dz):
    """Velocity (y, z) times 4 pi [1/m] from unit bound vortices between neighbouring nodes (last axis).

    `dx`, `dy`, `dz` point less node [m]. Biot-Savart, in any text on wings.
    """
    x1, y1, z1, x2, y2, z2 = dx[:, :-1], dy[:, :-1], dz[:, :-1], dx[:, 1:], dy[:, 1:], dz[:, 1:]
    cross_x, cross_y, cross_z = y1 * z2 - z1 * y2, z1 * x2 - x1 * z2, x1 * y2 - y1 * x2
    r1 = np.sqrt(x1 * x1 + y1 * y1 + z1 * z1)
    r2 = np.sqrt(x2 * x2 + y2 * y2 + z2 * z2)
    along = (
        (x1 - x2) * (x1 / r1 - x2 / r2) + (y1 - y2) * (y1 / r1 - y2 / r2) + (z1 - z2) * (z1 / r1 - z2 / r2)
    )
    factor = along / (cross_x**2 + cross_y**2 + cross_z**2)
    return cross_y * factor, cross_z * factor


def _near_wash(to, other, place_to, place_from, slope_share, mirror_z):
    """Normal velocity at one chordwise line of points from one chordwise row of unit horseshoes, (m, k) [1/m].

    `to` `_Mesh` of the points, `other` of the horseshoes; `place_to`, `place_from` [-] of the chord aft of the quarter
    chord; `slope_share` [-] stretches the chord so that the two-dimensional slope is the section's; `mirror_z` [m] or
    None: horseshoes at their mirror places.
    """
    z = other.z if mirror_z is None else 2.0 * mirror_z - other.z
    dx = slope_share * (place_to * to.chord[:, None] - place_from * other.chord_node[None, :])
    dy = to.y_mid[:, None] - other.y[None, :]
    dz = to.z_mid[:, None] - z[None, :]
    leg_y, leg_z = _leg_wash(dx, dy, dz)
    bound_y, bound_z = _bound_wash(dx, dy, dz)
    v_y = leg_y[:, 1:] - leg_y[:, :-1] + bound_y
    v_z = leg_z[:, 1:] - leg_z[:, :-1] + bound_z
    return (v_y * to.n_y[:, None] + v_z * to.n_z[:, None]) / (4.0 * np.pi)


def _far_wash(to, other, mirror_z):
    """Normal velocity in the far (Trefftz) plane from unit horseshoes, (m, k) [1/m]; arguments as in `_near_wash`.

    `to`, `other` `_Mesh`, `mirror_z` [m] or None.
    """
    z = other.z if mirror_z is None else 2.0 * mirror_z - other.z
    dy = to.y_mid[:, None] - other.y[None, :]
    dz = to.z_mid[:, None] - z[None, :]
    square = dy * dy + dz * dz
    normal = (dy * to.n_z[:, None] - dz * to.n_y[:, None]) / square
    return (normal[:, 1:] - normal[:, :-1]) / (2.0 * np.pi)


def _matrices(meshes, section_slope, surface_z, rows):
    """Near wash (rows x cells of all stretches, square) and far-plane wash (cells, square) [1/m].

    `meshes` of all stretches, `section_slope` [1/rad], `surface_z` [m] or None, `rows` of bound vortices along the
    chord.
    """
    share = section_slope / TWO_PI
    mirrors = (None,) if surface_z is None else (None, surface_z)
    bound = [(i + 0.25) / rows - 0.25 for i in range(rows)]
    point = [(i + 0.75) / rows - 0.25 for i in range(rows)]
    near = [
        [sum(_near_wash(to, other, p, b, share, m) for m in mirrors) for b in bound for other in meshes]
        for p in point
        for to in meshes
    ]
    far = [[sum(_far_wash(to, other, m) for m in mirrors) for other in meshes] for to in meshes]
    return np.block(near), np.block(far)


def _strip_means(s_edge, meshes, values):
    """Integral over each strip of `values` given per cell, (n,) [as values, times m].

    `s_edge` (n+1,) [m] of the strips, `meshes` of the stretches that the cells belong to.
    """
    total, place = np.zeros(len(s_edge) - 1), 0
    for mesh in meshes:
        cells = len(mesh.s_mid)
        running = np.concatenate(([0.0], np.cumsum(values[place : place + cells] * np.diff(mesh.s))))
        across = (s_edge - mesh.s[0]) / (mesh.s[-1] - mesh.s[0])
        angle = np.arccos(np.clip(1.0 - 2.0 * across, -1.0, 1.0))  # in which a loading is smooth
        total += np.diff(CubicSpline(np.linspace(0.0, np.pi, cells + 1), running)(angle))
        place += cells
    return total


def span_loading(
    y_edge, z_edge, chord_mid, section_slope=TWO_PI, surface_z=None, incidence=None, cells=CELLS, rows=ROWS
):
    """Loading of the curved span for a given (default even) incidence, as `SpanLoading`.

    `y_edge`, `z_edge` (n+1,) [m] strip edges in the heeled y-z plane; `chord_mid` (n,) [m];
    `section_slope` [1/rad] two-dimensional slope; `surface_z` [m] height of the mean water surface, None
    = deep; `incidence` (n,) [rad] relative distribution, normal wash over speed, default 1;
    `cells` of the mesh on each wet stretch, `rows` of vortices along the chord. A span
    that ends at the hull counts as a free end.
    Induced drag from the far-plane wash, half of it at the foil.
    Source: vortex lattice and Trefftz plane as in any text on wings (from memory).
    """
    y_edge, z_edge = np.asarray(y_edge, dtype=float), np.asarray(z_edge, dtype=float)
    chord_mid = np.broadcast_to(np.asarray(chord_mid, dtype=float), (len(y_edge) - 1,))
    s_edge = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(y_edge), np.diff(z_edge)))))
    stretches = _wet_stretches(s_edge, z_edge, surface_z)
    zero = np.zeros(len(chord_mid))
    if not stretches:
        return SpanLoading(zero, zero.copy(), zero.copy(), 0.0, 0.0)
    meshes = [_mesh(w, s_edge, y_edge, z_edge, chord_mid, cells) for w in stretches]
    chord = np.concatenate([m.chord for m in meshes])
    if incidence is None:
        alpha = np.ones_like(chord)
    else:
        s_strip = 0.5 * (s_edge[1:] + s_edge[:-1])
        alpha = np.interp(np.concatenate([m.s_mid for m in meshes]), s_strip, incidence)
    near, far = _matrices(meshes, section_slope, surface_z, rows)
    gamma = np.linalg.solve(near, -np.tile(alpha, rows)).reshape(rows, -1).sum(axis=0)
    drag = -0.5 * (far @ gamma) * gamma
    wet = sum(np.diff(np.clip(s_edge, start, end)) for start, end in stretches)
    lift_sum, drag_sum = _strip_means(s_edge, meshes, gamma), _strip_means(s_edge, meshes, drag)
    alpha_sum = _strip_means(s_edge, meshes, chord * alpha)
    area = _strip_means(s_edge, meshes, chord)
    is_wet = wet > 1e-9 * s_edge[-1]
    slope = np.divide(2.0 * lift_sum, alpha_sum, out=zero.copy(), where=is_wet & (alpha_sum != 0.0))
    cl = np.divide(2.0 * lift_sum, area, out=zero.copy(), where=is_wet)
    induced = np.divide(2.0 * drag_sum, area * cl**2, out=zero.copy(), where=is_wet & (cl != 0.0))
    total_cl = 2.0 * lift_sum.sum() / area.sum()
    total_cd = 2.0 * drag_sum.sum() / area.sum()
    return SpanLoading(
        slope, induced, np.minimum(wet / np.diff(s_edge), 1.0),
        float(2.0 * lift_sum.sum() / alpha_sum.sum()), float(total_cd / total_cl**2),
    )  # fmt: skip
