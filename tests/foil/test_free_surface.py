"""The steady surface factor where its formula changes over, and towards its ends."""

import numpy as np
import pytest

from seaload.foil.free_surface import SERIES_BEYOND, finite_froude_factor


@pytest.mark.parametrize("depth", [0.3, 1.0, 3.0])
def test_no_step_where_the_asymptotic_series_takes_over(depth):
    """Both ways of working out the wave integral hold there (Abramowitz & Stegun 5.1.51: series good to 1e-13)."""
    froude = np.sqrt(np.hypot(2.0 * depth, 0.5) / (SERIES_BEYOND * depth))
    below, above = finite_froude_factor(depth, froude * np.array([1.0 - 1e-9, 1.0 + 1e-9]))
    assert below == pytest.approx(above, rel=1e-8)


def test_a_slow_deep_section_sees_a_rigid_wall_above():
    """At rest the surface stays flat: an image of opposite sense, lift above the deep-water value, none far below."""
    slow = finite_froude_factor(np.array([1.0, 5.0, 50.0]), 0.02)
    assert np.all(slow > 1.0) and np.all(np.diff(slow) < 0.0)
    assert slow[-1] == pytest.approx(1.0, abs=1e-4)
