"""Excursions one by one: the same as the counting rule finds, and the same however a record is cut."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.fatigue.excursion_list import (
    HEAD,
    HEAD_OVER,
    LOADED,
    RUNNING,
    extremes_chunk,
    joined_excursions,
    list_excursions,
    listed_events,
    new_extreme_state,
    new_list_state,
)
from seaload.fatigue.excursions import (
    COUNT,
    EVENT_LONGEST,
    EVENTS,
    LONGEST,
    event_chunk,
    excursion_chunk,
    new_event_state,
    new_excursion_state,
)

STEP = 0.5
shares = st.lists(st.sampled_from([0.0, 0.4, 0.94, 0.96, 1.0, 1.2]), min_size=1, max_size=60).map(np.array)


def record(signal, times, chunks=1, continuous=True):
    """What a record tells about its excursions, read in `chunks` pieces."""
    state, rows = new_list_state()[0], []
    for values, moments in zip(np.array_split(signal, chunks), np.array_split(times, chunks), strict=True):
        found = np.empty((len(values), 3))
        rows.extend(found[: list_excursions(values, moments, 1.0, 1.0, 0.05, state, found)])
    if state[RUNNING]:
        rows.append(state[1:4])
    return np.array(rows).reshape(-1, 3), bool(state[RUNNING]), state[HEAD], bool(state[HEAD_OVER]), continuous


@settings(deadline=None)
@given(shares, st.integers(1, 5))
def test_the_list_has_the_excursions_that_the_rule_counts(signal, chunks):
    rows = joined_excursions([record(signal, STEP * np.arange(len(signal)), chunks)])
    state = new_excursion_state()[0]
    excursion_chunk(signal, STEP, 1.0, 0.05, state)
    assert len(rows) == state[COUNT]
    assert max((STEP + stop - start for start, stop, _ in rows), default=0.0) == state[LONGEST]
    assert max((depth for _, _, depth in rows), default=-1.0) == max(signal[signal >= 1.0], default=-1.0)


@settings(deadline=None)
@given(shares, st.lists(st.integers(0, 60), max_size=5))
def test_records_join_to_the_excursions_of_the_whole(signal, cuts):
    times = STEP * np.arange(len(signal))
    whole = joined_excursions([record(signal, times)])
    cuts = sorted(min(cut, len(signal)) for cut in cuts)
    pieces = [(s, t) for s, t in zip(np.split(signal, cuts), np.split(times, cuts), strict=True) if len(s)]
    assert np.array_equal(joined_excursions([record(s, t) for s, t in pieces]), whole)


def test_an_excursion_does_not_go_on_over_missing_time():
    ends, begins = np.array([0.0, 1.2]), np.array([0.96, 1.1, 0.0])
    pieces = [record(ends, np.array([0.0, 0.5])), record(begins, np.array([60.0, 60.5, 61.0]), continuous=False)]
    assert joined_excursions(pieces).tolist() == [[0.5, 0.5, 1.2], [60.5, 60.5, 1.1]]


@settings(deadline=None)
@given(st.lists(st.sampled_from([0.0, 0.0, 0.0, 1.1]), min_size=1, max_size=200).map(np.array))
def test_events_are_grouped_as_the_event_rule_does(signal):
    times = STEP * np.arange(len(signal))
    found = listed_events(joined_excursions([record(signal, times)]))
    state = new_event_state()[0]
    event_chunk(signal, STEP, 1.0, 0.05, 10.0, state)
    assert len(found) == state[EVENTS]
    assert max(STEP + found[:, 1] - found[:, 0], default=0.0) == state[EVENT_LONGEST]


def test_extremes_keep_their_first_time_and_the_samples_under_load():
    state = new_extreme_state()[0]
    signal, times = np.array([0.0, 0.5, -0.2, 0.5, -0.2, 0.05]), np.arange(6.0)
    for part in (slice(0, 3), slice(3, 6)):
        extremes_chunk(signal[part], times[part], 0.1, state)
    assert state[:4].tolist() == [0.5, 1.0, -0.2, 2.0] and state[LOADED] == 4.0
