"""The margin on the board: worst loads of any time, what is told as a difference, how far off the reading is."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import gumbel_r

from seaload.report.board.data import board_data
from seaload.report.board.margins import held_out, sea_spans, worst_in
from seaload.report.read_answer import read_answer
from seaload.report.shared.told_points import told_points


@pytest.fixture(scope="module")
def answer(sweep_result):
    return read_answer(sweep_result)


@pytest.fixture(scope="module")
def board(sweep_result, answer):
    return board_data(sweep_result, answer)


@given(at=st.floats(10.0, 90.0), scale=st.floats(1.0, 20.0), longer=st.floats(1.0, 80.0))
def test_the_worst_load_of_n_exposures_is_that_of_the_highest_of_n(at, scale, longer):
    """The highest of n independent draws of a Gumbel distribution is one moved by its scale times ln(n) (Gumbel 1958;
    from memory); scipy's quantiles."""
    one, many = gumbel_r(at, scale), gumbel_r(at + scale * math.log(longer), scale)
    told = worst_in(one.ppf(0.5), one.ppf(0.95), 3.0, 3.0 * longer)
    assert told == pytest.approx((many.ppf(0.5), many.ppf(0.95)), rel=1e-9)


@given(hours=st.floats(0.1, 3.0))
def test_less_time_than_the_exposure_takes_nothing_off(hours):
    assert worst_in(50.0, 70.0, 3.0, hours) == (50.0, 70.0)


def test_what_is_told_as_different_is_what_the_intervals_of_moves_leave_open(answer):
    assert told_points(answer) == pytest.approx(2.0)  # the made-up moves are known within two points either way
    without = replace(answer, seas=tuple(replace(sea, moves=()) for sea in answer.seas))
    assert told_points(without) == 1.0


def straight_board(bend):
    """A board whose worst load is a straight line along both axes, but for a bend of so many points in the middle."""
    axes = [{"name": "extension_percent", "values": [60.0, 80.0, 100.0]}, {"name": "rake_deg", "values": [0.0, 2.0]}]
    load = [10.0, 12.0, 20.0 + bend, 22.0 + bend, 30.0, 32.0]
    rates = [math.exp(0.1 * v) for v in load]
    fields = {f"{side}_worst": load for side in ("reverse", "normal")}
    fields |= {f"{side}_rate_high": rates for side in ("reverse", "normal")}
    return {"axes": axes, "fields": fields}


@pytest.mark.parametrize("bend", [0.0, 5.0, -3.0])
def test_held_out_points_are_off_by_what_is_not_straight(bend):
    found = held_out(straight_board(bend))
    assert found["count"] == 2 and found["points"] == pytest.approx(abs(bend), abs=1e-9)
    assert found["factor"] == pytest.approx(math.exp(0.1 * abs(bend)))


def test_without_a_point_between_others_nothing_is_held_out(board):
    ends = [{**axis, "values": axis["values"][:1]} for axis in board["axes"]]
    assert held_out({"axes": ends, "fields": {name: v[:1] for name, v in board["fields"].items()}}) is None


def test_what_of_the_sea_moves_the_load_most(board):
    spans, fields = sea_spans(board), np.array(board["fields"]["reverse_worst"], dtype=float)
    assert set(spans) == {"hs_m", "waves_from_bow_deg"} and spans["hs_m"] > spans["waves_from_bow_deg"] > 0.0
    assert spans["hs_m"] <= np.nanmax(fields) - np.nanmin(fields)
