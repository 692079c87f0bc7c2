"""The tent: its corners, static failure, slopes, normalisation, two faces."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.fatigue.constant_life import cycle_damage, load_share, raised, reference_damage, reference_scale
from tests.oracles.constant_life import cycles_to_failure, two_face_damage


@settings(deadline=None)
@given(st.floats(0.0, 1.2), st.sampled_from([1, 3, 9, 10, 14, 30]))
def test_whole_slopes_are_products(ratio, slope):
    assert raised(ratio, float(slope)) == pytest.approx(ratio**slope, rel=1e-13, abs=1e-300)


@settings(deadline=None)
@given(st.floats(1e-6, 1.2), st.floats(0.5, 20.0))
def test_other_slopes_are_powers(ratio, slope):
    assert raised(ratio, slope) == pytest.approx(ratio**slope, rel=1e-12)


def test_no_range_costs_nothing_at_any_slope():
    assert cycle_damage(0.0, 0.3, 2.0, 1.0, 10.0, 1.0) == 0.0
    assert cycle_damage(0.0, 0.3, 2.0, 1.0, 9.5, 1.0) == 0.0
    assert cycles_to_failure(0.0, 0.3, 2.0, 1.0, 10.0) == math.inf


@pytest.mark.parametrize("low, high", [(-1.0, 2.0), (1.5, 2.0), (-1.0, 0.0), (0.5, 2.5), (-1.2, 0.1)])
def test_a_cycle_that_touches_an_ultimate_breaks_the_foil(low, high):
    """Ultimates +2 and -1: damage is exactly 1 whatever the normalisation."""
    for scale in (1.0, 1e-6, 1e6):
        assert cycle_damage(high - low, 0.5 * (high + low), 2.0, 1.0, 10.0, scale) == 1.0


@settings(deadline=None)
@given(st.floats(-0.99, 1.99), st.floats(-0.99, 1.99))
def test_inside_the_ultimates_no_single_cycle_breaks(one, other):
    share = load_share(abs(one - other), 0.5 * (one + other), 2.0, 1.0)
    assert 0.0 <= share < 1.0


def test_apex_stands_half_way_between_the_ultimates():
    lives = [cycles_to_failure(1.0, mean, 2.0, 1.0, 10.0) for mean in (0.4, 0.5, 0.6)]
    assert lives[1] > lives[0] == pytest.approx(lives[2])


@pytest.mark.parametrize("slope", [10.0, 14.0, 9.5])
def test_a_million_reference_cycles_cost_one(slope):
    scale = reference_scale(4.0e4, 8.0e4, 2.4e4, slope)
    assert 1e6 * cycle_damage(4.0e4, 2.0e4, 8.0e4, 2.4e4, slope, scale) == pytest.approx(1.0, rel=1e-12)
    assert reference_damage(4.0e4, 8.0e4, 2.4e4, slope) == pytest.approx(1.0 / scale)


def test_no_curve_can_be_normalised_by_a_breaking_cycle():
    with pytest.raises(ValueError, match="ultimate"):
        reference_scale(2.0, 2.0, 1.0, 10.0)


def test_the_weaker_face_counts():
    weak, strong = (2.0, 1.0), (2.6, 1.4)
    alone = cycle_damage(1.0, -0.2, *weak, 10.0, 1.0)
    assert two_face_damage(1.0, -0.2, strong, weak, 10.0, 1.0) == alone
    assert two_face_damage(1.0, -0.2, weak, strong, 10.0, 1.0) == alone
