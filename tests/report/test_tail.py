"""The tail that carries the odds is drawn as it was used, and every number says where it comes from."""

import math
import re

import numpy as np
import pytest

from seaload.report.read_answer import read_answer
from seaload.report.shared.origins import odds_origin
from seaload.report.shared.tail_figure import tail_figure
from seaload.report.shared.tail_reading import tail_of
from seaload.report.sweep.page import answer_blocks

SIDES = ("reverse", "normal")


@pytest.mark.parametrize("side", SIDES)
def test_the_fit_drawn_passes_the_limit_at_the_rate_that_the_odds_use(real, side):
    """Worked out anew from the saved blocks, against what the program stored when it was marched."""
    tail = tail_of(real, 0, 0, side)
    at = int(np.flatnonzero(tail.levels == 1.0)[0])
    assert tuple(tail.rates[at]) == pytest.approx(tail.at_limit, rel=1e-4)
    assert tail.at_limit[2] == pytest.approx(3600.0 * float(real[f"{side}_event_rate_joined_high"].values[0, 0]))


@pytest.mark.parametrize("side", SIDES)
def test_peaks_stand_over_the_threshold_and_near_it_the_fit_is_the_count(real, side):
    tail = tail_of(real, 0, 0, side)
    assert tail.peaks.min() > tail.threshold and len(tail.peaks) > 15
    assert tail.rates[0, 0] == pytest.approx(len(tail.peaks) / tail.hours, rel=0.1)
    told = tail.rates[tail.rates[:, 0] > 1e-12, 0]  # below that the grid of rates ends
    assert len(told) > 15 and np.all(np.diff(told) <= 0.0)
    assert np.all((tail.rates[:, 1] <= tail.rates[:, 0] * 1.001) & (tail.rates[:, 0] <= tail.rates[:, 2] * 1.001))
    hours = real["block_worst_reverse"].size * 10.0 / 3600.0
    assert tail.hours == pytest.approx(hours)


def test_the_figure_draws_threshold_peaks_fit_and_interval(real):
    tails = {side: tail_of(real, 0, 0, side) for side in SIDES}
    figure, caption = tail_figure(tails)
    for axis, side in zip(figure.axes, SIDES, strict=True):
        drawn = [(np.asarray(line.get_xdata(), float), np.asarray(line.get_ydata(), float)) for line in axis.lines]
        assert any(len(x) == 2 and np.all(x == pytest.approx(100.0 * tails[side].threshold)) for x, _ in drawn)
        peaks = 100.0 * tails[side].peaks
        assert any(np.shape(x) == peaks.shape and np.allclose(x, peaks) for x, _ in drawn)
        fit = next(y for x, y in drawn if np.shape(x) == tails[side].levels.shape)
        inside = tails[side].rates[:, 0] > 1e-3
        assert np.allclose(fit[inside], tails[side].rates[inside, 0])
        assert any(f"{len(tails[side].peaks)} peaks over" in text.get_text() for text in axis.texts)
    assert "Bar at 100 %" in caption and "No tail fitted" not in caption


def test_where_loads_hardly_reverse_no_tail_is_drawn_and_it_is_said(real):
    quiet = real.assign(block_worst_reverse=0.05 * real["block_worst_reverse"])
    tails = {side: tail_of(quiet, 0, 0, side) for side in SIDES}
    assert tails["reverse"].threshold is None and tails["normal"].threshold is not None
    assert "No tail fitted to the reverse load" in tail_figure(tails)[1]


def test_a_result_without_blocks_has_no_tail(real):
    assert tail_of(real.drop_vars("block_worst_reverse"), 0, 0, "reverse") is None


@pytest.mark.parametrize("side", SIDES)
def test_odds_name_their_count_tail_hours_seed_and_keys(real, side):
    answer = read_answer(real)
    said = odds_origin(real, answer, answer.settings[0, 0], side)
    assert f"No events past the {side} limit counted." in said
    assert re.search(r"Tail fitted to \d+ peaks over \d+ % of the limit", said)
    assert "3 h simulated in 9 realisations, seed 1." in said
    assert f"[risk] exposure_hours, {side}_odds." in said and "[sampling] hours, seed; [[sea]] number 1" in said


def test_every_tile_of_a_run_and_a_sweep_leads_to_its_origin(real_page, sweep_result):
    tiles = real_page.split('<div class="tile">')[1:]
    assert len(tiles) == 4 and all("<summary>Where from</summary>" in tile.split("</div>")[0] for tile in tiles)
    blocks = answer_blocks(sweep_result, read_answer(sweep_result), 0)
    numbers = next(block for block in blocks if block["what"] == "tiles")["tiles"][1:]  # the first is a word
    assert all(tile["origin"].count("seed 1.") == 1 for tile in numbers)
    assert math.isfinite(float(numbers[0]["big"].removesuffix(" %")))  # the margin leads, not the odds
