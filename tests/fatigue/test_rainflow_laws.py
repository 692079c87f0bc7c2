"""Laws of counting: shift, scale, mirror, collinear points, splitting, joining; and the fixed stack."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.fatigue.constant_life import WearCurve, cycle_damage
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.rainflow import (
    OVERFLOWED,
    STACK_SIZE,
    close_residue,
    count_chunk,
    new_counter,
    residue_loads,
)

# Whole loads make ties and plateaus common; halves and sums of them are exact in binary.
histories = st.lists(st.integers(-30, 30), min_size=1, max_size=120).map(lambda v: np.array(v, dtype=float))
ULTIMATES = (100.0, 70.0)


def rules_into(histogram, damage, scale=1.0):
    return (CycleBins(1.0, -30.0, 0.5), histogram, damage, WearCurve(*ULTIMATES, 10.0, 14.0, scale, scale))


def counted(pieces, *, closed=True):
    """(histogram, damage, stack, state) after feeding the pieces in order."""
    stacks, states = new_counter()
    histogram, damage = np.zeros((61, 121)), np.zeros(2)
    rules = rules_into(histogram, damage)
    for piece in pieces:
        count_chunk(np.asarray(piece, dtype=float), stacks[0], states[0], *rules)
    if closed:
        close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
    return histogram, damage, stacks[0], states[0]


def listed(history):
    return sorted(zip(*list_cycles(history)[:3], strict=True))


def totals(history):
    """Count of each (range, mean): halves that the two rules list apart are summed."""
    sums = {}
    for load_range, mean, count in listed(history):
        sums[load_range, mean] = sums.get((load_range, mean), 0.0) + count
    return sums


@settings(deadline=None)
@given(histories)
def test_streaming_counts_what_the_list_counts(history):
    histogram, damage, _, _ = counted([history])
    expected, harm = np.zeros_like(histogram), 0.0
    for load_range, mean, count in listed(history):
        expected[int(load_range), int((mean + 30.0) / 0.5)] += count
        harm += count * cycle_damage(load_range, mean, *ULTIMATES, 10.0, 1.0)
    assert np.array_equal(histogram, expected)
    assert np.isclose(damage[0], harm, rtol=1e-12, atol=0.0)


@settings(deadline=None)
@given(histories, st.integers(-1000, 1000))
def test_a_constant_shift_moves_only_the_means(history, shift):
    moved = [(r, m - shift, c) for r, m, c in listed(history + shift)]
    assert moved == listed(history)


@settings(deadline=None)
@given(histories)
def test_a_mirrored_history_has_the_mirrored_cycles(history):
    assert sorted((r, -m + 0.0, c) for r, m, c in listed(-history)) == listed(history)


@settings(deadline=None)
@given(histories, st.integers(0, 1000))
def test_points_on_the_line_between_two_samples_change_nothing(history, where):
    i = where % len(history)
    j = min(i + 1, len(history) - 1)
    between = [0.75 * history[i] + 0.25 * history[j], 0.5 * history[i] + 0.5 * history[j]]
    longer = np.concatenate([history[: i + 1], between, history[i + 1 :]])
    assert listed(longer) == listed(history)
    assert np.array_equal(counted([longer])[0], counted([history])[0])


@settings(deadline=None)
@given(histories, st.lists(st.integers(0, 120), max_size=5))
def test_splitting_anywhere_changes_no_bit(history, cuts):
    pieces = np.split(history, sorted(min(cut, len(history)) for cut in cuts))
    whole, split = counted([history]), counted(pieces)
    for a, b in zip(whole, split, strict=True):
        assert a.tobytes() == b.tobytes()


@settings(deadline=None)
@given(histories, histories)
def test_records_join_through_their_residues(first, second):
    """Full cycles of both, and of the second's residue fed to the first's state, are those of the joined record."""
    joined, damage, stack, state = counted([first, second], closed=False)
    one, two = counted([first], closed=False), counted([second], closed=False)
    histogram, harm = one[0] + two[0], one[1] + two[1]
    count_chunk(residue_loads(two[2], two[3]), one[2], one[3], *rules_into(histogram, harm))
    assert np.array_equal(histogram, joined)
    assert np.allclose(harm, damage, rtol=1e-12, atol=0.0)
    assert np.array_equal(residue_loads(one[2], one[3]), residue_loads(stack, state))


@settings(deadline=None)
@given(histories, st.sampled_from([2.0, 0.5, 4.0]))
def test_scaling_load_and_strengths_together_changes_no_bit(history, factor):
    damages = []
    for size in (1.0, factor):
        stacks, states = new_counter()
        damage = np.zeros(2)
        curve = WearCurve(100.0 * size, 70.0 * size, 10.0, 14.0, 1.0, 1.0)
        rules = (CycleBins(1.0, 0.0, 1.0), np.zeros((0, 0)), damage, curve)
        count_chunk(size * history, stacks[0], states[0], *rules)
        close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
        damages.append(damage)
    assert damages[0].tobytes() == damages[1].tobytes()


@settings(deadline=None)
@given(histories)
def test_mirrored_face_with_swapped_ultimates_has_the_same_damage(history):
    damages = []
    for sign, ultimates in ((1.0, ULTIMATES), (-1.0, ULTIMATES[::-1])):
        stacks, states = new_counter()
        damage = np.zeros(2)
        rules = (CycleBins(1.0, 0.0, 1.0), np.zeros((0, 0)), damage, WearCurve(*ultimates, 10.0, 14.0, 1.0, 1.0))
        count_chunk(sign * history, stacks[0], states[0], *rules)
        damages.append(damage)
    assert np.allclose(damages[0], damages[1], rtol=1e-12, atol=0.0)


def test_a_growing_oscillation_longer_than_the_stack_is_still_exact():
    swings = np.arange(1.0, 400.0) * np.where(np.arange(399) % 2, 1.0, -1.0) / 20.0
    histogram, _, _, state = counted([swings])
    expected = np.zeros_like(histogram)
    for load_range, mean, count in listed(swings):
        expected[min(int(load_range), 60), int((mean + 30.0) / 0.5)] += count
    assert np.array_equal(histogram, expected)
    assert state[OVERFLOWED] == 0.0


def test_a_shrinking_oscillation_longer_than_the_stack_is_flagged_only_when_it_matters():
    signs = np.where(np.arange(400) % 2, 1.0, -1.0)
    slow = counted([signs * np.linspace(30.0, 10.0, 400)])
    quick = counted([signs * 30.0 * 0.95 ** np.arange(400)])
    assert slow[3][OVERFLOWED] > 0.0
    assert quick[3][OVERFLOWED] == 0.0
    assert np.isclose(quick[0].sum(), 199.5, atol=0.5 * STACK_SIZE)


def test_constant_amplitude_needs_a_short_stack():
    _, _, stack, state = counted([np.tile([0.0, 10.0], 5000)], closed=False)
    assert state[0] <= 3


def test_nothing_to_count():
    for history in ([], [3.0], [3.0, 3.0, 3.0]):
        histogram, damage, stack, state = counted([history])
        assert histogram.sum() == 0.0 and damage.sum() == 0.0
        assert np.array_equal(residue_loads(stack, state), history[:1])


def test_no_histogram_and_no_damage_when_none_is_wanted():
    stacks, states = new_counter()
    damage = np.zeros(2)
    history = np.array([0.0, 5.0, 1.0, 4.0, -3.0])
    curve = WearCurve(9.0, 9.0, 0.0, 0.0, 1.0, 1.0)
    count_chunk(history, stacks[0], states[0], CycleBins(1.0, 0.0, 1.0), np.zeros((0, 0)), damage, curve)
    assert damage.sum() == 0.0


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**32 - 1), st.sampled_from([3.0, 7.5, 10.0, 14.0]))
def test_range_only_damage_scales_as_load_to_the_slope(seed, slope):
    from seaload.fatigue.miner import miner_damage

    history = np.random.default_rng(seed).normal(size=300)
    small, large = (list_cycles(size * history) for size in (1.0, 1.7))
    ratio = miner_damage(large[0], large[2], slope, 1.0) / miner_damage(small[0], small[2], slope, 1.0)
    assert np.isclose(ratio, 1.7**slope, rtol=1e-10)
