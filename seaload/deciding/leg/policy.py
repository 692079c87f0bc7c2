"""When to leave a plan, and what each of its settings buys: what a crew asks of a plan while it is under way."""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.asked import CERTAIN, told_by
from seaload.deciding.leg.network import passed
from seaload.deciding.leg.whole_odds import odds_of, tangent_at
from seaload.evidence.verdict import SIDES

HIGHER = np.array([1.0, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0])  # [-] of the height that is looked at
SHORTER = np.array([1.0, 0.95, 0.9, 0.85, 0.8, 0.7, 0.6])  # [-] of the period
LEAST = 1e-12  # [-] of expected events


class Step(NamedTuple):
    """What another setting on one block would change: of those that are faster, or slower, the best bargain."""

    setting: int  # number; -1 = there is none
    time: float  # [s] more under way
    odds: float  # [-] more odds of the whole leg, by the tangent at the plan


def bargains(spending, plan):
    """[(faster `Step`, slower `Step`)] of each block: the least odds for a second gained, the most for one given up.

    Odds are of the reverse side; where no events are expected on either, of wear nothing is said.
    """
    prices = {side: tangent_at(plan.along.events[side].sum(axis=0), spending.weights, 1.0).prices for side in SIDES}
    network, found = spending.network(prices, plan.moments[0]), []
    every = np.arange(network.duration.shape[2])
    for block in network.blocks:
        now, chosen = plan.moments[block[0]], int(plan.settings[block[0]])
        after, costs = passed(network, block, np.full(len(every), now), every)
        time, odds = after - after[chosen], costs[:, 0] - costs[chosen, 0]
        found.append((bargain(every, time, odds, time < -1.0), bargain(every, time, odds, time > 1.0)))
    return found


def bargain(every, time, odds, among):
    """The `Step` among some settings that costs least odds for a second gained, or saves most for one given up."""
    among = among & np.isfinite(time)
    if not among.any():
        return Step(-1, np.nan, np.nan)
    rate = np.where(among, odds / np.where(among, np.abs(time), 1.0), np.inf)
    best = int(np.lexsort((every, np.where(among, np.abs(time), np.inf), rate))[0])
    return Step(best, float(time[best]), float(odds[best]))


def spent_if(table, settings, met, took, other, lead):
    """{side: (n, k) [-]} events expected on n pieces passed with the setting of each, `settings` (n,) numbers in a
    `SeaTable`, in `took` (n,) [s], where `met` (n, 1 moment) is as it is told but for `other` {name of its parts:
    factor}; lead (n, 1) [s].
    """
    changed = met._replace(**{name: getattr(met, name) * factor for name, factor in other.items()})
    told = told_by(table, changed, lead, np.ones((len(settings), 1), dtype=bool))
    row, whole = np.arange(len(settings)), {}
    for side in SIDES:
        rate = told.rate[side][row, 0, :, settings] * took[:, None, None]
        whole[side] = np.where(told.certain[row, 0, :, settings][..., None], CERTAIN, rate).reshape(len(settings), -1)
    return whole


def thresholds(base, changed, factors, weights, budgets, blocks):
    """(blocks,) factor of height or period at which the odds of the leg pass their budget, were the sea so from the
    block's start to the end of the leg; nan where it does not, within the factors.

    base : {side: (n, k)} events of the plan; changed : [{side: (n, k)}] at each of `factors`, which begin with 1;
    budgets : {side: odds [-]} of those bounded.
    """
    found = np.full(len(blocks), np.nan)
    for number, (first, _) in enumerate(blocks):
        places = []
        for side, budget in budgets.items():
            before = base[side][:first].sum(axis=0)
            odds = np.array([float(odds_of(before + one[side][first:].sum(axis=0), weights)) for one in changed])
            places.append(crossing(factors, np.maximum.accumulate(odds), budget))
        known = [place for place in places if np.isfinite(place)]
        if known:
            found[number] = min(known, key=lambda factor: abs(factor - 1.0))
    return found


def crossing(factors, odds, budget):
    """The factor at which rising `odds` (f,) [-] pass a budget, between two in the odds' logarithm; nan: never."""
    past = np.flatnonzero(odds > budget)
    if not len(past) or past[0] == 0:
        return float(factors[0]) if len(past) else np.nan
    high, low = past[0], past[0] - 1
    ends = np.log(np.maximum(odds[[low, high]], LEAST))
    share = np.clip((np.log(max(budget, LEAST)) - ends[0]) / max(ends[1] - ends[0], 1e-9), 0.0, 1.0)
    return float(factors[low] + share * (factors[high] - factors[low]))


def held_same(spending, budgets, start, best_of):
    """The fastest `Plan` with one setting all the way, and whether it keeps the budgets: what planning is worth.

    best_of : function giving a `Plan` of settings (n,); None where no setting is open on every piece.
    """
    plans = []
    for setting in range(spending.duration.shape[2]):
        plan = best_of(np.full(len(spending.change), setting))
        if np.isfinite(plan.moments[-1]):
            plans.append(plan)
    if not plans:
        return None
    within = [plan for plan in plans if plan.within]
    return min(within or plans, key=lambda plan: plan.time if within else float(plan.spent[0]))
