"""Calm trim: where nothing accelerates in still water, and what thrust and sail force go with it.

What the surface's steady waves leave of the foil's lift depends on how deep it runs, and how deep it runs on its lift;
the hull's righting arm on what the foil leaves it to carry: both are repeated with the balance until the trim repeats.
"""

from dataclasses import dataclass

import numpy as np

from seaload.foil.free_surface import steady_gain
from seaload.simulation import layout as L
from seaload.simulation.balance import HEAVE_AT, LEEWAY_AT, PITCH_AT, RUDDER_AT, balance, rudder_rows
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.workspace import load_state

ROUNDS = 3  # of steady waves, righting arm and balance
START_CHINE, START_PITCH = 0.5, 0.01  # [-] of the chine's height under water where the search starts, [rad]
WILD = 0.09  # [rad] of leeway that a boat goes on with which finds no balance sideways
BOAT_TARGET = BOAT["target_speed"]


@dataclass(frozen=True)
class CalmTrim:
    """Calm-water answer of every lane; arrays (LANES,)."""

    heave: np.ndarray  # [m] of the centre of gravity above the water
    pitch: np.ndarray  # [rad]
    leeway: np.ndarray  # [rad] to leeward +
    rudder: np.ndarray  # [rad] turns the bow to leeward +
    balanced: np.ndarray  # bool: heave and pitch found
    sideways: np.ndarray  # bool: leeway and rudder too
    thrust: np.ndarray  # [N] needed at the set speed
    heel_moment: np.ndarray  # [N m] needed at the set heel
    sail_side: np.ndarray  # [N] of the sails to leeward, which hull, fin, rudder and foil meet
    vertical_lift: np.ndarray  # [N] of the foil
    righting_moment: np.ndarray  # [N m] of the foil
    foil_drag: np.ndarray  # [N] along the course
    hull_lift: np.ndarray  # [N]
    motion: np.ndarray  # (strips, LANES) [m/s] normal velocity that the wake has settled to


def steady_waves(march, place, angle, model):
    """Lift coefficients (foil strips, LANES) [-] that the steady waves of the foil add to its strips' at a `place`.

    `march` arrays of the block, `place` (4, LANES) of the trim found so far, `angle` (strips, LANES) [rad] that the
    strips' sections felt there; `model` {name: value} as `model_factors` gives it.
    """
    n, found = march.foil_strips, np.zeros((march.foil_strips, LANES))
    strip, speed = march.strip[:n], march.boat[BOAT_TARGET]
    depth = -(place[HEAVE_AT] + strip[:, L.S_X] * place[PITCH_AT] + strip[:, L.S_Z])
    for lane in range(LANES):
        gain = steady_gain(depth[:, lane], strip[:, L.S_CHORD, lane], speed[lane], march.gravity)
        found[:, lane] = strip[:, L.S_SLOPE, lane] * angle[:n, lane] * gain * model["finite_froude"]
    return found


def stated(march, model):
    """Leeway and rudder (2, LANES) [rad] that are not to be balanced, nan where they are; strips as in `march`.

    A `model` may hold the leeway at a stated angle; a boat without rudders in the water cannot balance hers.
    """
    held = np.full((2, LANES), np.nan)
    if model["leeway_held"]:
        held[:] = [[model["held_leeway"]], [0.0]]
    held[1, march.strip[rudder_rows(march), L.S_LENGTH].sum(axis=0) == 0.0] = 0.0
    return held


def write_balance(march, found):
    """Leeway, rudder, thrust and sail force of `found`, a `Balance` as `balance` gives it, into the `march` arrays."""
    march.boat[BOAT["leeway"]] = found.place[LEEWAY_AT]
    march.strip[rudder_rows(march), L.S_INCIDENCE] += found.place[RUDDER_AT]
    march.boat[BOAT["thrust"]] = found.sails.thrust
    march.boat[BOAT["down_force"]] = found.sails.down
    march.boat[BOAT["heel_moment"]] = found.sails.heeling


def trimmed(march, work, model, righting, held):
    """`Balance` of every lane with the surface's steady waves and the righting arm that go with it, left in `march`.

    `work` a LoadState at rest, `model`, `righting` as in `calm_trim`, `held` as `stated` gives it [rad].
    """
    total = work.total.reshape(L.TOTAL_ROWS, LANES)
    out = work.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)
    n = march.foil_strips
    lowest, chine = march.hull[:, L.H_Z].min(axis=0), 1.0 / march.hull[:, L.H_INVERSE_CHINE].min(axis=0)
    place = np.zeros((4, LANES))
    place[HEAVE_AT], place[PITCH_AT] = -START_CHINE * chine - lowest, START_PITCH
    march.strip[:n, L.S_STEADY] = out[:] = total[:] = 0.0
    carried = march.boat[BOAT["mass"]]
    for _ in range(ROUNDS):
        if righting is not None:
            lines = [righting(lane, carried[lane]) for lane in range(LANES)]
            march.boat[BOAT["righting_arm"]], march.boat[BOAT["righting_slope"]] = np.transpose(lines)
            march.boat[BOAT["hull_arm_y"]] = march.boat[BOAT["righting_arm"]]
        march.strip[:n, L.S_STEADY] = steady_waves(march, place, out[:, L.O_ANGLE], model)
        found = balance(march, work, place, held)
        place = np.where(found.level, found.place, place)
        carried = total[L.T_HULL_FZ] / march.gravity
    return found  # pyrefly: ignore[unbound-name]  (there is more than one round)


def calm_trim(march, model, righting=None):
    """Find the `CalmTrim` of every lane; leeway, rudder, thrust and sail force go into the `march` arrays.

    `model` {name: value} as `model_factors` gives it. `righting(lane, carried mass [kg])`
    gives (arm [m], slope [m/rad]) of the hull with what the foil leaves it to carry; without it the lines already in
    the arrays stay. A lane without a balance sideways goes on with a leeway near the last one tried, sway and heading
    held.
    """
    work, held = load_state(march, np.float64), stated(march, model)
    found = trimmed(march, work, model, righting, held)
    sideways = found.sideways
    if not sideways.all():
        leeway, rudder = found.place[LEEWAY_AT:]
        astray = np.array([np.clip(leeway, -WILD, WILD), 0.0 * rudder])
        given = np.where(sideways, held, astray)  # a lane in balance is trimmed the same again
        found = trimmed(march, work, model, righting, np.where(np.isnan(held), given, held))
    total, out = work.total.reshape(L.TOTAL_ROWS, LANES), work.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)
    write_balance(march, found)
    n = march.foil_strips
    side = np.sum(out[:n, L.O_NORMAL] * march.strip[:n, L.S_NY], axis=0)  # of the foil, to leeward
    march.boat[BOAT["sway_free"]] *= sideways
    march.boat[BOAT["yaw_free"]] *= sideways
    return CalmTrim(
        heave=found.place[HEAVE_AT],
        pitch=found.place[PITCH_AT],
        leeway=found.place[LEEWAY_AT],
        rudder=found.place[RUDDER_AT],
        balanced=found.level,
        sideways=sideways,
        thrust=found.sails.thrust,
        heel_moment=found.sails.heeling,
        sail_side=found.sails.side,
        vertical_lift=total[L.T_FOIL_FZ].copy(),
        righting_moment=total[L.T_FOIL_RM].copy(),
        foil_drag=-(total[L.T_FOIL_FX] + found.place[LEEWAY_AT] * side),
        hull_lift=total[L.T_HULL_FZ].copy(),
        motion=out[:, L.O_MOTION, :].copy(),
    )


def calm_thrust(march, trim, speed):
    """Thrust [N] that the boat of a block needs in still water at another `speed` [m/s], all (LANES,).

    `march` arrays in double precision as `calm_trim` leaves them, `trim` its `CalmTrim`. The boat is as it marches:
    what was worked out for the speed set (steady waves, wetted surface) stays; heave, pitch, leeway and rudder settle.
    """
    boat = march.boat.copy()
    boat[BOAT_TARGET] = speed
    at_rest = np.array([trim.leeway, np.zeros(LANES)])  # the rudder's angle is in its strips already
    held = np.where(boat[[BOAT["sway_free"], BOAT["yaw_free"]]] > 0.0, np.nan, at_rest)
    start = np.array([trim.heave, trim.pitch, *at_rest])
    found = balance(march._replace(boat=boat), load_state(march, np.float64), start, held)
    return np.where(found.level, found.sails.thrust, np.nan)
