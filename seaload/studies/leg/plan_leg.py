"""`seaload leg`: a leg planned, asked what it turns on, marched again, and told as a Dataset."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.deciding.leg.asked import wear_span
from seaload.deciding.leg.met import Met, met_on
from seaload.deciding.leg.plan import Plan, budgets_of, least_spent, marched
from seaload.deciding.leg.plan import plan_leg as planned
from seaload.deciding.leg.policy import HIGHER, SHORTER, bargains, held_same, spent_if, thresholds
from seaload.deciding.leg.search import plan_of
from seaload.evidence.verdict import SIDES
from seaload.files.result_file import read_result, write_result
from seaload.result.leg_dataset import leg_dataset
from seaload.sailing.sail_cases import Account
from seaload.scenario.read_toml import shown
from seaload.studies.leg.check import checked
from seaload.studies.leg.gauge_readings import Gauge, gauge_of
from seaload.studies.leg.leg_question import Means, lead_time, leg_question

AS_FAST = 60.0  # [s] of arrival that no crew tells apart: then less of the budgets decides
MORE_ODDS = (0.01, 0.05)  # [-] added to a budget of odds: what they buy
QUICK_WAYS = 400  # carried on in the further searches


@dataclass(frozen=True)
class LegOutcome:
    """A leg that was planned."""

    dataset: object  # xarray.Dataset
    result_path: Path
    done: int  # marches of the check
    reused: int
    failed: tuple  # why the plan is not suggested
    real_time_factor: float
    compile_s: float
    settings: list = field(default_factory=list)  # one dictionary a setting, SI, vocabulary names
    stretches: list = field(default_factory=list)  # one a stretch
    leg: dict = field(default_factory=dict)  # what is told of the whole leg
    missing: tuple = ()


class Asked(NamedTuple):
    """What a plan was asked."""

    met: Met  # (n, 1 moment) along the plan
    bargains: list  # (faster, slower) of each block
    higher: np.ndarray  # (blocks,) factor of height at which the odds pass their budget
    shorter: np.ndarray  # (blocks,) factor of period
    same: Plan | None  # the best single setting all the way
    more: list  # of (budget's name, what was added, Plan)
    later: list  # of (hours [s], Plan)
    least: Plan  # the plan that spends least
    gauge: Gauge | None  # what the boat's display shows along the plan
    wear: tuple  # (low, high) (n,) [-] of the wear on each piece by what the library knows


def plan_leg(path, *, out="results", march_missing=False):
    """Plan the leg described in `path` (LEG.toml); gives an xarray Dataset, saved as result.nc.

    The boat's library lies in the folder `out`; seas that it does not tell are marched into it first if asked to.
    InputError for a wrong description, a forecast that does not cover the leg, a library of another boat; CannotRun
    when the disk refuses.
    """
    return leg_file(path, out=out, march_missing=march_missing).dataset


def leg_file(path, *, out, seed=None, workers=None, scheduler=None, account=None, march_missing=False):
    """`LegOutcome` of a description file; `seed` of the check in place of the one written, march_missing : seas that
    the library does not tell are marched into it first; the rest as of a study.
    """
    account = account or Account()
    question = leg_question(path, out, Means(account, workers, scheduler, march_missing), seed)
    budgets = budgets_of(question.leg.budget)
    plan = planned(question.spending, budgets, even=AS_FAST)
    if plan is None:
        raise InputError(shown(question.leg.file), "settings", len(question.settings), nowhere_open(question))
    asked = further(question, plan, budgets)
    check = None
    if question.leg.check.marches and plan.within:
        check = checked(question, plan, asked.met, out, (workers, scheduler, account))
    dataset = leg_dataset(question, plan, budgets, asked, check)
    found = write_result(dataset, Path(out) / question.leg.name)
    dataset = read_result(found)
    return LegOutcome(dataset, found, account.done, account.reused, refusals(plan, check), account.real_time_factor,
                      account.compile_s, *trees_of(dataset))  # fmt: skip


def trees_of(dataset):
    """(settings, stretches, leg) of a result as plain trees, SI, vocabulary names."""
    rows = lambda dim: [  # noqa: E731
        {dim: i, **{str(name): seconds_or_number(part.values[i]) for name, part in dataset.variables.items()
                    if part.dims == (dim,) and name != dim}}
        for i in range(dataset.sizes[dim])
    ]  # fmt: skip
    leg = {str(name): seconds_or_number(part.values[()]) for name, part in dataset.variables.items() if not part.dims}
    for name in ("leg_wear", "extra_budget", "extra_added", "extra_time", "later_start", "later_time", "check_level",
                 "check_counted", "check_told", "check_odds"):  # fmt: skip
        if name in dataset:
            leg[name] = [seconds_or_number(value) for value in dataset[name].values]
    return rows("setting"), rows("stretch"), leg


def seconds_or_number(value):
    """A plain number or text; a moment as seconds since 1970."""
    if isinstance(value, np.datetime64):
        return float(value.astype("datetime64[ms]").astype(np.int64)) / 1e3
    return value.item() if hasattr(value, "item") else value


def nowhere_open(question):
    """Words on the first piece of a leg that no setting can pass."""
    open_ = np.isfinite(question.spending.duration).any(axis=(1, 2))
    piece = int(np.argmin(open_)) if not open_.all() else 0
    sails = " or the sails carried there do not allow its heel" if question.leg.ladder else ""
    number = int(question.route.segment[piece]) + 1
    return f"none can be held on segment {number}: the thrust does not hold its speeds{sails}"


def refusals(plan, check):
    """Why a plan is not one to suggest, in plain words."""
    found = [] if plan.within else ["no plan keeps the budget: the one shown spends least of it"]
    if check is not None and check.fails:
        found.append("the plan marched again meets more than it was planned by: not suggested")
    return tuple(found)


def further(question, plan, budgets):
    """`Asked` of a plan."""
    leg, spending = question.leg, question.spending
    met = met_on(question.route, question.forecast, leg.start, plan.moments[:-1, None], (leg.wind, leg.current))
    blocks = spending.network({side: spending.weights for side in SIDES}, 0.0).blocks
    higher, shorter = leave_at(question, plan, met, blocks)
    def march(settings):
        prices = {side: spending.weights for side in SIDES}
        return marched(spending, plan_of(spending.network(prices, plan.moments[0]), settings), budgets, 1)

    more = []
    for k, side in enumerate(SIDES):
        for added in MORE_ODDS if np.isfinite(budgets[k]) else ():
            wider = budgets.copy()
            wider[k] = min(budgets[k] + added, 0.999)
            more.append((f"{side}_odds", added, planned(spending, wider, most_ways=QUICK_WAYS)))
    for k in (2, 3):
        if np.isfinite(budgets[k]) and k == 2:
            wider = budgets.copy()
            wider[2:] *= 1.1
            more.append(("wear", 0.1, planned(spending, wider, most_ways=QUICK_WAYS)))
    later = [(after, planned(spending, budgets, start=after, most_ways=QUICK_WAYS)) for after in leg.later]
    return Asked(met, bargains(spending, plan), higher, shorter, held_same(spending, budgets, 0.0, march), more,
                 later, least_spent(spending, budgets, 0.0),
                 gauge_of(question, plan, met, blocks, (higher, shorter)),
                 wear_span(question.table, plan.settings, met, np.diff(plan.moments),
                           lead_time(leg, question.forecast, plan.moments[:-1, None])))  # fmt: skip


def leave_at(question, plan, met, blocks):
    """(factor of height, factor of period) (blocks,) at which the odds of the leg pass their budget; nan: never."""
    leg, took = question.leg, np.diff(plan.moments)
    budgets = {side: value for side in SIDES if (value := getattr(leg.budget, f"{side}_odds")) < 1.0}
    nothing = np.full(len(blocks), np.nan)
    if not budgets or not plan.within:
        return nothing, nothing
    lead = lead_time(leg, question.forecast, plan.moments[:-1, None])
    found = []
    for name, factors in (("hs", HIGHER), ("tp", SHORTER)):
        changed = [spent_if(question.table, plan.settings, met, took, {name: factor}, lead) for factor in factors]
        found.append(thresholds(changed[0], changed, factors, question.spending.weights, budgets, blocks))
    return tuple(found)