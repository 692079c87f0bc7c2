"""Rainflow cycles of a whole history as a list, by the three-point rule of ASTM E1049-85, 5.4.4, as printed.

For files and checks. The march counts into histograms with `rainflow.count_chunk`, which keeps no list.
"""

import numpy as np

from seaload.basis.compile import compiled_with_arrays


@compiled_with_arrays
def reversal_indices(history):
    """Where the `history` (n,) [any unit] turns, first and last sample included; (k,) int64. A plateau counts where it
    starts.
    """
    n = history.shape[0]
    found = np.empty(n, np.int64)
    count = 0
    last = 0
    direction = 0.0
    for i in range(1, n):
        step = history[i] - history[last]
        if step != 0.0:
            if direction * step <= 0.0:
                found[count] = last
                count += 1
                direction = 1.0 if step > 0.0 else -1.0
            last = i
    if count > 0:
        found[count] = last
        count += 1
    return found[:count].copy()


@compiled_with_arrays
def closed_cycles(history, reversals):
    """Starts, ends (indices) and counts [-] of the cycles that close between `reversals`, three (k,) arrays, and the
    reversals (j,) that stay open, whose ranges shrink.

    `history` (n,) [any unit], `reversals` (m,) int64 as `reversal_indices` gives them. Source: ASTM E1049-85, 5.4.4,
    without its last step, which counts what is open.
    """
    n = reversals.shape[0]
    starts = np.empty(n, np.int64)
    ends = np.empty(n, np.int64)
    counts = np.empty(n)
    stack = np.empty(n, np.int64)
    bottom = 0  # the start point S of the standard moves up
    top = 0
    found = 0
    for point in reversals:
        stack[top] = point
        top += 1
        while top - bottom >= 3:
            newest = abs(history[stack[top - 1]] - history[stack[top - 2]])
            before = abs(history[stack[top - 2]] - history[stack[top - 3]])
            if newest < before:
                break
            starts[found] = stack[top - 3]
            ends[found] = stack[top - 2]
            if top - bottom == 3:
                counts[found] = 0.5
                bottom += 1
            else:
                counts[found] = 1.0
                stack[top - 3] = stack[top - 1]
                top -= 2
            found += 1
    return starts[:found].copy(), ends[:found].copy(), counts[:found].copy(), stack[bottom:top].copy()


def three_point_cycles(history, reversals):
    """Starts, ends (indices) and counts [-] of the cycles between `reversals`; three (k,) arrays.

    `history` (n,) [any unit], `reversals` (m,) int64 as `reversal_indices` gives them. Source: ASTM E1049-85, 5.4.4.
    """
    starts, ends, counts, left = closed_cycles(history, reversals)
    halves = np.full(max(len(left) - 1, 0), 0.5)
    return np.append(starts, left[:-1]), np.append(ends, left[1:]), np.append(counts, halves)


def cycles_between(history, starts, ends, counts):
    """(range, mean, count [-]) of cycles from `starts` to `ends`, indices (k,) into `history` (n,) [any unit], with
    their `counts`; (k,) each (definition, ASTM E1049-85).
    """
    return np.abs(history[ends] - history[starts]), 0.5 * (history[starts] + history[ends]), counts


def list_cycles(history):
    """Cycles of a load history: (range, mean, count [-], start index, end index), five (k,) arrays.

    `history` (n,) [any unit], finite; count is 1 or 0.5, in the order in which the standard counts them.
    Raises ValueError when a value is not finite. A constant or one-sample history has no cycles.
    """
    history = np.ascontiguousarray(history, dtype=float)
    if history.ndim != 1 or not np.all(np.isfinite(history)):
        raise ValueError("a load history is one row of finite numbers")
    starts, ends, counts = three_point_cycles(history, reversal_indices(history))
    return *cycles_between(history, starts, ends, counts), starts, ends
