"""What the march's own matrices make of its strips, against lattices, steady and unsteady, at every height of water.

Steady: the lattice of `foil/influence` (held to published ones in tests/published) with four times the strips on the
foil's own curve, at the very height of the water. Unsteady: a ring lattice marched in time (tests/oracles).
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from seaload.foil.influence import influence
from seaload.foil.strip_load import surface_factor, wet_share
from seaload.foil.wet_states import answers
from seaload.simulation import layout as L
from seaload.simulation.calm import calm_trim
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.simulation.strip_stage import strip_loads
from seaload.simulation.workspace import load_state
from tests.oracles.unsteady_lattice import heaving_lift
from tests.simulation.still_water import demo_study, varied
from tests.simulation.test_linear_limit import IDLE, foil_alone

PERCENT, FINER = (50, 80, 100), 96


@lru_cache
def trimmed():
    """(march, trim, march arrays with finer strips): lanes at 50, 80, 100 % of the foil out, in turns."""
    study = demo_study()
    boat, foil = study.boat, study.boat.foils[study.foil_side]
    settings = [varied(extension_percent=PERCENT[lane % 3]) for lane in range(L.LANES)]
    model = model_factors({**study.model, "free_surface": "high-froude"})
    march, _, _ = march_arrays(boat, foil, settings, [1.0] * L.LANES, model)
    fine, _, _ = march_arrays(boat, replace(foil, strips=FINER), settings, [1.0] * L.LANES, model)
    return march, calm_trim(march, model, carried_righting(boat, settings)), fine


def foil_loads(march, trim, raised=0.0, rise=0.0):
    """(up [N], moment of the normal loads about the hull exit [N m], strip loads along their normals (n, LANES) [N],
    drag [N]) of the foil, the boat raised by `raised` [m] and rising at `rise` [m/s], wake settled, no section limits.
    """
    strip, boat = march.strip.copy(), march.boat.copy()
    strip[:, [L.S_CL_MAX, L.S_CAV_N0, L.S_CAV_R0]], strip[:, L.S_CL_MIN], boat[L.BOAT["lag"]] = 50.0, -50.0, 0.0
    strip[:, L.S_BUOYANCY] = strip[:, L.S_PROFILE] = 0.0
    march = march._replace(strip=strip, boat=boat)
    state = load_state(march, np.float64)
    rigid = state.rigid.reshape(-1, L.LANES)
    rigid[L.HEAVE], rigid[L.PITCH], rigid[L.SPEED] = trim.heave + raised, trim.pitch, boat[L.BOAT["target_speed"]]
    rigid[L.HEAVE_RATE], rigid[L.SWAY] = rise, trim.leeway * rigid[L.SPEED]
    strip_loads(march, state, 0.0, 0.0, 0.0, 0.0)
    n = march.foil_strips
    normal = state.out.reshape(-1, L.STRIP_OUT_ROWS, L.LANES)[:n, L.O_NORMAL]
    row = strip[:n].transpose(1, 0, 2)
    arm = (row[L.S_Y] - march.edge_y[0]) * row[L.S_NZ] - (row[L.S_Z] - march.edge_z[0]) * row[L.S_NY]
    ahead, side = state.total.reshape(-1, L.LANES)[L.T_FOIL_FX], np.sum(normal * row[L.S_NY], axis=0)
    drag = -(ahead + trim.leeway * side)  # along the course
    return np.sum(normal * row[L.S_NZ], axis=0), np.sum(normal * arm, axis=0), normal, drag


def lattice_loads(fine, trim, lane, angle_of):
    """(up [N], moment about the hull exit [N m], induced drag [N]) of one lane's foil by the finer lattice.

    `angle_of` gives the incidence of its strips [rad] from their rows.
    """
    row, speed = fine.strip[: fine.foil_strips, :, lane], fine.boat[L.BOAT["target_speed"], lane]
    y, z = fine.edge_y[:, lane], fine.edge_z[:, lane]
    surface = -trim.heave[lane] - row[0, L.S_X] * trim.pitch[lane]
    found = influence(y, z, row[:, L.S_CHORD], 2.0 * np.pi, surface)
    lift = found.lift @ angle_of(row, speed)
    force = 0.5 * fine.density * speed**2 * row[:, L.S_CHORD] * row[:, L.S_LENGTH] * found.wet * lift
    arm = (row[:, L.S_Y] - y[0]) * row[:, L.S_NZ] - (row[:, L.S_Z] - z[0]) * row[:, L.S_NY]
    return np.array([np.sum(force * row[:, L.S_NZ]), np.sum(force * arm), np.sum(force * (found.wash @ lift))])


@pytest.mark.parametrize("lane", range(3), ids=[f"{e} % out" for e in PERCENT])
def test_loads_in_calm_water_and_in_heave_are_those_of_a_lattice(lane):
    march, trim, fine = trimmed()
    up, moment, _, drag = (each[..., lane] for each in foil_loads(march, trim))
    rising = foil_loads(march, trim, rise=-0.01)

    def in_calm(row, speed):
        turned = trim.pitch[lane] * row[:, L.S_NZ] - trim.leeway[lane] * row[:, L.S_NY]
        return row[:, L.S_INCIDENCE] - row[:, L.S_ZERO_LIFT] + turned

    calm = lattice_loads(fine, trim, lane, in_calm)
    heave = lattice_loads(fine, trim, lane, lambda row, speed: 0.01 / speed * row[:, L.S_NZ])
    assert np.array([up, moment, drag]) == pytest.approx(calm, rel=0.03)
    assert np.array([rising[0][lane] - up, rising[1][lane] - moment]) == pytest.approx(heave[:2], rel=0.03)


def test_no_load_jumps_when_the_water_crosses_the_edge_of_a_strip():
    """Raised by a millimetre a time over the whole foil, no load changes by 1 % of the greatest."""
    march, trim, _ = trimmed()
    found = [np.stack(foil_loads(march, trim, raised)[:2])[:, :3] for raised in np.arange(-0.4, 1.6, 1e-3)]
    found = np.array(found)
    assert np.all(np.abs(np.diff(found, axis=0)).max(axis=0) < 0.01 * np.abs(found).max(axis=0))


def test_no_wet_state_has_negative_damping():
    """Power that a slow motion of the strips gives the water, least of all motions: never below nothing, but for a
    thousandth of the greatest that strips just awash have by their smooth wetting.
    """
    march, _, _ = trimmed()
    for lane in range(3):
        row = march.strip[: march.foil_strips, :, lane]
        first, per, top = march.span_level[:3, lane]
        for number in np.linspace(0.0, top, 57):
            level = first + number / per
            lower = min(int(number), int(top) - 1)
            lift = (1.0 - (number - lower)) * march.span_states[lower, ::2, :, lane]
            lift = lift + (number - lower) * march.span_states[lower + 1, ::2, :, lane]
            depth = level - row[:, L.S_Z]
            near = np.array([surface_factor(*each) for each in zip(depth, row[:, L.S_CHORD], strict=True)])
            wet = np.array([wet_share(*each) for each in zip(depth, row[:, L.S_HALF_WIDTH], strict=True)])
            power = (wet * near * row[:, L.S_CHORD] * row[:, L.S_LENGTH])[:, None] * lift
            least, most = np.linalg.eigvalsh(0.5 * (power + power.T))[[0, -1]]
            assert least > -2e-3 * most, (lane, number)
            for motion in (row[:, L.S_NZ], row[:, L.S_NY], row[:, L.S_SHAPE], *np.eye(len(row))):
                assert motion @ power @ motion >= 0.0


ASPECT, SPEED = 8.0, 10.0


@lru_cache
def straight_wing():
    """March arrays with a level wing of `ASPECT`, deep, instead of the foil and without the rest."""
    march, _ = foil_alone()
    march = march._replace(strip=march.strip.copy(), boat=march.boat.copy(), span_states=march.span_states.copy())
    n, chord = march.foil_strips, 0.5
    march.strip[n:, L.S_LENGTH] = 0.0
    edge = np.linspace(-0.5, 0.5, n + 1) * ASPECT * chord
    for row, value in ((L.S_CHORD, chord), (L.S_LENGTH, ASPECT * chord / n), (L.S_NY, 0.0), (L.S_NZ, 1.0), (L.S_X, 0.0),
                       (L.S_Z, -50.0), (L.S_SLOPE, 2.0 * np.pi), (L.S_WAKE, 1.0 / ASPECT), (L.S_PROFILE, 0.0),
                       (L.S_ADDED, march.density * np.pi * chord**2 / 4.0), (L.S_SHAPE, 0.0)):  # fmt: skip
        march.strip[:n, row] = value
    found = influence(edge, 0.0 * edge, np.full(n, chord))
    march.span_states[:] = answers(found.lift / (2.0 * np.pi), found.wash @ found.lift)[:, :, None]
    for name in (*IDLE, "lag"):
        march.boat[L.BOAT[name]] = 1.0 if name in ("lag", "fast_added_mass") else 0.0
    return march, chord


def marched_heave(march, chord, frequency, step):
    """Complex lift slope [1/rad] of the whole wing per v/U of a heave of `frequency` omega c/(2 U)."""
    omega = 2.0 * frequency * SPEED / chord
    state = load_state(march, np.float64)
    rigid, total = state.rigid.reshape(-1, L.LANES), state.total.reshape(-1, L.LANES)
    rigid[L.SPEED] = SPEED
    wave = state.wave.reshape(-1, L.LANES)
    wave[L.strip_wave_row(march.hull.shape[0], 0) :: L.STRIP_WAVE_ROWS] = 50.0
    per_cycle = int(np.ceil(2.0 * np.pi / omega / step))
    step, size, found = 2.0 * np.pi / omega / per_cycle, 0.01, []

    def stage(time, weight, ahead, last, since):
        state.total[:] = 0.0
        rigid[L.HEAVE_RATE] = -size * np.cos(omega * time)
        strip_loads(march, state, weight, ahead, last, since)

    for number in range(8 * per_cycle):
        t = number * step
        state.lags_before[:], state.lag_sums[:] = state.lags, 0.0
        stage(t, step / 6.0, 0.5 * step, 0.0, 0.0)
        found.append(total[L.T_FZ, 0] - total[L.T_A33, 0] * size * omega * np.sin(omega * t))
        stage(t + 0.5 * step, step / 3.0, 0.5 * step, 0.0, 0.5 * step)
        stage(t + 0.5 * step, step / 3.0, step, 0.0, 0.5 * step)
        stage(t + step, step / 6.0, step, 1.0, step)
    t = step * np.arange(7 * per_cycle, 8 * per_cycle)
    force = 2.0 * np.mean(np.array(found[7 * per_cycle :]) * np.exp(-1j * omega * t))
    return force / (0.5 * march.density * SPEED * size * chord**2 * ASPECT)


@pytest.mark.parametrize("frequency", [0.1, 0.3, 0.6])
def test_lift_in_heave_is_that_of_an_unsteady_lattice(frequency):
    """Five per cent and five degrees, by the march's own stages, twenty-five while the stream passes a chord."""
    march, chord = straight_wing()
    ours, lattice = marched_heave(march, chord, frequency, 0.002), heaving_lift(ASPECT, frequency)[0]
    assert abs(ours) == pytest.approx(abs(lattice), rel=0.05)
    assert abs(np.degrees(np.angle(ours / lattice))) < 5.0
