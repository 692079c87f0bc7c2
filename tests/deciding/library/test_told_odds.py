"""What is uncertain of an invented boat, and her odds all told, by her library alone: against her formulas."""

from math import inf

import numpy as np
import pytest

from seaload.deciding.bearing import ROW
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, NAMES, PERIOD
from seaload.deciding.library.doubt_there import Inputs, doubt_at
from seaload.deciding.library.effects import RUN, UNCERTAIN
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.told_odds import told_odds
from seaload.evidence.bend import NODES
from seaload.evidence.verdict import SIDES
from seaload.scenario.crew_records import UncertainInput
from seaload.scenario.records import RiskLevels
from tests.deciding.library.invented import FIRST, QUESTION, SETTINGS, invented_shelf, mean_and_scale, true_effects

HOUR = 3600.0
RISK = RiskLevels(3.0 * HOUR, 0.02, 0.02, inf, 0.0, 0.0)
HS, TP, TURN, MODEL = 0.06, 0.05, 0.1, 0.3
ENTRIES = (
    UncertainInput("forecast_heading", "normal", TURN, "shift", ""),
    UncertainInput("forecast_hs", "normal", HS, "factor", ""),
    UncertainInput("forecast_tp", "normal", TP, "factor", ""),
    UncertainInput("lift_slope", "normal", MODEL, "factor", ""),
    UncertainInput("limit_reverse", "normal", 0.1, "factor", ""),
    UncertainInput("rake_zero", "normal", MODEL, "shift", ""),
    UncertainInput("second_order_crests", "normal", 0.02, "factor", ""),
    UncertainInput("ultimate_over_normal_limit", "normal", 0.15, "factor", ""),
)
INPUTS = Inputs(ENTRIES, 0.4, False, 10.0)


@pytest.fixture(scope="module")
def emulator():
    return Emulator(invented_shelf(40, settings=SETTINGS[[0, 4, 8, 9, 13, 17]], noise=0.004, every=3))


@pytest.fixture(scope="module")
def question():
    """The longest foil at the highest speed in a sea in which she now and then meets a limit."""
    place = QUESTION.copy()
    for name, value in {"extension": 1.0, "rake": 0.05, "speed_set": 11.0, "sea_hs": 4.0, "sea_tp": 9.5}.items():
        place[NAMES.index(name)] = value
    return place


@pytest.fixture(scope="module")
def told(emulator, question):
    return told_odds(emulator, question, INPUTS, RISK)


def moved(question, hs=0.0, tp=0.0, turn=0.0):
    """The question in a sea so many deviations off."""
    row = question.copy()
    row[HEIGHT] *= np.exp(HS * hs)
    row[PERIOD] *= np.exp(TP * tp)
    row[ANGLE] -= TURN * turn
    return row


def test_what_the_designed_runs_showed_is_told_by_deviation(emulator, question):
    doubt = doubt_at(emulator, question, INPUTS)
    shift, growth, wear = true_effects(question)
    for name in ("lift_slope", "rake_zero"):
        number, k = doubt.names.index(name), UNCERTAIN.index(name)
        for i, side in enumerate(SIDES):
            assert doubt.shifts[side][number] == pytest.approx(MODEL * shift[i, k], abs=0.01)
            assert doubt.growths[side][number] == pytest.approx(MODEL * growth[i, k], abs=0.01)
        assert doubt.wears[number] == pytest.approx(MODEL * wear[k], abs=0.01)
    ultimate = doubt.names.index("ultimate_over_normal_limit")
    assert doubt.wears[ultimate] == pytest.approx(0.15 * wear[len(RUN)], abs=0.01)
    assert doubt.shifts["reverse"][doubt.names.index("limit_reverse")] == 0.0 and not doubt.blind


def test_what_another_sea_does_is_told_by_the_surfaces(emulator, question):
    """Growth and shift by the invented boat's formula; crests as the height, in proportion to their deviations."""
    doubt = doubt_at(emulator, question, INPUTS)
    for i, side in enumerate(SIDES):
        for bend, key in zip(doubt.bends[side], ("hs", "tp"), strict=True):
            assert doubt.names[bend.number] == f"forecast_{key}"
            rows = np.array([moved(question, **{key: node}) for node in NODES])
            mean, scale = mean_and_scale(rows)
            assert bend.growths == pytest.approx(np.log(scale[:, i] / scale[2, i]), abs=0.03)
            assert bend.shifts == pytest.approx(mean[:, i] - mean[2, i], abs=0.02)
        height, crests = (doubt.names.index(name) for name in ("forecast_hs", "second_order_crests"))
        assert doubt.shifts[side][crests] == pytest.approx(doubt.shifts[side][height] * 0.02 / HS)


def test_a_limit_that_is_a_strength_counts(emulator, question):
    doubt = doubt_at(emulator, question, INPUTS._replace(strengths=True))
    number = doubt.names.index("limit_reverse")
    assert doubt.shifts["reverse"][number] == 0.1 and doubt.shifts["normal"][number] == 0.0


def test_odds_all_told_are_the_mean_over_all_that_may_be(told, question):
    """By lot: every input drawn, the sea moved by the formula, 1 - exp(-rate T) averaged over 40,000 draws."""
    draws = np.random.default_rng(2)
    hs, beside, turn, lift, rake, crests = draws.normal(size=(6, 40_000))
    tp = 0.4 * hs + np.sqrt(1.0 - 0.4**2) * beside
    rows = np.tile(question, (len(hs), 1))
    rows[:, HEIGHT] *= np.exp(HS * hs + 0.02 * crests)
    rows[:, PERIOD] *= np.exp(TP * tp)
    rows[:, ANGLE] -= TURN * turn
    mean, scale = mean_and_scale(rows)
    shift, growth, _ = true_effects(question)
    each = [UNCERTAIN.index(name) for name in ("lift_slope", "rake_zero")]
    for i, side in enumerate(SIDES):
        moves = MODEL * (lift * shift[i, each[0]] + rake * shift[i, each[1]])
        grows = np.exp(MODEL * (lift * growth[i, each[0]] + rake * growth[i, each[1]]))
        far = (1.0 - mean[:, i] - moves) / (scale[:, i] * grows)
        odds = np.mean(-np.expm1(-RATES[0] * np.exp(-np.maximum(far - FIRST, 0.0)) * RISK.exposure))
        middle, low, high = told.odds[side]
        assert 1e-5 < odds < 0.5
        assert np.log(middle / odds) == pytest.approx(0.0, abs=0.3), side
        assert low < odds < high and middle > told.if_right[side][0]


def test_worst_loads_lie_about_the_load_met_once_in_the_exposure(told, question):
    """With nothing uncertain the median is the load at the rate ln 2 / T; what is uncertain moves it little."""
    mean, scale = (part[0] for part in mean_and_scale(question[None]))
    for i, side in enumerate(SIDES):
        median = mean[i] + scale[i] * (FIRST + np.log(RATES[0] * RISK.exposure / np.log(2.0)))
        found = told.worst[side]
        assert found["median"][0] == pytest.approx(median, abs=0.06)
        assert found["one_in_twenty"][0] > found["median"][0] + scale[i]
        assert found["median"][1] <= found["median"][0] <= found["median"][2]


def test_the_sea_borne_is_where_the_odds_reach_the_level(emulator, question):
    """Asked in the highest sea that is borne, the odds lie about the level: a step of 0.1 deviations is 0.6 % of it."""
    calm = question.copy()
    calm[HEIGHT] = 3.7
    found = told_odds(emulator, calm, INPUTS, RiskLevels(3.0 * HOUR, 5e-4, 5e-4, inf, 0.0, 0.0))
    assert 1.0 < found.borne.hs_most < np.exp(HS * ROW[-1]) and not found.edges
    higher = calm.copy()
    higher[HEIGHT] *= found.borne.hs_most
    there = told_odds(emulator, higher, INPUTS, RISK)
    assert max(odds[2] for odds in there.odds.values()) == pytest.approx(5e-4, rel=0.3)
    wild = told_odds(emulator, question, INPUTS, RiskLevels(3.0 * HOUR, 1e-7, 1e-7, inf, 0.0, 0.0))
    assert wild.borne.hs_most < 1.0 or np.isnan(wild.borne.hs_most)


def test_where_the_library_ends_is_said(emulator, question):
    low = question.copy()
    low[HEIGHT], low[PERIOD] = 1.6, 13.5
    found = told_odds(emulator, low, INPUTS, RISK)
    assert "tp_most" in found.edges
    assert found.doubt.untold == ("outside the library: Hs -2, Tp +1, Tp +2 deviations",)
    low[HEIGHT] = 1.0
    assert told_odds(emulator, low, INPUTS, RISK) is None


def test_without_designed_runs_no_odds_are_sure(question):
    shelf = invented_shelf(26, settings=SETTINGS[[0, 4, 8, 9, 13, 17]])
    for name in ("load_shift", "load_growth", "wear_effect"):
        shelf.columns[name][:] = np.nan
    found = told_odds(Emulator(shelf), question, INPUTS, RISK)
    assert found.doubt.blind and "not told by the library: lift_slope, rake_zero" in found.doubt.untold
    assert all(odds[2] == 1.0 for odds in found.odds.values())
