"""Small formulas that the march composes: axes, wetness, fast loads, flow memory, bearings."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.foil.bending import share_between_bearings
from seaload.foil.flow_memory import dried_state, healing_share
from seaload.foil.strip_axes import rake_incidence, rolled_normal, rolled_place, set_angle, strip_normal, upward
from seaload.foil.strip_load import (
    fast_load,
    flow_damping,
    forward_lean,
    strip_drag,
    wet_share,
    wet_share_slope,
    wetting_half_width,
)

turns = st.floats(-1.5, 1.5)


@settings(deadline=None)  # the first call compiles
@given(turns, st.floats(-0.02, 0.02))
def test_a_small_roll_turns_the_normal(chi, roll):
    exact = strip_normal(chi - roll)  # slope angle in the heeled plane is dihedral less heel
    assert rolled_normal(*strip_normal(chi), roll) == pytest.approx(exact, abs=roll**2 + 1e-12)


@settings(deadline=None)  # the first call compiles
@given(turns, turns, st.floats(-0.02, 0.02))
def test_a_small_roll_moves_places_as_it_turns_normals_and_leaves_up_where_it_is(y, z, roll):
    turned = np.array([[np.cos(roll), np.sin(roll)], [-np.sin(roll), np.cos(roll)]])  # boat's axes to the sea's
    assert rolled_place(y, z, roll) == pytest.approx((turned @ (y, z))[0], abs=2.0 * roll**2 + 1e-12)
    assert turned @ upward(roll) == pytest.approx((0.0, 1.0), abs=roll**2 + 1e-12)
    assert turned @ (y, z) == pytest.approx(rolled_normal(y, z, roll), abs=2.0 * roll**2 + 1e-12)


def test_pitch_lifts_a_level_strip_and_no_upright_one():
    assert set_angle(0.01, 0.02, strip_normal(0.0)[1]) == pytest.approx(0.03)
    assert set_angle(0.01, 0.02, strip_normal(0.5 * np.pi)[1]) == pytest.approx(0.01)
    assert rake_incidence(0.04, 1.0) == pytest.approx(0.04) and rake_incidence(0.04, 0.0) == 0.0


@settings(deadline=None)  # the first call compiles
@given(st.floats(-1.0, 1.0), st.floats(0.05, 0.5))
def test_wet_share_runs_from_dry_to_wet_with_its_own_slope(depth, width):
    assert wet_share(-width, width) == 0.0 and wet_share(width, width) == 1.0
    step = 1e-6
    slope = (wet_share(depth + step, width) - wet_share(depth - step, width)) / (2.0 * step)
    assert wet_share_slope(depth, width) == pytest.approx(slope, abs=1e-4 / width)


def test_a_steep_strip_takes_its_own_rise_to_get_wet_and_a_level_one_a_share_of_its_chord():
    assert wetting_half_width(0.2, 0.5 * np.pi, 0.0) == pytest.approx(0.1)
    assert wetting_half_width(0.2, 0.0, 1.0) == pytest.approx(0.15)


def test_a_steady_deep_strip_feels_no_fast_load_and_one_that_leaves_none_of_its_wetting():
    assert fast_load(300.0, 400.0, 10.0, 0.0, 1.0, 0.0, 0.0, 2.0) == 0.0
    assert fast_load(300.0, 400.0, 10.0, 0.0, 1.0, 0.0, -3.0, 2.0) == 0.0
    assert fast_load(300.0, 400.0, 10.0, 0.0, 1.0, 2.0, 0.0, 0.0) == 600.0
    assert fast_load(300.0, 400.0, 10.0, 0.0, 1.0, 0.0, 3.0, 2.0) == 1200.0


def test_lift_leans_with_the_inflow_and_drag_grows_with_the_square_of_lift():
    """Lift is square to the inflow: rising water of a tenth of the speed turns it forward by a tenth of a radian."""
    assert forward_lean(1000.0, 0.5, 1.0, 0.0, 10.0) == pytest.approx(50.0)
    assert forward_lean(1000.0, 0.5, 1.0, 1.0, 10.0) == 0.0
    plain, loaded, twice = (
        strip_drag(2000.0, 1.0, 0.008, lift, 0.02 * lift, 0.5) for lift in (0.0, 0.5, 1.0)
    )
    assert plain == pytest.approx(8.0) and twice - plain == pytest.approx(4.0 * (loaded - plain))


def test_flow_damping_is_half_of_what_a_steady_plunge_feels():
    """A strip that plunges at w in steady flow loses 1/2 rho U^2 c a (w/U) of lift a metre."""
    steady = 0.5 * 1025.0 * 10.0**2 * 0.7 * 5.0 / 10.0
    assert flow_damping(1.0, 1.0, 1025.0, 10.0, 0.7, 5.0, 1.0) == pytest.approx(0.5 * steady)


def test_a_dry_strip_forgets_that_it_was_wetted_and_heals_only_in_water():
    assert dried_state(0.0, 1.0) == 1.0 and dried_state(0.4, 0.2) == 0.4
    assert healing_share(0.1, 0.2, 0.6) == 0.0 and healing_share(0.1, 0.2, 0.4) == 0.2


def test_the_moment_between_the_bearings_falls_to_nothing_at_the_upper_one():
    assert share_between_bearings(np.array([2.0, 1.5, 1.0, 0.5, 3.0]), 2.0, 1.0) == pytest.approx([1.0, 0.5, 0, 0, 1])


def test_flow_damps_a_bending_strip_by_half_its_quasi_steady_lift():
    """1/2 rho U c a l of a strip that moves with the mode's shape, half of it at once (Wagner 1925)."""
    damping = flow_damping(0.6, 0.25, 1025.0, 10.0, 0.5, 5.0, 0.8)
    assert damping == pytest.approx(0.5 * (0.5 * 1025.0 * 10.0 * 0.5 * 5.0 * 0.25) * 0.6**2 * 0.8)
