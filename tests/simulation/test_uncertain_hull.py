"""Factors on what the hull damps, and on what waves do to her: laws of the march's hull loads and of her wave rows."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.simulation import layout as L
from seaload.simulation.model_options import model_factors
from seaload.simulation.sea_table import generic_rows, sea_components
from seaload.simulation.stage import hull_loads
from seaload.simulation.workspace import load_state
from tests.simulation.test_hull_of_the_march import as_march, made_up_hull

SMALL = 1e-3  # [m/s]


def lift_of(march, heave_rate, rise=0.0):
    """Hull lift [N] of one lane at 10 m/s, half a metre in flat water that rises all over with `rise` [m/s]."""
    state = load_state(march, np.float64)
    rigid, wave = state.rigid.reshape(-1, L.LANES), state.wave.reshape(-1, L.LANES)
    rate = state.rate.reshape(-1, L.LANES)
    rigid[L.SPEED], rigid[L.HEAVE], rigid[L.HEAVE_RATE] = 10.0, -0.5, heave_rate
    for i in range(march.hull.shape[0]):
        wave[L.HULL_WAVE_ROWS * i + L.W_RISE] = rise
        rate[L.HULL_WAVE_ROWS * i + L.W_ELEVATION] = rise
    hull_loads(march, state)
    return state.total.reshape(-1, L.LANES)[L.T_HULL_FZ, 0]


def damping(march):
    """Heave damping of the hull [N s/m]."""
    return (lift_of(march, -SMALL) - lift_of(march, SMALL)) / (2.0 * SMALL)


@pytest.mark.parametrize("factor", [0.5, 1.4])
def test_the_hull_damps_by_the_factor_and_water_acts_on_her_as_before(factor):
    march = as_march(made_up_hull(np.random.default_rng(4)))
    plain, at_rest, in_rising = damping(march), lift_of(march, 0.0), lift_of(march, 0.0, rise=0.2)
    march.boat[L.BOAT["hull_damping_more"]] = factor - 1.0
    assert damping(march) == pytest.approx(factor * plain, rel=1e-3) and plain > 1e3
    assert lift_of(march, 0.0) == at_rest and lift_of(march, 0.0, rise=0.2) == in_rising


def test_a_hull_that_rises_with_the_water_feels_nothing_at_the_plain_factor_alone():
    """Only what moves against the water is damped (relative motion)."""
    march = as_march(made_up_hull(np.random.default_rng(4)))
    assert lift_of(march, 0.2, rise=0.2) == pytest.approx(lift_of(march, 0.0), rel=1e-12)
    march.boat[L.BOAT["hull_damping_more"]] = 0.3
    assert lift_of(march, 0.2, rise=0.2) < lift_of(march, 0.0)


def test_the_wave_force_of_the_hull_is_a_factor_and_the_foils_is_not(small_study):
    study = small_study
    foil = study.boat.foils[study.foil_side]
    components = sea_components(study.seas[0], 1, 30, model_factors())
    plain, _, _ = generic_rows(study.boat, foil, components)
    more, _, _ = generic_rows(study.boat, foil, components, 1.2)
    hull = L.HULL_WAVE_ROWS * study.boat.hull.stations
    assert np.allclose(more[:hull], 1.2 * plain[:hull]) and np.allclose(more[hull], 1.2 * plain[hull])
    nodes = L.strip_wave_row(study.boat.hull.stations, 0)
    assert np.array_equal(more[nodes:], plain[nodes:]) and len(more) > nodes == hull + 1


def test_a_hull_factor_leaves_the_components_as_they_are(small_study):
    sea = small_study.seas[0]
    plain, other = (sea_components(sea, 1, 30, {**model_factors(), "hull_wave_factor": f}) for f in (1.0, 1.5))
    assert np.array_equal(plain.amplitude, other.amplitude) and replace(sea, notes=()).hs > 0.0
