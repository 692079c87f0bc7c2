"""Roll decay in still water on the march, against the damped oscillator of one freedom.

Looked at twice, as she is and with the moment of inertia raised until she swings for long. Heave, pitch and surge
are held by great inertia. Stiffness and damping are the kernel's own small changes of roll acceleration (the strips'
part of the damping has its closed form in test_fin_damping), the answer is the textbook solution of
phi'' + b phi' + a phi = 0: its course, and its period.
"""

from dataclasses import replace

import numpy as np
import pytest

from seaload.simulation import layout as L
from seaload.simulation.block import _Run, count_rules, start_from_calm
from seaload.simulation.calm import calm_trim
from seaload.simulation.model_options import model_factors
from seaload.simulation.motion import accelerations
from seaload.simulation.prepare import carried_righting, lane_sides, march_arrays
from seaload.simulation.sampling import R_ROLL
from seaload.simulation.sea_table import sea_components, wave_table
from seaload.simulation.stage import loads
from seaload.simulation.wave_weights import clock_of
from seaload.simulation.workspace import in_numbers_of, load_state
from seaload.waves.encounter import mean_encounter_frequency
from tests.simulation.still_water import STILL, demo_study, varied

ROLL_AT_START, SECONDS, SMALL = 0.01, 16.0, 1e-5


def held_boat(inertia_factor):
    """(study, march, reading, geometries, trim): roll alone is free, no wake memory, no bending, nobody steers heel."""
    study = demo_study()
    boat, foil = study.boat, study.boat.foils[study.foil_side]
    settings = [varied(extension_percent=60, speed_knots=12)] * L.LANES
    model = model_factors({**study.model, **STILL, "roll_inertia_factor": inertia_factor})
    components = sea_components(study.seas[0], 1, 30, model)
    encounters = [mean_encounter_frequency(components, settings[0].speed)] * L.LANES
    march, reading, geometries = march_arrays(boat, foil, settings, encounters, model)
    trim = calm_trim(march, model, carried_righting(boat, settings))
    for name, value in (("mass", 1e12), ("pitch_inertia", 1e13), ("surge_free", 0.0), ("lag", 0.0), ("mode_on", 0.0),
                        ("heel_hold_rate", 0.0), ("rig_roll_damping", 0.0), ("sway_free", 0.0),
                        ("yaw_free", 0.0)):  # fmt: skip
        march.boat[L.BOAT[name]] = value
    return study, march, reading, geometries, trim, model


def roll_acceleration(march, trim, roll, roll_rate):
    """Roll acceleration [rad/s2] of one lane in still water at the calm trim."""
    state = load_state(march, np.float64)
    rigid = state.rigid.reshape(-1, L.LANES)
    rigid[L.HEAVE], rigid[L.PITCH], rigid[L.SPEED] = trim.heave, trim.pitch, march.boat[L.BOAT["target_speed"]]
    rigid[L.SWAY] = trim.leeway * rigid[L.SPEED]
    rigid[L.ROLL], rigid[L.ROLL_RATE] = roll, roll_rate
    loads(march, state, 0.0, 0.0, 0.0)
    accelerations(march.boat.reshape(-1), state.rigid, np.zeros(L.LANES), np.ones(L.LANES), march.density, state.total)
    return state.total.reshape(-1, L.LANES)[L.T_ACC_ROLL, 0]


def marched_roll(study, march, reading, geometries, trim, model):
    """Roll [rad] at every step from a small angle at rest."""
    foil = study.boat.foils[study.foil_side]
    sampling = replace(study.sampling, run_in=0.0, realisation_time=SECONDS, components=30)
    table = wave_table(
        study.boat, foil, study.seas[0], [0] * L.LANES, march,
        lane_sides(study.boat, [varied(extension_percent=60, speed_knots=12)] * L.LANES),
        seed=1, count=30, model=model,
    )
    single = in_numbers_of(np.float32, march)
    work = start_from_calm(march, single, table, trim, sampling.step)
    work.state[L.ROLL] = ROLL_AT_START
    rules = count_rules(study.boat, foil, geometries, sampling, march.boat[L.BOAT["target_speed"]])
    sea = sea_components(study.seas[0], 1, 30, model)
    clock = clock_of(sea, march.boat[L.BOAT["target_speed"]], sampling.step, 4, 10.0)
    run = _Run(march, single, reading, table, clock, work, rules, trim, sampling, None, None, 1)
    parts = []
    for first in range(0, run.steps, 50):
        run.go_on(first, 50)
        parts.append(run.buffer[reading.channels + R_ROLL, :50, 0].copy())
    return sampling.step, np.concatenate(parts).astype(float)


@pytest.mark.parametrize("inertia_factor", [1.0, 20.0])
def test_roll_decays_as_the_damped_oscillator_of_its_stiffness_and_damping(inertia_factor):
    study, march, reading, geometries, trim, model = held_boat(inertia_factor)
    at = lambda roll, rate: roll_acceleration(march, trim, roll, rate)  # noqa: E731
    stiffness = -(at(SMALL, 0.0) - at(-SMALL, 0.0)) / (2.0 * SMALL)
    damping = -(at(0.0, SMALL) - at(0.0, -SMALL)) / (2.0 * SMALL)
    assert stiffness > 0.0 and damping > 0.0
    step, found = marched_roll(study, march, reading, geometries, trim, model)
    roots = np.roots([1.0, damping, stiffness]).astype(complex)
    assert abs(roots[0].imag) > 0.0
    time = step * np.arange(found.size)
    weight = np.linalg.solve(np.array([[1.0, 1.0], roots]), np.array([ROLL_AT_START, 0.0]))
    expected = np.real(weight[0] * np.exp(roots[0] * time) + weight[1] * np.exp(roots[1] * time))
    assert np.max(np.abs(found - expected)) < 0.05 * ROLL_AT_START
    crossings = time[1:][np.diff(np.sign(found)) != 0]  # half a period apart
    assert np.diff(crossings)[0] == pytest.approx(np.pi / abs(roots[0].imag), rel=0.06)
