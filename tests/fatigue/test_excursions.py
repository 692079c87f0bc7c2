"""Excursions and events: hysteresis, durations, the gap, chunks."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.fatigue.excursions import (
    COUNT,
    DEEPEST,
    EVENT_DEEPEST,
    EVENT_GAP,
    EVENT_LONGEST,
    EVENTS,
    LONGEST,
    RELEASE_MARGIN,
    TIME_BEYOND,
    event_chunk,
    excursion_chunk,
    new_event_state,
    new_excursion_state,
)

signals = st.lists(st.sampled_from([0.0, 0.4, 0.46, 0.48, 0.5, 0.7, 1.2]), min_size=1, max_size=80)


def excursions(pieces, level=0.5, dt=0.02):
    state = new_excursion_state()[0]
    for piece in pieces:
        excursion_chunk(np.asarray(piece, dtype=float), dt, level, RELEASE_MARGIN, state)
    return state


def events(pieces, dt=1.0, level=0.5):
    state = new_event_state()[0]
    for piece in pieces:
        event_chunk(np.asarray(piece, dtype=float), dt, level, RELEASE_MARGIN, EVENT_GAP, state)
    return state


def test_a_wiggle_at_the_level_is_one_excursion():
    state = excursions([[0.0, 0.5, 0.47, 0.51, 0.46, 0.6, 0.44, 0.3]], dt=0.1)
    assert state[COUNT] == 1
    assert np.isclose(state[TIME_BEYOND], 0.3)  # 0.5, 0.51, 0.6
    assert np.isclose(state[LONGEST], 0.5)  # from 0.5 until back under 0.45
    assert state[DEEPEST] == 0.6


def test_back_by_the_margin_makes_the_next_one_new():
    assert excursions([[0.0, 0.5, 0.449, 0.5, 0.449]])[COUNT] == 2


def test_a_record_that_starts_past_the_level_starts_with_an_excursion():
    assert excursions([[0.8, 0.2]])[COUNT] == 1


def test_nothing_past_the_level():
    state = excursions([[0.1, -3.0, 0.499]])
    assert (state[COUNT], state[TIME_BEYOND], state[LONGEST], state[DEEPEST]) == (0, 0, 0, 0.499)


def test_excursions_closer_than_the_gap_are_one_event():
    spike = [0.6]
    assert events([spike + [0.0] * 9 + spike])[EVENTS] == 2  # 10 s from end to start: a new one
    assert events([spike + [0.0] * 8 + spike])[EVENTS] == 1
    assert events([spike + [0.0] * 8 + spike + [0.0] * 8 + [0.9]])[EVENTS] == 1  # a chain stays one
    state = events([spike + [0.0] * 8 + [0.9, 0.0]])
    assert state[EVENT_LONGEST] == 10.0 and state[EVENT_DEEPEST] == 0.9


@settings(deadline=None)
@given(signals, st.lists(st.integers(0, 80), max_size=4))
def test_chunks_and_whole_give_the_same_bits(signal, cuts):
    pieces = np.split(np.array(signal), sorted(min(cut, len(signal)) for cut in cuts))
    assert excursions(pieces).tobytes() == excursions([signal]).tobytes()
    assert events(pieces).tobytes() == events([signal]).tobytes()


@settings(deadline=None)
@given(signals)
def test_events_are_never_more_than_excursions_and_begin_with_one(signal):
    count, grouped = excursions([signal], dt=1.0)[COUNT], events([signal])[EVENTS]
    assert grouped <= count and (grouped > 0) == (count > 0)


def test_rate_of_a_gaussian_signal_is_the_rice_rate():
    """Rice 1944-45: up-crossings of a level at nu0 exp(-a^2/2); excursions merge ripples, so a little under."""
    samples, dt = 2**19, 0.05
    generator = np.random.default_rng(5)
    frequency = np.fft.rfftfreq(samples, dt)
    inside = (frequency > 0.20) & (frequency < 0.25)
    load = np.fft.irfft(inside * (generator.normal(size=(2, len(frequency))).T @ np.array([1.0, 1j])), samples)
    load /= load.std()
    nu0 = np.sqrt(np.mean(frequency[inside] ** 2))
    expected = nu0 * np.exp(-0.5 * 2.0**2) * samples * dt
    assert np.isclose(excursions([load], level=2.0, dt=dt)[COUNT], expected, rtol=0.08)
