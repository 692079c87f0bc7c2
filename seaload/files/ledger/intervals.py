"""Time counted already: samples in it are not counted again, whatever file they come from."""

import numpy as np

SLACK = 0.6  # steps round an interval that are its own: no sample of the same logger lies in there


def merged(intervals, step):
    """Rising (k, 2) intervals [s] from any (n, 2); those with no room for a sample between them are made one.

    `step` [s] between samples.
    """
    rows = np.asarray(intervals, dtype=float).reshape(-1, 2)
    if len(rows) == 0:
        return rows
    rows = rows[np.argsort(rows[:, 0], kind="stable")]
    reached = np.maximum.accumulate(rows[:, 1])
    begins = np.concatenate([[True], rows[1:, 0] - reached[:-1] > 2.0 * SLACK * step])
    first = np.flatnonzero(begins)
    return np.stack([rows[first, 0], np.maximum.reduceat(rows[:, 1], first)], axis=1)


def not_counted(times, counted, step):
    """Where `times` (n,) [s], rising, lie in none of the intervals `counted` (k, 2) of `merged`; (n,) bool."""
    if len(counted) == 0:
        return np.ones(len(times), dtype=bool)
    slack = SLACK * step
    before = np.searchsorted(counted[:, 0] - slack, times, side="left") - 1
    inside = (before >= 0) & (times < counted[np.maximum(before, 0), 1] + slack)
    return ~inside
