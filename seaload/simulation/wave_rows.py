"""The sea as matrix rows: what each wave component adds to each quantity the march needs, at points of the boat.

Generic rows depend on the boat, the sea and a heading only, never on a setting: elevation, rise, acceleration and slope
at the hull stations, slope and velocity to leeward there; and at a few lateral nodes near foil, keel fin and rudder the
elevation and the coefficients of a polynomial in depth for each velocity. A lane then interpolates sideways to its
strips.
"""

import numpy as np

from seaload.simulation.wave_layout import (
    DEPTH_TERMS,
    HULL_HEADINGS,
    HULL_TURN,
    HULL_WAVE_ROWS,
    NODE_ROWS,
    STRIP_HEADINGS,
    STRIP_TURN,
    TURN_UNIT,
    W_RISE,
    W_SIDE,
    W_SIDE_SLOPE,
    W_SLOPE,
    SeaPart,
    strip_wave_row,
)
from seaload.simulation.windows import BEYOND_NODES

USUAL_TURN = 0.7  # [-] of TURN_UNIT, a heading that what it brings in is judged at
RANK_TOLERANCE = 2e-4  # [-] of the largest singular value, rows weighed as `weighing` does


def _depth_nodes():
    """Chebyshev nodes of depth/depth_scale in [0, 1], (24,) [-] (any text on numerical analysis)."""
    return 0.5 - 0.5 * np.cos(np.pi * (np.arange(24) + 0.5) / 24.0)


def depth_polynomial(wavenumber, depth_scale):
    """Coefficients in (depth/depth_scale) of exp(-k depth) on [0, depth_scale], (DEPTH_TERMS, N) [-].

    `wavenumber` k (N,) [rad/m], `depth_scale` [m]. Least squares on Chebyshev nodes, weighted towards the surface where
    the energy is (any text on numerical analysis).
    """
    nodes = _depth_nodes()
    basis = nodes[:, None] ** np.arange(DEPTH_TERMS)
    decay = np.exp(-np.outer(nodes * depth_scale, wavenumber))
    return np.linalg.lstsq(basis, decay, rcond=None)[0]


def lateral_nodes(low, high, count):
    """Chebyshev nodes of a lateral window from `low` to `high` [m], (count,) [m] (any text on numerical analysis)."""
    p = np.cos(np.pi * (np.arange(count)[::-1] + 0.5) / count)
    return 0.5 * (low + high) + 0.5 * (high - low) * p


def lateral_weights(nodes, at):
    """Lagrange weights (points, nodes) [-] of `nodes` (nodes,) [m] for the points `at` (points,) [m].

    ValueError for a point more than BEYOND_NODES outside the nodes. Lagrange interpolation, in any text on numerical
    analysis.
    """
    at = np.asarray(at, dtype=float)
    if at.min() < nodes[0] - BEYOND_NODES or at.max() > nodes[-1] + BEYOND_NODES:
        raise ValueError(f"strips from {at.min():g} to {at.max():g} m lie outside {nodes[0]:g} to {nodes[-1]:g} m")
    weights = np.ones((len(at), len(nodes)))
    for i, node in enumerate(nodes):
        for j, other in enumerate(nodes):
            if i != j:
                weights[:, i] *= (at - other) / (node - other)
    return weights


def _cosine_row(amplitude, shift):
    """Row of a quantity amplitude*cos(psi + shift) on (cos psi, sin psi), [as `amplitude`]; `shift` [rad].
    Trigonometry.
    """
    return np.concatenate([amplitude * np.cos(shift), -amplitude * np.sin(shift)], axis=-1)


def _sine_row(amplitude, shift):
    """Row of a quantity amplitude*sin(psi + shift) on (cos psi, sin psi), [as `amplitude`]; `shift` [rad].
    Trigonometry.
    """
    return np.concatenate([amplitude * np.sin(shift), amplitude * np.cos(shift)], axis=-1)


def hull_rows(components, x, depth):
    """Elevation, rise, acceleration, slope forward, slope and velocity to leeward, (6 stations, 2 N), in that order for
    each station.

    `components` of the sea; `x` (stations,) [m] ahead of the centre of gravity, `depth` (stations,) [m] at which rise,
    acceleration and velocity are read. Linear waves in deep water (Airy 1845).
    """
    k, a, w, mu = components.wavenumber, components.amplitude, components.omega, components.direction
    rows = []
    for position, level in zip(x, depth, strict=True):
        shift = k * np.cos(mu) * position
        fade = np.exp(-k * level)
        rows.append(_cosine_row(a, shift))
        rows.append(_sine_row(a * w * fade, shift))
        rows.append(_cosine_row(-a * w * w * fade, shift))
        rows.append(_sine_row(-a * k * np.cos(mu), shift))
        rows.append(_sine_row(-a * k * np.sin(mu), shift))
        rows.append(_cosine_row(a * w * np.sin(mu) * fade, shift))
    return np.array(rows)


def boat_rows(components):
    """Lateral slope of the surface at the centre of gravity [-], (1, 2 N).

    `components` of the sea. Linear waves in deep water (Airy 1845).
    """
    k, a, mu = components.wavenumber, components.amplitude, components.direction
    return _sine_row(-a * k * np.sin(mu), 0.0 * k)[None]


def surface_rows(components, x, nodes, depth_scale):
    """Rows of one surface group, (nodes * (1 + 3 DEPTH_TERMS), 2 N).

    `components` of the sea; `x` [m] ahead of the centre of gravity, lateral `nodes` (n,) [m], `depth_scale` [m]. For
    each node: elevation, then the depth terms of the vertical, lateral and axial velocity. Linear waves in deep water
    (Airy 1845).
    """
    k, a, w, mu = components.wavenumber, components.amplitude, components.omega, components.direction
    terms = depth_polynomial(k, depth_scale)
    rows = []
    for y in nodes:
        shift = k * (np.cos(mu) * x + np.sin(mu) * y)
        rows.append(_cosine_row(a, shift))
        for term in terms:
            rows.append(_sine_row(a * w * term, shift))
        for term in terms:
            rows.append(_cosine_row(a * w * np.sin(mu) * term, shift))
        for term in terms:
            rows.append(_cosine_row(a * w * np.cos(mu) * term, shift))
    return np.array(rows)


def _rms(rows):
    """Root mean square of all entries of `rows` [as they are], 1 where there is nothing (definition)."""
    return float(np.sqrt(np.mean(rows**2))) or 1.0


def weighing(rows, stations):
    """Matrix W (rows, rows) [-] that makes errors of all rows of one heading alike: a root mean square of W error is a
    share of a size.

    `rows` as the march has them, first those of a hull of so many `stations` and of the boat. A row of the hull is
    judged by the size of its kind, slopes and velocities by that of the whole vector, for a heading on which one part
    is nothing; a surface by its own. Depth terms are judged by what they add up to between the
    surface and the deepest strip, over the greatest size of a velocity at the surface: a high term of a long wave is
    small and need not be kept to four digits of itself. The weighing is our own choice.
    """
    basis = _depth_nodes()[:, None] ** np.arange(DEPTH_TERMS)
    summed = np.linalg.qr(basis, mode="r") / np.sqrt(len(basis))  # |summed c| is the rms over depth of a polynomial c
    weights, hull = np.zeros((len(rows), len(rows))), HULL_WAVE_ROWS * stations
    sizes = [_rms(rows[kind:hull:HULL_WAVE_ROWS]) for kind in range(HULL_WAVE_ROWS)]
    slope = np.hypot(sizes[W_SLOPE], sizes[W_SIDE_SLOPE])
    sizes[W_SLOPE], sizes[W_SIDE_SLOPE], sizes[W_SIDE] = slope, slope, sizes[W_RISE]
    for row in range(hull):
        weights[row, row] = 1.0 / sizes[row % HULL_WAVE_ROWS]
    weights[hull, hull] = 1.0 / slope
    for surface in range(hull + 1, len(rows), NODE_ROWS):
        weights[surface, surface] = 1.0 / _rms(rows[surface])
        velocities = [slice(first, first + DEPTH_TERMS) for first in surface + 1 + DEPTH_TERMS * np.arange(3)]
        size = max(_rms(rows[each.start]) for each in velocities)  # at the surface
        for each in velocities:
            weights[each, each] = summed / size
    return weights


def terms_of(rows_at, stations):
    """Rows as a polynomial in the heading over TURN_UNIT: the rows of each term, (HULL_HEADINGS,) of (rows, 2 N).

    `rows_at` a function of a heading [rad] off the one steered for that gives all rows of it, first those of a hull of
    so many `stations` and of the boat; the terms past STRIP_HEADINGS are of those alone. Polynomials through values at
    so many places (any text on numerical analysis).
    """
    fixed, fitted = strip_wave_row(stations, 0), []
    for part, count, turn in (
        (slice(0, fixed), HULL_HEADINGS, HULL_TURN), (slice(fixed, None), STRIP_HEADINGS, STRIP_TURN)
    ):  # fmt: skip
        headings = turn * np.arange(-(count // 2), count // 2 + 1)
        found = np.array([rows_at(heading)[part] for heading in headings])
        to_terms = np.linalg.inv(np.vander(headings / TURN_UNIT, increasing=True))
        fitted.append(np.tensordot(to_terms, found, axes=1))
    hull, nodes = fitted
    return [np.concatenate([hull[i], nodes[i]]) if i < STRIP_HEADINGS else hull[i] for i in range(HULL_HEADINGS)]


def low_rank(terms, weights):
    """(expands, project): expands[i] @ the first shapes of project = terms[i], errors judged to RANK_TOLERANCE.

    `terms` as `terms_of` gives them, `weights` as `weighing` does [-], of a term by a usual heading's power. The rows
    hold far fewer shapes than rows or components, since the boat is short beside the waves: two thin products replace
    one thick one. Shapes are the eigenvectors of the weighed rows' own products, their singular vectors (any text on
    numerical analysis); a term has those that count in it.
    """
    weighed = [USUAL_TURN**i * weights[: len(term), : len(term)] @ term for i, term in enumerate(terms)]
    square, shapes = np.linalg.eigh(sum(each.T @ each for each in weighed))
    least = RANK_TOLERANCE * np.sqrt(square[-1])
    rank = max(int(np.sum(square > least**2)), 1)
    kept = np.ascontiguousarray(shapes[:, ::-1][:, :rank])
    expands = []
    for term, each in zip(terms, weighed, strict=True):
        sizes = np.sqrt(np.sum((each @ kept) ** 2, axis=0))
        count = max(int(np.max(np.flatnonzero(sizes > least), initial=0)) + 1, 1)
        expands.append(term @ kept[:, :count])
    return expands, np.ascontiguousarray(kept.T)


def own_shapes(expands, weights, part, count):
    """`SeaPart` of the rows in the slice `part`, of the first `count` of the terms `expands`, errors as in `low_rank`.

    The rows of a part lie in few shapes at all headings together, so that the polynomial in the heading runs through
    those and not through every row. `weights` as `weighing` has them [-].
    """
    own = weights[part, part]
    weighed = [USUAL_TURN**i * own @ expand[part] for i, expand in enumerate(expands[:count])]
    square, shapes = np.linalg.eigh(sum(each @ each.T for each in weighed))
    kept = shapes[:, ::-1][:, : max(int(np.sum(square > RANK_TOLERANCE**2 * square[-1])), 1)]
    terms = tuple(np.ascontiguousarray(kept.T @ (own @ expand[part])) for expand in expands[:count])
    return SeaPart(terms, np.linalg.solve(own, kept))
