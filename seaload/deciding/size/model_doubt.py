"""What is uncertain of the model does to the loads at each place: the designed ensemble in the seas that carry them.

Of every input the change of the load by one deviation, over the least limit, is the contrast of a Plackett-Burman
design (`deciding.uncertainty`) of what each run does to it (`changes.relative`). Errors of a forecast have no place in
a season; crests that linear waves have too low act as the height of the sea does.
"""

from dataclasses import replace

import numpy as np

from seaload.deciding.size.changes import CHANGED_WITHIN, high, paired, relative
from seaload.deciding.uncertainty import deviation
from seaload.evidence.verdict import SIDES

CRESTS = "second_order_crests"
MEANT_HS = 0.1  # [-] the change of height that tells what crests do


class ModelDoubt:
    """Effects of sailed ensembles on the load at the points.

    ensembles : [(Ensemble, part)], one for each of a few carrying seas of a `season`. weights : {side: (ensembles,
    points)} of each, sum 1. levels : {side: (points,) least limits [N m]}.
    """

    def __init__(self, season, ensembles, weights, levels):
        self.season, self.ensembles, self.weights, self.levels = season, ensembles, weights, levels
        self.entries = ensembles[0][0].entries
        self.blocks = {
            side: [
                [self.run_of(each.records_of(run), part, side) for run in (each.as_it_is, *each.runs)]
                for each, part in ensembles
            ]
            for side in SIDES
        }

    def run_of(self, records, part, side):
        """(cases, (n, points, blocks) loads [N m]) of one run in the sea of a part."""
        return records, self.season.blocks_of(replace(part, records=tuple(records)), side)

    @property
    def names(self):
        """Names of the inputs, in the order of the effects."""
        return tuple(entry.name for entry in self.entries)

    def effects(self, side):
        """(value, low, high) change of the load over the least limit by one deviation of each input, (inputs, points)
        each.
        """
        count = min(len(runs[0][0]) for runs in self.blocks[side])

        def loads(run, kept):
            records, blocks = run
            return self.season.mean_of([records[r] for r in kept], side), high(blocks[kept])

        def contrast(kept):
            found = 0.0
            for (each, _), runs, weight in zip(self.ensembles, self.blocks[side], self.weights[side], strict=True):
                base, *others = (loads(run, kept) for run in runs)
                change = np.array([relative(self.levels[side], base, other) for other in others])
                found = found + weight * (each.signs.T @ np.clip(change, *CHANGED_WITHIN) / len(each.runs))
            return found

        return paired(contrast, count)


def with_crests(names, effects, study, by_height):
    """(names, effects) with crests, as a share of what a higher sea does.

    effects : {side: (value, low, high)} (inputs, points). by_height : {side: (points,) relative change of the load over
    that of the height}.
    """
    entry = next((one for one in study.uncertain if one.name == CRESTS), None)
    if entry is None or by_height is None:
        return names, effects
    spread = deviation(entry)
    more = {side: tuple(np.vstack([each, spread * by_height[side]]) for each in effects[side]) for side in SIDES}
    return (*names, CRESTS), more


def spreads(effects):
    """{side: (points,) standard deviation of the load over the least limit by all inputs}, taken as independent."""
    return {side: np.sqrt(np.sum(effects[side][0] ** 2, axis=0)) for side in SIDES}
