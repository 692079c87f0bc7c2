"""Natural periods and damping of heave, pitch and roll: small motions about the calm trim, speed held.

The march's own loads are taken at small changes of every state, boat and wake, and the matrix of their slopes gives
the motions by its eigenvalues (linear stability, any text on vibration). At speed the three are so damped and so
coupled that no eigenvalue belongs to one of them: each freedom is told with the others held, and beside it the least
damped swing and the slowest return of all together. The foil is taken as stiff; nobody steers or holds the heel.
"""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from seaload.foil.lag_states import WAGNER_A1, WAGNER_A2
from seaload.simulation import layout as L
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.motion import accelerations
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.simulation.stage import loads
from seaload.simulation.workspace import load_state

FREEDOMS = ("heave", "pitch", "roll")
STATES = (L.HEAVE, L.PITCH, L.ROLL, L.HEAVE_RATE, L.PITCH_RATE, L.ROLL_RATE)
ACCELERATIONS = (L.T_ACC_HEAVE, L.T_ACC_PITCH, L.T_ACC_ROLL)
NUDGES = (1e-4, 1e-5, 1e-5, 1e-3, 1e-4, 1e-4)  # [m], [rad], [rad] and per second, of the finite differences
LAG_NUDGE = 1e-3  # [m/s]
FIRST_GUESS = 2.5  # [rad/s] that the hull makes waves at, before its own heave is known
MOTION_LAGS = 2  # of a strip's lag states those that follow its own motion; the others follow the water's


class SmallMotions(NamedTuple):
    """How a boat comes back, or does not, after a small push."""

    period: tuple  # [s] of each of FREEDOMS with the others held, undamped; nan where it does not come back
    damping: tuple  # [-] over the critical one
    swing_period: float  # [s] of the least damped swing of all together; nan where none swings
    swing_damping: float  # [-]
    growth: float  # [1/s] of the slowest return, + when a motion grows


NOT_KNOWN = SmallMotions((np.nan,) * 3, (np.nan,) * 3, np.nan, np.nan, np.nan)


def motion_parts(question, trims):
    """{name: (dims, values)} at the slowest speed that balances and the racing one, reference extension."""
    slow = int(np.argmax(trims.curve(question.setting).sideways))
    speeds = np.array([question.speeds[slow], question.racing_speed])
    found = [
        small_motions(question.boat, question.foil, replace(question.setting, speed=float(speed)), trims.model)
        for speed in speeds
    ]
    parts = {
        "freedom": (("freedom",), np.array(FREEDOMS, dtype=object)),
        "motion_speed": (("motion_speed",), speeds),
        "motion_period": (("motion_speed", "freedom"), np.array([row.period for row in found])),
        "motion_damping": (("motion_speed", "freedom"), np.array([row.damping for row in found])),
    }
    for name, pick in (("swing_period", 2), ("swing_damping", 3), ("motion_growth", 4)):
        parts[name] = (("motion_speed",), np.array([row[pick] for row in found], dtype=float))
    return parts


def small_motions(boat, foil, setting, model):
    """`SmallMotions` at a `setting`; NOT_KNOWN where she does not balance there.

    `boat`, `foil` records; `model` {name: value} as `model_factors` gives it. The waves that the hull itself makes
    hang on the frequency: worked out once more at that of her own heave.
    """
    settings, frequency = [setting] * LANES, FIRST_GUESS
    for _ in range(2):
        march, _, _ = march_arrays(boat, foil, settings, [frequency] * LANES, model)
        trim = calm_trim(march, model, carried_righting(boat, settings))
        if not trim.balanced[0]:
            return NOT_KNOWN
        motions = motions_of(state_matrix(march, trim))
        if np.isfinite(motions.period[0]):
            frequency = 2.0 * np.pi / motions.period[0]
    return motions


def state_matrix(march, trim):
    """Matrix A of x' = A x about the `trim` that all lanes of a `march` share, (n, n): STATES, then the wake's lags.

    Central differences of the march's own accelerations and rates. Her crew trims nothing.
    """
    boat = march.boat.copy()
    for row in ("surge_free", "sway_free", "yaw_free", "heel_hold_rate"):
        boat[BOAT[row]] = 0.0
    march = march._replace(boat=boat)
    strips = march.strip.shape[0]
    count = len(STATES) + MOTION_LAGS * strips
    changes = [(state, sign) for state in range(count) for sign in (1.0, -1.0)]
    nudges = np.array([*NUDGES, *[LAG_NUDGE] * (count - len(STATES))])
    rates = np.empty((count, len(changes)))
    for first in range(0, len(changes), LANES):
        some = changes[first : first + LANES]
        rates[:, first : first + len(some)] = rates_after(march, trim, some, nudges)[:, : len(some)]
    return (rates[:, 0::2] - rates[:, 1::2]) / (2.0 * nudges)


def rates_after(march, trim, changes, nudges):
    """Rates of all states, (n, LANES), each lane with one of the `changes` (state, sign) of size `nudges` (n,)."""
    work = load_state(march, np.float64)
    rigid, lags = work.rigid.reshape(L.RIGID_ROWS, LANES), work.lags.reshape(-1, L.LAGS, LANES)
    rigid[L.HEAVE], rigid[L.PITCH], rigid[L.SPEED] = trim.heave, trim.pitch, march.boat[BOAT["target_speed"]]
    rigid[L.SWAY] = rigid[L.SPEED] * trim.leeway
    lags[:, 0], lags[:, 1] = WAGNER_A1 * trim.motion, WAGNER_A2 * trim.motion
    for lane, (state, sign) in enumerate(changes):
        if state < len(STATES):
            rigid[STATES[state], lane] += sign * nudges[state]
        else:
            strip, which = divmod(state - len(STATES), MOTION_LAGS)
            lags[strip, which, lane] += sign * nudges[state]
    work.lags_before[:] = work.lags
    loads(march, work, 1.0, 0.0, 0.0)
    accelerations(march.boat.reshape(-1), work.rigid, np.zeros(LANES), np.ones(LANES), march.density, work.total)
    total, wake = work.total.reshape(L.TOTAL_ROWS, LANES), work.lag_sums.reshape(-1, L.LAGS, LANES)
    return np.concatenate(
        [rigid[list(STATES[3:])], total[list(ACCELERATIONS)], wake[:, :MOTION_LAGS].reshape(-1, LANES)]
    )


def motions_of(matrix):
    """`SmallMotions` from a state matrix (n, n), rows and columns as `state_matrix` gives them."""
    alone = [one_freedom(matrix, k) for k in range(len(FREEDOMS))]
    values = np.linalg.eigvals(matrix)
    swings = values[values.imag > 0.0]
    damping = -swings.real / np.abs(swings)
    least = int(np.argmin(damping)) if len(swings) else None
    return SmallMotions(
        period=tuple(period for period, _ in alone),
        damping=tuple(ratio for _, ratio in alone),
        swing_period=np.nan if least is None else float(2.0 * np.pi / np.abs(swings[least])),
        swing_damping=np.nan if least is None else float(damping[least]),
        growth=float(values.real.max()),
    )


def one_freedom(matrix, number):
    """(undamped natural period [s], damping over critical [-]) of freedom `number`, the others held; its wake free.

    From the two eigenvalues that take part most in it, a pair or two real ones: their product is the square of the
    natural frequency, their sum twice the damping (participation factors and a damped oscillator, any text on
    vibration). (nan, nan) where it does not come back.
    """
    kept = [number, number + len(FREEDOMS), *range(len(STATES), len(matrix))]
    values, right = np.linalg.eig(matrix[np.ix_(kept, kept)])
    part = np.abs(right * np.linalg.inv(right).T)[:2].sum(axis=0)
    first, second = values[np.argsort(-part, kind="stable")[:2]]
    square = (first * second).real
    if square <= 0.0:
        return np.nan, np.nan
    frequency = np.sqrt(square)
    return float(2.0 * np.pi / frequency), float(-0.5 * (first + second).real / frequency)
