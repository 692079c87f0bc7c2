"""How the strips of a lifting surface feel each other: lift of every strip from the inflow of every strip.

A horseshoe lattice in steady flow: quarter chord straight across the stream, ROWS bound vortices along the chord of
every strip, each on the quarter of its panel, the condition met on the three-quarter line of each panel; trailing legs
straight aft. Incidence is even over a strip, lift is the mean over it: what comes of both is one matrix.

Water surface: each vortex has an image with both end nodes mirrored in z, same node order, same circulation. Its
potential is the negative mirror of the vortex's own, so the potential is zero on the surface: the condition at
infinite Froude number, right for the fast part of the load. A surface that cuts the span leaves the wet part of each
strip; an end at the surface, like one at the hull, is a free end.
Source: vortex lattice and Trefftz plane as in any text on wings (from memory).
"""

from typing import NamedTuple

import numpy as np

ROWS = 4  # along the chord; one row loses 8 % of a long foil's lift a tenth of a chord deep
INSET = 0.15  # [-] of the end panel that the last leg stands inboard: even panels then lift as very many do (0.5 %)
LEAST_WET = 0.15  # [-] share of its length below which a strip counts as dry
TWO_PI = 2.0 * np.pi


class Influence(NamedTuple):
    """What n strips do to each other; rows and columns of dry strips are zero."""

    lift: np.ndarray  # (n, n) [1/rad] lift coefficient of the row's strip per incidence of the column's
    wash: np.ndarray  # (n, n) [rad] half the angle of the far wake, row's strip, per lift coefficient of the column's
    wet: np.ndarray  # (n,) [-] share of each strip's length


class _Panels(NamedTuple):
    """Wet panels, one a strip: ends of the bound vortices and places of the conditions, across the stream."""

    a: np.ndarray  # (m, 2) [m] inner end (y, z)
    b: np.ndarray  # (m, 2) [m] outer end
    chord_a: np.ndarray  # (m,) [m]
    chord_b: np.ndarray
    middle: np.ndarray  # (m, 2) [m]
    normal: np.ndarray  # (m, 2) [-]
    chord: np.ndarray  # (m,) [m]


def _leg_wash(r, size):
    """Velocity (y, z) times 4 pi [1/m] of unit vortex legs that run aft from nodes.

    `r` (aft, y, z) [m] point less node, `size` [m] of it, arrays alike. Biot-Savart, in any text on wings.
    """
    swirl = (1.0 + r[0] / size) / (r[1] * r[1] + r[2] * r[2])
    return -r[2] * swirl, r[1] * swirl


def _bound_wash(r1, r2, size1, size2):
    """Velocity (y, z) times 4 pi [1/m] of unit vortices from one node to another.

    `r1`, `r2` (aft, y, z) [m] point less first, less second node, `size1`, `size2` [m] of them. Biot-Savart, in any
    text on wings.
    """
    cross = [r1[i] * r2[j] - r1[j] * r2[i] for i, j in ((1, 2), (2, 0), (0, 1))]
    along = sum((p - q) * (p / size1 - q / size2) for p, q in zip(r1, r2, strict=True))
    factor = along / sum(each * each for each in cross)
    return cross[1] * factor, cross[2] * factor


def horseshoe_wash(point, normal, a, b):
    """Normal velocity [1/m] at each `point` (m, 3) from unit horseshoes, bound vortices from `a` to `b` (k, 3): (m, k).

    `normal` (m, 2) [-] across the stream; axes aft, y, z [m].
    """
    r1, r2 = ([point[:, i, None] - node[None, :, i] for i in range(3)] for node in (a, b))
    size1, size2 = (np.sqrt(sum(each * each for each in r)) for r in (r1, r2))
    first, second, bound = _leg_wash(r1, size1), _leg_wash(r2, size2), _bound_wash(r1, r2, size1, size2)
    across = [(second[i] - first[i] + bound[i]) * normal[:, i, None] for i in range(2)]
    return (across[0] + across[1]) / (4.0 * np.pi)


def far_wash(point, normal, a, b):
    """Normal velocity [1/m] in the far (Trefftz) plane at each `point` (m, 2) from wakes of unit horseshoes: (m, k).

    `normal` (m, 2), `a`, `b` (k, 2) ends of the wakes (y, z) [m].
    """

    def of(node):
        d = point[:, None] - node[None]
        return (d[..., 0] * normal[:, None, 1] - d[..., 1] * normal[:, None, 0]) / np.sum(d**2, axis=-1)

    return (of(b) - of(a)) / (2.0 * np.pi)


def mirrored(node, surface):
    """Nodes `node` (k, 2 or 3) [m] with their last coordinate mirrored in a level `surface` [m]."""
    image = node.copy()
    image[:, -1] = 2.0 * surface - image[:, -1]
    return image


def _wet_panels(edge, chord, surface, inset):
    """(`_Panels` of the wet strips, wet shares (n,)): strips cut at the surface, end nodes of each wet stretch inset.

    `edge` (n+1, 2) [m], `chord` (n,) [m], `surface` [m] or None, `inset` [-].
    """
    inner, outer = edge[:-1].copy(), edge[1:].copy()
    count = len(chord)
    start, end = np.zeros(count), np.ones(count)
    if surface is not None:
        d0, d1 = surface - inner[:, 1], surface - outer[:, 1]
        cut = np.divide(d0, d0 - d1, out=np.zeros(count), where=d0 != d1)
        start = np.where(d0 > 0.0, 0.0, np.where(d1 > 0.0, cut, 1.0))
        end = np.where(d1 > 0.0, 1.0, np.where(d0 > 0.0, cut, 1.0))
    share = end - start
    share[share < LEAST_WET] = 0.0
    wet = share > 0.0
    first = wet & ~np.concatenate(([False], wet[:-1]))
    last = wet & ~np.concatenate((wet[1:], [False]))
    middle = inner + (0.5 * (start + end))[:, None] * (outer - inner)
    step = outer - inner
    a = inner + (start + inset * share * first)[:, None] * step
    b = inner + (end - inset * share * last)[:, None] * step
    length = np.linalg.norm(step, axis=1)
    normal = np.stack([-step[:, 1], step[:, 0]], axis=1) / length[:, None]
    at = np.concatenate(([0.0], np.cumsum(length)))
    chord_node = np.interp(at, 0.5 * (at[1:] + at[:-1]), chord)
    keep = (a, b, chord_node[:-1], chord_node[1:], middle, normal, chord)
    return _Panels(*(each[wet] for each in keep)), share


def influence(y_edge, z_edge, chord, section_slope=TWO_PI, surface=None, rows=ROWS, inset=INSET):
    """`Influence` of n strips end to end on each other, in deep water or under a level surface.

    `y_edge`, `z_edge` (n+1,) [m] strip edges across the stream, `chord` (n,) [m], `section_slope` [1/rad] in two
    dimensions, `surface` [m] height of the water or None; `rows` of vortices along the chord, `inset` [-] of the ends.
    """
    edge = np.stack([np.asarray(y_edge, dtype=float), np.asarray(z_edge, dtype=float)], axis=1)
    chord = np.asarray(chord, dtype=float)
    p, share = _wet_panels(edge, chord, surface, inset)
    lift, wash, wet = np.zeros((len(chord),) * 2), np.zeros((len(chord),) * 2), share > 0.0
    if not wet.any():
        return Influence(lift, wash, share)
    stretch = section_slope / TWO_PI  # of the chord, so that the two-dimensional slope is the section's

    def at(place, chords, across):
        return np.concatenate([(stretch * place * chords)[:, None], across], axis=1)

    bound = [(r + 0.25) / rows - 0.25 for r in range(rows)]
    a = np.concatenate([at(place, p.chord_a, p.a) for place in bound])
    b = np.concatenate([at(place, p.chord_b, p.b) for place in bound])
    point = np.concatenate([at((r + 0.75) / rows - 0.25, p.chord, p.middle) for r in range(rows)])
    normal = np.tile(p.normal, (rows, 1))
    near, far = horseshoe_wash(point, normal, a, b), far_wash(p.middle, p.normal, p.a, p.b)
    if surface is not None:
        near += horseshoe_wash(point, normal, mirrored(a, surface), mirrored(b, surface))
        far += far_wash(p.middle, p.normal, mirrored(p.a, surface), mirrored(p.b, surface))
    even = np.tile(np.eye(len(p.chord)), (rows, 1))
    circulation = even.T @ np.linalg.solve(near, -even)
    lift[np.ix_(wet, wet)] = 2.0 * circulation / p.chord[:, None]
    wash[np.ix_(wet, wet)] = -0.25 * far * p.chord[None, :]
    return Influence(lift, wash, share)


def mirrored_influence(span, count, aspect_ratio, section_slope=TWO_PI):
    """`Influence` of `count` even strips of a straight surface that stands on a wall, deep: the wall doubles it.

    `span` [m], `aspect_ratio` [-] of surface and image together, which sets the chord; `section_slope` [1/rad] in two
    dimensions. Root first.
    """
    edges = np.linspace(-span, span, 2 * count + 1)
    chord = np.full(2 * count, 2.0 * span / aspect_ratio)
    whole = influence(edges, np.zeros_like(edges), chord, section_slope)

    def folded(matrix):
        return matrix[count:, count:] + matrix[count:, count - 1 :: -1]

    return Influence(folded(whole.lift), folded(whole.wash), whole.wet[count:])
