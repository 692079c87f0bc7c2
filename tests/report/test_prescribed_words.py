"""Prescribed motions on table, page and in the answer: beside the waves, every number with its unit."""

import json
from dataclasses import asdict

import numpy as np
import pytest

from seaload.basis.prescribed_record import SERIES, PrescribedRecord, Worst
from seaload.command_line.summary import as_json
from seaload.foil.geometry import material_grid
from seaload.report.read_answer import read_answer
from seaload.report.run import page as page_of_a_run
from seaload.report.run.page import run_page
from seaload.report.run.table import run_table
from seaload.report.shared.prescribed_figure import motion_figure
from seaload.report.shared.prescribed_words import motion_blocks, motion_lines, shown_seas
from seaload.report.shared.text_table import COLUMNS
from seaload.report.sweep.table import sweep_table
from seaload.result.assemble_dataset import finished
from seaload.result.prescribed_parts import prescribed_parts
from seaload.scenario.records import PrescribedMotion
from tests.report.invented_result import invented_run, invented_study

NEVER = Worst(0.0, np.nan, np.nan, 0.0)


def record_of(study, normal, reverse, samples=50):
    """A made-up record."""
    points = len(material_grid(study.boat.foils["port"]))
    rows = {name: np.linspace(0.0, 0.3, samples) for name in SERIES}
    rows["time"] = np.linspace(0.0, 9.0, samples)
    rows["speed"] = np.linspace(12.0, 8.0, samples)
    ends = [np.zeros(study.boat.foils["port"].strips + 1)] * 4
    return PrescribedRecord(9.0, normal, reverse, np.full(points, 2e4), np.full(points, -1e3), *ends, 27000.0, -0.2,
                            rows)  # fmt: skip


@pytest.fixture(scope="module")
def moved():
    """An invented run with four motions: quiet, past both limits, without a calm trim, with a hostile name."""
    names = ("quiet", "past both limits", "unbalanced", "\x1b[31mred <b>& " + "long " * 9)
    motions = tuple(
        PrescribedMotion(name, "a note", name == "quiet", (0.0, 9.0), (0.3, -0.3), None, None, None, None)
        for name in names
    )
    study = invented_study(prescribed=motions)
    past = Worst(1.234, 3.14, 2.7, 0.42), Worst(1.1, 0.26, 0.05, 0.1)
    records = [record_of(study, Worst(0.44, 0.02, 2.7, 0.0), NEVER), record_of(study, *past), None,
               record_of(study, *past, samples=20)]  # fmt: skip
    result = invented_run(study)
    parts = prescribed_parts(study, {0: records}, {0: 0})
    return result.merge(finished(parts, {"kind": "run"}), combine_attrs="override")


def test_the_table_tells_highest_loads_when_where_and_how_long_past_a_limit(moved):
    lines = motion_lines(read_answer(moved))
    row = next(text for text in lines if text.startswith("past both limits"))
    assert row.split()[3:] == ["123", "3.1", "2.7", "110", "0.3", "0.1", "0.52", "2.8"]
    quiet = next(text for text in lines if text.startswith("quiet"))
    assert quiet.split()[1:] == ["44", "0.0", "2.7", "never", "never", "2.8"]
    assert any(text.split() == ["unbalanced", "no", "trim"] for text in lines)
    assert "no odds" in " ".join(lines) and max(map(len, lines)) <= COLUMNS


def test_it_stands_in_the_table_of_a_run_in_plain_characters(moved):
    text = run_table(moved, read_answer(moved))
    assert "PRESCRIBED MOTIONS (flat water, beside the odds)" in text
    assert text.isascii() and "\x1b" not in text and max(map(len, text.splitlines())) <= COLUMNS


def test_a_result_without_motions_says_nothing_of_them(run_result, sweep_result):
    for result, table in ((run_result, run_table), (sweep_result, sweep_table)):
        answer = read_answer(result)
        assert answer.seas[0].prescribed == () and motion_lines(answer) == [] and motion_blocks(result, answer) == []
        assert "PRESCRIBED" not in table(result, answer)


def test_the_odds_are_those_without_them(moved, run_result):
    one, other = read_answer(moved), read_answer(run_result)
    assert one.settings[0, 0].odds == other.settings[0, 0].odds


def test_the_page_has_a_table_and_a_figure_of_each_motion(moved, monkeypatch):
    monkeypatch.setattr(page_of_a_run, "run_drawings", lambda dataset: [])  # the run's own figures have their tests
    page = run_page(moved, read_answer(moved))
    assert 'id="motions"' in page and page.count('id="motion-1-') >= 3
    assert "<b>&" not in page and "no trim" in page and "starboard" in page
    blocks = motion_blocks(moved, read_answer(moved))
    assert [block["what"] for block in blocks].count("figure") == 3


def test_the_figure_shows_what_moves_and_the_load(moved):
    figure, caption = motion_figure(moved, 0, 1)
    labels = [axis.get_ylabel() for axis in figure.axes]
    assert labels == ["[°]", "height [m]", "speed [kn]", "share of the limit [%]\ndown   |   up"]
    load = figure.axes[-1]
    assert max(np.max(line.get_ydata()) for line in load.lines) == pytest.approx(30.0)
    assert "30 % of the normal limit up" in caption


def test_the_answer_is_json_with_nothing_for_what_is_not_known(moved):
    told = json.loads(as_json([asdict(sea) for sea in read_answer(moved).seas]))[0]["prescribed"]
    assert told[1]["share"] == {"reverse": 1.1, "normal": 1.234} and told[1]["beyond"]["normal"] == 0.42
    assert told[0]["time"]["reverse"] is None and told[2]["share"] is None and told[0]["foil"] == "starboard"


def test_motions_that_two_seas_share_are_told_once(moved):
    answer = read_answer(moved)
    assert shown_seas(answer) == [0]
    twice = type(answer)(**{**vars(answer), "seas": answer.seas * 2})
    assert shown_seas(twice) == [0]
