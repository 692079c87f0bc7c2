"""Rainflow of LANES records side by side: only the samples where one of them may turn are looked at.

Samples stand step by step, the lanes beside each other, flat. A record can only turn where it goes another way
than one step before (up, down or level), and that is found for all lanes at once. The rule itself is that
of `rainflow`, and so are stack, state and closed cycles, to the last bit (a test holds them together).
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import LANES
from seaload.fatigue.rainflow import DIRECTION, LENGTH, make_room, push_reversal

MARKS_A_WORD = 8  # marks are bytes, and looked at eight at a time


@compiled
def mark_turns(samples, steps, marks):
    """Put into `marks` (steps LANES,) whether a record may turn at a sample, 0 or 1 [-]; the first two always may.

    `samples` (steps LANES,) flat, a row a step, [load] of each record, `steps` of them. It may turn where two steps on
    end do not go the same way: their product is not above zero. One long loop: over sixteen lanes alone it is not
    vectorised.
    """
    for i in range(min(2, steps) * LANES):
        marks[i] = np.uint8(1)
    for i in range(2 * LANES, steps * LANES):
        here = np.uint64(i)
        middle = samples[here - np.uint64(LANES)]
        product = (middle - samples[here - np.uint64(2 * LANES)]) * (samples[here] - middle)
        marks[here] = np.uint8(0) if product > 0.0 else np.uint8(1)


@compiled
def take_turn(before, now, stack, state, closed, found):
    """Cycles in `closed` after sample `now` of one record followed `before` [load]; the record's direction must be
    known.

    `stack`, `state` of the record as `rainflow.new_counter` makes them, `closed` (k, 3) with `found` cycles so far, as
    in `rainflow.push_reversal`.
    """
    turned = now < before if state[DIRECTION] > 0.0 else now > before
    if not turned:
        return found
    length = int(state[LENGTH])
    if length == stack.shape[0]:
        length, found = make_room(stack, length, state, closed, found)
    length, found = push_reversal(before, stack, length, closed, found)
    state[LENGTH] = length
    state[DIRECTION] = -state[DIRECTION]
    return found
