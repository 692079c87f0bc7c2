"""The plan: the fastest way within the odds and the wear of a whole leg.

The odds are bounded by their tangent at a plan, which lies above them: the search keeps the tangent, so its plan keeps
the odds. The next tangent is taken at that plan, which stays within it, so no round is slower. When a round gains
nothing, tangents at plans of somewhat wider budgets are tried: a bound is one wherever it touches. It ends when these
gain nothing either.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.search import MOST_WAYS, Infeasible, cheapest, fastest, traded
from seaload.deciding.leg.spending import FOILS, Along
from seaload.deciding.leg.whole_odds import tangent_at
from seaload.evidence.verdict import SIDES

MOST_ROUNDS = 24
WIDER = (1.1, 1.3, 0.8, 2.0)  # times the budget of odds: where further tangents are taken
WIDEST = np.array([0.999, 0.999, np.inf, np.inf])
GAIN = 1.0  # [s] of arrival that is worth another round
KEPT = 1e-9  # [-] rounding of a budget
WORTHS = (0.01, 0.1, 1.0, 10.0, 100.0)  # of a whole budget, in times that are as good: prices tried for less spent
BINDS = 0.9  # [-] of a budget spent from which it is said to bind
COSTS = (*(f"{side}_odds" for side in SIDES), *(f"wear_{foil}" for foil in FOILS))


class Plan(NamedTuple):
    """A setting on every piece, and what it takes and spends."""

    settings: np.ndarray  # (n,) numbers
    moments: np.ndarray  # (n + 1,) [s] after the start of the leg's clock
    along: Along
    bound: float  # [s] no plan within the last tangent arrives before
    exact: bool  # nothing was thinned out in the last search
    rounds: int
    within: bool  # the budgets are kept

    @property
    def time(self):
        """Time under way [s]."""
        return float(self.moments[-1] - self.moments[0])

    @property
    def spent(self):
        """(c,) of COSTS: odds of each side, wear of each foil."""
        return np.array([*(self.along.odds(side) for side in SIDES), *self.along.wear.sum(axis=0)])


def budgets_of(budget):
    """(c,) of COSTS, of a record with reverse_odds, normal_odds and wear; infinite where nothing is bounded."""
    odds = [getattr(budget, f"{side}_odds") for side in SIDES]
    return np.array([*(value if value < 1.0 else np.inf for value in odds), *[budget.wear] * len(FOILS)])


def plan_leg(spending, budgets, start=0.0, most_ways=MOST_WAYS, even=0.0):
    """The `Plan` of a `Spending` within `budgets` (c,) of COSTS, begun at `start` [s] of its clock: the fastest, or of
    those that arrive within `even` [s] of it one that spends less.

    Where none keeps them, the plan that spends least of what it cannot keep, with within = False. None where no setting
    is open on some piece.
    """
    nothing = {side: np.zeros(len(spending.weights)) for side in SIDES}
    best = improved(spending, budgets, None, nothing, (start, most_ways))
    if best is None:
        best = least_spent(spending, budgets, start)
        if best is None or not best.within:
            return best
        better = improved(spending, budgets, best, events_of(best), (start, most_ways))
        best = best if better is None else better
    tried = [] if not np.isfinite(budgets[: len(SIDES)]).any() else list(WIDER)
    while tried:
        wide = np.where(np.arange(len(budgets)) < len(SIDES), tried.pop(0) * budgets, budgets)
        found = searched(spending, np.minimum(wide, WIDEST), events_of(best), start, most_ways)
        if isinstance(found, Infeasible):
            continue
        other = events_of(marched(spending, found, budgets, best.rounds))
        plan = improved(spending, budgets, best, other, (start, most_ways))
        if plan is not None and plan.moments[-1] < best.moments[-1] - GAIN:
            best, tried = plan, list(WIDER) if plan.rounds < MOST_ROUNDS else []
    return sparing(spending, budgets, best, start, even) if even > 0.0 else best


def sparing(spending, budgets, fastest_plan, start, even):
    """Of plans within `budgets` (c,) that arrive no later than `even` [s] after the fastest, the one that spends the
    least share of them; where none is bounded, the least reverse odds.
    """
    bounded = np.isfinite(budgets)
    if not bounded.any():
        bounded = np.array([True, *[False] * (len(budgets) - 1)])
    shares = np.where(bounded, 1.0 / np.maximum(np.where(bounded, budgets, 1.0), 1e-9), 0.0)
    events, best = events_of(fastest_plan), fastest_plan
    prices = {
        side: tangent_at(events[side], spending.weights, min(budgets[k], 1.0)).prices for k, side in enumerate(SIDES)
    }
    network = spending.network(prices, start)
    for worth in WORTHS:
        way = traded(network, worth * even * shares)
        plan = None if way is None else marched(spending, way, budgets, fastest_plan.rounds)
        late = plan is None or plan.moments[-1] > fastest_plan.moments[-1] + even
        if not late and plan.within and plan.spent @ shares < best.spent @ shares:
            best = plan._replace(bound=fastest_plan.bound, exact=fastest_plan.exact)
    return best


def improved(spending, budgets, best, events, how):
    """The best `Plan` of rounds that begin with the tangents at `events` {side: (k,)}; `best` is the one so far or
    None, `how` : start and most ways. None where none keeps the first tangents and there is none so far.
    """
    first = rounds = 0 if best is None else best.rounds
    for rounds in range(first + 1, MOST_ROUNDS + 1):
        found = searched(spending, budgets, events, *how)
        if isinstance(found, Infeasible):
            break
        plan = marched(spending, found, budgets, rounds)
        gained = best is None or plan.moments[-1] < best.moments[-1] - GAIN
        if best is None or plan.moments[-1] < best.moments[-1]:
            best = plan
        if not gained:
            break
        events = events_of(best)
    return None if best is None else best._replace(rounds=rounds)


def events_of(plan):
    """{side: (k,)} events of a `Plan` in each case."""
    return {side: plan.along.events[side].sum(axis=0) for side in SIDES}


def searched(spending, budgets, events, start, most_ways):
    """`Found` or `Infeasible` within the tangents at `events` {side: (k,)} expected along a plan."""
    prices, rooms = {}, []
    for k, side in enumerate(SIDES):
        tangent = tangent_at(events[side], spending.weights, budgets[k] if np.isfinite(budgets[k]) else 1.0)
        prices[side] = tangent.prices
        rooms.append(tangent.room if np.isfinite(budgets[k]) else np.inf)
    return fastest(spending.network(prices, start), np.array([*rooms, *budgets[len(SIDES) :]]), most_ways)


def marched(spending, found, budgets, rounds):
    """`Plan` of a `Found`, its odds worked out exactly."""
    along = spending.along(found.settings, found.moments)
    plan = Plan(found.settings, found.moments, along, found.bound, found.exact, rounds, True)
    return plan._replace(within=bool(np.all(plan.spent <= budgets * (1.0 + KEPT) + KEPT)))


def least_spent(spending, budgets, start):
    """The `Plan` that spends least of the budgets: of their sum in shares, or of one of them alone, whichever keeps
    them or passes them by least; None where no setting is open on some piece.
    """
    prices = {side: spending.weights for side in SIDES}
    bounded = np.isfinite(budgets)
    if not bounded.any():
        bounded = np.array([True, *[False] * (len(budgets) - 1)])
    shares = np.where(bounded, 1.0 / np.maximum(np.where(bounded, budgets, 1.0), 1e-9), 0.0)
    rows = [shares, *(shares * row for row in np.eye(len(budgets)) if (shares * row).any())]
    plans = []
    for _ in range(3):
        network = spending.network(prices, start)
        found = [way for row in rows if (way := cheapest(network, row)) is not None]
        if not found:
            return None
        plans += [marched(spending, way, budgets, 1) for way in found]
        best = min(plans, key=lambda plan: float(np.max(shares * plan.spent)))
        prices = {side: spending.weights * np.exp(-best.along.events[side].sum(axis=0)) for side in SIDES}
    return best


def binding(plan, budgets):
    """Names of COSTS whose budget the plan has spent from BINDS on."""
    return tuple(name for name, spent, budget in zip(COSTS, plan.spent, budgets, strict=True)
                 if np.isfinite(budget) and spent >= BINDS * budget)  # fmt: skip
