"""Rainflow cycles of a history that arrives piece by piece: those of `cycle_list`, in its order, in little memory."""

import numpy as np

from seaload.fatigue.cycle_list import closed_cycles, cycles_between, reversal_indices, three_point_cycles


class StreamedCycles:
    """What is carried from piece to piece: the reversals that are open, and the last samples."""

    def __init__(self):
        self.open = np.empty(0)  # loads of the reversals that no cycle has used up
        self.last = np.empty(0)  # the last reversal, counted already, and the sample that may become the next

    def add(self, loads):
        """(range, mean, count [-]) of the cycles that the next `loads` (n,) [any unit], finite, close; (k,) each.

        Source: ASTM E1049-85, 5.4.4.
        """
        history = np.concatenate([self.last, loads])
        turns = history[reversal_indices(history)]
        if len(turns) == 0:  # constant so far
            self.last = history[:1]
            return self._closed(turns)
        known = len(self.last) - 1  # the first is counted already, when two are carried
        self.last = turns[-2:]
        return self._closed(turns[max(known, 0) : -1])

    def finish(self):
        """(range, mean, count [-]) of the cycles that the end closes, and of the halves that it leaves; (k,) each."""
        loads = np.concatenate([self.open, self.last[-1:] if len(self.last) == 2 else np.empty(0)])
        return cycles_between(loads, *three_point_cycles(loads, np.arange(len(loads))))

    def _closed(self, turns):
        """(range, mean, count [-]) of the cycles that further reversals `turns` (n,) [any unit] close (ASTM E1049)."""
        loads = np.concatenate([self.open, turns])
        starts, ends, counts, left = closed_cycles(loads, np.arange(len(loads)))
        self.open = loads[left]
        return cycles_between(loads, starts, ends, counts)
