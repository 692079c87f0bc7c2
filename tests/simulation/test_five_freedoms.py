"""Five coupled freedoms are solved as any symmetric system is, and one that is held does not feel the others."""

import numpy as np

from seaload.simulation.five_freedoms import Inertia, five_accelerations


def lower(matrix):
    return Inertia(*(float(matrix[i, j]) for i in range(5) for j in range(i + 1)))


def test_mass_times_acceleration_is_the_force():
    draw = np.random.default_rng(12)
    for _ in range(20):
        half = draw.normal(size=(5, 5))
        matrix, force = half @ half.T + 0.5 * np.eye(5), draw.normal(size=5)
        found = five_accelerations(lower(matrix), tuple(force))
        assert np.allclose(matrix @ found, force, rtol=0.0, atol=1e-11)


def test_a_freedom_without_coupling_is_its_own_quotient():
    matrix = np.diag([2.0, 3.0, 5.0, 7.0, 11.0])
    found = five_accelerations(lower(matrix), (1.0, 1.0, 1.0, 1.0, 1.0))
    assert np.allclose(found, 1.0 / np.diag(matrix), rtol=1e-15)
