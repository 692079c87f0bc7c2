"""Kernel: events of the worst place outside the hull, either side, one by one: peaks of all, the deepest in full.

An event by the rule of `fatigue/excursions`: excursions past the level less than EVENT_GAP apart. The march holds the
deepest moment of each chunk (`hold_moment`); a chunk is shorter than the gap, so that it holds moments of one event
alone. Of so many events that a lane has no room for, the deepest stay.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.basis.lane_index import at
from seaload.fatigue.excursions import EVENT_GAP, RELEASE_MARGIN
from seaload.foil.load_cause import Parts, cause_of
from seaload.simulation import layout as L
from seaload.simulation.layout import LANES
from seaload.simulation.sampling import R_ELEVATION, R_HEAVE, R_PITCH, R_ROLL, R_SPEED, R_WORST_REVERSE

LEAST_SHARE = 0.4  # [-] of the limit, or of what the mean load leaves of it, past which an event is told
KEPT_EVENTS = 16  # told in full, a side of a realisation
(
    K_TIME,  # [s] of the march, of the deepest moment
    K_CHANNEL,  # number of the load channel nearest to its limit then
    K_DEPTH,  # [-] share of the limit
    K_DURATION,  # [s] past the level, all excursions of the event
    K_CAUSE,  # number in `load_cause.CAUSES`
    K_SPEED,  # [m/s]
    K_PITCH,  # [rad]
    K_ROLL,  # [rad]
    K_HEAVE,  # [m]
    K_ELEVATION,  # [m] of the water amidships
    KEPT_ROWS,
) = range(11)
E_BEYOND, E_SAMPLES, E_LAST, E_BEGUN, E_FILED, EVENT_STATE = range(6)


class EventTally(NamedTuple):
    """Events of a block so far; rows K_* of an event are followed by the load of every strip along its normal [N]."""

    state: np.ndarray  # (LANES, SIDES, EVENT_STATE) rows E_*
    running: np.ndarray  # (LANES, SIDES, KEPT_ROWS + strips) the event that may still go on
    kept: np.ndarray  # (LANES, SIDES, KEPT_EVENTS, KEPT_ROWS + strips)
    peaks: np.ndarray  # (LANES, SIDES, most) [-] deepest share of every event that is over
    span: np.ndarray  # (LANES, SPAN_ROWS edges) extremes along the span, rows as in `Held`


def new_event_tally(strips, most):
    """Fresh `EventTally` of a foil of so many `strips`; `most` [-] events that a realisation has time for."""
    rows = KEPT_ROWS + strips
    span = np.zeros((LANES, L.SPAN_ROWS * (strips + 1)))
    span[:, 0::2], span[:, 1::2] = -np.inf, np.inf
    return EventTally(
        np.zeros((LANES, L.SIDES, EVENT_STATE)), np.zeros((LANES, L.SIDES, rows)),
        np.zeros((LANES, L.SIDES, KEPT_EVENTS, rows)), np.zeros((LANES, L.SIDES, most)), span,
    )  # fmt: skip


def event_levels(mean_share):
    """Shares of a limit past which events are told [-], like `mean_share` [-], the mean load's towards it.

    A load that lies towards a limit in the mean is no event: LEAST_SHARE of what it leaves of the limit counts, of the
    whole limit where the mean lies the other way (rule of this project).
    """
    usual = np.clip(np.nan_to_num(mean_share), 0.0, 1.0)
    return usual + LEAST_SHARE * (1.0 - usual)


@compiled
def file_event(state, running, kept, peaks):
    """Put the `running` event, rows K_* [units there], among the `kept` and its depth among the `peaks`.

    `state` rows E_*. Of more than there is room for, the deepest stay.
    """
    filed = int(state[E_FILED])
    state[E_FILED] += 1.0
    if filed < peaks.shape[0]:
        peaks[filed] = running[K_DEPTH]
    place = filed
    if filed >= kept.shape[0]:
        place = 0
        for i in range(kept.shape[0]):
            place = i if kept[i, K_DEPTH] < kept[place, K_DEPTH] else place
        if running[K_DEPTH] <= kept[place, K_DEPTH]:
            return
    for row in range(running.size):
        kept[place, row] = running[row]


@compiled
def follow_event(worst, steps, level, dt, state, running, kept, peaks):
    """Follow the highest share of a limit through `steps` samples: which event they belong to, and how long past it.

    `worst` (steps,) [-], `level` [-], `dt` [s]; `state`, `running`, `kept`, `peaks` of one lane and side.
    """
    beyond = state[E_BEYOND] > 0.0
    for i in range(steps):
        share = worst[i]
        if not beyond and share < level:
            continue
        now = state[E_SAMPLES] + i
        if not beyond and (state[E_BEGUN] == 0.0 or (now - state[E_LAST]) * dt >= EVENT_GAP):
            if state[E_BEGUN] > 0.0:
                file_event(state, running, kept, peaks)
            state[E_BEGUN] += 1.0
            running[:] = 0.0
        beyond = share >= level or share >= level - RELEASE_MARGIN
        if share >= level:
            running[K_DURATION] += dt
        if beyond:
            state[E_LAST] = now
    state[E_BEYOND] = 1.0 if beyond else 0.0
    state[E_SAMPLES] += steps


@compiled
def take_moment(moment, first, buffer, channels, lane, toward, running):
    """Put the held moment of a `lane`, rows of `moment` (flat) from `first` on, into the `running` event.

    `buffer` (rows, steps, LANES) of the chunk with `channels` of load, `toward` [-] +1 for the design side, -1 reverse.
    """
    step = int(moment[at(first + L.M_STEP, lane)])
    parts = Parts(
        moment[at(first + L.M_HEAVE, lane)],
        moment[at(first + L.M_PITCH, lane)],
        moment[at(first + L.M_ROLL, lane)],
        moment[at(first + L.M_WAVE, lane)],
        moment[at(first + L.M_SPEED, lane)],
        moment[at(first + L.M_JOLT, lane)],
        moment[at(first + L.M_LIMIT, lane)],
    )
    rise, vented = moment[at(first + L.M_RISE, lane)], moment[at(first + L.M_VENTED, lane)]
    running[K_CHANNEL] = moment[at(first + L.M_CHANNEL, lane)]
    running[K_CAUSE] = cause_of(toward, parts, rise, vented)
    running[K_SPEED] = buffer[channels + R_SPEED, step, lane]
    running[K_PITCH] = buffer[channels + R_PITCH, step, lane]
    running[K_ROLL] = buffer[channels + R_ROLL, step, lane]
    running[K_HEAVE] = buffer[channels + R_HEAVE, step, lane]
    running[K_ELEVATION] = buffer[channels + R_ELEVATION, step, lane]
    for s in range(running.shape[0] - KEPT_ROWS):
        running[KEPT_ROWS + s] = moment[at(first + L.MOMENT_ROWS + s, lane)]


@compiled_with_arrays
def count_events(buffer, steps, chunk_start, channels, held, tally, dt, alive):
    """Events and extremes along the span of one chunk, of every lane still `alive` (LANES,).

    `buffer` (rows, at least `steps`, LANES) with `channels` of load, `chunk_start` [s] of the march, `held` (Held) of
    the chunk, `tally` an `EventTally`, `dt` [s] the step.
    """
    moment, span = held.moment.reshape(-1), held.span.reshape(-1)
    history = np.empty(steps)
    for lane in range(LANES):
        if alive[lane] == 0:
            continue
        for row in range(tally.span.shape[1]):
            value = span[at(row, lane)]
            better = value > tally.span[lane, row] if row % 2 == 0 else value < tally.span[lane, row]
            if better:
                tally.span[lane, row] = value
        for side in range(L.SIDES):
            level, deepest = np.float64(held.level[side, lane]), np.float64(held.share[side, lane])
            state, running = tally.state[lane, side], tally.running[lane, side]
            if state[E_BEYOND] == 0.0 and deepest < level:
                state[E_SAMPLES] += steps
                continue
            for i in range(steps):
                history[i] = buffer[channels + R_WORST_REVERSE + side, i, lane]
            follow_event(
                history, steps, level, dt, state, running, tally.kept[lane, side], tally.peaks[lane, side]
            )  # fmt: skip
            if deepest >= level and deepest > running[K_DEPTH]:
                first = side * (L.MOMENT_ROWS + running.shape[0] - KEPT_ROWS)
                running[K_DEPTH] = deepest
                running[K_TIME] = chunk_start + moment[at(first + L.M_STEP, lane)] * dt
                toward = -1.0 if side == L.REVERSE_SIDE else 1.0
                take_moment(moment, first, buffer, channels, lane, toward, running)


def events_of(tally, lane, side):
    """(events in full (n, KEPT_ROWS + strips), deepest first; depths of all [-] in order) of a finished `lane`.

    `tally` an `EventTally`, `side` REVERSE_SIDE or NORMAL_SIDE. What still runs at the end is an event too.
    """
    state, kept, peaks = (part[lane, side].copy() for part in (tally.state, tally.kept, tally.peaks))
    if state[E_BEGUN] > 0.0:
        file_event(state, tally.running[lane, side], kept, peaks)
    count = int(state[E_FILED])
    kept = kept[: min(count, KEPT_EVENTS)]
    return kept[np.argsort(-kept[:, K_DEPTH], kind="stable")], peaks[: min(count, peaks.shape[0])]
