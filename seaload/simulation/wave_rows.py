"""The sea as matrix rows: what each wave component adds to each quantity the march needs, at points of the boat.

Generic rows depend on the boat and the sea only, never on a setting: elevation, rise, acceleration and slope
at the hull stations; and at a few lateral nodes near foil, keel fin and rudder the elevation and
the coefficients of a polynomial in depth for each velocity. A lane then interpolates sideways to its strips.
"""

import numpy as np

from seaload.simulation.layout import DEPTH_TERMS

RANK_TOLERANCE = 2e-4  # [-] of the largest singular value, rows scaled to equal rms


def depth_polynomial(wavenumber, depth_scale):
    """Coefficients in (depth/depth_scale) of exp(-k depth) on [0, depth_scale], (DEPTH_TERMS, N).

    Least squares on Chebyshev nodes, weighted towards the surface where the energy is.
    """
    nodes = 0.5 - 0.5 * np.cos(np.pi * (np.arange(24) + 0.5) / 24.0)
    basis = nodes[:, None] ** np.arange(DEPTH_TERMS)
    decay = np.exp(-np.outer(nodes * depth_scale, wavenumber))
    return np.linalg.lstsq(basis, decay, rcond=None)[0]


def lateral_nodes(low, high, count):
    """Chebyshev nodes of a lateral window [m], (count,)."""
    p = np.cos(np.pi * (np.arange(count)[::-1] + 0.5) / count)
    return 0.5 * (low + high) + 0.5 * (high - low) * p


def lateral_weights(nodes, at):
    """Lagrange weights of each node for each point, (points, nodes); points are kept inside the window."""
    at = np.clip(np.asarray(at, dtype=float), nodes[0] - 0.3, nodes[-1] + 0.3)
    weights = np.ones((len(at), len(nodes)))
    for i, node in enumerate(nodes):
        for j, other in enumerate(nodes):
            if i != j:
                weights[:, i] *= (at - other) / (node - other)
    return weights


def _cosine_row(amplitude, shift):
    """Row of a quantity amplitude*cos(psi + shift) on (cos psi, sin psi)."""
    return np.concatenate([amplitude * np.cos(shift), -amplitude * np.sin(shift)], axis=-1)


def _sine_row(amplitude, shift):
    """Row of a quantity amplitude*sin(psi + shift)."""
    return np.concatenate([amplitude * np.sin(shift), amplitude * np.cos(shift)], axis=-1)


def hull_rows(components, x, depth):
    """Elevation, rise, acceleration and slope at each station, (4 stations, 2 N), in that order for each station."""
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
    """Lateral slope of the surface at the centre of gravity, and lateral velocity at the keel, (2, 2 N)."""
    k, a, w, mu = components.wavenumber, components.amplitude, components.omega, components.direction
    slope = _sine_row(-a * k * np.sin(mu), 0.0 * k)
    drift = _cosine_row(a * w * np.sin(mu) * np.exp(-k * keel_depth), k * np.cos(mu) * keel_x)
    return np.array([slope, drift])


def surface_rows(components, x, nodes, depth_scale):
    """Rows of one surface group, (nodes * (1 + 3 DEPTH_TERMS), 2 N).

    For each lateral node: elevation, then the depth terms of the vertical, lateral and axial velocity.
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


def low_rank(rows):
    """(expand, project) with expand @ project = rows to RANK_TOLERANCE of each row's own size.

    The rows hold far fewer shapes than rows or components, since the boat is short beside the waves: two thin
    products replace one thick one.
    """
    size = np.sqrt(np.mean(rows**2, axis=1, keepdims=True))
    size[size == 0.0] = 1.0
    left, value, right = np.linalg.svd(rows / size, full_matrices=False)
    rank = max(int(np.sum(value > RANK_TOLERANCE * value[0])), 1)
    return np.ascontiguousarray(left[:, :rank] * value[:rank] * size), np.ascontiguousarray(right[:rank])
