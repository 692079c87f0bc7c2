"""One setting in one sea, and what small changes of setting, heading or sea do to its rates, over the
same waves.
"""

from dataclasses import dataclass

import numpy as np

from seaload.basis.records import STATUS_DONE, STATUS_NOT_FINITE
from seaload.studies.log_rate import log_rates
from seaload.studies.rate_intervals import common_place
from seaload.studies.sail_cases import sail_together
from seaload.studies.verdict import SIDES

FRESH = 100_000  # number of the first realisation of fresh waves: none of the grid's
REALISATIONS = 16


@dataclass(frozen=True)
class Change:
    """A change to compare with the setting as it is."""

    name: str
    setting: object  # Setting
    model: tuple = ()  # of (name, number) of the model that change
    time: float = 0.0  # [s] it takes, for a move


@dataclass(frozen=True)
class Effect:
    """What a change does. ln(rate) differences, infinite when a case ended, 0 when no tail can be read."""

    log_factor: dict  # {side: ln(rate) less that of the setting as it is}
    speed: float  # [m/s] mean speed less that of the setting as it is
    valid: bool  # no case ended or left the validity


class Comparison:
    """Changes of one setting in one sea, sailed on fresh waves together with the setting as it is."""

    def __init__(self, sailer, pair, changes, realisations=None):
        self.pair, self.changes, self.realisations = pair, changes, realisations or REALISATIONS
        self.study = sailer.study
        self.base = sailer
        self._groups = {}
        number = 0
        for change in [Change("", sailer.settings[pair]), *changes]:
            group = self._groups.setdefault(change.model, [])
            group.append((change, number))
            number += 1
        self._sailers = {
            model: sailer.variant({(n, pair[1]): change.setting for change, n in group}, **dict(model))
            for model, group in self._groups.items()
        }

    def jobs(self):
        """What has to be sailed, for `sail_together`."""
        cases = range(FRESH, FRESH + self.realisations)
        return [
            (self._sailers[model], [(n, self.pair[1], r) for _, n in group for r in cases])
            for model, group in self._groups.items()
        ]

    def effects(self):
        """{name of a change: Effect} once sailed."""
        own = self._records(self.changes and Change("", self.base.settings[self.pair]) or None)
        return {change.name: self._effect(own, self._records(change)) for change in self.changes}

    def _records(self, wanted):
        for model, group in self._groups.items():
            for change, n in group:
                if change.name == wanted.name and change.model == wanted.model:
                    sailer = self._sailers[model]
                    return [sailer.records[n, self.pair[1], FRESH + r] for r in range(self.realisations)]
        raise KeyError(wanted.name)

    def _effect(self, own, changed):
        valid = all(record.status == STATUS_DONE for record in changed)
        if any(record.status == STATUS_NOT_FINITE for record in changed):
            return Effect(dict.fromkeys(SIDES, np.inf), np.nan, False)
        factors = {}
        for side in SIDES:
            runs = common_place([own, changed], side)
            try:
                before, after = log_rates(runs, own[0].block_time)
                factors[side] = float(after - before)
            except ValueError:
                factors[side] = 0.0
        speed = np.mean([r.speed_mean for r in changed]) - np.mean([r.speed_mean for r in own])
        return Effect(factors, float(speed), valid)


def compare(comparisons):
    """Sail all comparisons at once and give their effects in the same order."""
    sail_together([job for comparison in comparisons for job in comparison.jobs()])
    return [comparison.effects() for comparison in comparisons]
