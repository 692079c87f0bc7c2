"""The sea as matrix rows: what each wave component adds to each quantity the march needs, at points of the boat.

Generic rows depend on the boat and the sea only, never on a setting: elevation, rise, acceleration and slope
at the hull stations; and at a few lateral nodes near foil, keel fin and rudder the elevation and
the coefficients of a polynomial in depth for each velocity. A lane then interpolates sideways to its strips.
"""

import numpy as np

from seaload.simulation.layout import BOAT_WAVE_ROWS, DEPTH_TERMS, HULL_WAVE_ROWS
from seaload.simulation.windows import BEYOND_NODES

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
    """Elevation, rise, acceleration and slope at each station, (4 stations, 2 N), in that order for each station.

    `components` of the sea; `x` (stations,) [m] ahead of the centre of gravity, `depth` (stations,) [m] at which rise
    and acceleration are read. Linear waves in deep water (Airy 1845).
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
    return np.array(rows)


def boat_rows(components, keel_x, keel_depth):
    """Lateral slope of the surface at the centre of gravity [-], and lateral velocity at the keel [m/s], (2, 2 N).

    `components` of the sea; `keel_x` [m] ahead of the centre of gravity, `keel_depth` [m]. Linear waves in deep water
    (Airy 1845).
    """
    k, a, w, mu = components.wavenumber, components.amplitude, components.omega, components.direction
    slope = _sine_row(-a * k * np.sin(mu), 0.0 * k)
    drift = _cosine_row(a * w * np.sin(mu) * np.exp(-k * keel_depth), k * np.cos(mu) * keel_x)
    return np.array([slope, drift])


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


def weighing(rows, fixed):
    """Matrix W (rows, rows) [-] that makes errors of all rows alike: a root mean square of W error is a share of a
    size.

    `rows` as the march has them, the first `fixed` those of hull and boat. A hull row is judged by the size of its
    kind, a surface by its own. Depth terms are judged by what they add up to between the surface and the deepest
    strip, over the greatest size of a velocity at the surface: a high term of a long wave is small and
    need not be kept to four digits of itself. The weighing is our own choice.
    """
    basis = _depth_nodes()[:, None] ** np.arange(DEPTH_TERMS)
    summed = np.linalg.qr(basis, mode="r") / np.sqrt(len(basis))  # |summed c| is the rms over depth of a polynomial c
    weights, hull = np.zeros((len(rows), len(rows))), fixed - BOAT_WAVE_ROWS
    for row in range(hull):
        weights[row, row] = 1.0 / _rms(rows[row % HULL_WAVE_ROWS : hull : HULL_WAVE_ROWS])
    for row in range(hull, fixed):
        weights[row, row] = 1.0 / _rms(rows[row])
    for surface in range(fixed, len(rows), 1 + 3 * DEPTH_TERMS):
        weights[surface, surface] = 1.0 / _rms(rows[surface])
        velocities = [slice(first, first + DEPTH_TERMS) for first in surface + 1 + DEPTH_TERMS * np.arange(3)]
        size = max(_rms(rows[each.start]) for each in velocities)  # at the surface
        for each in velocities:
            weights[each, each] = summed / size
    return weights


def low_rank(rows, weights):
    """(expand, project) with expand @ project = rows, their error judged by `weights` to RANK_TOLERANCE.

    The rows hold far fewer shapes than rows or components, since the boat is short beside the waves: two thin
    products replace one thick one.
    """
    left, value, right = np.linalg.svd(weights @ rows, full_matrices=False)
    rank = max(int(np.sum(value > RANK_TOLERANCE * value[0])), 1)
    return np.linalg.solve(weights, left[:, :rank] * value[:rank]), np.ascontiguousarray(right[:rank])
