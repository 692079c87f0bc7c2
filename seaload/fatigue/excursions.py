"""Excursions of a load past a level, and the events they group into, counted while the signal arrives.

Signals are shares of a limit, the counted side positive: for reverse load hand in -moment / reverse limit.
An excursion starts when the share reaches the level and ends when it is back below it by the release
margin (5 % of the limit by default), so that a wiggle at the level is one excursion. Excursions
less than a gap apart are one event. A signal that starts past the level starts with an excursion.
Durations are kept as whole samples, so that chunks and the whole give the same bits.
"""

import numpy as np

from seaload.basis.compile import compiled

RELEASE_MARGIN = 0.05  # [-] of the limit
EVENT_GAP = 10.0  # [s]

# Excursion state: what a reader wants first, then what the next chunk needs.
COUNT, TIME_BEYOND, LONGEST, DEEPEST, BEYOND, RUNNING, SAMPLES_BEYOND, LONGEST_SAMPLES = range(8)
# Event state.
EVENTS, EVENT_LONGEST, EVENT_DEEPEST, EVENT_BEYOND, SAMPLES, EVENT_START, LAST_BEYOND = range(7)


def new_excursion_state(channels=1):
    """Fresh excursion states, (channels, 8) float64; COUNT [-], TIME_BEYOND [s], LONGEST [s], DEEPEST [-] and four
    inner columns.
    """
    state = np.zeros((channels, 8))
    state[:, DEEPEST] = -np.inf
    return state


def new_event_state(channels=1):
    """Fresh event states, (channels, 7) float64; columns EVENTS [-], EVENT_LONGEST [s], EVENT_DEEPEST [-] and four
    inner ones.
    """
    state = np.zeros((channels, 7))
    state[:, EVENT_DEEPEST] = -np.inf
    return state


@compiled
def excursion_chunk(signal, dt, level, release, state):
    """Count excursions in the next samples of one channel into `state`. Returns nothing.

    signal : (n,) [-]        share of the limit, counted side positive
    dt : float [s]           sample step
    level, release : float [-]  an excursion starts at >= level and ends below level - release
    state : (8,)             of `new_excursion_state`, changed in place:
        COUNT [-] excursions begun; TIME_BEYOND [s] with signal >= level; LONGEST [s] from start to
        release, the running one included; DEEPEST [-] highest share seen, excursion or not.
    """
    beyond = state[BEYOND] > 0.0
    running = state[RUNNING]
    longest = state[LONGEST_SAMPLES]
    samples_beyond = state[SAMPLES_BEYOND]
    deepest = state[DEEPEST]
    count = state[COUNT]
    for share in signal:
        deepest = max(deepest, share)
        above = share >= level
        count += 1.0 if above and not beyond else 0.0
        beyond = above or (beyond and share >= level - release)
        running = running + 1.0 if beyond else 0.0
        longest = max(longest, running)
        samples_beyond += 1.0 if above else 0.0
    state[COUNT] = count
    state[BEYOND] = 1.0 if beyond else 0.0
    state[RUNNING] = running
    state[LONGEST_SAMPLES] = longest
    state[SAMPLES_BEYOND] = samples_beyond
    state[DEEPEST] = deepest
    state[TIME_BEYOND] = samples_beyond * dt
    state[LONGEST] = longest * dt


@compiled
def event_chunk(worst, dt, level, release, gap, state):
    """Count events in the next samples of the worst share at any place into `state`. Returns nothing.

    worst : (n,) [-]        highest share of the limit at any place of the foil, counted side positive
    dt : float [s]          sample step
    level, release : float [-]  as `excursion_chunk`
    gap : float [s]         an excursion that starts less than this after the last one ended joins its event
    state : (7,)            of `new_event_state`, changed in place:
        EVENTS [-] begun; EVENT_LONGEST [s] from first start to last release; EVENT_DEEPEST [-] highest share.
    """
    beyond = state[EVENT_BEYOND] > 0.0
    for i in range(worst.shape[0]):
        share = worst[i]
        if share > state[EVENT_DEEPEST]:
            state[EVENT_DEEPEST] = share
        if not beyond and share < level:
            continue
        now = state[SAMPLES] + i
        if not beyond and share >= level:
            if state[EVENTS] == 0.0 or (now - state[LAST_BEYOND]) * dt >= gap:
                state[EVENTS] += 1.0
                state[EVENT_START] = now
        beyond = share >= level or (beyond and share >= level - release)
        if beyond:
            state[LAST_BEYOND] = now
            lasted = (now + 1.0 - state[EVENT_START]) * dt
            state[EVENT_LONGEST] = max(state[EVENT_LONGEST], lasted)
    state[EVENT_BEYOND] = 1.0 if beyond else 0.0
    state[SAMPLES] += worst.shape[0]


@compiled
def excursion_passed_over(highest, level, state):
    """Whether samples that reach `highest` [-] begin no excursion past `level` [-] and end none.

    If so, `state` (8,) of `new_excursion_state` is as after them.
    """
    if state[BEYOND] > 0.0 or highest >= level:
        return False
    state[RUNNING] = 0.0
    state[DEEPEST] = max(state[DEEPEST], highest)
    return True


@compiled
def event_passed_over(highest, samples, level, state):
    """Whether so many `samples` that reach `highest` [-] begin no event past `level` [-] and end none.

    If so, `state` (7,) of `new_event_state` is as after them.
    """
    if state[EVENT_BEYOND] > 0.0 or highest >= level:
        return False
    state[EVENT_DEEPEST] = max(state[EVENT_DEEPEST], highest)
    state[SAMPLES] += samples
    return True
