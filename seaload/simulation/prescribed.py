"""A written motion in flat water: the strips of the march, led through a history of heel, leeway, speed, height and
pitch instead of the boat's own equations of motion.

Strip loads, wake, flow memory, wetting and bending mode are the march's own, in its own steps. Three things differ. The
strips are turned exactly, at any heel. Their inertia is that of the written accelerations, turning about the centre of
gravity left out as in the march. And what the surface's steady waves leave of the lift follows the
motion, with the time U/g that such waves live in (choice of this project, no source), for here the mean itself moves.

A foil on the windward side is the same foil under the mirrored motion.
"""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from seaload.boat.written_motion import joined
from seaload.foil.free_surface import steady_gain
from seaload.foil.lag_states import WAGNER_A1, WAGNER_A2
from seaload.simulation import layout as L
from seaload.simulation.layout import LANES
from seaload.simulation.march import (
    clear_totals_in_single,
    edge_moments_in_single,
    foresee_mode,
    remember_flow_in_single,
    sample_boat_in_single,
    sample_loads_in_single,
    settle_mode,
    strip_loads_in_single,
)
from seaload.simulation.prepare import lane_centre, march_arrays
from seaload.simulation.sampling import BOAT_SAMPLES
from seaload.simulation.turned_strips import span_table, turn_edges, turn_strips, upright_foil
from seaload.simulation.workspace import in_numbers_of, load_state

LEAD = 3.0  # [s] that a motion is held at its first row before it begins, for wake, mode and flow to settle
ANY_ENCOUNTER = 1.0  # [rad/s] the hull's damping by waves is no part of it
STEADY_EVERY = 5  # steps after which the steady waves follow, a tenth of the time they live
ASKED_EVERY = 200  # steps after which it is asked whether to stop
PARTS = ((0, 1.0 / 6.0, 0.5), (1, 1.0 / 3.0, 0.5), (1, 1.0 / 3.0, 1.0), (2, 1.0 / 6.0, 1.0))  # of a Runge-Kutta step:
# half steps from its start, share of the rates, steps ahead


class History(NamedTuple):
    """Motion of every lane at every half step: value, rate, acceleration, each (3, half steps, LANES)."""

    heel: np.ndarray  # [rad] towards the side of the foil +
    leeway: np.ndarray  # [rad]
    speed: np.ndarray  # [m/s]
    heave: np.ndarray  # [m] of the centre of gravity above the water
    pitch: np.ndarray  # [rad]


class Bench(NamedTuple):
    """A foil ready to be led through motions."""

    march: L.March  # arrays in single precision, written to while it is led
    reading: L.Reading  # in single precision
    upright: object  # UprightFoil
    tables: list  # a SpanTable a real lane
    finite_froude: float  # [-] 1 with the steady waves of the surface, 0 without


def history_of(motions, trim, setting, step, side=1.0):
    """(`History`, full steps of each motion) of up to LANES `motions`, the lead before them included.

    `trim` {heave [m], pitch [rad], leeway [rad]} in calm water at a `setting` record; `step` [s]; `side` [-] 1 for the
    working foil, -1 for the windward one, whose motion is mirrored. A row that is not written stays as in the trim.
    """
    lead = int(round(LEAD / step))
    counts = [lead + int(np.ceil(motion.time[-1] / step - 1e-9)) for motion in motions]
    at = 0.5 * step * np.arange(2 * max(counts) + 3) - lead * step
    padded = [*motions, *[motions[-1]] * (LANES - len(motions))]

    def rows(name, usual, factor=1.0, base=0.0):
        found = np.zeros((3, len(at), LANES))
        for lane, motion in enumerate(padded):
            written = getattr(motion, name)
            found[0, :, lane] = usual
            if written is not None:
                found[:, :, lane] = joined(motion.time, factor * np.array(written), at)
                found[0, :, lane] += base
        return found

    return History(
        heel=rows("heel", side * setting.heel, side),
        leeway=rows("leeway", side * trim["leeway"], side),
        speed=rows("speed", setting.speed),
        heave=rows("height", trim["heave"], base=trim["heave"]),
        pitch=rows("pitch", trim["pitch"], base=trim["pitch"]),
    ), counts


def mirrored(setting):
    """The `setting` record seen from the other side: cant and water on the other hand; its heel is left to the motion.
    """
    return replace(setting, cant=-setting.cant, water=tuple((m, x, -y, z) for m, x, y, z in setting.water))


def bench_of(boat, foil, setting, model, heels):
    """(`Bench`, `FoilGeometry`) of a `foil` at a `setting`, scenario records, on the `boat` as that foil sees her.

    `model` {name: value} as `model_factors` gives it; `heels` (least, most) [rad] of each real lane. Keel fin and
    rudder are left out: they do nothing to the foil.
    """
    march, reading, geometries = march_arrays(boat, foil, [setting] * LANES, [ANY_ENCOUNTER] * LANES, model)
    march.strip[march.foil_strips :, L.S_LENGTH] = 0.0
    upright = upright_foil(foil, geometries[0], lane_centre(boat, setting))
    tables = [span_table(upright, foil.section_slope, least, most) for least, most in heels]
    single = in_numbers_of(np.float32, march)
    return Bench(single, in_numbers_of(np.float32, reading), upright, tables, model["finite_froude"]), geometries[0]


def set_motion(bench, loads, history, half):
    """Write the motion of a `history` at half step number `half` [-] into the arrays of `bench` and `loads`.

    Heel is in the strips' places and normals, so that the small roll of the march is nothing and only its rate is left.
    """
    rigid = loads.rigid.reshape(L.RIGID_ROWS, LANES)
    turn_strips(bench.march, bench.upright, history.heel[0, half])
    rigid[L.SPEED], rigid[L.SWAY] = history.speed[0, half], history.speed[0, half] * history.leeway[0, half]
    rigid[L.HEAVE], rigid[L.HEAVE_RATE] = history.heave[:2, half]
    rigid[L.PITCH], rigid[L.PITCH_RATE] = history.pitch[:2, half]
    rigid[L.ROLL_RATE] = history.heel[1, half]


def set_accelerations(loads, history, half):
    """Write accelerations [m/s2], [rad/s2] of a `history` at half step number `half` [-] into the totals of `loads`."""
    total = loads.total.reshape(L.TOTAL_ROWS, LANES)
    total[L.T_ACC_HEAVE] = history.heave[2, half]
    total[L.T_ACC_PITCH] = history.pitch[2, half]
    total[L.T_ACC_ROLL] = history.heel[2, half]
    total[L.T_ACC_SURGE] = history.speed[1, half]
    total[L.T_ACC_SWAY] = (history.speed[0] * history.leeway[1] + history.speed[1] * history.leeway[0])[half]


def steady_lift(bench, loads):
    """Lift coefficients (foil strips, LANES) [-] that the surface's steady waves would add as the strips of a `bench`
    stand now, left in `loads`.
    """
    march, n = bench.march, bench.march.foil_strips
    out, rigid = loads.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)[:n], loads.rigid.reshape(L.RIGID_ROWS, LANES)
    found = np.zeros((n, LANES))
    for lane in range(len(bench.tables)):
        rows = march.strip[:n, :, lane]
        gain = steady_gain(out[:, L.O_DEPTH, lane], rows[:, L.S_CHORD], rigid[L.SPEED, lane], march.gravity)
        found[:, lane:] = (rows[:, L.S_SLOPE] * out[:, L.O_ANGLE, lane] * gain * bench.finite_froude)[:, None]
    return found


def stage_loads(bench, loads, weight=0.0, ahead=0.0, last=0.0, since=0.0):
    """Strip loads of a `bench` at one instant, left in `loads`; `weight` [s], `ahead` [s], `last`, `since` [s] as in
    `strip_loads`.
    """
    clear_totals_in_single(loads)
    numbers = (np.float32(each) for each in (weight, ahead, last, since))
    strip_loads_in_single(bench.march, loads, *numbers)


def settled(bench, history):
    """`LoadState` of a `bench` at the start of a `history` [SI], as if the boat had sailed so for long: wake and steady
    waves settled.
    """
    loads = load_state(bench.march, np.float32)
    loads.slots[:] = -1
    set_motion(bench, loads, history, 0)
    turn_edges(bench.march, bench.upright, history.heel[0, 0], bench.tables)
    stage_loads(bench, loads)
    motion = loads.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)[:, L.O_MOTION]
    lags = loads.lags.reshape(-1, L.LAGS, LANES)
    lags[:, 0], lags[:, 1] = WAGNER_A1 * motion, WAGNER_A2 * motion
    loads.lags_before[:] = loads.lags
    stage_loads(bench, loads)
    bench.march.strip[: bench.march.foil_strips, L.S_STEADY] = steady_lift(bench, loads)
    return loads


def lead_through(bench, history, steps, step, stop=None):
    """(samples (rows of the march's buffer, steps, LANES), shear [N] and torsion [N m] (2, steps, edges, LANES)) of a
    `bench` led through `steps` of a `history`.

    `step` [s]; `stop` as in `march_block`.
    """
    march, n = bench.march, bench.march.foil_strips
    loads, boat, dt = settled(bench, history), bench.march.boat.astype(float).reshape(-1), np.float32(step)
    mode, half_mode, end, held = (np.zeros(rows * LANES) for rows in (2, 2, 2, 4))
    moment, sums, span = (np.zeros((rows, LANES), dtype=np.float32) for rows in (n + 1, 7, L.SPAN_ROWS * (n + 1)))
    along = np.zeros((2, steps, n + 1, LANES), dtype=np.float32)
    buffer = np.zeros((bench.reading.channels + BOAT_SAMPLES, steps, LANES), dtype=np.float32)
    for i in range(steps):
        if stop is not None and i % ASKED_EVERY == 0 and stop():
            raise KeyboardInterrupt
        loads.lags_before[:], loads.lag_sums[:] = loads.lags, 0.0
        turned = i > 0 and bool(np.any(history.heel[0, 2 * i] != history.heel[0, 2 * i - 2]))
        for part, (later, weight, ahead) in enumerate(PARTS):
            half = 2 * i + later
            set_motion(bench, loads, history, half)
            if part == 0 and turned:
                turn_edges(march, bench.upright, history.heel[0, half], bench.tables)
                loads.slots[:] = -1
            loads.mode[:] = (mode, half_mode, half_mode, end)[part]
            stage_loads(bench, loads, weight * step, ahead * step, float(part == 3), 0.5 * later * step)
            set_accelerations(loads, history, half)
            if part == 0:
                span[:] = -np.inf  # of each edge the highest so far: now alone
                edge_moments_in_single(march, loads, moment, sums, span)
                along[:, i, :n] = span.reshape(n + 1, L.SPAN_ROWS, LANES)[:n, ::2].transpose(1, 0, 2)
                sample_loads_in_single(bench.reading, moment, buffer, i)
                sample_boat_in_single(march, bench.reading, loads, moment, sums, i, buffer)
                foresee_mode(boat, loads.total, mode, half_mode, end, held, step)
        settle_mode(boat, loads.total, mode, end, held, step)
        remember_flow_in_single(
            march.strip.shape[0], march.strip.reshape(-1), march.boat.reshape(-1), dt, loads.out, loads.memory
        )
        if i % STEADY_EVERY == 0:
            gone = STEADY_EVERY * step
            steady, share = march.strip[:n, L.S_STEADY], gone / (gone + history.speed[0, 2 * i] / march.gravity)
            march.strip[:n, L.S_STEADY] = steady + share * (steady_lift(bench, loads) - steady)
    return buffer, along
