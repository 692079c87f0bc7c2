"""A formula's twin in single precision: the same law, to the rounding of single precision, and no double in it."""

import numba
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.sine_cosine import sine_cosine_within
from seaload.basis.single_precision import in_single
from seaload.boat.hull_section import hull_section_load, relieved_slice
from seaload.boat.resistance import bottom_drag, buried_bow_area, wave_slope_push
from seaload.foil.flow_memory import dried_state, healing_share, next_flow_state, step_share
from seaload.foil.hold_down import hold_down_load
from seaload.foil.lag_states import lag_rate, recalled, recalled_rate
from seaload.foil.strip_axes import rolled_normal, set_angle
from seaload.foil.strip_load import (
    cavitation_number,
    fast_load,
    flow_damping,
    forward_lean,
    inflow_angle,
    lift_limit,
    soft_limited,
    strip_drag,
    surface_factor,
    wet_share,
    wet_share_slope,
)
from seaload.simulation.stage import loads

FORMULAS = [
    (hull_section_load, (0.4, 1.2, 2.0, 3.0, -0.5, 1.5, 2.0, 1.1, 0.3, 1.2, 1600.0, 500.0, 9000.0, 1025.0, 300.0)),
    (buried_bow_area, (1.6, 1.0, 0.5, 6.0, 1.0, 3.0)),
    (relieved_slice, (9.0e3, 4.0e3, 900.0, 1.2, 10.0, 0.7, 0.3, 1.5, 0.5)),
    (bottom_drag, (4.0e3, 0.05, 0.5)),
    (wave_slope_push, (0.8, 0.06, 0.5, 1025.0, 9.8)),
    (next_flow_state, (0.3, 1.1, 1.0, 0.6, 0.2, 0.1)),
    (healing_share, (0.05, 0.1, 0.3)),
    (dried_state, (0.3, 0.7)),
    (step_share, (0.02, 11.0, 0.6, 3.0)),
    (hold_down_load, (2.0e4, 9.0e4, 4.0e4, 0.9, 0.1)),
    (lag_rate, (0.3, 0.165, 0.0455, 1.7, 40.0)),
    (recalled, (0.1, 0.05, 0.02)),
    (recalled_rate, (0.1, 0.05, 0.02)),
    (rolled_normal, (0.3, 0.95, 0.1)),
    (set_angle, (0.05, 0.02, 0.95)),
    (fast_load, (400.0, 500.0, 11.0, 0.2, 0.9, 1.5, 0.8, 0.6)),
    (strip_drag, (4.0e4, 0.8, 0.0085, 0.03, 0.5, 0.2)),
    (forward_lean, (2.0e4, 0.2, 0.4, 0.1, 11.0)),
    (flow_damping, (0.6, 0.2, 1025.0, 11.0, 0.7, 5.0, 0.9)),
    (cavitation_number, (1.3, 12.0, 1.0e5, 1.0e4, 1025.0)),
    (inflow_angle, (0.9, 12.0)),
    (lift_limit, (1.2, 0.1, 0.5, 1.4)),
    (soft_limited, (1.0, 0.9)),
    (surface_factor, (0.4, 0.6)),
    (sine_cosine_within, (2.0,)),
    (wet_share, (0.03, 0.1)),
    (wet_share_slope, (0.03, 0.1)),
]


def rounded(arguments):
    return [np.float32(each) for each in arguments]


@pytest.mark.parametrize(("formula", "arguments"), FORMULAS, ids=lambda each: getattr(each, "__name__", ""))
def test_a_twin_says_the_same_to_single_precision(formula, arguments):
    seen = np.atleast_1d(in_single(formula)(*rounded(arguments)))
    true = np.atleast_1d(formula(*(float(each) for each in rounded(arguments))))
    assert np.allclose(seen, true, rtol=3e-6, atol=1e-6 * np.max(np.abs(true)))


@pytest.mark.parametrize(("formula", "arguments"), FORMULAS, ids=lambda each: getattr(each, "__name__", ""))
def test_a_twin_holds_no_double(formula, arguments):
    twin = in_single(formula)
    twin(*rounded(arguments))
    single = tuple(numba.float32 for _ in arguments)
    found = next(each.return_type for each in twin.nopython_signatures if each.args == single)
    assert found in (numba.float32, numba.types.UniTuple(numba.float32, len(getattr(found, "types", ()))))


@given(depth=st.floats(-2.0, 5.0), chord=st.floats(0.2, 1.5))
@settings(max_examples=60, deadline=None)
def test_surface_factor_in_single_stays_between_a_half_and_one(depth, chord):
    assert 0.5 <= in_single(surface_factor)(np.float32(depth), np.float32(chord)) <= 1.0


def test_a_formula_has_one_twin_and_stays_as_it_is():
    assert in_single(surface_factor) is in_single(surface_factor)
    assert 0.5 in wet_share.py_func.__code__.co_consts
    assert all(type(each) is not float for each in in_single(wet_share).py_func.__code__.co_consts)
    assert in_single(loads).py_func.__globals__["hull_loads"] is not loads.py_func.__globals__["hull_loads"]
