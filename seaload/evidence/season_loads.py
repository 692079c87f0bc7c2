"""A load of a whole season at one place: seas by their share of the time, single events by how often they come.

Rates of the seas come from `risk.pooled_tail`; an event is told by the law of its largest load (Gumbel). All of them
are added: exceedances are mixed, never return values.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from seaload.risk.gumbel import gumbel_by_l_moments
from seaload.risk.poisson import rate_for_odds
from seaload.risk.pooled_tail import TINY, PooledTail, pooled_tail, rates_past, sea_peaks

HALVINGS = 50
NODES = 15  # of the uncertain load, even in its odds
SURE_SCALE = 1e-6  # [-] of its load: scale of an event that is always the same
CARRIED = 0.9  # [-] of the rate of long return times, by the seas that tell the shape


@dataclass(frozen=True)
class EventLaw:
    """Largest load of an event that comes so many times."""

    location: float  # [load]
    scale: float  # [load]
    rate: float  # [1/s] of the events

    def rate_past(self, level):
        """Rate [1/s] of events past a `level` [load]."""
        reduced = np.clip((level - self.location) / self.scale, -30.0, 700.0)
        return self.rate * -np.expm1(-np.exp(-reduced))


def event_law(largest, rate):
    """`EventLaw` of the `largest` loads (n,) [load] of events that come at a `rate` [1/s]; one alone is always so."""
    largest = np.asarray(largest, dtype=float)
    size = max(float(np.max(np.abs(largest))), 1e-9)
    if len(largest) < 3:
        return EventLaw(float(largest.max()), SURE_SCALE * size, rate)
    location, scale = gumbel_by_l_moments(largest)
    return EventLaw(location, max(scale, SURE_SCALE * size), rate)


@dataclass(frozen=True)
class SeasonLoad:
    """Rate of a load past any level, of all seas and events together."""

    tail: PooledTail | None  # of the seas
    weights: np.ndarray  # (seas,) [-] shares of the season
    events: tuple = ()  # of EventLaw
    spread: float = 0.0  # [-] standard deviation of ln(load) by all that is uncertain; 0: were all right

    def parts(self, level):
        """(rates of the seas (seas,), of the events (e,)) [1/s] past a `level` [load], were all right."""
        with np.errstate(over="ignore"):  # a place that a sea leaves unloaded has a tail without width
            seas = np.zeros(0) if self.tail is None else self.weights * rates_past(self.tail, level)
        return seas, np.array([event.rate_past(level) for event in self.events])

    def rate(self, level):
        """Rate [1/s] past a `level` [load], were all right."""
        return float(sum(part.sum() for part in self.parts(level)))

    def odds(self, level, time):
        """Odds [-] of passing a `level` in `time` [s], the uncertain load drawn once: mean over what it may be."""
        if not self.spread > 0.0:
            return float(-np.expm1(-self.rate(level) * time))
        factors = np.exp(self.spread * ndtri((np.arange(NODES) + 0.5) / NODES))
        return float(np.mean([-np.expm1(-self.rate(level / factor) * time) for factor in factors]))

    def odds_parts(self, level, time):
        """(seas (seas,), events (e,)): part [-] of each in the odds of passing a `level` in `time` [s], sum the odds.

        The uncertain load drawn once, as in `odds`; for each draw the odds are shared as the rates are.
        """
        factors = np.exp(self.spread * ndtri((np.arange(NODES) + 0.5) / NODES)) if self.spread > 0.0 else [1.0]
        seas, events = (np.zeros_like(part) for part in self.parts(level))
        for factor in factors:
            each = self.parts(level / factor)
            rate = max(float(sum(part.sum() for part in each)), 1e-300)
            share = -np.expm1(-rate * time) / rate / len(factors)
            seas, events = seas + share * each[0], events + share * each[1]
        return seas, events

    def level(self, rate):
        """Level [load] passed at a `rate` [1/s], were all right; 0 where no load above nothing is so frequent."""
        return falling_root(self.rate, rate, self.highest())

    def level_of_odds(self, odds, time):
        """Level [load] that is passed in `time` [s] with `odds` [-], all that is uncertain in them."""
        if not self.spread > 0.0:
            return self.level(rate_for_odds(odds, time))
        return falling_root(lambda level: self.odds(level, time), odds, self.highest() * np.exp(4.0 * self.spread))

    def highest(self):
        """A level [load] beyond all that is looked for."""
        ends = [event.location + 60.0 * event.scale for event in self.events]
        if self.tail is not None and len(self.weights):
            ends.append(float(np.max(self.tail.threshold + 60.0 * self.tail.scale)))
        return max([*ends, 1e-6])


def falling_root(of, wanted, highest):
    """Where the falling function `of` comes down to `wanted`, from 0 to `highest`; 0 where it never is above."""
    low, high = 0.0, highest
    if of(low) <= wanted:
        return 0.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if of(middle) > wanted else (low, middle)
    return 0.5 * (low + high)


def common_shape(peaks, weights, events, rate, picks=None):
    """Shape [-] of the tail of a load that comes at a `rate` [1/s], told by the seas that carry it.

    `peaks` (`SeaPeaks`), `weights` (seas,) [-], `events` (`EventLaw`); `picks` as of `risk.pooled_tail.pooled_tail`.
    """
    straight = SeasonLoad(pooled_tail(peaks, picks, shape=0.0), np.asarray(weights, dtype=float), tuple(events))
    shares = straight.parts(straight.level(rate))[0]
    order = np.argsort(shares)[::-1]
    carrying = order[: int(np.searchsorted(np.cumsum(shares[order]), CARRIED * max(shares.sum(), 1e-300))) + 1]
    return pooled_tail(peaks, picks, carrying=sorted(carrying)).shape


class SeaSums:
    """What resampling needs of the peaks of one sea at many places: numbers of each realisation."""

    def __init__(self, peaks):
        """`peaks` [`SeaPeaks`], one a place."""
        self.threshold = np.array([each.threshold for each in peaks])
        self.exposure = peaks[0].exposure
        realisations = range(len(peaks[0].groups))
        rows = lambda of: np.array([[of(each, r) for each in peaks] for r in realisations], dtype=float)  # noqa: E731
        self.count = rows(lambda each, r: len(each.excesses[r]))
        self.total = rows(lambda each, r: each.excesses[r].sum())
        self.groups = rows(lambda each, r: each.groups[r])
        self.least = TINY * np.maximum(np.abs([each.highest for each in peaks]), 1e-300)

    def tails(self, picks=None):
        """(threshold, rate, mean excess), (places,) each, of some realisations, all of them unless given."""
        chosen = slice(None) if picks is None else picks
        count, total, groups = (rows[chosen].sum(axis=0) for rows in (self.count, self.total, self.groups))
        number = len(self.count) if picks is None else len(picks)
        mean = np.maximum(total / np.maximum(count, 1.0), self.least)
        return self.threshold, groups / (number * self.exposure), mean


def peaks_of(blocks, block_time):
    """[[`SeaPeaks`] of every point] of one sea's `blocks` (n, points, blocks) [load] of `block_time` [s]."""
    return [sea_peaks(blocks[:, p], block_time) for p in range(blocks.shape[1])]
