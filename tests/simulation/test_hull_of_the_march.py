"""The hull loads of the march are those of the small harness that the published model tests run.

tests/published holds Fridsma 1969, Zarnick 1978 and Journee 1992 against `hull_in_waves`; here the compiled station
loop of the march is given the same stations, the same motion and the same wave, and must give the same force, moment
and added mass. So the published rows hold for the march's hull too.
"""


import numpy as np
import pytest

from seaload.simulation import layout as L
from seaload.simulation.stage import hull_loads
from seaload.simulation.workspace import load_state
from tests.boat.hull_in_waves import GRAVITY, ModelHull, hull_forces

STATIONS, DENSITY = 32, 1025.0


def made_up_hull(draw):
    """A hull of random stations and coefficients; relieved at the transom, as the demonstration boat's is."""
    dx = np.full(STATIONS, 0.5)
    xi = (np.arange(STATIONS) - 12.0) * 0.5
    return ModelHull(
        xi, dx, draw.uniform(-0.1, 0.3, STATIONS), draw.uniform(-0.05, 0.2, STATIONS), draw.uniform(0.3, 1.2, STATIONS),
        draw.uniform(1.0, 4.0, STATIONS), np.clip((xi - xi[0]) / 2.0, 0.0, 1.0), draw.uniform(0.0, 0.5, STATIONS),
        draw.uniform(0.0, 800.0, STATIONS), 0.4, 1.2, 0.85 * DENSITY * 0.5 * np.pi, 0.6 * DENSITY,
        0.8 * DENSITY * GRAVITY, DENSITY, 8000.0, 9.0e4, draw.uniform(5.0, 14.0),
    )  # fmt: skip


def as_march(hull):
    """`March` with the same stations in every lane and one idle strip."""
    boat = np.zeros((len(L.BOAT_ROWS), L.LANES))
    for name in ("pile_up", "added_mass_factor", "drag_factor", "buoyancy_factor", "fullness"):
        boat[L.BOAT[name]] = getattr(hull, name)
    rows = np.zeros((STATIONS, L.HULL_ROWS, L.LANES))
    for row, name in (
        (L.H_X, "xi"), (L.H_DX, "dx"), (L.H_Z, "keel_rise"), (L.H_SLOPE, "keel_slope"), (L.H_BEAM, "half_beam"),
        (L.H_INVERSE_CHINE, "inverse_chine_height"), (L.H_RELIEF, "relief"), (L.H_RELIEF_SLOPE, "relief_slope"),
        (L.H_RADIATION, "radiation_factor"),
    ):  # fmt: skip
        rows[:, row] = getattr(hull, name)[:, None]
    strip, edge = np.zeros((1, L.STRIP_ROWS, L.LANES)), np.zeros((2, L.LANES))
    none = np.zeros((2, 2, 1, L.LANES)), np.zeros((4, L.LANES)), np.zeros((2, 1, L.LANES)), np.zeros((2, 1, L.LANES))
    return L.March(boat, rows, strip, 1, edge, edge, edge, edge, *none, 4.5, hull.density, GRAVITY, 9.9e4)


def by_march(hull, motion, amplitude, wave_number, omega, time):
    """Force, moment, a33, a35, a55 of the march's station loop."""
    march = as_march(hull)
    state = load_state(march, np.float64)
    rigid, wave, rate = (each.reshape(-1, L.LANES) for each in (state.rigid, state.wave, state.rate))
    heave, pitch, heave_rate, pitch_rate = motion
    for row, value in ((L.HEAVE, heave), (L.PITCH, pitch), (L.HEAVE_RATE, heave_rate), (L.PITCH_RATE, pitch_rate),
                       (L.SPEED, hull.speed)):  # fmt: skip
        rigid[row] = value
    encounter = omega + wave_number * hull.speed
    for i, xi in enumerate(hull.xi):
        phase = -wave_number * xi - encounter * time
        under = amplitude * np.cos(phase) - (heave + xi * pitch + hull.keel_rise[i])
        decay = amplitude * np.exp(-0.5 * wave_number * max(under, 0.0)) * omega
        base = L.HULL_WAVE_ROWS * i
        wave[base + L.W_ELEVATION] = amplitude * np.cos(phase)
        wave[base + L.W_RISE] = decay * np.sin(phase)
        wave[base + L.W_ACCELERATION] = -decay * omega * np.cos(phase)
        rate[base + L.W_ELEVATION] = amplitude * encounter * np.sin(phase)
        rate[base + L.W_RISE] = -decay * encounter * np.cos(phase)
    hull_loads(march, state)
    total = state.total.reshape(-1, L.LANES)
    assert np.ptp(total[L.T_HULL_FZ]) == 0.0
    return total[[L.T_HULL_FZ, L.T_MPITCH, L.T_A33, L.T_A35, L.T_A55], 0]


@pytest.mark.parametrize("seed", range(40))
def test_march_and_harness_load_the_same_hull_alike(seed):
    draw = np.random.default_rng(seed)
    hull = made_up_hull(draw)
    for _ in range(10):
        motion = draw.normal(0.0, (0.4, 0.05, 1.0, 0.2))
        sea = draw.uniform(0.0, 1.0), draw.uniform(0.05, 0.6), draw.uniform(0.5, 2.5), draw.uniform(0.0, 20.0)
        found, expected = by_march(hull, motion, *sea), np.array(hull_forces(hull, *motion, *sea))
        scale = np.array([1e4, 1e5, 1e3, 1e4, 1e5])
        assert np.all(np.abs(found - expected) <= 1e-9 * np.maximum(np.abs(expected), scale)), found / expected
