"""Kernel: when a recorded setting has been changed, told apart from its wobble."""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.units import DEGREE

HOLD = 5.0  # [s] a setting must be off for so long before it counts as changed
RECORDED = {"extension": 0.025, "rake": 0.25 * DEGREE, "cant": 1.0 * DEGREE}  # how far off counts, unless the boat says
LEVEL, AWAY_SINCE, AWAY_SUM, AWAY_COUNT = range(4)


def fresh_state():
    """State of one setting before its first sample."""
    return np.array([np.nan, np.nan, 0.0, 0.0])


def tolerances(boat):
    """{setting: how far off counts as changed (SI)}: half of the step in which a crew sets it, where the boat says."""
    steps = {name: boat.worked[name].step for name in RECORDED if name in boat.worked}
    return {name: 0.5 * step if (step := steps.get(name)) else usual for name, usual in RECORDED.items()}


@compiled
def changes_of(time, values, tolerance, state, levels):
    """Number of changes found in (n,) samples; writes the level that holds at each sample to `levels`.

    A change is told at the sample that has been more than `tolerance` off for HOLD seconds; the new level is the
    mean of that while. `state` (4,) goes on over chunks. nan is passed over.
    """
    found = 0
    for i in range(time.size):
        value = values[i]
        if not np.isnan(value):
            if np.isnan(state[LEVEL]):
                state[LEVEL] = value
            if abs(value - state[LEVEL]) <= tolerance:
                state[AWAY_SINCE] = np.nan
            else:
                if np.isnan(state[AWAY_SINCE]):
                    state[AWAY_SINCE] = time[i]
                    state[AWAY_SUM] = 0.0
                    state[AWAY_COUNT] = 0.0
                state[AWAY_SUM] += value
                state[AWAY_COUNT] += 1.0
                if time[i] - state[AWAY_SINCE] >= HOLD:
                    state[LEVEL] = state[AWAY_SUM] / state[AWAY_COUNT]
                    state[AWAY_SINCE] = np.nan
                    found += 1
        levels[i] = state[LEVEL]
    return found
