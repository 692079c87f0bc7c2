"""Rows of the wave table that the hull stations read."""

import numpy as np
import pytest

from seaload.simulation.wave_rows import hull_rows
from seaload.waves.components import Components


def test_rise_and_acceleration_fade_with_the_depth_they_are_read_at_and_elevation_does_not():
    """exp(-k z) under the surface, deep water (Airy 1845)."""
    wavenumber = np.array([0.05, 0.4])
    waves = Components(np.sqrt(9.80665 * wavenumber), wavenumber, np.array([1.0, 0.3]), np.array([2.5, 0.4]))
    place = np.array([3.0])
    surface, below = (hull_rows(waves, place, np.array([depth])) for depth in (0.0, 1.5))
    fade = np.tile(np.exp(-1.5 * wavenumber), surface.shape[1] // 2)
    interleaved = np.repeat(np.exp(-1.5 * wavenumber), surface.shape[1] // 2)
    assert below[[0, 3]] == pytest.approx(surface[[0, 3]])
    found = below[[1, 2]]
    assert np.allclose(found, surface[[1, 2]] * fade) or np.allclose(found, surface[[1, 2]] * interleaved)
    assert np.max(np.abs(found)) < np.max(np.abs(surface[[1, 2]]))
