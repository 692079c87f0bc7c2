"""Small formulas of one strip: wetness, soft limits, surface factor, and a flow state with two thresholds."""

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.foil.flow_memory import next_flow_state, step_share
from seaload.foil.free_surface import finite_froude_factor, steady_surface_factor
from seaload.foil.strip_load import (
    inflow_angle,
    soft_limited,
    surface_factor,
    wet_share,
    wet_share_slope,
)


def test_wetness_is_a_smooth_ramp():
    depths = np.linspace(-0.3, 0.3, 601)
    wet = np.array([wet_share(d, 0.1) for d in depths])
    assert (wet[0], wet[300], wet[-1]) == pytest.approx((0.0, 0.5, 1.0))
    assert np.all(np.diff(wet) >= 0.0)
    slope = np.array([wet_share_slope(d, 0.1) for d in depths])
    assert np.gradient(wet, depths) == pytest.approx(slope, abs=0.1)


def test_inflow_angle_is_near_the_arctangent():
    ratios = np.linspace(-1.0, 1.0, 201)
    assert [inflow_angle(10.0 * r, 10.0) for r in ratios] == pytest.approx(np.arctan(ratios), abs=0.005)


def test_soft_limit_is_odd_monotone_and_bounded():
    values = np.linspace(-3.0, 3.0, 1201)
    held = np.array([soft_limited(v, 1.2) for v in values])
    assert held == pytest.approx(-held[::-1])
    assert np.all(np.diff(held) >= -1e-12)
    assert np.max(held) == pytest.approx(1.2)
    small = np.abs(values) < 0.7 * 1.2
    assert held[small] == pytest.approx(values[small])
    assert np.max(np.abs(np.diff(held, 2))) < 2e-4  # no kink


def test_surface_factor_limits():
    assert surface_factor(-1.0, 0.5) == pytest.approx(0.5)
    assert surface_factor(100.0, 0.5) == pytest.approx(1.0, abs=1e-5)


def test_finite_froude_factor_tends_to_its_limits():
    depth = np.array([0.3, 0.5, 1.0, 2.0, 5.0])
    infinite = [surface_factor(h, 1.0) for h in depth]
    assert finite_froude_factor(depth, 3e3) == pytest.approx(infinite, abs=2e-3)
    wall = 1.0 / (1.0 - 0.25 / (0.25 + 4.0 * depth**2))  # speed nought: a lid, image of the other sense
    assert finite_froude_factor(depth[1:], 0.05) == pytest.approx(wall[1:], rel=1e-2)
    both = finite_froude_factor(2.0, np.linspace(0.1, 6.0, 2000))
    assert np.max(np.abs(np.diff(both))) < 0.02  # no step where the series takes over


def test_steady_factor_at_sailing_speeds():
    """1 m deep, 1 m chord, 20 kn: 0.75 (REFERENCES section 3), 0.94 at infinite Froude number."""
    found = steady_surface_factor(1.0, 1.0, 10.29, STANDARD_GRAVITY)
    assert float(found) == pytest.approx(0.75, abs=0.02)
    assert 0.5 <= float(steady_surface_factor(-0.5, 0.8, 8.0, STANDARD_GRAVITY)) <= 1.0


@pytest.mark.parametrize("bad", [(0.0, 1.0), (1.0, 0.0)])
def test_depth_and_speed_above_zero(bad):
    with np.errstate(divide="ignore"), pytest.raises(ValueError, match="above zero"):
        finite_froude_factor(*bad)


def test_flow_state_remembers():
    share = step_share(0.02, 11.0, 0.6, 3.0)
    state = 0.0
    for _ in range(200):
        state = next_flow_state(state, 1.1, 1.0, 0.5, share, share)
    assert state > 0.95
    for _ in range(200):  # between the thresholds it stays ventilated
        state = next_flow_state(state, 0.8, 1.0, 0.5, share, share)
    assert state > 0.95
    for _ in range(200):
        state = next_flow_state(state, 0.4, 1.0, 0.5, share, share)
    assert state < 0.05
    for _ in range(200):  # and between them it stays healed
        state = next_flow_state(state, 0.8, 1.0, 0.5, share, share)
    assert state < 0.05
