"""One setting in one sea, and what small changes of setting, heading or sea do to its rates, over the
same waves.
"""

from dataclasses import dataclass, field
from math import exp, inf, log, nan

import numpy as np

from seaload.basis.records import STATUS_DONE, STATUS_NOT_FINITE
from seaload.risk.combine import combined_interval
from seaload.studies.log_rate import paired_change
from seaload.studies.rate_intervals import common_place
from seaload.studies.sail_cases import sail_together
from seaload.studies.verdict import DEVIATE, SIDES, sampled_rates

FRESH = 100_000  # number of the first realisation of fresh waves: none of the grid's
REALISATIONS = 16
TOLD_LEVEL = 0.5  # [-] of the limit: a factor read lower down says nothing about passing it
TOLD_WIDTH = 6.0  # [-] a factor known no better than this many times either way is not told
TOLD_MOST = log(1000.0)  # of ln(rate), either way: farther out only the direction is told
MOST_LOG = 50.0  # of ln(rate)


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
    error: dict = field(default_factory=lambda: dict.fromkeys(SIDES, 0.0))  # {side: standard error of it}
    level: dict = field(default_factory=lambda: dict.fromkeys(SIDES, 1.0))  # {side: share of the limit read at}
    records: tuple = ()  # the changed cases

    def factor(self, side):
        """(factor on the rate, low, high) at 90 %; nan where events are too rare to say, infinite when a case
        ended.
        """
        middle, wide = self.log_factor[side], DEVIATE * self.error[side]
        if middle == inf:
            return inf, inf, inf
        if self.level[side] < TOLD_LEVEL or not wide < log(TOLD_WIDTH):
            return nan, nan, nan
        return tuple(exp(min(max(x, -TOLD_MOST), TOLD_MOST)) for x in (middle, middle - wide, middle + wide))

    def rates(self, side, verdict, doubt, risk):
        """(rate, low, high) [1/s] of the side's events after the change, with everything uncertain.

        Those of the setting as it is times the factor, where that was read at the limit itself. Where the
        limit is beyond what the common waves can tell of a difference, the tail of the changed cases stands
        beside it and the lower upper bound counts. verdict : of the setting as it is; doubt : `Doubt` of its sea.
        """
        middle = self.log_factor[side]
        if middle == inf:
            return inf, verdict.rates[side][1], inf
        grown = tuple(rate * exp(min(middle, MOST_LOG)) for rate in verdict.rates[side])
        if self.level[side] >= 1.0 or not self.records:
            return grown
        sampled = sampled_rates(self.records, risk)
        own, spread = sampled.rates[side], doubt.widening(self.records, sampled)[side]
        own = (own[0], *combined_interval(*own, spread))
        return min(grown, own, key=lambda rates: rates[2])


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
        """What has to be sailed, for `sail_together`; nothing without a change."""
        if not self.changes:
            return []
        cases = range(FRESH, FRESH + self.realisations)
        return [
            (self._sailers[model], [(n, self.pair[1], r) for _, n in group for r in cases])
            for model, group in self._groups.items()
        ]

    def effects(self):
        """{name of a change: Effect} once sailed."""
        if not self.changes:
            return {}
        own = self._records(Change("", self.base.settings[self.pair]))
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
        factors, errors, levels = {}, {}, {}
        for side in SIDES:
            runs = common_place([own, changed], side)
            try:
                factors[side], errors[side], levels[side] = paired_change(runs, own[0].block_time)
            except ValueError:
                factors[side], errors[side], levels[side] = 0.0, inf, 0.0
        speed = np.mean([r.speed_mean for r in changed]) - np.mean([r.speed_mean for r in own])
        return Effect(factors, float(speed), valid, errors, levels, tuple(changed))


def compare(comparisons):
    """Sail all comparisons at once and give their effects in the same order."""
    sail_together([job for comparison in comparisons for job in comparison.jobs()])
    return [comparison.effects() for comparison in comparisons]
