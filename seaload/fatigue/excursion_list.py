"""Excursions of a recorded load one by one, with their times, by the rule of `excursions`; and its extremes.

Times are those of the samples, so that gaps and uneven steps do no harm. An excursion may run on over the end of
a record; the next record's head says how long it went on, so that records join in any order.
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.fatigue.excursions import EVENT_GAP

# State of a channel and level: whether one is running, when it began, its last sample, its depth, the head's last
# sample, whether the head is over.
RUNNING, BEGAN, LAST_IN, DEPTH, HEAD, HEAD_OVER = range(6)
LIST_STATE = 6
START, STOP, DEEPEST = range(3)  # columns of a row
HIGHEST, HIGHEST_TIME, LOWEST, LOWEST_TIME, LOADED = range(5)  # state of the extremes
EXTREME_STATE = 5


def new_list_state(channels=1):
    """Fresh states of `list_excursions`, (channels, LIST_STATE) [s] and [-], for so many `channels`."""
    state = np.zeros((channels, LIST_STATE))
    state[:, HEAD] = np.nan
    return state


def new_extreme_state(channels=1):
    """Fresh states of `extremes_chunk`, (channels, EXTREME_STATE) [load] and [s], for so many `channels`."""
    state = np.zeros((channels, EXTREME_STATE))
    state[:, HIGHEST], state[:, LOWEST] = -np.inf, np.inf
    state[:, HIGHEST_TIME] = state[:, LOWEST_TIME] = np.nan
    return state


@compiled
def list_excursions(signal, times, factor, level, release, state, rows):
    """Number of excursions that ended in the next samples; `rows` (n, 3) START [s], STOP [s], DEEPEST [-] of each.

    signal : (n,) [load]   times : (n,) [s] rising   factor : share of the limit, counted side positive, a load
    level, release : [-] as `excursions.excursion_chunk`
    state : (LIST_STATE,) of `new_list_state`, changed in place; HEAD [s] is the last sample before the first share
        below level - release, nan if that is the first: so long an excursion of the record before goes on.
    STOP is the time of the last sample of the excursion.
    """
    found = 0
    running = state[RUNNING] > 0.0
    for i in range(signal.shape[0]):
        share = factor * signal[i]
        below = share < level - release
        if running and below:
            rows[found, START], rows[found, STOP] = state[BEGAN], state[LAST_IN]
            rows[found, DEEPEST] = state[DEPTH]
            found += 1
            running = False
        elif not running and share >= level:
            running = True
            state[BEGAN], state[DEPTH] = times[i], share
        if running:
            state[LAST_IN] = times[i]
            state[DEPTH] = max(state[DEPTH], share)
        if state[HEAD_OVER] == 0.0:
            if below:
                state[HEAD_OVER] = 1.0
            else:
                state[HEAD] = times[i]
    state[RUNNING] = 1.0 if running else 0.0
    return found


@compiled
def extremes_chunk(signal, times, under_load, state):
    """Highest and lowest load so far with their times, and samples under load: `under_load` [load] or more, either way.

    `signal` (n,) [load], `times` (n,) [s] rising; `state` (EXTREME_STATE,) of `new_extreme_state`, changed in place.
    """
    highest, lowest = -np.inf, np.inf
    loaded = 0
    for i in range(signal.shape[0]):
        highest = max(highest, signal[i])
        lowest = min(lowest, signal[i])
        loaded += 1 if abs(signal[i]) >= under_load else 0
    if highest > state[HIGHEST]:
        i = 0
        while signal[i] < highest:
            i += 1
        state[HIGHEST], state[HIGHEST_TIME] = highest, times[i]
    if lowest < state[LOWEST]:
        i = 0
        while signal[i] > lowest:
            i += 1
        state[LOWEST], state[LOWEST_TIME] = lowest, times[i]
    state[LOADED] += loaded


def joined_excursions(records):
    """Excursions of one place and level over records in the order of time, (k, 3) START, STOP, DEEPEST.

    records : of (rows (m, 3), whether the last of them still runs at the end, HEAD [s], HEAD_OVER, whether no time is
    missing since the record before). An excursion that runs on over an end lasts to the head of the next record.
    """
    joined, running = [], False
    for rows, runs_on, head, head_over, continuous in records:
        rows = [list(row) for row in rows]
        goes_on = running and continuous
        if goes_on and not np.isnan(head):
            joined[-1][STOP] = max(joined[-1][STOP], head)
            while rows and rows[0][START] <= head:
                first = rows.pop(0)
                joined[-1][STOP] = max(joined[-1][STOP], first[STOP])
                joined[-1][DEEPEST] = max(joined[-1][DEEPEST], first[DEEPEST])
        joined.extend(rows)
        running = runs_on or (goes_on and not head_over)
    return np.array(joined, dtype=float).reshape(-1, 3)


def listed_events(excursions):
    """Events, (k, 3) START [s], STOP [s], DEEPEST [-]: `excursions` at any place less than EVENT_GAP apart.

    `excursions` (m, 3), the same columns, in any order.
    """
    if len(excursions) == 0:
        return np.empty((0, 3))
    rows = excursions[np.lexsort((excursions[:, STOP], excursions[:, START]))]
    reached = np.maximum.accumulate(rows[:, STOP])
    first = np.flatnonzero(np.concatenate([[True], rows[1:, START] - reached[:-1] >= EVENT_GAP]))
    stop, deepest = (np.maximum.reduceat(rows[:, column], first) for column in (STOP, DEEPEST))
    return np.stack([rows[first, START], stop, deepest], axis=1)
