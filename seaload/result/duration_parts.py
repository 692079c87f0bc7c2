"""Odds all told in other times than the exposure.

What is uncertain is drawn once for the whole time, so odds grow slower with the time than those of a single rate: in an
hour they are more than a third of what they are in three.
"""

from dataclasses import replace

import numpy as np

from seaload.basis.units import HOUR
from seaload.evidence.rate_intervals import with_bounds
from seaload.evidence.verdict import SIDES

HOURS = (0.1, 1.0, 3.0, 12.0, 48.0, 240.0)


def duration_parts(study, state):
    """{name: (dims, values)} of the odds all told of every pair that was sailed, in each of the durations, the exposure
    among them; the upper ends open where cases ended.
    """
    times = sorted({*(hours * HOUR for hours in HOURS), study.risk.exposure})
    names = [f"{side}_odds_in_duration{end}" for side in SIDES for end in ("", "_low", "_high")]
    found = {name: np.full((len(study.settings), len(study.seas), len(times)), np.nan) for name in names}
    for pair, count in state.counts.items():
        sampled, doubt = state.sampled[pair, count], state.doubt(pair)
        for side in SIDES:
            for k, time in enumerate(times):
                odds, low, high = doubt.all_told(side, sampled, replace(study.risk, exposure=time))
                told = with_bounds(f"{side}_odds_in_duration", odds, low, 1.0 if sampled.not_shown else high)
                for name, value in told.items():
                    found[name][(*pair, k)] = value
    dims = ("setting", "sea", "duration")
    return {"duration": (("duration",), np.array(times)), **{name: (dims, found[name]) for name in names}}
