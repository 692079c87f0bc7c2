"""Place of a row and lane in a flat array whose last index is the lane.

Flat arrays with a constant stride tell the compiler that two rows never overlap, and an unsigned index that it
never counts from the end: without both, the loop over lanes is not vectorised (measured: 4 times slower). A row in
single precision is as wide as a processor's widest vector and its lines of memory: it should not begin amid a line.
"""

import numpy as np

from seaload.basis.compile import compiled

LANES = 16
LINE = 64  # bytes


def lined_up(array):
    """A copy of an `array` (contiguous, plain numbers) that begins where a line of memory does."""
    spare = LINE // array.itemsize
    room = np.empty(array.size + spare, dtype=array.dtype)
    first = -room.ctypes.data % LINE // array.itemsize
    copy = room[first : first + array.size].reshape(array.shape)
    copy[...] = array
    return copy


@compiled
def at(row, lane):
    """Flat index of `row`, `lane` (whole numbers >= 0)."""
    return np.uint64(row) * np.uint64(LANES) + np.uint64(lane)


@compiled
def wide(row, lane):
    """The same in an array whose rows are two LANES wide."""
    return np.uint64(row) * np.uint64(2 * LANES) + np.uint64(lane)
