"""The chain from wave flow to bending moment in the limit where theory has an answer: small flow, boat held.

The foil's strips are driven by a prescribed flow through the march's own kernels (lag states, strip loads, edge
moments), without added mass, limits or weight, no strip feeling another. Then the load is that of thin-aerofoil
theory: Sears' function for a sinusoidal gust (Theodorsen 1935 and Sears 1941; formula from memory, exact Bessel
functions from scipy), so the moment's transfer function is known, and with it the variance in a random flow. The two-
term lag states stand for Kuessner's function to about 5 % (tests/published), which is the bound here.
"""

import itertools
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from scipy.special import hankel2, jv

from seaload.simulation import layout as L
from seaload.simulation.calm import calm_trim
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import march_arrays
from seaload.simulation.sampling import edge_moments
from seaload.simulation.sea_table import sea_components
from seaload.simulation.strip_stage import strip_loads
from seaload.simulation.workspace import load_state
from seaload.waves.encounter import mean_encounter_frequency
from tests.simulation.still_water import demo_study, still_water_records

STEP, CYCLES = 0.01, 8
IDLE = ("fast_added_mass", "memory_on", "mode_on", "leeway")
DEEP = 100.0  # [m] no surface near


def sears(k):
    """Lift of a sinusoidal gust over its quasi-steady value, at the middle of the chord; k = omega b / U."""
    c = hankel2(1, k) / (hankel2(1, k) + 1j * hankel2(0, k))
    return c * (jv(0, k) - 1j * jv(1, k)) + 1j * jv(1, k)


def unfelt(march):
    """Have no strip of a `march` feel another: its section is alone in the stream, as theory has it."""
    for matrices in (march.span_states, march.keel_span, march.rudder_span):
        matrices[...] = 0.0
        matrices[..., 0::2, :, :] = np.eye(matrices.shape[-2])[:, :, None]


@lru_cache
def foil_alone(speed_factor=1.0):
    """(March of the demonstration foil fully out, lag states on, nothing else), at a speed."""
    study = demo_study()
    boat, foil = study.boat, study.boat.foils[study.foil_side]
    setting = replace(study.settings[0], extension=1.0)
    model = model_factors(study.model)
    components = sea_components(study.seas[0], 1, 30, model)
    lanes = [setting] * L.LANES
    encounters = [mean_encounter_frequency(components, setting.speed)] * L.LANES
    march, _, _ = march_arrays(boat, foil, lanes, encounters, model)
    calm_trim(march, model)
    for name in IDLE:
        march.boat[L.BOAT[name]] = 0.0
    for row, value in ((L.S_CL_MAX, 50.0), (L.S_CL_MIN, -50.0), (L.S_CAV_N0, 50.0), (L.S_CAV_R0, 50.0),
                       (L.S_MASS, 0.0), (L.S_BUOYANCY, 0.0), (L.S_STEADY, 0.0), (L.S_ZERO_LIFT, 0.0),
                       (L.S_INCIDENCE, 0.0), (L.S_WAKE, 0.0)):  # fmt: skip
        march.strip[:, row] = value
    unfelt(march)
    return march, setting.speed * speed_factor


def moment_history(flow, speed, march, *, lag=1.0, pitch=0.0):
    """Moment at the root edge [N m] at every step, for `flow(t)` [m/s] normal to every strip."""
    march.boat[L.BOAT["lag"]] = lag
    state = load_state(march, np.float64)
    rigid, wave = state.rigid.reshape(-1, L.LANES), state.wave.reshape(-1, L.LANES)
    rigid[L.SPEED], rigid[L.PITCH] = speed, pitch
    first = L.strip_wave_row(march.hull.shape[0], 0)
    base = first + L.STRIP_WAVE_ROWS * np.arange(march.strip.shape[0])
    wave[base] = DEEP
    moment, sums = np.zeros((march.foil_strips + 1, L.LANES)), np.zeros((7, L.LANES))
    span = np.zeros((L.SPAN_ROWS * (march.foil_strips + 1), L.LANES))

    def stage(time, weight, ahead, last, since):
        state.total[:] = 0.0
        wave[base + 1] = flow(time)
        strip_loads(march, state, weight, ahead, last, since)

    for step in itertools.count():
        t = step * STEP
        state.lags_before[:], state.lag_sums[:] = state.lags, 0.0
        stage(t, STEP / 6.0, 0.5 * STEP, 0.0, 0.0)
        edge_moments(march, state, moment, sums, span)
        yield moment[0, 0]
        stage(t + 0.5 * STEP, STEP / 3.0, 0.5 * STEP, 0.0, 0.5 * STEP)
        stage(t + 0.5 * STEP, STEP / 3.0, STEP, 0.0, 0.5 * STEP)
        stage(t + STEP, STEP / 6.0, STEP, 1.0, STEP)


def taken(history, count):
    return np.array([next(history) for _ in range(count)])


def transfer(march, speed, omega):
    """|moment| per m/s of flow by strip theory and Sears' function [N s]."""
    strip = march.strip[: march.foil_strips, :, 0]
    chord, length = strip[:, L.S_CHORD], strip[:, L.S_LENGTH]
    lift = 0.5 * march.density * speed * chord * length * strip[:, L.S_SLOPE] * sears(0.5 * omega * chord / speed)
    arm = (strip[:, L.S_Y] - march.edge_y[0, 0]) * strip[:, L.S_NZ] - (strip[:, L.S_Z] - march.edge_z[0, 0]) * strip[
        :, L.S_NY
    ]
    return abs(np.sum(lift * arm))


@pytest.mark.parametrize("omega", [1.5, 4.0, 8.0])
def test_moment_in_a_sinusoidal_flow_is_that_of_sears_function(omega):
    march, speed = foil_alone()
    flow = 0.05
    count = int(round(CYCLES * 2.0 * np.pi / omega / STEP))
    history = taken(moment_history(lambda t: flow * np.cos(omega * t), speed, march), 2 * count)[count:]
    t = STEP * np.arange(count, 2 * count)
    amplitude = 2.0 * abs(np.mean(history * np.exp(-1j * omega * t)))
    assert amplitude == pytest.approx(flow * transfer(march, speed, omega), rel=0.06)


def test_variance_in_a_random_flow_is_transfer_squared_times_spectrum():
    """Twelve components of random phase over a common period: variance is the sum of |H|^2 a^2 / 2."""
    march, speed = foil_alone()
    draw = np.random.default_rng(3)
    period = 20.0
    omega = 2.0 * np.pi / period * np.arange(3, 27, 2)
    size, phase = draw.uniform(0.005, 0.02, omega.size), draw.uniform(0.0, 2.0 * np.pi, omega.size)
    count = int(round(period / STEP))
    flow = lambda t: float(np.sum(size * np.cos(omega * t + phase)))  # noqa: E731
    history = taken(moment_history(flow, speed, march), 2 * count)[count:]
    expected = sum(0.5 * (a * transfer(march, speed, w)) ** 2 for a, w in zip(size, omega, strict=True))
    assert np.var(history) == pytest.approx(expected, rel=0.1)


def test_response_is_linear_in_small_flow():
    march, speed = foil_alone()
    one, two = (taken(moment_history(lambda t, a=a: a * np.sin(3.0 * t), speed, march), 300) for a in (0.01, 0.02))
    assert np.allclose(two, 2.0 * one, rtol=1e-3, atol=1e-3 * np.max(np.abs(one)))


def test_load_of_a_deep_fixed_foil_goes_as_the_square_of_speed():
    """Quasi-steady, at a fixed angle to the flow: lift is half rho V^2 S C_L (any text on aerodynamics)."""
    march, speed = foil_alone()
    still = lambda t: 0.0  # noqa: E731
    slow, fast = (taken(moment_history(still, v, march, lag=0.0, pitch=0.03), 2)[-1] for v in (speed, 2.0 * speed))
    assert abs(slow) > 1e3
    assert fast == pytest.approx(4.0 * slow, rel=1e-9)


def test_no_waves_no_wear_no_reversal():
    """Waves of micrometres: loads stand still at their calm value, nothing is counted."""
    (record,) = still_water_records([demo_study().settings[0]], seconds=40.0)
    assert record.events_half == record.events_full == record.normal_events == 0
    assert np.all(record.damage < 1e-12) and np.all(record.grid_damage < 1e-12)
    assert np.all(record.moment_max - record.moment_min < 1e-3 * np.max(np.abs(record.moment_mean)))
