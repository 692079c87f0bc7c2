"""Factors on what the hull damps, and on what waves do to her: laws of the march's hull loads and of her wave rows."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.boat.felt_waves import felt
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
def test_the_hull_damps_by_the_factor_whether_she_or_the_water_moves(factor):
    march = as_march(made_up_hull(np.random.default_rng(4)))
    plain, at_rest = damping(march), lift_of(march, 0.0)
    march.boat[L.BOAT["hull_damping_more"]] = factor - 1.0
    assert damping(march) == pytest.approx(factor * plain, rel=1e-3) and plain > 1e3
    assert lift_of(march, 0.0) == at_rest
    for motion in (-0.3, 0.3):  # the same motion against the water, whoever makes it
        assert lift_of(march, 0.0, rise=-motion) == pytest.approx(lift_of(march, motion), rel=1e-12)


@pytest.mark.parametrize("factor", [0.7, 1.0, 1.3])
def test_a_hull_that_rises_with_the_water_feels_nothing_at_any_factor(factor):
    """Only what moves against the water is damped (relative motion): long waves carry her as they are."""
    march = as_march(made_up_hull(np.random.default_rng(4)))
    march.boat[L.BOAT["hull_damping_more"]] = factor - 1.0
    assert lift_of(march, 0.2, rise=0.2) == pytest.approx(lift_of(march, 0.0), rel=1e-12)


def test_the_wave_force_of_the_hull_is_a_factor_in_short_waves_and_none_in_long_ones(small_study):
    """And the foil's is none in any."""
    study = small_study
    foil = study.boat.foils[study.foil_side]
    components = sea_components(study.seas[0], 1, 30, model_factors())
    plain, _, _ = generic_rows(study.boat, foil, components)
    more, _, _ = generic_rows(study.boat, foil, components, 1.2)
    hull = L.HULL_WAVE_ROWS * study.boat.hull.stations
    expected = np.tile(felt(components.wavenumber, study.boat.hull.length, 1.2), 2)
    assert np.allclose(more[: hull + 1], expected * plain[: hull + 1])
    nodes = L.strip_wave_row(study.boat.hull.stations, 0)
    assert np.array_equal(more[nodes:], plain[nodes:]) and len(more) > nodes == hull + 1
    long, short = 2.0 * np.pi / (np.array([100.0, 0.5]) * study.boat.hull.length)
    assert felt(long, study.boat.hull.length, 1.2) == pytest.approx(1.0, abs=5e-4)
    assert felt(short, study.boat.hull.length, 1.2) == pytest.approx(1.2, abs=5e-3)
    assert felt(2.0 * np.pi / 4.0, 1.0, 1.2) == pytest.approx(1.1)  # waves of four lengths: half of it
    assert np.array_equal(felt(components.wavenumber, study.boat.hull.length, 1.0), np.ones(len(components.omega)))


def test_a_hull_factor_leaves_the_components_as_they_are(small_study):
    sea = small_study.seas[0]
    plain, other = (sea_components(sea, 1, 30, {**model_factors(), "hull_wave_factor": f}) for f in (1.0, 1.5))
    assert np.array_equal(plain.amplitude, other.amplitude) and replace(sea, notes=()).hs > 0.0
