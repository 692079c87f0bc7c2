"""Rainflow cycles of a load history, counted while it arrives (ASTM E1049-85, 5.4.4).

A channel keeps a stack of open reversals and a small state vector; memory does not grow with time.
A cycle is closed when its range lies inside both neighbours (equal ranges close). What stays open is
the residue: ranges that first grow and then shrink. Counted as half cycles at the end it gives the same
ranges, means and counts as the ASTM three-point rule, which counts the growing ones as halves on the
way (tests hold it against the standard's tables and two other open counters). Kept whole, it lets two
records be joined in order: feeding the residue of the second to the state of the first closes exactly
the cycles that the joined record has.

Closing compares load values, not differences, so that counts do not change under a shift, a change of
scale or a mirror, to the last bit. NaN must be refused by the caller: it would be taken as a reversal.
"""

import numpy as np

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.fatigue.constant_life import cycle_damage

STACK_SIZE = 128
CLOSED_SIZE = 512  # closed cycles kept before they are counted together
# Places in the state vector.
LENGTH, LAST, DIRECTION, STARTED, OVERFLOWED = 0, 1, 2, 3, 4
STATE_SIZE = 5
NEGLIGIBLE_SHARE = 0.01  # [-] of the largest open range: what a full stack may drop without being flagged

RESIDUE_RULE = "half cycles: each range left open at the end counts one half (ASTM E1049-85, 5.4.4)"


def new_counter(channels=1):
    """Fresh (stacks [load], states) of shapes (channels, STACK_SIZE) and (channels, STATE_SIZE), float64."""
    return np.zeros((channels, STACK_SIZE)), np.zeros((channels, STATE_SIZE))


@compiled
def make_room(stack, length, state, closed, found):
    """(Stack length, cycles in `closed`) after a full stack gave up one or two points.

    `stack` (STACK_SIZE,) [load] with `length` points, `state` of the channel, `closed` (k, 3) with `found` cycles so
    far: from [load], to [load], count [-]. The oldest growing range is counted as the half cycle that it can only
    become in this record (the total stays exact). A stack of shrinking ranges gives up its smallest as a full cycle;
    that sets the overflow flag unless it is below `NEGLIGIBLE_SHARE` of the largest.
    """
    if abs(stack[1] - stack[0]) <= abs(stack[2] - stack[1]):
        closed[found, 0] = stack[0]
        closed[found, 1] = stack[1]
        closed[found, 2] = 0.5
        for i in range(length - 1):
            stack[i] = stack[i + 1]
        return length - 1, found + 1
    smallest = abs(stack[length - 1] - stack[length - 2])
    largest = 0.0
    for i in range(length - 1):
        largest = max(largest, abs(stack[i + 1] - stack[i]))
    if smallest > NEGLIGIBLE_SHARE * largest:
        state[OVERFLOWED] += 1.0
    closed[found, 0] = stack[length - 2]
    closed[found, 1] = stack[length - 1]
    closed[found, 2] = 1.0
    return length - 2, found + 1


@compiled
def push_reversal(load, stack, length, closed, found):
    """(Stack length, cycles in `closed`) after the reversal `load` went on a stack that has room.

    `stack` [load] with `length` points, `closed` (k, 3) with `found` cycles so far, as in `make_room`. Every cycle that
    `load` closes is appended to `closed`: the last open range but one is a cycle when it lies inside both neighbours.
    """
    while length >= 3:
        first = stack[length - 3]
        start = stack[length - 2]
        end = stack[length - 1]
        below = min(first, load) <= min(start, end)
        above = max(first, load) >= max(start, end)
        if not (below & above):
            break
        closed[found, 0] = start
        closed[found, 1] = end
        closed[found, 2] = 1.0
        found += 1
        length -= 2
    stack[length] = load
    return length + 1, found


@compiled
def add_cycles(closed, found, bins, histogram, damage, curve):
    """Put the first `found` cycles of `closed` (k, 3) [load] into `histogram` and `damage`.

    `bins`, `histogram`, `damage`, `curve` as in `count_chunk`.
    """
    for i in range(found):
        load_range = abs(closed[i, 0] - closed[i, 1])
        mean = 0.5 * (closed[i, 0] + closed[i, 1])
        count = closed[i, 2]
        if histogram.size > 0:
            row = int(min(load_range / bins.range_width, histogram.shape[0] - 1.0))
            column = int(min(max((mean - bins.mean_low) / bins.mean_width, 0.0), histogram.shape[1] - 1.0))
            histogram[row, column] += count
        if curve.slope > 0.0:
            normal, reverse = curve.normal_ultimate, curve.reverse_ultimate
            damage[0] += count * cycle_damage(load_range, mean, normal, reverse, curve.slope, curve.scale)
            damage[1] += count * cycle_damage(load_range, mean, normal, reverse, curve.steep_slope, curve.steep_scale)


@compiled
def count_on(history, closed, stack, state, bins, histogram, damage, curve):
    """As `count_chunk`, with room for closed cycles given: `closed` (k, 3), overwritten, k over the stack's size.

    `history`, `stack`, `state`, `bins`, `histogram`, `damage`, `curve` as in `count_chunk`.
    """
    n = history.shape[0]
    i = 0
    if n > 0 and state[STARTED] == 0.0:
        state[STARTED] = 1.0
        state[LAST] = history[0]
        stack[0] = history[0]
        state[LENGTH] = 1.0
        i = 1
    length = int(state[LENGTH])
    last = state[LAST]
    rising = state[DIRECTION] > 0.0
    if state[DIRECTION] == 0.0:
        while i < n and history[i] == last:
            i += 1
        if i == n:
            return
        rising = history[i] > last
    found = 0
    # An unsigned index spares the check for counting from the end, a quarter of the whole time.
    while i < n:
        if rising:
            while i < n and history[np.uint64(i)] >= last:
                last = history[np.uint64(i)]
                i += 1
        else:
            while i < n and history[np.uint64(i)] <= last:
                last = history[np.uint64(i)]
                i += 1
        if i < n:
            if length == stack.shape[0]:
                length, found = make_room(stack, length, state, closed, found)
            length, found = push_reversal(last, stack, length, closed, found)
            rising = not rising
            last = history[np.uint64(i)]
            i += 1
        if i >= n or found > closed.shape[0] - stack.shape[0]:
            add_cycles(closed, found, bins, histogram, damage, curve)
            found = 0
    state[LENGTH] = length
    state[LAST] = last
    state[DIRECTION] = 1.0 if rising else -1.0


@compiled_with_arrays
def count_chunk(history, stack, state, bins, histogram, damage, curve):
    """Feed the next samples of one channel and count every cycle they close. Returns nothing.

    history : (n,) float64, finite [load]      next samples; any n >= 0
    stack, state : (STACK_SIZE,), (STATE_SIZE,)  as `new_counter` makes them, changed in place
    bins : CycleBins [load]                    of the histogram
    histogram : (R, M) or size 0               counts are added; size 0 = no histogram wanted
    damage : (2,) [-]                          damages for both slopes of the curve are added
    curve : WearCurve, floats [load], [-]      see `constant_life`

    Only full cycles are counted here; `close_residue` adds the halves. `state[OVERFLOWED]` > 0 afterwards
    means that the stack was too small and the counts are not exact.
    """
    count_on(history, np.empty((CLOSED_SIZE, 3)), stack, state, bins, histogram, damage, curve)


@compiled_with_arrays
def close_residue(stack, state, scratch, bins, histogram, damage, curve):
    """Count what the end of a record leaves open: each open range one half (ASTM E1049-85, 5.4.4).

    `stack` and `state` stay as they are, so that the channel can be carried on; `scratch` (the stack's size,)
    is overwritten. Give copies of `histogram` and `damage` if the open counts are needed later.
    The last sample is a reversal here and may first close full cycles. `bins`, `curve` as in `count_chunk`.
    """
    if state[DIRECTION] == 0.0:
        return
    closed = np.empty((2 * stack.shape[0], 3))
    length, found = int(state[LENGTH]), 0
    for i in range(length):
        scratch[i] = stack[i]
    if length == stack.shape[0]:
        length, found = make_room(scratch, length, state, closed, found)
    length, found = push_reversal(state[LAST], scratch, length, closed, found)
    for i in range(length - 1):
        closed[found, 0] = scratch[i]
        closed[found, 1] = scratch[i + 1]
        closed[found, 2] = 0.5
        found += 1
    add_cycles(closed, found, bins, histogram, damage, curve)


def residue_loads(stack, state):
    """Loads that a record leaves open, in time order, the last sample included; (k,) [load].

    `stack`, `state` as `new_counter` makes them. Feed the loads to `count_chunk` with the state of the record before to
    join two records in order.
    """
    if state[STARTED] == 0.0:
        return np.empty(0)
    open_loads = stack[: int(state[LENGTH])]
    if state[DIRECTION] == 0.0:
        return open_loads.copy()
    return np.append(open_loads, state[LAST])
