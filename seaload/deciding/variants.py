"""One setting in one sea, and what small changes of setting, heading or sea do to its rates, over the
same waves.
"""

from dataclasses import dataclass, field
from math import exp, hypot, inf, isfinite, log, nan, sqrt
from typing import Any

import numpy as np

from seaload.basis.records import ENDED_EARLY, STATUS_DONE
from seaload.evidence.load_change import paired_loads
from seaload.evidence.log_rate import log_rate, tails_of, usable_level
from seaload.evidence.places import common_place
from seaload.evidence.rate_intervals import worst_wear
from seaload.evidence.verdict import DEVIATE, SIDES, sampled_rates
from seaload.sailing.sail_cases import sail_together

FRESH = 100_000  # number of the first realisation of fresh waves: none of the grid's
REALISATIONS = 8
TINY = 1e-300  # [-] least wear, least excess
TOLD_LEVEL = 0.5  # [-] of the limit: a factor read lower down says nothing about passing it
TOLD_WIDTH = 6.0  # [-] a factor known no better than this many times either way is not told
TOLD_MOST = log(1000.0)  # of ln(rate), either way: farther out only the direction is told
MOVE, TOLERANCE, SEA, GROWN = "move", "tolerance", "sea", "grown sea"  # kinds of change


@dataclass(frozen=True)
class Change:
    """A change to compare with the setting as it is: a way of backing off, an actuator off by its tolerance, another
    sea, or the sea as it has grown by the time the slowest move is made.
    """

    name: str
    setting: object  # Setting
    model: tuple = ()  # of (name, number) of the model that change
    time: float = 0.0  # [s] it takes, for a move
    kind: str = MOVE


@dataclass(frozen=True)
class Effect:
    """What a change does, in terms of the load of the setting as it is; {side: ...} unless said."""

    level: dict  # load that comes as often as the limit after the change [share of the limit]; nan: no tail to read
    error: dict  # standard error of it
    told: dict  # (factor on the rate, low, high) at 90 %; nan where events are too rare to say
    wear: float  # [-] factor on the wear at the worst place
    speed: float  # [m/s] mean speed less that of the setting as it is
    valid: bool  # no case ended or left the validity
    records: tuple = ()  # the changed cases
    sampled: Any = None  # `Sampled` of them
    paired: dict = field(default_factory=dict)  # {side: Paired loads}, where they can be compared

    def factor(self, side):
        """(factor on the rate, low, high) at 90 %; nan where events are too rare to say, infinite when a case ended."""
        return self.told[side] if self.records else (inf, inf, inf)

    def odds(self, side, sampled, doubt, risk):
        """(odds, low, high) of the side's events in the exposure after the change, to judge by.

        sampled : `Sampled` of the setting as it is, of all the cases there are; doubt : `Doubt` of its sea. The changed
        cases alone tell where their loads are too few to compare, or where they show more than the comparison foresees.
        """
        if not self.records:
            return 1.0, 0.0, 1.0
        own = doubt.odds(side, self.sampled, risk)
        if isfinite(self.level[side]):
            found = foreseen(doubt, side, sampled, risk, self.level[side], self.error[side])
            if own[1] <= found[2]:
                return found
        return own

    def worst_change(self, side, share):
        """(change, low, high) of a worst load at `share` of the limit; nan where the loads are too few to compare."""
        if side not in self.paired:
            return nan, nan, nan
        change, error = self.paired[side].change_of(share)
        return change, change - DEVIATE * error, change + DEVIATE * error


def foreseen(doubt, side, sampled, risk, level, error):
    """(odds, low, high) of passing `level` [share of the limit], itself known with a standard `error`, as sampling."""
    odds, low, high = doubt.odds(side, sampled, risk, level)
    nearer, farther = (doubt.odds(side, sampled, risk, level + sign * DEVIATE * error)[0] for sign in (-1.0, 1.0))
    least = max(odds, TINY)
    up = hypot(log(max(high, least) / least), log(max(nearer, least) / least))
    down = hypot(log(least / max(min(low, least), TINY)), log(least / max(min(farther, least), TINY)))
    return odds, odds * exp(-down), min(least * exp(min(up, TOLD_MOST * 100.0)), 1.0)


class Comparison:
    """Changes of one setting in one sea, sailed together with the setting as it is over `count` realisations from
    `first` on: fresh waves unless said.
    """

    def __init__(self, sailer, pair, changes, first=FRESH, count=None):
        count = REALISATIONS if count is None else count
        self.pair, self.changes, self.cases = pair, changes, range(first, first + count)
        self.study = sailer.study
        self._as_it_is = Change("", sailer.settings[pair])
        self._groups = {}  # {model: [(change, its number among the settings)]}
        for number, change in enumerate([self._as_it_is, *changes]):
            self._groups.setdefault(change.model, []).append((change, number))
        self._sailers = {
            model: sailer.variant({(n, pair[1]): change.setting for change, n in group}, **dict(model))
            for model, group in self._groups.items()
        }

    def jobs(self):
        """What has to be sailed, for `sail_together`; nothing without a change."""
        if not self.changes:
            return []
        return [
            (self._sailers[model], [(n, self.pair[1], r) for _, n in group for r in self.cases])
            for model, group in self._groups.items()
        ]

    def effects(self):
        """{Change: Effect} once sailed."""
        if not self.changes:
            return {}
        records = {
            change: [self._sailers[model].records[n, self.pair[1], r] for r in self.cases]
            for model, group in self._groups.items()
            for change, n in group
        }
        return {change: self._effect(records[self._as_it_is], records[change]) for change in self.changes}

    def _effect(self, own, changed):
        if any(record.status in ENDED_EARLY for record in changed):
            nothing = dict.fromkeys(SIDES, nan)
            return Effect(nothing, nothing, nothing, inf, nan, False)
        valid = all(record.status == STATUS_DONE for record in changed)
        level, error, told, paired = {}, {}, {}, {}
        for side in SIDES:
            try:
                paired[side] = paired_loads(own, changed, side)
                level[side], error[side] = paired[side].level()
                told[side] = factor_told(own, side, level[side], error[side])
            except ValueError:
                level[side], error[side], told[side] = nan, inf, (nan, nan, nan)
        speed = np.mean([r.speed_mean for r in changed]) - np.mean([r.speed_mean for r in own])
        wear = np.sum(worst_wear(changed)) / max(np.sum(worst_wear(own)), TINY)
        sampled = sampled_rates(changed, self.study.risk)
        return Effect(level, error, told, float(wear), float(speed), valid, tuple(changed), sampled, paired)


def factor_told(own, side, level, error):
    """(factor on the rate, low, high) of a change that makes `level` come as often as the limit did; or nan.

    Read from the tail of the setting as it is, at the limit or at the farthest load that the tail can tell of.
    ValueError with too few peaks.
    """
    tails, shape = tails_of([common_place([own], side)[1][0]])
    told_at = usable_level(tails, shape)
    now, after, beside = (
        log_rate(tails[0], shape, own[0].block_time, told_at + off) for off in (0.0, level - 1.0, level - 1.0 - error)
    )
    step = after - now
    # how steep the tail is there has an error of its own: of its scale, and of its shape the farther out the more
    threshold, _, excesses = tails[0]
    steepness = hypot(1.0, (told_at - threshold) / max(excesses.mean(), TINY)) / sqrt(len(excesses))
    wide = DEVIATE * hypot(beside - after, step * steepness)
    if told_at < TOLD_LEVEL or not wide < log(TOLD_WIDTH):
        return nan, nan, nan
    return tuple(exp(min(max(x, -TOLD_MOST), TOLD_MOST)) for x in (step, step - wide, step + wide))


def compare(comparisons):
    """Sail all comparisons at once and give their effects, {Change: Effect} each, in the same order."""
    sail_together([job for comparison in comparisons for job in comparison.jobs()])
    return [comparison.effects() for comparison in comparisons]
