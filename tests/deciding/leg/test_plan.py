"""The plan of a leg beside every plan there is on small legs, and the laws that any plan keeps."""

import itertools

import numpy as np
import pytest

from seaload.deciding.leg.network import told_at, weighed
from seaload.deciding.leg.plan import budgets_of, least_spent, plan_leg
from seaload.deciding.leg.whole_odds import doubt_cases, odds_of, tangent_at
from seaload.scenario.leg_records import LegBudget
from tests.deciding.leg.made_spending import made, still

FREE = np.full(4, np.inf)


def every(spending, budgets):
    """Time of the fastest of all plans within the budgets, every one tried; nan where none is."""
    count = spending.duration.shape[2]
    plans = np.array(list(itertools.product(range(count), repeat=len(spending.change))))
    now, since, able = np.zeros(len(plans)), np.full(len(plans), -np.inf), np.ones(len(plans), dtype=bool)
    events = {side: np.zeros((len(plans), len(spending.weights))) for side in spending.events}
    wear = np.zeros((len(plans), 2))
    for piece, chosen in enumerate(plans.T):
        changed = chosen != plans[:, piece - 1] if piece else np.ones(len(plans), dtype=bool)
        able &= ~changed | (spending.change[piece] & (now - since >= spending.least_between - 1e-6))
        since = np.where(changed, now, since)
        place = weighed(spending.first[piece], spending.step, spending.duration.shape[1], now)
        for side, values in spending.events.items():
            events[side] += told_at(values[piece], place, chosen)
        wear += told_at(spending.wear[piece], place, chosen)
        now = now + told_at(spending.duration[piece], place, chosen)
    spent = np.column_stack([*(odds_of(events[side], spending.weights) for side in ("reverse", "normal")), wear])
    able &= np.all(spent <= budgets * (1.0 + 1e-9), axis=1)
    return now[able].min() if able.any() else np.nan


def changes_allowed(spending, plan):
    """Whether a plan changes only where it may, and not too soon after the last change."""
    begins = [0, *(k for k in range(1, len(plan.settings)) if plan.settings[k] != plan.settings[k - 1])]
    gaps = np.diff(plan.moments[begins])
    return bool(np.all(spending.change[begins]) and np.all(gaps >= spending.least_between - 1e-6))


def between(spending, odds=2.5, wear=1.3):
    """Budgets so many times what the most careful plan spends."""
    least = least_spent(spending, np.array([1e-9, np.inf, np.inf, np.inf]), 0.0).spent
    return np.array([min(odds * least[0], 0.9), np.inf, wear * least[2], np.inf])


SEEDS = [0, 1, *(pytest.param(seed, marks=pytest.mark.slow) for seed in (2, 3))]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("moments, harm", [(1, 1.0), (1, 20.0), (6, 1.0), (6, 20.0)])
def test_as_the_best_of_all_plans(seed, moments, harm):
    """Whatever the odds, small or large: the tangents leave no gap that these legs show."""
    spending = made(seed, segments=5, settings=4, moments=moments, harm=harm)
    budgets = between(spending)
    ours, best = plan_leg(spending, budgets), every(spending, budgets)
    assert ours.within and ours.exact
    assert ours.time == pytest.approx(best, rel=1e-9)


def test_six_segments_and_six_settings_with_both_sides_and_a_least_time_between_changes():
    spending = made(3, segments=6, settings=6, moments=3, harm=5.0, least_between=5000.0)
    least = least_spent(spending, np.array([1e-9, np.inf, np.inf, np.inf]), 0.0).spent
    budgets = np.array([2.0 * least[0], 2.5 * least[1], 1.5 * least[2], 1.5 * least[3]])
    ours, best = plan_leg(spending, budgets), every(spending, budgets)
    assert changes_allowed(spending, ours)
    assert ours.time == pytest.approx(best, rel=1e-9)


def test_no_waves_spend_nothing_and_the_fastest_is_taken():
    plan = plan_leg(still(made(1)), budgets_of(LegBudget(0.01, 0.01, 1e-6)))
    assert plan.spent.tolist() == [0.0] * 4 and plan.within
    assert plan.settings.tolist() == [3] * 5


def test_without_a_budget_every_stretch_is_passed_as_fast_as_it_can_be():
    spending = made(2, moments=1, harm=100.0)
    plan = plan_leg(spending, FREE)
    assert plan.settings.tolist() == spending.duration[:, 0].argmin(axis=1).tolist()


def test_no_budget_at_all_is_infeasible_by_what_the_most_careful_plan_spends():
    spending = made(2)
    plan = plan_leg(spending, budgets_of(LegBudget(0.0, 1.0)))
    assert not plan.within
    assert plan.spent[0] == pytest.approx(least_odds(spending), rel=1e-6)


def least_odds(spending):
    """Least reverse odds of all plans."""
    plans = itertools.product(range(spending.duration.shape[2]), repeat=len(spending.change))
    events = [sum(spending.events["reverse"][k, 0, j] for k, j in enumerate(plan)) for plan in plans]
    return odds_of(np.array(events), spending.weights).min()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_budget_doubled_never_slows(seed):
    spending = made(seed, segments=5, settings=3, moments=3, harm=5.0)
    budgets = between(spending, odds=1.5, wear=1.2)
    times = []
    for _ in range(3):
        times.append(plan_leg(spending, budgets).time)
        budgets = np.minimum(2.0 * budgets, [0.999, np.inf, np.inf, np.inf])
    assert np.all(np.diff(times) <= 1e-6)


def halved(spending, change):
    """The leg with its second segment written as two: its halves spend half each, whenever they are begun."""
    def cut(values):
        values = np.asarray(values)
        half = 0.5 * values[1:2]
        return np.concatenate([values[:1], half, half, values[2:]])

    kept = lambda values: np.concatenate([values[:2], values[1:]])  # noqa: E731
    events = {side: cut(part) for side, part in spending.events.items()}
    marks = kept(spending.change).copy()
    marks[2] = change
    return spending._replace(first=kept(spending.first), duration=cut(spending.duration), events=events,
                             wear=cut(spending.wear), change=marks)  # fmt: skip


@pytest.mark.parametrize("seed", range(4))
def test_a_segment_written_as_two_changes_nothing_without_a_change_there_and_never_slows_with_one(seed):
    spending = made(seed, segments=5, settings=4)
    budgets = between(spending)
    whole = plan_leg(spending, budgets).time
    assert plan_leg(halved(spending, False), budgets).time == pytest.approx(whole, rel=1e-12)
    assert plan_leg(halved(spending, True), budgets).time <= whole * (1.0 + 1e-12)


@pytest.mark.parametrize("moments", [1, 3])
def test_a_mirrored_leg_mirrors_foils(moments):
    spending = made(4, settings=3, moments=moments)
    budgets = between(spending)
    mirrored = spending._replace(wear=spending.wear[..., ::-1])
    one, other = plan_leg(spending, budgets), plan_leg(mirrored, budgets[[0, 1, 3, 2]])
    assert one.settings.tolist() == other.settings.tolist()
    assert one.spent[[0, 1, 3, 2]].tolist() == other.spent.tolist()


def test_a_setting_that_is_not_open_on_a_segment_is_not_taken_there():
    spending = made(1)
    shut = spending.duration.copy()
    shut[2, :, 3] = np.inf
    plan = plan_leg(spending._replace(duration=shut), FREE)
    assert plan.settings.tolist() == [3, 3, 2, 3, 3]
    shut[2] = np.inf
    assert plan_leg(spending._replace(duration=shut), FREE) is None


def test_a_hard_limit_in_the_middle_of_a_stretch_without_a_change_bounds_the_whole_stretch():
    spending = made(1)
    shut = spending.duration.copy()
    shut[2, :, 3] = np.inf
    marks = np.array([True, True, False, False, True])
    plan = plan_leg(spending._replace(duration=shut, change=marks), FREE)
    assert plan.settings.tolist() == [3, 2, 2, 2, 3]


def test_it_backs_off_where_the_sea_is_bad_and_pushes_where_it_is_cheap():
    """One hazard rises along the leg, all else alike: speeds never rise along it, and fall somewhere."""
    spending = made(1, segments=6, settings=5, cases=1)
    rising = np.geomspace(1.0, 100.0, 6)[:, None, None, None]
    alike = {side: np.repeat(events[:1], 6, axis=0) * rising for side, events in spending.events.items()}
    spending = spending._replace(events=alike, duration=np.repeat(spending.duration[:1], 6, axis=0))
    plan = plan_leg(spending, np.array([3.0 * least_spent(spending, np.array([1e-9, *FREE[1:]]), 0.0).spent[0],
                                        np.inf, np.inf, np.inf]))  # fmt: skip
    assert np.all(np.diff(plan.settings) <= 0) and plan.settings[0] > plan.settings[-1]


def test_odds_are_averaged_over_cases_not_multiplied_over_pieces():
    """Two pieces, two cases: one in which nothing happens and one in which each piece has one event."""
    weights = np.array([0.5, 0.5])
    assert odds_of(np.array([0.0, 2.0]), weights) == pytest.approx(0.5 * (1.0 - np.exp(-2.0)))


def test_the_tangent_is_the_odds_at_its_plan_and_above_them_elsewhere():
    draws = np.random.default_rng(1)
    weights, here = np.full(5, 0.2), draws.exponential(1.0, 5)
    tangent = tangent_at(here, weights, 0.5)
    told = lambda events: 0.5 - tangent.room + tangent.prices @ events  # noqa: E731
    assert told(here) == pytest.approx(odds_of(here, weights))
    for _ in range(200):
        other = draws.exponential(2.0, 5)
        assert told(other) >= odds_of(other, weights) - 1e-12


def test_cases_of_a_doubt_keep_its_moments():
    """Those of the normal law (any text): 1, 0, 1, 0, 3."""
    deviations, weights = doubt_cases(5)
    assert [float(weights @ deviations**k) for k in range(5)] == pytest.approx([1.0, 0.0, 1.0, 0.0, 3.0], abs=1e-12)


def test_many_short_stretches_of_which_seas_are_looked_at_for_two_hours_alone():
    """What lies past the last hour that was looked at closes no way that ends before it."""
    spending = made(1, segments=30, settings=3, moments=4)
    short = 0.02 * spending.duration
    short[:, 2:] = np.inf
    spending = spending._replace(first=np.zeros(30), duration=short)
    plan = plan_leg(spending, FREE)
    assert plan.moments[-1] < 3600.0 and plan.settings.tolist() == [2] * 30


def test_a_later_start_meets_other_seas():
    spending = made(2, segments=4, settings=3, moments=12, harm=5.0)
    budgets = between(spending)
    plans = [plan_leg(spending, budgets, start=start) for start in (0.0, 7200.0)]
    assert [plan.moments[0] for plan in plans] == [0.0, 7200.0]
    assert plans[0].spent.tolist() != plans[1].spent.tolist()


@pytest.mark.parametrize("seed", range(4))
def test_of_plans_as_fast_within_a_minute_the_one_that_spends_least_is_taken(seed):
    """Two settings of every speed, the second a trifle slower with a third of the events: it is taken where time is not
    told apart, the first where it is."""
    one = made(seed, segments=6, settings=3, harm=0.2)
    twice = lambda values, factor: np.concatenate([values, factor * values], axis=2)  # noqa: E731
    both = one._replace(
        duration=twice(one.duration, 1.0 + 1e-5), wear=twice(one.wear, 1.0),
        events={side: twice(values, 1.0 / 3.0) for side, values in one.events.items()},
    )
    budgets = np.array([0.9, 0.9, np.inf, np.inf])
    fast, spare = plan_leg(both, budgets), plan_leg(both, budgets, even=60.0)
    assert fast.time <= spare.time <= fast.time + 60.0
    assert np.all(spare.settings >= 3) and spare.within
    assert spare.spent[0] < 0.6 * fast.spent[0]
    assert plan_leg(both, budgets, even=1e-3).spent[0] == pytest.approx(fast.spent[0])
