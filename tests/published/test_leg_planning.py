"""The search of a leg's plan on problems whose optimum is known.

mknap1 problem 1 of the OR-Library (Petersen 1967): numbers and optimum 3800 were read in several public repositories,
its solutions derived by enumeration. A leg of five segments and four settings with two budgets: invented, all its 1024
plans enumerated. scipy's solver of whole-number problems (HiGHS) is a second opinion on larger ones.
"""

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from seaload.deciding.leg.network import Network
from seaload.deciding.leg.search import Infeasible, fastest

KNOWN = json.loads((Path(__file__).parent / "data" / "leg_worked.json").read_text(encoding="utf-8"))
LEG, KNAPSACK = KNOWN["leg_mckp_5x4"], KNOWN["mknap1_1"]


def still(times, costs):
    """A network whose seas are the same at all times: `times` (n, j), `costs` (n, j, c)."""
    times = np.asarray(times, dtype=float)
    count, costs = len(times), np.asarray(costs, dtype=float)
    return Network(np.zeros(count), 60.0, times[:, None, :], costs[:, None], np.ones(count, dtype=bool))


def leg():
    """The leg of five segments and four settings."""
    return still(LEG["minutes"], np.stack([LEG["risk_1e4"], LEG["wear_1e4"]], axis=-1))


BUDGETS = [
    ("both", [60, 97], LEG["optimum"][0]),
    ("risk alone", [60, np.inf], LEG["optimum_risk_only"][0]),
    ("wear alone", [np.inf, 97], LEG["optimum_wear_only"][0]),
    ("one more of risk", [61, 97], LEG["one_more_unit_risk"]),
    ("ten more of risk", [70, 97], LEG["ten_more_risk"]),
    ("both doubled", [120, 194], LEG["double_both"]),
    ("neither", [np.inf, np.inf], LEG["unlimited"][0]),
    *((f"risk of {risk}", [float(risk), np.inf], minutes) for risk, minutes in
      LEG["risk_only_frontier_minutes"].items() if minutes is not None),
]  # fmt: skip


@pytest.mark.parametrize("words, budgets, minutes", BUDGETS)
def test_leg_of_five_segments(words, budgets, minutes, logbook):
    found = fastest(leg(), budgets)
    met = found.arrival == minutes and found.exact and found.bound <= minutes
    logbook(
        stage="leg", quantity=f"minutes within budgets of {words}", source="enumeration of 1024 plans",
        origin="derived", published=minutes, ours=found.arrival, tolerance="exact", met=met,
    )  # fmt: skip
    assert met


def test_its_settings_and_what_they_spend():
    found = fastest(leg(), [60, 97])
    assert found.settings.tolist() == LEG["optimum"][3] and LEG["unique"]
    assert found.spent.tolist() == LEG["optimum"][1:3]


def test_without_a_budget_it_tells_what_is_least():
    found = fastest(leg(), [0, 0])
    assert isinstance(found, Infeasible) and found.least.tolist() == [15, 62]  # "least risk is 15e-4, least wear 62e-4"
    assert found.found.settings.tolist() == LEG["least_risk"][3]
    assert isinstance(fastest(leg(), [12, np.inf]), Infeasible)


def test_knapsack(logbook):
    profits, weights = np.array(KNAPSACK["profits"], dtype=float), np.array(KNAPSACK["weights"], dtype=float).T
    most = profits.max()
    times = np.stack([np.full(len(profits), most), most - profits], axis=-1)
    found = fastest(still(times, np.stack([np.zeros_like(weights), weights], axis=1)), KNAPSACK["capacities"])
    ours = len(profits) * most - found.arrival
    met = ours == KNAPSACK["optimum"][0] and found.settings.tolist() == KNAPSACK["optimum"][1]
    logbook(
        stage="leg", quantity="optimum of mknap1 problem 1", source="OR-Library, Petersen 1967", origin="read",
        published=KNAPSACK["optimum"][0], ours=ours, tolerance="exact", met=met,
    )  # fmt: skip
    assert met


LARGER = [(8, 5, 1500, 0.0), (30, 6, 1500, 1e-4), (30, 12, 300, 5e-4)]


@pytest.mark.parametrize("segments, settings, most_ways, gap", LARGER)
def test_as_another_solver(segments, settings, most_ways, gap):
    """HiGHS, to its own gap of nothing; with ways thinned out within a few parts in ten thousand, never faster."""
    draws = np.random.default_rng([segments, settings])
    times = np.sort(draws.uniform(50.0, 70.0, (segments, settings)))[:, ::-1]
    risk = np.sort(draws.lognormal(0.0, 1.5, (segments, settings))) * draws.lognormal(0.0, 1.0, (segments, 1))
    wear = np.sort(draws.uniform(1.0, 5.0, (segments, settings)))
    costs = np.stack([risk, wear], axis=-1)
    budgets = 1.4 * costs.min(axis=1).sum(axis=0) + np.array([0.02, 0.3]) * costs.max(axis=1).sum(axis=0)
    found = fastest(still(times, costs), budgets, most_ways)
    one_each = LinearConstraint(np.kron(np.eye(segments), np.ones(settings)), 1.0, 1.0)
    within = [LinearConstraint(costs[..., k].ravel()[None], -np.inf, budgets[k]) for k in (0, 1)]
    other = milp(
        times.ravel(), constraints=[one_each, *within], integrality=np.ones(times.size), bounds=Bounds(0.0, 1.0),
        options={"mip_rel_gap": 0.0, "node_limit": 50_000},
    )  # fmt: skip
    assert other.success and np.all(found.spent <= budgets * (1.0 + 1e-9))
    assert other.fun * (1.0 - 1e-9) <= found.arrival <= other.fun * (1.0 + gap + 1e-9)
    assert found.bound <= other.fun * (1.0 + 1e-9)
