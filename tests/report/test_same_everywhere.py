"""One result, every page: table, report, card, board and JSON say the same for every sea and setting."""

import json
import math
import re
from types import SimpleNamespace

import pytest

from seaload.command_line.summary import as_json
from seaload.command_line.work import answers_of
from seaload.report.board.data import board_data, interpolate, odds_of
from seaload.report.board.page import levels
from seaload.report.card.grid import card_grid
from seaload.report.read_answer import read_answer
from seaload.report.shared.answer_words import act_words
from seaload.report.shared.result_reading import setting_words
from seaload.report.shared.wording import one_in
from seaload.report.sweep.page import setting_blocks
from seaload.report.sweep.table import setting_cells
from seaload.result.outcome import setting_rows
from tests.report.test_board_data import place_of

SIDES = ("reverse", "normal")


@pytest.fixture(scope="module")
def answer(sweep_result):
    return read_answer(sweep_result)


@pytest.fixture(scope="module")
def tree(sweep_result):
    """What `--json` prints."""
    return json.loads(as_json(answers_of(SimpleNamespace(dataset=sweep_result, settings=setting_rows(sweep_result)))))


@pytest.fixture(scope="module")
def board(sweep_result, answer):
    return board_data(sweep_result, answer)


def test_the_three_words_all_occur(answer):
    assert {found.act for found in answer.settings.values()} == {"Keep", "Watch", "Back off", None}


def test_json_and_table_have_the_same_word_and_margin(sweep_result, answer, tree):
    for row in tree["settings"]:
        told = answer.settings[row["setting"], row["sea_number"]]
        cells = setting_cells(sweep_result, told, False)
        assert row["answer"]["act"] == told.act
        said = cells[-1].split(" (")[0]
        assert said == (told.act.lower() if told.act else said) and (told.act or said not in ("keep", "watch"))
        down, up = (100.0 * row["answer"]["worst"][side]["one_in_twenty"] for side in SIDES)
        assert cells[5] == f"-{down:.0f} +{up:.0f}"
        for cell, side in zip(cells[6:8], SIDES, strict=True):
            assert cell == one_in(row["answer"]["odds"][side]["all_told"]["high"], "risk")


def test_the_report_has_the_same_word_and_margin_as_the_table(sweep_result, answer):
    for sea in range(sweep_result.sizes["sea"]):
        rows = {row[0]: row for row in setting_blocks(sweep_result, answer, sea)[0]["rows"]}
        assert len(rows) == sweep_result.sizes["setting"]
        for setting in range(sweep_result.sizes["setting"]):
            told, row = answer.settings[setting, sea], rows[setting_words(sweep_result, setting, sea)]
            assert row[1].startswith(act_words(told)) and row[4] == setting_cells(sweep_result, told, False)[5]


def act_by(reading, accepted):
    """The word by the rates that a board reads, with the rule of the board's own script."""
    worst = 0
    for level in accepted:
        limit = -math.log1p(-level["odds"]) / level["hours"]
        best, low, high = (reading[f"{level['side']}_rate{end}"] for end in ("", "_low", "_high"))
        worst = max(worst, 0 if high < limit else 3 if low > limit else 1 if best <= limit else 2)
    return ("Keep", "Watch", "Back off", "Back off")[worst]


def test_the_board_reads_the_same_word_margin_and_odds_at_every_simulated_point(sweep_result, answer, board):
    hours = answer.exposure / 3600.0
    for (setting, sea), told in answer.settings.items():
        reading = interpolate(board, place_of(sweep_result, board, setting, sea))
        if told.act is None:
            assert reading == {"outside": "gap"}
            continue
        assert act_by(reading, levels(answer)) == told.act
        for side in SIDES:
            assert reading[f"{side}_worst"] == pytest.approx(100.0 * told.worst[side].one_in_twenty, rel=1e-6)
            assert reading[f"{side}_worst_median"] == pytest.approx(100.0 * max(told.worst[side].median, 0.0), rel=1e-6)
            high = odds_of(reading[f"{side}_rate_high"], hours)
            assert high == pytest.approx(told.odds[side].all_told.high, rel=1e-6)


def test_the_card_keeps_what_json_suggests_and_nothing_else(sweep_result, answer, tree):
    grid = card_grid(sweep_result, answer)
    assert len(grid.cells) == len(tree["seas"])
    rows = {(row["setting"], row["sea_number"]): row["answer"] for row in tree["settings"]}
    for cell in grid.cells.values():
        sea = tree["seas"][cell.sea]
        first = sea["chosen"] if sea["chosen"] is not None else sea["closest"]
        assert cell.act == rows[first, cell.sea]["act"]
        for setting in cell.settings:
            assert rows[setting, cell.sea]["act"] == cell.act
        if cell.lines:
            loads = [rows[s, cell.sea]["worst"][side]["one_in_twenty"] for s in cell.settings for side in SIDES]
            assert cell.lines[-1] == f"1 in 20: {100.0 * max(loads):.0f} %"
            assert re.match(r"\d+( or \d+)* % out", cell.lines[0])
        assert (sea["chosen"] is not None) == (cell.act == "Keep")
