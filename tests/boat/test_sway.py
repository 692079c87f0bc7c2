"""The hull's side force as the water round a section goes and comes."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.boat.sway import sway_added_mass, sway_added_mass_slope, sway_factor, unsteady_side

FACTOR = sway_factor(0.85, 1025.0)
DRIFT = st.floats(-5.0, 5.0)


def pushed(immersion, dipping, drift):
    """Side force [N/m] of a section in still water that sinks at `dipping` [m/s]."""
    growth = sway_added_mass_slope(immersion, FACTOR) * dipping
    return unsteady_side(sway_added_mass(immersion, FACTOR), growth, drift, 0.0)


@settings(deadline=None)  # the first call compiles
@given(st.floats(0.0, 2.0), st.floats(-5.0, 5.0), DRIFT)
def test_water_that_a_section_gains_or_loses_never_feeds_its_drift(immersion, dipping, drift):
    """Second law: the work on the drift is never positive."""
    assert pushed(immersion, dipping, drift) * drift <= 0.0


@settings(deadline=None)  # the first call compiles
@given(st.floats(0.05, 2.0), st.floats(0.1, 5.0), DRIFT)
def test_a_section_that_dips_shares_its_drift_with_the_water_it_gains(immersion, dipping, drift):
    """-d(m v)/dt at constant v: momentum, any text."""
    step = 1e-6
    gained = sway_added_mass(immersion + step * dipping, FACTOR) - sway_added_mass(immersion, FACTOR)
    assert pushed(immersion, dipping, drift) == pytest.approx(-gained / step * drift, rel=1e-4, abs=1e-6)


@settings(deadline=None)  # the first call compiles
@given(st.floats(0.0, 2.0), st.floats(0.0, 5.0), DRIFT)
def test_what_a_section_gives_up_as_it_comes_out_stays_in_the_wake(immersion, rising, drift):
    """Behind the greatest breadth of a slender wing nothing pushes: what was moved stays in the wake (Jones 1946, from
    memory).
    """
    assert pushed(immersion, -rising, drift) == 0.0
