"""Records joined through their residues: any cutting and any order gives the cycles of the whole history.

Reference counts: residue_join.json, derived by an own four-point counter; its whole-history counts are those of
the package rainflow 3.2.0.
"""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.rainflow import count_on, new_counter, residue_loads
from seaload.fatigue.residue_join import join_residues

CASES = json.loads((Path(__file__).parents[1] / "published/data/counting_residue_join.json").read_text())["cases"]
ULTIMATES = (100.0, 70.0)
histories = st.lists(st.integers(-30, 30), min_size=1, max_size=120).map(lambda v: np.array(v, dtype=float))


def rules_into(histogram, damage, slope=10.0):
    return (CycleBins(1.0, -30.0, 0.5), histogram, damage, WearCurve(*ULTIMATES, slope, 14.0, 1.0, 1.0))


def counted_alone(piece, histogram, damage):
    """Residue of one piece; what it closes by itself goes into `histogram` and `damage`."""
    stacks, states = new_counter()
    count_on(piece, np.empty((512, 3)), stacks[0], states[0], *rules_into(histogram, damage))
    return residue_loads(stacks[0], states[0])


def counted_in_pieces(pieces, groups, anew=None):
    """(histogram, damage) of every group from pieces counted one by one, then joined."""
    histogram, damage = np.zeros((1 + max(groups), 61, 121)), np.zeros((1 + max(groups), 2))
    residues = [counted_alone(p, histogram[g], damage[g]) for p, g in zip(pieces, groups, strict=True)]
    loads = np.concatenate(residues)
    owners = np.repeat(np.array(groups), [len(r) for r in residues])
    fresh = np.zeros(len(loads), np.uint8)
    starts = np.cumsum([0] + [len(r) for r in residues[:-1]])
    for start, begins, residue in zip(starts, anew or [False] * len(pieces), residues, strict=True):
        if begins and len(residue):
            fresh[start] = 1
    join_residues(loads, owners, fresh, *rules_into(histogram, damage))
    return histogram, damage


def listed(history):
    histogram = np.zeros((61, 121))
    for load_range, mean, count in zip(*list_cycles(history)[:3], strict=True):
        histogram[int(load_range), int((mean + 30.0) / 0.5)] += count
    return histogram


@pytest.mark.parametrize("case", CASES)
def test_every_split_of_the_reference_histories_counts_as_the_whole(case):
    history = np.array(CASES[case]["history"], dtype=float)
    expected = {float(r): n for r, n in CASES[case]["whole_half_cycle_histogram"].items()}
    for split in CASES[case]["splits"]:
        pieces = np.split(history, [split["split_after"]])
        ranges = counted_in_pieces(pieces, [0, 0])[0][0].sum(axis=1)
        assert {float(r): n for r, n in enumerate(ranges) if n} == expected


@pytest.mark.parametrize("case", CASES)
def test_closing_every_block_by_itself_loses_what_the_reference_says(case):
    """Guards that the check above can fail: with nothing carried over, damage falls to the stated ratios."""
    history = np.array(CASES[case]["history"], dtype=float)
    whole = list_cycles(history)
    for split in CASES[case]["splits"]:
        alone = counted_in_pieces(np.split(history, [split["split_after"]]), [0, 0], anew=[True, True])[0][0]
        ranges = np.arange(61.0)
        for slope in (3, 10):
            ratio = (alone.sum(axis=1) * ranges**slope).sum() / (whole[2] * whole[0] ** slope).sum()
            assert np.isclose(ratio, split[f"damage_ratio_m{slope}"], rtol=1e-9)


@settings(deadline=None)
@given(histories, st.lists(st.integers(0, 120), max_size=8))
def test_any_cutting_counts_as_the_whole(history, cuts):
    pieces = np.split(history, sorted(min(cut, len(history)) for cut in cuts))
    whole = counted_in_pieces([history], [0])
    cut = counted_in_pieces(pieces, [0] * len(pieces))
    assert np.array_equal(cut[0], whole[0]) and np.array_equal(whole[0][0], listed(history))
    assert np.allclose(cut[1], whole[1], rtol=1e-12, atol=0.0)


@settings(deadline=None)
@given(histories, st.integers(0, 120), st.lists(st.integers(0, 120), max_size=8))
def test_a_cycle_belongs_to_the_same_day_however_the_files_were_cut(history, midnight, cuts):
    """Two groups parted at one sample: further cuts inside either move no cycle between them."""
    midnight = min(midnight, len(history))
    plain = counted_in_pieces(np.split(history, [midnight]), [0, 1])
    cuts = sorted({midnight, *(min(cut, len(history)) for cut in cuts)})
    groups = [int(start >= midnight) for start in [0, *cuts]]
    groups[-1] = 1
    cut = counted_in_pieces(np.split(history, cuts), groups)
    assert np.array_equal(cut[0], plain[0])


@settings(deadline=None)
@given(histories, histories)
def test_a_break_closes_the_record_before_as_if_it_stood_alone(first, second):
    both = counted_in_pieces([first, second], [0, 1], anew=[False, True])[0]
    assert np.array_equal(both[0], listed(first)) and np.array_equal(both[1], listed(second))
