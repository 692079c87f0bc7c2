"""The least limits of a foil for target odds over a season and a target wear, place by place.

Every place is passed equally often, so that none is stronger than it needs to be; how often follows from the target for
all of them together, which is less than their sum as far as they are passed in the same moments. All told, the load is
uncertain by what is uncertain of the model, drawn once a season. Wear asks for both limits together, in their given
ratio: with ultimates that are factors of the limits, limits k times as high make it k^-m of itself.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from seaload.evidence.season_loads import SeasonLoad, SeaSums, common_shape, event_law
from seaload.evidence.verdict import SIDES
from seaload.risk.poisson import odds_in_exposure, rate_for_odds
from seaload.risk.pooled_tail import PooledTail, pooled_tail, sea_peaks

ROUNDS, NEAR = 12, 0.01  # of the rate at each place that puts all of them together on target, and how near [-]
RESAMPLES = 60
INTERVAL = (0.05, 0.95)
NOTHING = 1e-9  # [N m]


@dataclass(frozen=True)
class Needed:
    """Least limits of one side; arrays (points,) [N m]."""

    if_right: np.ndarray  # target odds, were the model right
    all_told: np.ndarray
    rate: float  # [1/s] at which each place is passed, were the model right
    union: float  # [1/s] at which any is


class Sizing:
    """Limits of one `Season` for some `Targets`; `spread` {side: (points,) standard deviation of ln(load)}.

    The tail of a side has one shape at all places: that of the highest share of the given limits anywhere, told by the
    seas that carry it.
    """

    def __init__(self, season, targets, spread=None):
        self.season, self.targets = season, targets
        self.spread = spread or {side: np.zeros(len(season.points)) for side in SIDES}
        self.used = [i for i, part in enumerate(season.seas) if part.ultimate]
        self.factors = np.array([season.seas[i].factor for i in self.used])
        self.weights = season.weights[self.used]
        self._shapes, self._tails = {}, {}

    @cached_property
    def sums(self):
        """{side: [`SeaSums`] of the seas that count for ultimate loads}."""
        return {side: [SeaSums(self.season.peaks[side][i]) for i in self.used] for side in SIDES}

    @cached_property
    def given_peaks(self):
        """{side: [`SeaPeaks`] of the highest share of the given limits anywhere}."""
        return {side: self.union_peaks(side, self.season.limits[side]) for side in SIDES}

    def target(self, side):
        """Rate [1/s] of passing a limit anywhere that has the target odds of a side."""
        return rate_for_odds(self.targets.odds(side), self.targets.season)

    def shape(self, side, number=None):
        """Shape of the tail of a side [-]; of the resampled realisations `number`, all of them unless given."""
        if (side, number) not in self._shapes:
            picks = None if number is None else [self.picks[number]["seas"][i] for i in self.used]
            found = common_shape(self.given_peaks[side], self.weights, (), self.target(side), picks)
            self._shapes[side, number] = found
        return self._shapes[side, number]

    def keep_shapes(self, other):
        """Take the shapes of the tails from another `Sizing`."""
        self._shapes.update({(side, None): other.shape(side) for side in SIDES})

    def tails(self, side, number=None):
        """(threshold, rate, mean excess) (seas, points) of a side."""
        if (side, number) not in self._tails:
            picks = [None if number is None else self.picks[number]["seas"][i] for i in self.used]
            rows = [each.tails(one) for each, one in zip(self.sums[side], picks, strict=True)]
            self._tails[side, number] = tuple(np.array(column) for column in zip(*rows, strict=True))
        return self._tails[side, number]

    def load(self, side, point, *, factored=True, number=None):
        """`SeasonLoad` [N m] at a point, with partial factors or without; `number` of a resampling, none unless given.
        """
        season, shape = self.season, self.shape(side, number)
        factors = self.factors if factored else np.ones(len(self.used))
        threshold, rate, mean = (column[:, point] for column in self.tails(side, number))
        tail = PooledTail(factors * threshold, rate, factors * mean * (1.0 - shape), shape)
        events = []
        for n, part in enumerate(season.events):
            values = season.largest[side][n][:, point] * (part.factor if factored else 1.0)
            events.append(event_law(values if number is None else values[self.picks[number]["events"][n]], part.rate))
        return SeasonLoad(tail if self.used else None, self.weights, tuple(events))

    def union_peaks(self, side, limits):
        """[`SeaPeaks`] of the highest share of some `limits` (points,) [N m] anywhere, partial factors in it."""
        season, known = self.season, np.maximum(limits, NOTHING)
        each = season.seas[0].records[0].block_time
        return [
            sea_peaks((season.blocks[side][i] / known[:, None]).max(axis=1) * factor, each)
            for i, factor in zip(self.used, self.factors, strict=True)
        ]

    def union(self, side, limits):
        """`SeasonLoad` of the highest share of some `limits` (points,) [N m] anywhere [-]."""
        season, known = self.season, np.maximum(limits, NOTHING)
        events = [
            event_law((season.largest[side][n] / known).max(axis=1) * part.factor, part.rate)
            for n, part in enumerate(season.events)
        ]
        tail = pooled_tail(self.union_peaks(side, limits), shape=self.shape(side)) if self.used else None
        return SeasonLoad(tail, self.weights, tuple(events))

    def levels(self, side, rate, number=None):
        """(points,) [N m] passed at a `rate` [1/s] each, were all right."""
        points = range(len(self.season.points))
        return np.array([self.load(side, p, number=number).level(rate) for p in points])

    @cached_property
    def needed(self):
        """{side: `Needed`}."""
        return {side: self.needed_on(side) for side in SIDES}

    def needed_on(self, side):
        """`Needed` of one side: the rate at each place is turned until that of all together is on target."""
        target = rate = self.target(side)
        for _ in range(ROUNDS):
            limits = self.levels(side, rate)
            union = self.union(side, limits).rate(1.0)
            if not union > 0.0 or abs(union / target - 1.0) < NEAR:
                break
            rate *= min(max(target / union, 0.1), 10.0)
        odds, told = float(odds_in_exposure(rate, self.targets.season)), []
        for p, spread in enumerate(self.spread[side]):
            unsure = replace(self.load(side, p), spread=float(spread))
            told.append(unsure.level_of_odds(odds, self.targets.season))
        return Needed(limits, np.maximum(told, limits), rate, union)

    def season_odds(self, side, limits, spread):
        """(odds all told, odds were all right) [-] of passing `limits` (points,) [N m] anywhere in the season."""
        load = self.union(side, limits)
        told = replace(load, spread=spread)
        return told.odds(1.0, self.targets.season), load.odds(1.0, self.targets.season)

    @cached_property
    def picks(self):
        """RESAMPLES draws of whole realisations of every part, the same for all that is told with an interval."""
        generator, found = np.random.default_rng(0), []
        draw = lambda part: generator.integers(0, len(part.records), len(part.records))  # noqa: E731
        for _ in range(RESAMPLES):
            found.append({"seas": [draw(p) for p in self.season.seas], "events": [draw(p) for p in self.season.events]})
        return found

    def interval(self, of):
        """(low, high) of what `of(number)` gives for each resampling of whole realisations (Efron 1979)."""
        return np.quantile(np.array([of(number) for number in range(RESAMPLES)]), INTERVAL, axis=0)

    def limit_interval(self, side):
        """(low, high), (points,) each, of the limits were all right [N m]."""
        rate = self.needed[side].rate
        return self.interval(lambda number: self.levels(side, rate, number))

    def damage(self, number=None):
        """Wear of the season at the points, (points,) [-], partial factors in it."""
        season, total = self.season, np.zeros(len(self.season.points))
        for i, part in enumerate(season.seas):
            if not part.fatigue or not part.time > 0.0:
                continue
            chosen = range(len(part.records)) if number is None else self.picks[number]["seas"][i]
            damage = np.sum([part.records[r].grid_damage for r in chosen], axis=0)
            lasted = sum(part.records[r].duration for r in chosen)
            rate = damage / max(lasted, 1e-9) * part.factor ** self.season.foil.fatigue.slope
            total += part.share * self.targets.season * np.interp(season.points, season.grid, rate)
        return total

    def wear_factor(self, damage):
        """Least limits for the target wear over the given ones [-], (points,); `damage` with the given."""
        return (damage / self.targets.wear) ** (1.0 / self.season.foil.fatigue.slope)

    def shares(self, side, point, level, *, factored=True):
        """({situation: share [-] of the odds of passing a `level` [N m] at a point}, {number of a sea: share of all}).

        All told where partial factors count, else were all right.
        """
        spread = float(self.spread[side][point]) if factored else 0.0
        load = replace(self.load(side, point, factored=factored), spread=spread)
        seas, events = load.odds_parts(level, self.targets.season)
        total = max(float(seas.sum() + events.sum()), 1e-300)
        by_situation, by_sea = {}, {}
        for i, value in zip(self.used, seas, strict=True):
            part = self.season.seas[i]
            by_situation[part.situation] = by_situation.get(part.situation, 0.0) + float(value) / total
            by_sea[i] = float(value) / total
        for part, value in zip(self.season.events, events, strict=True):
            by_situation[part.situation] = by_situation.get(part.situation, 0.0) + float(value) / total
        return by_situation, by_sea
