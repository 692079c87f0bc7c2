"""Cycles that close between records: the residues of all of them, in the order of time, counted on.

What each record closed by itself stays closed whatever stood before or came after it. What it left open, its
first and last sample included, is fed to one stack after that of the record before. So the whole history's
cycles come out however it was cut and in whatever order the pieces were found (tests hold that).
Closing every record by itself instead loses damage: down to 40 % of it at slope 10 in a worked case.
"""

import numpy as np

from seaload.basis.compile import compiled_with_arrays
from seaload.fatigue.rainflow import add_cycles, push_reversal


@compiled_with_arrays
def join_residues(loads, groups, anew, bins, histogram, damage, curve):
    """Count what the residues close among themselves, and the halves that stay open. Returns nothing.

    loads : (n,) [load]                 `rainflow.residue_loads` of every record, one after the other
    groups : (n,) int64                 where a load's cycles go: a cycle belongs to the load that closes it,
                                        an open half to its later end
    anew : (n,) uint8                   1 where all before is closed and the stack begins afresh
    histogram : (groups, R, M)          counts are added
    damage : (groups, 2) [-]            damages for both slopes are added
    `bins` and `curve` as in `rainflow.count_chunk`. The stack has room for every load, so counts are exact.
    """
    n = loads.shape[0]
    stack, owner = np.empty(n + 1), np.empty(n + 1, np.int64)
    closed = np.empty((n + 2, 3))
    length = 0
    way = 0.0
    last = 0.0
    last_group = 0
    for i in range(n + 1):
        if i == n or anew[i] != 0 or length == 0:
            if way != 0.0:
                length, found = push_reversal(last, stack, length, closed, 0)
                owner[length - 1] = last_group
                add_cycles(closed, found, bins, histogram[last_group], damage[last_group], curve)
                for k in range(1, length):
                    closed[0, 0], closed[0, 1], closed[0, 2] = stack[k - 1], stack[k], 0.5
                    add_cycles(closed, 1, bins, histogram[owner[k]], damage[owner[k]], curve)
            if i < n:
                stack[0], owner[0] = loads[i], groups[i]
                length, way, last, last_group = 1, 0.0, loads[i], groups[i]
            continue
        if loads[i] == last:
            continue
        towards = 1.0 if loads[i] > last else -1.0
        if way != 0.0 and towards != way:
            length, found = push_reversal(last, stack, length, closed, 0)
            owner[length - 1] = last_group
            add_cycles(closed, found, bins, histogram[groups[i]], damage[groups[i]], curve)
        way, last, last_group = towards, loads[i], groups[i]
