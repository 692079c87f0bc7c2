"""Calm trim: the heave and pitch at which nothing accelerates, the thrust and heeling moment that go with it.

Lift slopes of the foil depend on how deep it runs, and how deep it runs on its lift: both are repeated
together until the trim repeats.
"""

from dataclasses import dataclass

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.calm_lift import calm_lift
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT
from seaload.simulation.motion import accelerations
from seaload.simulation.stage import loads
from seaload.simulation.workspace import load_state

ROUNDS = 3  # of lift slopes and trim
NEWTON_STEPS = 60
BALANCED = 1e-7  # [m/s2], [rad/s2]
START_CHINE, START_PITCH = 0.5, 0.01  # [-] of the chine's height under water where the search starts, [rad]
BOAT_TARGET = BOAT["target_speed"]
NUDGE = 1e-5  # [m], [rad] of the finite differences


@dataclass(frozen=True)
class CalmTrim:
    """Calm-water answer of every lane; arrays (LANES,)."""

    heave: np.ndarray  # [m] of the centre of gravity above the water
    pitch: np.ndarray  # [rad]
    balanced: np.ndarray  # bool: heave and pitch found
    thrust: np.ndarray  # [N] needed at the set speed
    heel_moment: np.ndarray  # [N m] needed at the set heel
    vertical_lift: np.ndarray  # [N] of the foil
    righting_moment: np.ndarray  # [N m] of the foil
    foil_drag: np.ndarray  # [N]
    hull_lift: np.ndarray  # [N]
    motion: np.ndarray  # (strips, LANES) [m/s] normal velocity that the wake has settled to


@compiled
def still_water_loads(march, work, heave, pitch):
    """Loads and accelerations at a given trim in still water, all left in `work`, a LoadState at rest.

    `march` in double precision; `heave` [m], `pitch` [rad] (LANES,).
    """
    for lane in range(LANES):
        work.rigid[at(HEAVE, lane)] = heave[lane]
        work.rigid[at(PITCH, lane)] = pitch[lane]
        work.rigid[at(SPEED, lane)] = march.boat[BOAT_TARGET, lane]
    work.lags[:] = 0.0
    work.lag_sums[:] = 0.0
    loads(march, work, 0.0, 0.0, 0.0)
    accelerations(march.boat.reshape(-1), work.rigid, work.wave[:LANES], 1.0, march.density, work.total)


def _balance(march, work, heave, pitch):
    """Newton iteration on `heave` [m] and `pitch` [rad], (LANES,), thrust following: (heave, pitch, balanced).

    `march` in double precision, its thrust changed; `work` a LoadState at rest.
    """
    thrust_row, boat = BOAT["thrust"], march.boat
    total = work.total.reshape(TOTAL_ROWS, LANES)
    balanced = np.zeros(LANES, dtype=bool)

    def evaluate(z, p):
        still_water_loads(march, work, z, p)
        return total[T_ACC_HEAVE].copy(), total[T_ACC_PITCH].copy()

    for turn in range(NEWTON_STEPS):
        evaluate(heave, pitch)
        # a lane that has balanced is left alone, so that its trim has the same bits in any company
        boat[thrust_row] = np.where(
            balanced, boat[thrust_row], np.maximum(boat[thrust_row] - total[T_RESIDUAL_X], 0.0)
        )
        a3, a5 = evaluate(heave, pitch)
        balanced |= np.abs(a3) + np.abs(a5) < BALANCED
        if balanced.all():
            break
        b3, b5 = evaluate(heave + NUDGE, pitch)
        c3, c5 = evaluate(heave, pitch + NUDGE)
        m11, m12 = (b3 - a3) / NUDGE, (c3 - a3) / NUDGE
        m21, m22 = (b5 - a5) / NUDGE, (c5 - a5) / NUDGE
        det = m11 * m22 - m12 * m21
        det = np.where(np.abs(det) < 1e-9, 1e-9, det)
        dz = -(m22 * a3 - m12 * a5) / det
        dp = -(m11 * a5 - m21 * a3) / det
        bound = 1.0 if turn < 15 else 0.3  # a boat about to leave the water swings round its balance
        heave = np.where(balanced, heave, heave + np.clip(dz, -0.1 * bound, 0.1 * bound))
        pitch = np.where(balanced, pitch, pitch + np.clip(dp, -0.02 * bound, 0.02 * bound))
    a3, a5 = evaluate(heave, pitch)
    return heave, pitch, np.abs(a3) + np.abs(a5) < 1e-4


def _lift_slopes(march, foil, heave, pitch, model):
    """Set lift slope and induced drag of the foil's strips; yields (lane, slope [1/rad], steady gap [-]).

    `march` arrays of the block, `foil` a scenario record; `heave` [m], `pitch` [rad] (LANES,) of the trim found so far;
    `model` {name: value} as `model_factors` gives it.
    """
    n = march.foil_strips
    strip, done = march.strip, {}
    for lane in range(LANES):
        key = strip[:n, :, lane].tobytes() + march.boat[:, lane].tobytes() + heave[lane].tobytes()
        if key not in done:
            done[key] = calm_lift(
                march.edge_y[:, lane],
                march.edge_z[:, lane],
                strip[:n, S_Z, lane],
                strip[:n, S_CHORD, lane],
                foil.section_slope,
                -heave[lane] - float(strip[0, S_X, lane]) * pitch[lane],
                march.boat[BOAT_TARGET, lane],
                march.gravity,
            )
        lift = done[key]
        slope = lift.slope * model["lift_slope_factor"]
        strip[:n, S_SLOPE, lane] = slope
        strip[:n, S_INDUCED, lane] = lift.induced
        yield lane, slope, lift.steady_gap * model["finite_froude"]


def calm_trim(march, foil, model, righting=None):
    """Find the `CalmTrim` of every lane and write slopes, thrust and heeling moment into the `march` arrays.

    `foil` a scenario record, `model` {name: value} as `model_factors` gives it. `righting(lane, carried mass [kg])`
    gives (arm [m], slope [m/rad]) of the hull with what the foil leaves it to carry; without it the lines already in
    the arrays stay. Newton's method with bounded steps, in any text on numerical analysis.
    """
    work = load_state(march, np.float64)
    total = work.total.reshape(TOTAL_ROWS, LANES)
    out = work.out.reshape(-1, STRIP_OUT_ROWS, LANES)
    boat = march.boat.copy()
    boat[BOAT["roll_free"]] = 0.0
    boat[BOAT["surge_free"]] = 0.0
    boat[BOAT["lag"]] = 0.0
    n = march.foil_strips
    lowest, chine = march.hull[:, H_Z].min(axis=0), 1.0 / march.hull[:, H_INVERSE_CHINE].min(axis=0)
    heave, pitch = -START_CHINE * chine - lowest, np.full(LANES, START_PITCH)
    balanced = np.zeros(LANES, dtype=bool)
    march.strip[:n, S_STEADY] = 0.0
    for _ in range(ROUNDS):
        for lane, slope, gap in _lift_slopes(march, foil, heave, pitch, model):
            angle = out[:n, O_ANGLE, lane]
            march.strip[:n, S_STEADY, lane] = slope * gap * angle
        heave, pitch, balanced = _balance(march._replace(boat=boat), work, heave, pitch)
    march.boat[BOAT["thrust"]] = boat[BOAT["thrust"]]
    if righting is not None:
        lines = np.array([righting(lane, total[T_HULL_FZ, lane] / march.gravity) for lane in range(LANES)])
        march.boat[BOAT["righting_arm"]] = march.boat[BOAT["hull_arm_y"]] = lines[:, 0]
        march.boat[BOAT["righting_slope"]] = lines[:, 1]
    moment = total[T_HULL_FZ] * march.boat[BOAT["righting_arm"]] - total[T_MROLL]
    march.boat[BOAT["heel_moment"]] = moment
    return CalmTrim(
        heave=heave,
        pitch=pitch,
        balanced=balanced,
        thrust=boat[BOAT["thrust"]].copy(),
        heel_moment=moment.copy(),
        vertical_lift=total[T_FOIL_FZ].copy(),
        righting_moment=total[T_FOIL_RM].copy(),
        foil_drag=-total[T_FOIL_FX],
        hull_lift=total[T_HULL_FZ].copy(),
        motion=out[:, O_MOTION, :].copy(),
    )
