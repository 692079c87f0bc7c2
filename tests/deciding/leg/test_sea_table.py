"""A library read between the nodes of a grid of seas, with all that is uncertain drawn once: against the library asked
for each sea, against its odds of one setting in one sea, and by lot.
"""

import numpy as np
import pytest

from seaload.deciding.leg.leg_doubt import ALONG, BESIDE, LIBRARY, cases_of
from seaload.deciding.leg.sea_grid import cells_of, seas_at
from seaload.deciding.leg.sea_table import SeaTable
from seaload.deciding.library.coordinates import NAMES, SETTING
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.told_odds import told_odds
from seaload.evidence.verdict import SIDES
from tests.deciding.library.invented import QUESTION, SETTINGS, invented_shelf
from tests.deciding.library.test_told_odds import HS, INPUTS, RISK, TP, TURN

CHOSEN = SETTINGS[[0, 8, 17]]


@pytest.fixture(scope="module")
def emulator():
    return Emulator(invented_shelf(40, settings=SETTINGS[[0, 4, 8, 9, 13, 17]], noise=0.004, every=3))


@pytest.fixture(scope="module")
def table(emulator):
    return SeaTable(emulator, CHOSEN, INPUTS)


def ahead(lead):
    """One deviation of a forecast's error, whatever its lead time."""
    return tuple(np.full(len(lead), size) for size in (HS, TP, TURN))


def test_corners_weigh_up_to_the_sea_between_them():
    draws = np.random.default_rng(3)
    seas = np.column_stack([draws.uniform(1.5, 5.0, 50), draws.uniform(6.0, 14.0, 50), draws.uniform(-3.1, 3.1, 50),
                            draws.uniform(0.0, 2e5, 50)])  # fmt: skip
    cells = cells_of(seas, 1.5, 14.0)
    nodes = seas_at(cells.nodes, 1.5, 14.0)[cells.corner]
    assert cells.weight.sum(axis=1) == pytest.approx(1.0)
    for column, of in ((0, np.asarray), (1, np.log), (3, np.asarray)):
        assert np.sum(cells.weight * of(nodes[..., column]), axis=1) == pytest.approx(of(seas[:, column]))
    turned = np.angle(np.sum(cells.weight * np.exp(1j * nodes[..., 2]), axis=1))
    assert np.exp(1j * turned) == pytest.approx(np.exp(1j * seas[:, 2]), abs=1e-3)


def test_a_sea_on_a_node_has_that_node_alone_and_the_lowest_and_longest_are_nodes():
    cells = cells_of(np.array([[1.5, 14.0, 0.0, 0.0]]), 1.5, 14.0)
    assert cells.nodes.tolist() == [[0, 0, 0, 0]] and cells.weight.max() == 1.0


def test_between_nodes_it_tells_what_the_library_tells_there(table):
    """ln(rate) in every case of the doubt: rates that count, over one in 100,000 hours, within a fifth at worst."""
    draws = np.random.default_rng(4)
    seas = np.column_stack([draws.uniform(3.0, 4.8, 60), draws.uniform(10.0, 13.0, 60), draws.uniform(-3.1, 3.1, 60),
                            np.zeros(60)])  # fmt: skip
    between = table.read(seas)
    rows = table.questions(seas).reshape(-1, len(NAMES))
    own = table.asked(rows, np.zeros(len(rows)))
    assert np.array_equal(between.told, own.told.reshape(between.told.shape))
    told, asked = between.ln_rates(), own.ln_rates().reshape(between.ln_rates().shape)
    counts = between.told[..., None, None] & (asked > np.log(1e-5 / 3600.0))
    assert counts.sum() > 300
    assert np.abs(told - asked)[counts].max() < 0.2 and np.abs(told - asked)[counts].mean() < 0.03
    assert between.of("speed") == pytest.approx(own.of("speed").reshape(between.told.shape), rel=1e-3)


def test_it_remembers_nodes_and_needs_few_of_them(emulator):
    table = SeaTable(emulator, CHOSEN, INPUTS)
    seas = np.tile([[3.01, 9.3, 0.5, 0.0]], (500, 1)) + np.linspace(0.0, 0.3, 500)[:, None] * [[1.0, 1.0, 0.3, 0.0]]
    first = table.read(seas)
    known = len(table._rows)
    assert known < 60
    again = table.read(seas[::-1])
    assert len(table._rows) == known and np.array_equal(again.numbers[::-1], first.numbers)


def test_lower_seas_are_taken_as_the_lowest_and_what_is_not_covered_is_outside(table):
    low, lowest = table.read(np.array([[0.4, 9.0, 0.5, 0.0], [1.5, 9.0, 0.5, 0.0]])).numbers
    assert np.array_equal(low, lowest)
    found = table.read(np.array([[4.9, 6.1, 0.5, 0.0], [9.0, 12.0, 0.5, 0.0]]))
    assert found.outside.all() and not found.told.any()


def hard_place():
    """The longest foil at the highest speed in a sea in which she now and then meets a limit."""
    place = QUESTION.copy()
    for name, value in {"extension": 1.0, "rake": 0.05, "speed_set": 11.0, "sea_hs": 4.0, "sea_tp": 9.5}.items():
        place[NAMES.index(name)] = value
    return place


@pytest.mark.parametrize("side", SIDES)
def test_one_setting_in_one_sea_has_the_odds_that_the_library_tells_all_told(emulator, side):
    """The same inputs, once as a leg of one piece with its forecast's error, once by `told_odds`. Height and period act
    by their slopes here, by bent lines there."""
    place = hard_place()
    table = SeaTable(emulator, place[None, : len(SETTING)], INPUTS, ahead, INPUTS.correlation)
    entry = table.asked(place[None], np.zeros(1))
    rate = np.exp(entry.ln_rates()[0, SIDES.index(side)])
    ours = float(-np.expm1(-rate * RISK.exposure) @ table.cases.weights)
    theirs = told_odds(emulator, place, INPUTS, RISK).odds[side][0]
    assert 1e-5 < theirs < 0.5
    assert np.log(ours / theirs) == pytest.approx(0.0, abs=0.25)


def test_what_is_uncertain_of_the_boat_raises_rare_odds(emulator):
    place, odds = hard_place(), []
    for entries in ((), INPUTS.entries):
        table = SeaTable(emulator, place[None, : len(SETTING)], INPUTS._replace(entries=entries))
        rate = np.exp(table.asked(place[None], np.zeros(1)).ln_rates()[0, 0])
        odds.append(float(-np.expm1(-rate * RISK.exposure) @ table.cases.weights))
        assert LIBRARY in table.told_at(place[None], np.zeros(1))[1].names
    assert odds[1] > 1.5 * odds[0] > 0.0


def test_cases_keep_mean_and_spread_of_every_load():
    """Of 50 loads that lean on five inputs each in its own way: mean 0, deviation the root of the squares, by the
    weights (definition of a variance)."""
    lean = np.random.default_rng(5).normal(size=(50, 5))
    cases = cases_of(lean)
    assert cases.weights.sum() == pytest.approx(1.0) and len(cases.weights) == len(ALONG) * len(BESIDE)
    own, beside = lean @ cases.first, lean @ cases.second
    rest = np.sqrt(np.sum(lean**2, axis=1) - own**2 - beside**2)
    loads = np.outer(np.sign(own) * np.hypot(own, rest), cases.along) + np.outer(beside, cases.beside)
    assert loads @ cases.weights == pytest.approx(np.zeros(50), abs=1e-12)
    assert np.sqrt(loads**2 @ cases.weights) == pytest.approx(np.sqrt(np.sum(lean**2, axis=1)), rel=2e-3)
