"""Rainflow cases: ASTM E1049-85 (2017) Figs 6 and 7, Amzallag et al. 1994, Lee, Barkey & Kang, and edge cases.

Histories and counts read in the tests of public packages (each case names its own source), edge cases derived;
see tests/published/data/counting_rainflow_cases.json. Exact: no tolerance.
"""

import json
from pathlib import Path

import numpy as np
import pytest

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.rainflow import STACK_SIZE, close_residue, count_chunk, new_counter, residue_loads

CASES = json.loads((Path(__file__).parent / "data/counting_rainflow_cases.json").read_text())["cases"]
by_name = pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])


def origin_of(case):
    return "derived" if "derived" in case["source"] else "read"


def power_sum(history, power, *, closed):
    """Sum of count * range^power by the streaming counter; the halves of the residue included when `closed`."""
    stacks, states = new_counter()
    damage = np.zeros(2)
    ultimate = 1.0e9  # the tent is so high that the mean does not matter; `scale` takes its height out again
    rules = (CycleBins(1.0, 0.0, 1.0), np.zeros((0, 0)), damage, WearCurve(ultimate, ultimate, power, power, 1.0, 1.0))
    count_chunk(history, stacks[0], states[0], *rules)
    if closed:
        close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
    return damage[0] * (2.0 * ultimate) ** power


@by_name
def test_listed_cycles_are_those_of_the_source(case, logbook):
    ranges, means, counts, starts, ends = list_cycles(case["history"])
    ours = list(zip(ranges, means, counts, strict=True))
    expected = [(abs(a - b), 0.5 * (a + b), count) for a, b, count in case["astm_rainflow_cycles"]]
    met = sorted(ours) == sorted(expected)
    logbook(
        stage="counting", quantity=f"rainflow cycles of {case['id']}", source=case["source"],
        origin=origin_of(case), published=sum(count for *_, count in expected), ours=counts.sum(),
        tolerance="exact, every range, mean and count", met=met,
    )  # fmt: skip
    assert met, f"{sorted(ours)} is not {sorted(expected)}"
    history = np.asarray(case["history"])
    assert np.array_equal(np.abs(history[ends] - history[starts]), ranges)


@by_name
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_streamed_histogram_is_that_of_the_source(case, sign):
    stacks, states = new_counter()
    histogram = np.zeros((40, 200))
    rules = (CycleBins(0.5, -25.0, 0.25), histogram, np.zeros(2), WearCurve(1.0, 1.0, 0.0, 0.0, 1.0, 1.0))
    count_chunk(sign * np.array(case["history"]), stacks[0], states[0], *rules)
    close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
    expected = np.zeros_like(histogram)
    for a, b, count in case["astm_rainflow_cycles"]:
        expected[min(int(abs(a - b) / 0.5), 39), int((sign * 0.5 * (a + b) + 25.0) / 0.25)] += count
    assert np.array_equal(histogram, expected)


@by_name
def test_full_cycles_and_residue_are_those_of_the_four_point_rule(case):
    stacks, states = new_counter()
    history = np.array(case["history"])
    histogram = np.zeros((400, 1))
    rules = (CycleBins(0.1, 0.0, 1.0), histogram, np.zeros(2), WearCurve(1.0, 1.0, 0.0, 0.0, 1.0, 1.0))
    count_chunk(history, stacks[0], states[0], *rules)
    # the source lets the last sample close cycles too: end the record without the halves
    scratch, end_state = stacks.copy(), states.copy()
    if len(case["reversals"]) > 1:
        nudge = np.array([history[-1] - 1e-9 * end_state[0, 2], history[-1] - 2e-9 * end_state[0, 2]])
        count_chunk(nudge, scratch[0], end_state[0], *rules)
    assert histogram.sum() == len(case["fourpoint_cycles"])
    open_loads = residue_loads(scratch[0], end_state[0])[: len(case["residue"])]
    assert np.allclose(open_loads, case["residue"], rtol=0, atol=1e-8)


@by_name
@pytest.mark.parametrize("power", ["3", "5", "10"])
def test_damage_sums_are_those_of_the_source(case, power):
    sums = case["sum_n_range_pow"]["astm_half_cycles"]
    if power not in sums:
        pytest.skip("the source has no such power")
    ours = power_sum(np.array(case["history"]), float(power), closed=True)
    assert ours == pytest.approx(sums[power], rel=1e-7)
