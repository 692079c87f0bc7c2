"""Records counted side by side: the turns, stacks and cycles of the plain counter, to the last bit."""

import numpy as np
import pytest

from seaload.basis.lane_index import LANES
from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.rainflow import CLOSED_SIZE, DIRECTION, LAST, count_chunk, new_counter
from seaload.fatigue.side_by_side import mark_turns, take_turn

PLAIN = CycleBins(0.05, -2.0, 0.1)  # bins of a histogram that is not wanted
NO_DAMAGE = WearCurve(1.0, 1.0, 0.0, 0.0, 1.0, 1.0)


def records(kind, steps):
    """(steps, LANES) float32: noise, noise with plateaus of equal samples, a smooth sum of sines, a ramp."""
    rng = np.random.default_rng(7)
    noise = rng.normal(size=(steps, LANES))
    t = np.arange(steps)[:, None] * (1.0 + 0.1 * np.arange(LANES))
    made = {
        "noise": noise,
        "plateaus": np.round(2.0 * noise),
        "smooth": np.sin(0.1 * t) + 0.4 * np.sin(0.37 * t),
        "ramp": np.cumsum(np.abs(noise), axis=0),
    }[kind]
    return made.astype(np.float32)


def side_by_side(samples, start, chunk):
    """(stacks, states, cycles of each lane) counted in chunks, the first `start` samples by the plain counter."""
    stacks, states = new_counter(LANES)
    cycles, closed = [[] for _ in range(LANES)], np.empty((CLOSED_SIZE, 3))
    for lane in range(LANES):
        first = samples[:start, lane].astype(float)
        count_chunk(first, stacks[lane], states[lane], PLAIN, np.empty((0, 0)), np.zeros(2), NO_DAMAGE)
        assert states[lane, DIRECTION] != 0.0
    for begin in range(start, len(samples), chunk):
        part = samples[begin : begin + chunk]
        marks = np.full(part.size, 9, dtype=np.uint8)
        mark_turns(part.reshape(-1), len(part), marks)
        for i, lane in np.argwhere(marks.reshape(part.shape) == 1):
            before = float(part[i - 1, lane]) if i > 0 else states[lane, LAST]
            found = take_turn(before, float(part[i, lane]), stacks[lane], states[lane], closed, 0)
            cycles[lane] += [tuple(row) for row in closed[:found]]
        states[:, LAST] = part[-1]
    return stacks, states, cycles


@pytest.mark.parametrize("chunk", [1, 2, 3, 50, 1000])
@pytest.mark.parametrize("kind", ["noise", "plateaus", "smooth", "ramp"])
def test_the_same_stacks_states_and_cycles_as_the_plain_counter(kind, chunk):
    samples = records(kind, 400)
    stacks, states, cycles = side_by_side(samples, 20, chunk)
    for lane in range(LANES):
        (stack,), (state,) = new_counter()
        histogram = np.zeros((400, 1))
        whole = samples[:, lane].astype(float)
        start = np.zeros_like(histogram)
        for part, bins in ((whole[:20], start), (whole[20:], histogram)):
            count_chunk(part, stack, state, CycleBins(0.05, -1e9, 2e9), bins, np.zeros(2), NO_DAMAGE)
        assert state.tobytes() == states[lane].tobytes()
        length = int(state[0])
        assert stack[:length].tobytes() == stacks[lane, :length].tobytes()
        found = np.array(cycles[lane]).reshape(-1, 3)
        rows = np.minimum(np.abs(found[:, 0] - found[:, 1]) / 0.05, 399.0).astype(int)
        assert np.array_equal(np.bincount(rows, found[:, 2], 400), histogram[:, 0])


def test_a_record_that_moves_one_way_is_marked_only_at_the_start():
    samples = records("ramp", 64)
    marks = np.empty(samples.size, dtype=np.uint8)
    mark_turns(samples.reshape(-1), 64, marks)
    assert marks.reshape(64, LANES).sum(axis=1).tolist() == [LANES, LANES] + [0] * 62
