"""Balance in calm water: heave, pitch, leeway and rudder at which nothing accelerates, with the thrust and the sail
force that go with them.

The heel is given. What hull, keel and foil right at that heel is the sails' heeling moment; over the lever of their
centre of effort along the mast from the centre of gravity it is the sail force, square to the mast: its side part has
to be met by hull, fin, rudder and foil at a leeway, its part downward by more lift, and where it stands fore and aft,
with the thrust that a heeled rig carries to leeward, by the rudder.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled_with_arrays
from seaload.basis.lane_index import at
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.motion import accelerations
from seaload.simulation.prepare_foil import KEEL_STRIPS
from seaload.simulation.stage import loads

NEWTON_STEPS = 60
CALM_STEPS = 15  # after so many a boat about to leave the water swings round its balance: smaller steps
BALANCED = 1e-7  # [m/s2], [rad/s2] of all accelerations together
NEARLY = 1e-4  # the same: a lane that no step makes better counts as balanced
NUDGE = 1e-5  # [m], [rad] of the finite differences
LEAST_PIVOT = 1e-9  # [1/s2]
LEAST_SIZE, GROWN = 0.03, 1.3  # [-] of a step where the last ones made it worse, and its growth where better
MOST_STEP = np.array([0.1, 0.02, 0.01, 0.02])  # [m], [rad]
BOAT_TARGET, BOAT_LEEWAY = BOAT["target_speed"], BOAT["leeway"]
HEAVE_AT, PITCH_AT, LEEWAY_AT, RUDDER_AT = range(4)
MOST_LEEWAY, MOST_RUDDER = 0.2, 0.6  # [rad] either way: no balance is looked for beyond


class Sails(NamedTuple):
    """What the rig has to give; arrays (LANES,)."""

    thrust: np.ndarray  # [N] along the course, off the heading by the leeway
    ahead: np.ndarray  # [N] of all of it along the heading
    side: np.ndarray  # [N] to leeward, square to the course
    down: np.ndarray  # [N]
    heeling: np.ndarray  # [N m] leeward side down
    yawing: np.ndarray  # [N m] of sails and of the hull's resistance, bow to leeward +


class Balance(NamedTuple):
    """A calm-water balance; arrays (LANES,)."""

    place: np.ndarray  # (4, LANES) heave [m], pitch, leeway, rudder [rad]
    level: np.ndarray  # bool: heave and pitch found
    sideways: np.ndarray  # bool: leeway and rudder too
    sails: Sails


@compiled_with_arrays
def still_water_loads(march, work, heave, pitch):
    """Loads and accelerations at a given trim in still water, all left in `work`, a LoadState at rest.

    `march` in double precision; `heave` [m], `pitch` [rad] (LANES,).
    """
    for lane in range(LANES):
        work.rigid[at(L.HEAVE, lane)] = heave[lane]
        work.rigid[at(L.PITCH, lane)] = pitch[lane]
        work.rigid[at(L.SPEED, lane)] = march.boat[BOAT_TARGET, lane]
        work.rigid[at(L.SWAY, lane)] = march.boat[BOAT_TARGET, lane] * march.boat[BOAT_LEEWAY, lane]
    work.lags[:] = 0.0
    work.lag_sums[:] = 0.0
    loads(march, work, 0.0, 0.0, 0.0)
    accelerations(march.boat.reshape(-1), work.rigid, work.wave[:LANES], np.ones(LANES), march.density, work.total)


def rudder_rows(march):
    """Strip numbers of the rudder among those of a `march`."""
    return slice(march.foil_strips + KEEL_STRIPS, None)


def sails_asked(boat, total):
    """`Sails` that hold speed and heel against the loads in `total`, worked out without thrust.

    `boat` and `total` rows as in `layout`, (rows, LANES). Statics: force is moment over lever, square to the mast.
    """
    heeling = total[L.T_HULL_FZ] * boat[BOAT["righting_arm"]] - total[L.T_MROLL]
    force, side = heeling / boat[BOAT["sail_lever"]], heeling * boat[BOAT["sail_side"]]
    thrust = np.maximum(side * boat[BOAT["leeway"]] - total[L.T_RESIDUAL_X], 0.0)
    ahead = thrust - side * boat[BOAT["leeway"]]
    resistance = total[L.T_FX] - total[L.T_RESIDUAL_X]  # of the hull as a whole, not of its slices or the strips
    yawing = (
        boat[BOAT["effort_ahead"]] * side - boat[BOAT["effort_side"]] * ahead + boat[BOAT["hull_arm_y"]] * resistance
    )
    return Sails(thrust, ahead, side, force * np.sin(boat[BOAT["heel"]]), heeling, yawing)


def unbalanced(boat, total, sails):
    """Accelerations (4, LANES) that loads and `sails` leave: heave [m/s2], pitch [rad/s2], sway [m/s2], yaw [rad/s2].

    `boat` and `total` rows as in `layout`. Yaw is over the pitch inertia, which is near enough for a search.
    """
    up = total[L.T_FZ] + total[L.T_HULL_FZ] - boat[BOAT["weight"]] - sails.down
    bow = total[L.T_MPITCH] - sails.ahead * boat[BOAT["sail_arm"]] - sails.down * boat[BOAT["effort_ahead"]]
    side = total[L.T_FY] + sails.side
    turn = total[L.T_MYAW] + sails.yawing
    mass, inertia = boat[BOAT["mass"]], boat[BOAT["pitch_inertia"]]
    return np.array([up / mass, bow / inertia, side / mass, turn / inertia])


class CalmWater:
    """The loads of a block in calm water as a function of heave, pitch, leeway and rudder."""

    def __init__(self, march, work, held):
        """`march` arrays in double precision, `work` a LoadState at rest.

        `held` (2, LANES) [rad] leeway and rudder that are not to be balanced but stated, nan where they are free.
        """
        self.boat, strip = march.boat.copy(), march.strip.copy()
        for row in ("roll_free", "surge_free", "lag", "thrust", "down_force", "heel_moment"):
            self.boat[BOAT[row]] = 0.0
        self.rudder = rudder_rows(march)
        self.set_up = strip[self.rudder, L.S_INCIDENCE].copy()
        self.march, self.work = march._replace(boat=self.boat, strip=strip), work
        self.total, self.held = work.total.reshape(L.TOTAL_ROWS, LANES), held

    def at(self, place):
        """(what is left to balance (4, LANES), `Sails`) at a `place` (4, LANES)."""
        self.boat[BOAT["leeway"]] = place[LEEWAY_AT]
        self.march.strip[self.rudder, L.S_INCIDENCE] = self.set_up + place[RUDDER_AT]
        still_water_loads(self.march, self.work, place[HEAVE_AT], place[PITCH_AT])
        sails = sails_asked(self.boat, self.total)
        left = unbalanced(self.boat, self.total, sails)
        free = np.isnan(self.held)
        left[LEEWAY_AT:] = np.where(free, left[LEEWAY_AT:], place[LEEWAY_AT:] - np.where(free, 0.0, self.held))
        return left, sails


def solved(matrix, right):
    """Solutions (k, LANES) of the k equations of every lane [in their own units].

    `matrix` (k, k, LANES), `right` (k, LANES).

    Elimination in the order given, in any text on numerical analysis: each equation leans most on its own unknown. The
    matrix library is left out, for its last digits change from one processor to another.
    """
    a, b, count = matrix.copy(), right.copy(), len(right)
    for k in range(count):
        a[k, k] = np.where(np.abs(a[k, k]) < LEAST_PIVOT, LEAST_PIVOT, a[k, k])
        for i in range(k + 1, count):
            share = a[i, k] / a[k, k]
            a[i] -= share * a[k]
            b[i] -= share * b[k]
    for k in range(count - 1, -1, -1):
        for j in range(k + 1, count):
            b[k] -= a[k, j] * b[j]
        b[k] /= a[k, k]
    return b


def balance(march, work, start, held):
    """`Balance` of every lane by Newton's method with bounded steps (in any text on numerical analysis).

    `march` arrays in double precision, left as they are; `work` a LoadState at rest, left at the balance; `start`
    (4, LANES) where the search begins, `held` as in `CalmWater`.
    """
    water = CalmWater(march, work, held)
    place, done = start.copy(), np.zeros(LANES, dtype=bool)
    before, size = np.full(LANES, np.inf), np.ones(LANES)
    bounds = np.array([np.inf, np.inf, MOST_LEEWAY, MOST_RUDDER])[:, None]
    for turn in range(NEWTON_STEPS):
        left, _ = water.at(place)
        # a lane that has balanced is left alone, so that its trim has the same bits in any company
        now = np.abs(left).sum(axis=0)
        done |= now < BALANCED
        if done.all():
            break
        size = np.where(now < before, np.minimum(GROWN * size, 1.0), np.maximum(0.5 * size, LEAST_SIZE))
        before = now
        slopes = np.empty((4, 4, LANES))
        for k in range(4):
            nudged = place.copy()
            nudged[k] += NUDGE
            slopes[:, k] = (water.at(nudged)[0] - left) / NUDGE
        most = (MOST_STEP * (1.0 if turn < CALM_STEPS else 0.3))[:, None]
        step = np.clip(np.nan_to_num(solved(slopes, -left)), -most, most)
        place = np.where(done, place, np.clip(place + size * step, -bounds, bounds))
    left, sails = water.at(place)
    level = np.abs(left[:LEEWAY_AT]).sum(axis=0) < NEARLY
    return Balance(place, level, level & (np.abs(left[LEEWAY_AT:]).sum(axis=0) < NEARLY), sails)
