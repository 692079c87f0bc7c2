"""A plain hull in regular head waves: heave and pitch at constant speed, by seaload's section formula.

Small harness for published model tests; classical Runge-Kutta of fourth order. The march of the whole boat
adds roll, surge, foil and keel; heave and pitch of the bare hull are the same equations.
"""

from typing import NamedTuple

import numpy as np
from scipy.optimize import fsolve

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.boat.hull_section import hull_section_load

GRAVITY = 9.80665


class ModelHull(NamedTuple):
    """Stations (n,) as in `HullStations`, x from the centre of gravity, and what carries them. SI."""

    xi: np.ndarray
    dx: np.ndarray
    keel_rise: np.ndarray
    keel_slope: np.ndarray
    half_beam: np.ndarray
    inverse_chine_height: np.ndarray
    relief: np.ndarray
    relief_slope: np.ndarray
    radiation_factor: np.ndarray
    fullness: float
    pile_up: float
    added_mass_factor: float
    drag_factor: float
    buoyancy_factor: float
    density: float
    mass: float
    inertia: float
    speed: float


@compiled
def hull_forces(hull, heave, pitch, heave_rate, pitch_rate, amplitude, wave_number, omega, time):
    """Upward force and bow-up moment without body accelerations, and a33, a35, a55."""
    speed = hull.speed
    encounter = omega + wave_number * speed
    force, moment, a33, a35, a55 = 0.0, 0.0, 0.0, 0.0, 0.0
    stern, stern_next = 0.0, 0.0
    for i in range(hull.xi.size):
        xi = hull.xi[i]
        phase = -wave_number * xi - encounter * time
        c, s = np.cos(phase), np.sin(phase)
        h = amplitude * c - (heave + xi * pitch + hull.keel_rise[i])
        decay = amplitude * np.exp(-0.5 * wave_number * max(h, 0.0)) * omega
        rise = decay * s - heave_rate - xi * pitch_rate
        entry = speed * (pitch + hull.keel_slope[i]) + rise
        load, dynamic, added = hull_section_load(
            h,
            amplitude * encounter * s - heave_rate - xi * pitch_rate,
            entry,
            speed * pitch_rate - decay * encounter * c,
            rise,
            -decay * omega * c,
            hull.inverse_chine_height[i],
            hull.half_beam[i],
            hull.fullness,
            hull.pile_up,
            hull.added_mass_factor,
            hull.drag_factor,
            hull.buoyancy_factor,
            hull.density,
            hull.radiation_factor[i],
        )
        dx, tau = hull.dx[i], hull.relief[i]
        swept = added * entry * speed * dx
        here = load + (tau - 1.0) * dynamic
        force += here * dx + swept * hull.relief_slope[i]
        moment += xi * here * dx + swept * (tau + xi * hull.relief_slope[i])
        a33 += tau * added * dx
        a35 += tau * added * dx * xi
        a55 += tau * added * dx * xi * xi
        stern = added * entry if i == 0 else stern
        stern_next = added * entry if i == 1 else stern_next
    edge = hull.xi[0] - 0.5 * hull.dx[0]
    # where pressure is not relieved, momentum leaves over the transom edge
    whole = 1.0 if hull.relief[0] > 0.999 else 0.0
    leaving = whole * speed * (1.5 * stern - 0.5 * stern_next)
    return force + leaving, moment + edge * leaving, a33, a35, a55


@compiled_with_arrays
def _rates(hull, state, amplitude, wave_number, omega, time):
    force, moment, a33, a35, a55 = hull_forces(
        hull, state[0], state[1], state[2], state[3], amplitude, wave_number, omega, time
    )
    m, j = hull.mass + a33, hull.inertia + a55
    weight = hull.mass * GRAVITY
    determinant = m * j - a35 * a35
    lift = force - weight
    return np.array(
        [state[2], state[3], (j * lift - a35 * moment) / determinant, (m * moment - a35 * lift) / determinant]
    )


@compiled_with_arrays
def march(hull, start, amplitude, wave_number, omega, dt, steps, ramp):
    """States and accelerations (steps, 6): heave, pitch, their rates and accelerations."""
    out = np.empty((steps, 6))
    state = start.copy()
    for n in range(steps):
        t = n * dt
        growth = min(1.0, t / ramp)
        growth = growth * growth * (3.0 - 2.0 * growth) * amplitude
        k1 = _rates(hull, state, growth, wave_number, omega, t)
        k2 = _rates(hull, state + 0.5 * dt * k1, growth, wave_number, omega, t + 0.5 * dt)
        k3 = _rates(hull, state + 0.5 * dt * k2, growth, wave_number, omega, t + 0.5 * dt)
        k4 = _rates(hull, state + dt * k3, growth, wave_number, omega, t + dt)
        out[n, 0:4] = state
        out[n, 4:6] = k1[2:4]
        state = state + dt / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
    return out


def calm_state(hull, heave, pitch):
    """Heave and pitch (2,) of steady running in calm water, from a first guess."""

    def unbalance(state):
        force, moment, *_ = hull_forces(hull, state[0], state[1], 0.0, 0.0, 0.0, 1.0, 1.0, 0.0)
        weight = hull.mass * GRAVITY
        return [force / weight - 1.0, moment / weight / (hull.dx.sum())]

    found, _, flag, message = fsolve(unbalance, [heave, pitch], full_output=True)
    assert flag == 1, message
    return found


class Response(NamedTuple):
    heave: float  # [m] half of double amplitude
    pitch: float  # [rad]
    heave_harmonic: complex  # [m] first harmonic, phase against the crest at the centre of gravity
    pitch_harmonic: complex
    cg_peak: float  # [m/s2] mean upward peak
    bow_peak: float


def respond(
    hull, calm, amplitude, wave_number, omega, *, bow_xi=0.0, periods=12, skip=10, steps_a_period=400
):
    """Steady `Response` to a regular head wave; `skip` encounter periods thrown away after a ramp."""
    encounter = omega + wave_number * hull.speed
    period = 2.0 * np.pi / encounter
    dt = period / steps_a_period
    steps = steps_a_period * (periods + skip)
    start = np.array([calm[0], calm[1], 0.0, 0.0])
    out = march(hull, start, amplitude, wave_number, omega, dt, steps, 4.0 * period)
    kept = out[steps_a_period * skip :].reshape(periods, steps_a_period, 6)
    double = (kept.max(axis=1) - kept.min(axis=1)).mean(axis=0)
    time = np.arange(steps_a_period * skip, steps) * dt
    turning = np.exp(1j * encounter * time) * 2.0 / time.size  # x = Re(X exp(-i omega_e t))
    flat = kept.reshape(-1, 6)
    bow = kept[:, :, 4] + bow_xi * kept[:, :, 5]
    return Response(
        0.5 * double[0],
        0.5 * double[1],
        complex((flat[:, 0] * turning).sum()),
        complex((flat[:, 1] * turning).sum()),
        kept[:, :, 4].max(axis=1).mean(),
        bow.max(axis=1).mean(),
    )
