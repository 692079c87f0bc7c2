"""The settings card: one landscape page, one size of type in all cells, blank where nothing may be kept, equals beside
each other, moves that help and moves that do not."""

import re
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import numpy as np
import pytest
import xarray as xr

from seaload.report.answer import MoveAnswer, StatedMove
from seaload.report.card import grid as card_grid_of
from seaload.report.card.grid import beside_each_other, card_cell, card_grid
from seaload.report.card.ladder import ladder, points_range, unequal_words
from seaload.report.card.page import PAPER, card_page, save_card, split
from seaload.report.read_answer import read_answer
from seaload.report.shared.named_values import Bounds
from seaload.report.shared.result_reading import open_result
from tests.report.invented_result import invented_seas, invented_study, invented_sweep


@pytest.fixture(scope="module")
def answer(sweep_result):
    return read_answer(sweep_result)


@pytest.fixture(scope="module")
def grid(sweep_result, answer):
    return card_grid(sweep_result, answer)


def page_of(dataset, answer, grid):
    return card_page(dataset, answer, grid, range(len(grid.rows)), range(len(grid.columns)))


@pytest.fixture(scope="module")
def page(sweep_result, answer, grid):
    return page_of(sweep_result, answer, grid)


def pdf_pages(path):
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", path.read_bytes()))


def test_a_grid_of_seas_is_one_landscape_page(sweep_result, answer, grid, tmp_path):
    assert [row[0] for row in grid.rows] == [2.5, 3.5, 4.5] and grid.columns == (45, 90)
    path = save_card(sweep_result, answer, tmp_path / "card.pdf")
    assert pdf_pages(path) == 1 and PAPER[0] > PAPER[1]
    box = re.search(rb"/MediaBox \[ *0 0 ([\d.]+) ([\d.]+) *\]", path.read_bytes())
    assert float(box.group(1)) == pytest.approx(841.9, abs=1.0)  # ISO 216, A4: 297 mm by 210 mm
    assert float(box.group(2)) == pytest.approx(595.3, abs=1.0)


@pytest.mark.parametrize(("count", "parts"), [(1, 1), (5, 1), (6, 2), (11, 3)])
def test_more_rows_share_out_over_pages(count, parts):
    found = split(count, 5)
    assert len(found) == parts and [i for part in found for i in part] == list(range(count))
    assert max(map(len, found)) - min(map(len, found)) <= 1 or parts > 2


def test_every_cell_says_what_the_answer_says(answer, grid):
    for cell in grid.cells.values():
        sea = answer.seas[cell.sea]
        if sea.chosen is not None:
            assert cell.act == answer.settings[sea.chosen, cell.sea].act == "Keep" and cell.settings[0] == sea.chosen
        else:
            act = answer.settings[sea.closest, cell.sea].act
            assert cell.act == act and (cell.settings[:1] == (sea.closest,) if act == "Watch" else not cell.lines)
    assert {cell.act for cell in grid.cells.values()} == {"Keep", "Watch", "Back off"}


def test_a_cell_holds_extension_rake_and_top_speed(sweep_result, answer, grid):
    cell = grid.cells[0, 0]
    chosen = answer.seas[0].chosen
    out, rake = (float(sweep_result[name].values[chosen]) for name in ("extension", "rake"))
    assert cell.lines[:2] == (f"{100.0 * out:.0f} % out", f"rake {np.degrees(rake):.0f}°")
    assert cell.lines[2] == f"{float(sweep_result['speed_set'].values[chosen, 0]) * 3600.0 / 1852.0:.1f} kn"


def test_all_cells_have_one_size_of_type(page, grid):
    lines = {text for cell in grid.cells.values() for text in cell.lines}
    sizes = {text.get_fontsize() for text in page.texts if text.get_text() in lines}
    assert len(sizes) == 1 and min(sizes) >= 8.5


def test_a_suggestion_that_fell_on_fresh_waves_is_not_printed_as_one_to_keep(sweep_result, answer):
    sea = answer.seas[0]
    refused = replace(answer, seas=(replace(sea, chosen=None, closest=sea.chosen), *answer.seas[1:]))
    assert card_cell(sweep_result, refused, 0, 0.02, {}).act == "Watch"


def test_two_that_tie_are_told_beside_each_other_whichever_comes_first(sweep_result, answer):
    first = answer.seas[0].chosen
    other = next(s for s in range(18) if s != first and answer.settings[s, 0].speed == answer.settings[first, 0].speed)
    twin = replace(answer.settings[first, 0], setting=other)
    for chosen in (first, other):
        seas = (replace(answer.seas[0], chosen=chosen), *answer.seas[1:])
        tied = replace(answer, settings={**answer.settings, (other, 0): twin}, seas=seas)
        cell = card_cell(sweep_result, tied, 0, 0.02, {})
        assert set(cell.settings) >= {first, other} and " or " in " ".join(cell.lines)
        assert cell.settings[0] == chosen
    apart = replace(twin, worst={s: replace(w, one_in_twenty=w.one_in_twenty + 0.05) for s, w in twin.worst.items()})
    apart = replace(answer, settings={**answer.settings, (other, 0): apart})
    assert other not in card_cell(sweep_result, apart, 0, 0.02, {}).settings


def test_equals_in_a_cell_differ_in_one_thing_or_are_two():
    """Else "rake 5 or 3 or 3, tanks empty or empty or +0.4 m" has to be read across."""
    axes = {"extension_percent": [60, 60, 60, 60], "rake_deg": [5, 3, 1, 3], "ballast_shift_m": [0.0, 0.0, 0.0, 0.4]}
    made = xr.Dataset({name: ("setting", np.array(v, dtype=float)) for name, v in axes.items()})
    values = lambda dataset, setting: {name: float(dataset[name][setting]) for name in axes}  # noqa: E731
    with patch.object(card_grid_of, "setting_values", values):
        assert beside_each_other(made, 0, [1, 3, 2]) == (0, 1, 2)
        assert beside_each_other(made, 0, [3, 1, 2]) == (0, 3)
        assert beside_each_other(made, 0, []) == (0,)


@pytest.fixture(scope="module")
def full_page():
    """As many rows and columns as a page holds, with all moves and a study of a long name."""
    study = invented_study("quick-look")
    heights, angles = (1.5, 2.0, 2.5, 3.0, 3.5), (30.0, 50.0, 70.0, 90.0, 110.0, 130.0, 150.0)
    study = replace(study, seas=invented_seas(study, heights, angles), settings=study.settings[:2])
    result = invented_sweep(study).assign_attrs(study="a-study-of-forty-characters-of-name-long", boat="long " * 20)
    return page_of(result, read_answer(result), card_grid(result, read_answer(result)))


@pytest.mark.parametrize("which", ["page", "full_page"])
def test_everything_written_stands_on_the_page_and_nothing_on_anything_else(which, request):
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    page = request.getfixturevalue(which)
    canvas = FigureCanvasAgg(page)
    canvas.draw()
    width, height = canvas.get_width_height()
    boxes = [(t.get_text(), t.get_window_extent(canvas.get_renderer())) for t in page.texts if t.get_text()]
    for words, box in boxes:
        assert 0.0 < box.x0 and box.x1 < width and 0.0 < box.y0 and box.y1 < height, words
    for i, (words, a) in enumerate(boxes):
        for other, b in boxes[i + 1 :]:
            over = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
            assert not (over[0] > 1.0 and over[1] > 2.0), (words, other)
    assert all(text.get_color() == "black" and text.get_fontsize() >= 7.5 for text in page.texts)


def test_rows_say_when_to_back_off_with_the_miss_rate_and_the_foot_what_is_not_modelled(page):
    words = " ".join(text.get_text() for text in page.texts)
    assert words.count("missed 1 in 3 (at worst 5 in 10)") == 3  # one a row: all angles of a row agree
    assert "gauge 3 below -12 %, 2 times in 20 minutes" in words
    assert "Not modelled: breaking waves" in words and "PENCIL" in words


def move(name, seconds, changes, *, possible=True, valid=True, factor=0.5):
    """A made-up `MoveAnswer` that adds so many points to the worst reverse and normal load."""
    worst = {side: Bounds(v / 100.0, v / 100.0, v / 100.0) for side, v in changes.items()}
    stated = StatedMove(name=name, words=name, time=seconds, only_below=np.inf, changes={"rake": 0.1})
    return MoveAnswer(stated, possible, valid, factor, 0.01, worst, 1e-6, 0.0)


def test_the_ladder_is_ordered_by_time_and_goes_by_the_worse_side(answer):
    moves = (
        move("far", 600.0, {"reverse": -22.0, "normal": -25.0}), move("near", 10.0, {"reverse": -3.0, "normal": -9.0}),
        move("half", 60.0, {"reverse": -12.0, "normal": -30.0}), move("mixed", 20.0, {"reverse": -20.0, "normal": 4.0}),
        move("same", 30.0, {"reverse": 0.5, "normal": -1.0}), move("gone", 40.0, {"reverse": -9.0}, valid=False),
    )  # fmt: skip
    rungs = {each.words: each for each in ladder([replace(answer.seas[0], moves=moves)], 2.0)}
    assert list(rungs) == ["near", "mixed", "same", "gone", "half", "far"]
    assert [rungs[name].arrows for name in rungs] == ["↓", "", "", "", "↓↓", "↓↓↓"]
    assert [name for name in rungs if rungs[name].worse] == ["mixed"]
    worse, open_ = unequal_words(list(rungs.values()))
    assert worse == "WORSE: mixed." and "same" in open_ and "leaves the model's validity" in open_


def test_a_move_counts_by_the_sea_in_which_it_helps_least(answer):
    seas = [replace(answer.seas[0], moves=(move("one", 5.0, {"reverse": v}),)) for v in (-25.0, -11.0)]
    assert ladder(seas, 2.0)[0].arrows == "↓↓" and ladder(seas, 2.0)[0].told == "11 to 25 less"
    seas[1] = replace(seas[1], moves=(move("one", 5.0, {"reverse": 4.0}, possible=False),))
    mixed = ladder(seas, 2.0)[0]
    assert mixed.arrows == "" and not mixed.worse and mixed.told == "25 less to 4 MORE"
    assert mixed.condition == "slow down first"


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [(-0.2, 0.3, "as now"), (-3.0, -3.2, "3 less"), (-12.0, -4.0, "4 to 12 less"), (2.0, 8.0, "2 to 8 MORE")],
)
def test_points_are_said_as_a_range_over_the_seas(low, high, said):
    assert points_range(low, high) == said


def test_a_result_of_the_version_before_has_a_card(tmp_path):
    """Moves are told by the rate there, see tests/report/test_answer.py for the file."""
    result = open_result(Path(__file__).parent / "data" / "earlier-sweep.nc")
    answer = read_answer(result)
    assert pdf_pages(save_card(result, answer, tmp_path / "card.pdf")) == 1
    assert all(each.told for each in ladder(answer.seas, 1.0))
    lines = [text for cell in card_grid(result, answer).cells.values() for text in cell.lines]
    assert any(text.startswith("worst seen: ") for text in lines) and not any("1 in 20" in text for text in lines)


@pytest.mark.parametrize(("factor", "arrows", "worse"), [(0.2, "↓↓↓", False), (0.4, "↓↓", False), (0.8, "↓", False),
                                                         (1.0, "", False), (1.4, "", True)])  # fmt: skip
def test_where_only_rates_are_told_the_ladder_goes_by_them(answer, factor, arrows, worse):
    one = replace(move("one", 5.0, {}), factor=factor, worst_change={"reverse": None, "normal": None})
    found = ladder([replace(answer.seas[0], moves=(one,))], 2.0)[0]
    assert (found.arrows, found.worse, found.told) == (arrows, worse, f"× {factor:g}")


def test_seas_that_form_no_grid_have_a_card(tmp_path):
    study = invented_study("settings-map")
    study = replace(study, settings=study.settings[:4])
    result = invented_sweep(study)
    answer = read_answer(result)
    found = card_grid(result, answer)
    assert len(found.cells) == result.sizes["sea"]
    assert pdf_pages(save_card(result, answer, tmp_path / "card.pdf")) == 1


def test_two_seas_of_one_height_period_and_angle_get_a_row_each():
    study = invented_study("quick-look")
    sea = invented_seas(study)[0]
    study = replace(study, seas=(sea, replace(sea, name="the same at night")), settings=study.settings[:2])
    result = invented_sweep(study)
    assert [row[2] for row in card_grid(result, read_answer(result)).rows] == [0, 1]
