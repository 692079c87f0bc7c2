"""The fastest way through a network within budgets: all ways that may still be the fastest are carried on from block
to block, with what each has spent to the last digit; a price for every budget tells what the rest of the leg takes at
least, and what cannot win by it is left.

Exact over the network while no more than MOST_WAYS are alive. With more, neighbours in time and spending are thinned
out, and the bound of the prices tells how far from the fastest the plan may be.
"""

from typing import NamedTuple

import numpy as np
from scipy.optimize import linprog

from seaload.deciding.leg.network import passages_of, passed, rest_at, rest_of

MOST_WAYS = 1500  # carried on from a block
MOST_CUTS = 40  # tries of prices
CELLS = 24  # of each budget, and of the time between the fastest way and the slowest, that are told apart
SLACK = 1e-9  # [-] of a budget: rounding
NEAR = 1e-6  # [s] of arrival that is no gain
DEAREST = 1e3  # price of a whole budget, in times the leg takes


class Found(NamedTuple):
    """The plan that a search found."""

    settings: np.ndarray  # (n,) number of the setting on each piece
    moments: np.ndarray  # (n + 1,) [s] at which each piece is begun, and the end
    spent: np.ndarray  # (c,) [any]
    bound: float  # [s] no plan arrives before, by the prices
    exact: bool  # nothing was thinned out

    @property
    def arrival(self):
        """Moment of arrival [s]."""
        return float(self.moments[-1])


class Infeasible(NamedTuple):
    """No plan keeps the budgets."""

    least: np.ndarray  # (c,) least of each cost alone
    found: Found | None  # the plan of the least cost, in shares of the budgets together


def fastest(network, budgets, most_ways=MOST_WAYS):
    """`Found` of the earliest arrival that spends no more than `budgets` (c,), or `Infeasible`."""
    return Search(network, np.asarray(budgets, dtype=float), most_ways).found()


def cheapest(network, prices, budgets=None):
    """`Found` of least `prices` (c,) x costs, then time; budgets are not looked at. None where no way is open."""
    search = Search(network, np.full(len(prices), np.inf) if budgets is None else budgets, MOST_WAYS)
    return search.traced(1e-9, np.asarray(prices, dtype=float))


def traded(network, prices):
    """`Found` of least time + `prices` (c,) [s] x costs; budgets are not looked at. None where no way is open."""
    return Search(network, np.full(len(prices), np.inf), MOST_WAYS).traced(1.0, np.asarray(prices, dtype=float))


class Search:
    """One search through one network."""

    def __init__(self, network, budgets, most_ways):
        self.network, self.most_ways = network, most_ways
        self.bounded = np.isfinite(budgets)
        self.budgets = np.where(self.bounded, budgets, 1.0)
        self.passages = passages_of(network)
        count = len(budgets)
        self.least = [rest_of(network, self.passages, 0.0, row) for row in np.eye(count)]
        self.soonest = rest_of(network, self.passages, 1.0, np.zeros(count))

    def rest(self, rest, number, moments):
        """Values of a `rest_of` at the start of the block `number`."""
        return rest_at(self.network, self.passages, rest[number], number, moments)

    def found(self):
        """`Found` or `Infeasible`."""
        start = np.array([self.network.start])
        least = np.array([self.rest(rest, 0, start)[0] for rest in self.least])
        past = self.bounded & (least > self.budgets * (1.0 + SLACK) + 1e-300)
        if past.any() or not np.isfinite(self.rest(self.soonest, 0, start)[0]):
            shares = np.where(self.bounded, 1.0 / np.maximum(self.budgets, 1e-12), 0.0)
            return Infeasible(least, self.traced(1e-9, shares))
        prices, bound, best = self.priced()
        best, exact = self.carried(prices, best)
        if best is None:
            shares = np.where(self.bounded, 1.0 / np.maximum(self.budgets, 1e-12), 0.0)
            return Infeasible(least, self.traced(1e-9, shares))
        return best._replace(bound=min(bound, best.arrival), exact=exact)

    def keeps(self, spent):
        """Whether costs (..., c) keep the budgets."""
        return np.all(~self.bounded | (spent <= self.budgets * (1.0 + SLACK) + 1e-300), axis=-1)

    def traced(self, time_price, prices):
        """`Found` of the way that follows the least of time and costs at `prices` (c,), changes as the crew makes them;
        None where none is open.
        """
        network, rest = self.network, rest_of(self.network, self.passages, time_price, prices)
        count = network.duration.shape[2]
        now, since, chosen, every = network.start, -np.inf, -1, np.arange(count)
        pieces, spent = np.zeros(len(network.change), dtype=int), np.zeros(len(prices))
        for number, block in enumerate(network.blocks):
            after, costs = passed(network, block, np.full(count, now), every)
            value = time_price * (after - now) + costs @ prices + self.rest(rest, number + 1, after)
            if chosen >= 0 and now - since < network.least_between - NEAR:
                value = np.where(every == chosen, value, np.inf)
            best = int(np.argmin(np.where(np.isfinite(after), value, np.inf)))
            if not np.isfinite(value[best]):
                return None
            since = now if best != chosen else since
            chosen, now, spent = best, float(after[best]), spent + costs[best]
            pieces[slice(*block)] = best
        return plan_of(network, pieces)

    def priced(self):
        """(prices (c,), bound [s], best `Found` so far or None): prices of the budgets that make the best bound on any
        plan's arrival (Lagrange; cutting planes, Kelley 1960).
        """
        start, count = np.array([self.network.start]), len(self.budgets)
        first = self.traced(1.0, np.zeros(count))
        if first is None:
            return np.zeros(count), -np.inf, None
        span = max(first.arrival - self.network.start, 1.0)
        unit = np.where(self.bounded, span / np.maximum(self.budgets, 1e-12), 0.0)  # the price of a whole budget
        cuts, bound, best, prices = [], -np.inf, None, np.zeros(count)
        kept = prices
        for _ in range(MOST_CUTS):
            rest = rest_of(self.network, self.passages, 1.0, prices)
            value = float(self.rest(rest, 0, start)[0]) + self.network.start - prices @ np.where(
                self.bounded, self.budgets, 0.0)  # fmt: skip
            if value > bound:
                bound, kept = value, prices
            way = self.traced(1.0, prices)
            if way is None:
                break
            if self.keeps(way.spent) and (best is None or way.arrival < best.arrival):
                best = way
            cuts.append((way.arrival, np.where(self.bounded, way.spent - self.budgets, 0.0)))
            rows = np.array([[1.0, *(-over * unit)] for _, over in cuts])
            ends = [(None, None)] + [(0.0, DEAREST if held else 0.0) for held in self.bounded]
            master = linprog([-1.0] + [0.0] * count, rows, [arrival for arrival, _ in cuts], bounds=ends)
            if not master.success or master.x[0] - bound < 1e-4 * span:
                break
            prices = np.maximum(master.x[1:], 0.0) * unit
        return kept, bound, best

    def carried(self, prices, best):
        """(the best `Found`, whether nothing was thinned out) of all ways carried on; `best` is one that is known."""
        network, exact, past = self.network, True, []
        worst = np.inf if best is None else best.arrival
        rest = rest_of(network, self.passages, 1.0, prices)
        ways = Ways(np.array([network.start]), np.zeros((1, len(self.budgets))), np.array([-1]), np.array([-np.inf]),
                    np.zeros(1, dtype=int))  # fmt: skip
        for number, block in enumerate(network.blocks):
            ways = self.branched(ways)
            after, costs = passed(network, block, ways.moment, ways.setting)
            ways = ways._replace(moment=after, spent=ways.spent + costs).of(np.isfinite(after))
            ways = ways.of(self.may_win(ways, number + 1, rest, prices, worst))
            if not len(ways.moment):
                return best, exact
            kept = self.kept(ways, number + 1, rest, prices)
            exact &= kept is None
            ways = ways if kept is None else ways.of(kept)
            past.append((ways.before, ways.setting))
            ways = ways._replace(before=np.arange(len(ways.moment)))
        winner = int(np.lexsort((*ways.spent.T, ways.moment))[0])
        if best is not None and ways.moment[winner] >= best.arrival - NEAR:
            return best, exact
        pieces = np.zeros(len(network.change), dtype=int)
        for block, (before, setting) in zip(network.blocks[::-1], past[::-1], strict=True):
            pieces[slice(*block)] = setting[winner]
            winner = before[winner]
        return plan_of(network, pieces), exact

    def branched(self, ways):
        """Every way with every setting that may be taken next."""
        count = self.network.duration.shape[2]
        setting = np.tile(np.arange(count), len(ways.moment))
        more = ways.of(np.repeat(np.arange(len(ways.moment)), count))
        changed = setting != more.setting
        soon = changed & (more.moment - more.since < self.network.least_between - NEAR)
        more = more._replace(setting=setting, since=np.where(changed, more.moment, more.since))
        return more.of(~soon)

    def may_win(self, ways, number, rest, prices, worst):
        """Which ways may still keep the budgets and arrive before `worst` [s]."""
        able = np.ones(len(ways.moment), dtype=bool)
        for k, least in enumerate(self.least):
            if self.bounded[k]:
                needed = ways.spent[:, k] + self.rest(least, number, ways.moment)
                able &= needed <= self.budgets[k] * (1.0 + 1e-6) + 1e-300
        able &= ways.moment + self.rest(self.soonest, number, ways.moment) < worst + 1.0
        left = np.where(self.bounded, self.budgets - ways.spent, 0.0)
        return able & (ways.moment + self.rest(rest, number, ways.moment) - left @ prices < worst + 1.0)

    def kept(self, ways, number, rest, prices):
        """Numbers of the ways to carry on where there are too many, or None: of each cell of time and spending the one
        that the prices like best, and of those the best.
        """
        if len(ways.moment) <= self.most_ways:
            return None
        like = ways.moment + self.rest(rest, number, ways.moment) + ways.spent[:, self.bounded] @ prices[self.bounded]
        last = number == len(self.network.blocks)
        span = max(float(np.ptp(ways.moment)), 1.0)
        cells = [np.floor((ways.moment - ways.moment.min()) / span * 8 * CELLS)]
        for k in np.flatnonzero(self.bounded):
            size = max(float(np.ptp(ways.spent[:, k])), 1e-300)
            cells.append(np.floor((ways.spent[:, k] - ways.spent[:, k].min()) / size * CELLS))
        if self.network.least_between > 0.0 and not last:
            cells.append(ways.setting)
        order = np.lexsort((np.arange(len(like)), like))
        _, first = np.unique(np.array(cells)[:, order].T, axis=0, return_index=True)
        best = np.sort(order[first])
        return np.sort(best[np.argsort(like[best], kind="stable")[: self.most_ways]])


class Ways(NamedTuple):
    """Ways to the start of a block."""

    moment: np.ndarray  # (w,) [s]
    spent: np.ndarray  # (w, c)
    setting: np.ndarray  # (w,) number of the setting, -1 = none yet
    since: np.ndarray  # (w,) [s] when it was last changed
    before: np.ndarray  # (w,) number of the way that it goes on from

    def of(self, chosen):
        """Those of a mask or of numbers."""
        return Ways(*(part[chosen] for part in self))


def plan_of(network, settings):
    """`Found` of `settings` (n,) numbers on the pieces, marched through a network; its bound is its arrival."""
    now, moments, spent = network.start, [network.start], np.zeros(network.costs.shape[-1])
    for piece, setting in enumerate(settings):
        after, costs = passed(network, (piece, piece + 1), np.array([now]), np.array([setting]))
        now, spent = float(after[0]), spent + costs[0]
        moments.append(now)
    return Found(np.asarray(settings, dtype=int), np.array(moments), spent, now, True)
