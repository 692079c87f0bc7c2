"""The page of a boat file: every section with its figure, axes with units, text of files escaped, nothing fetched."""

import json
import re

import numpy as np
import pytest

from seaload.report.boat import page as pages
from seaload.report.boat import reading, words
from seaload.report.boat.table import boat_table
from seaload.report.write_pages import report_result

SECTIONS = ("answer", "drawing", "balance", "righting", "drag", "motions", "foil", "gauges", "method", "inputs")


def test_the_page_holds_every_section_and_asks_for_nothing(demo_check):
    page = demo_check.page
    for name in SECTIONS:
        assert f'<section id="{name}"' in page
    assert page.count("<svg") == 6 and "<script" not in page
    assert not re.search(r"(src|href)=\"(?!#)", page)
    assert len(page.encode()) < 600_000


def test_every_axis_says_what_it_is_in_which_unit(demo_check, monkeypatch):
    drawn = []
    monkeypatch.setattr(pages, "inline_svg", lambda figure, name, said: drawn.append(figure) or "<svg></svg>")
    pages.boat_page(demo_check.dataset)
    assert len(drawn) == 6
    for figure in drawn:
        axes = [axis for axis in figure.axes if axis.get_visible()]
        below = [axis.get_xlabel() for axis in axes if axis.get_xlabel()]
        assert below and all("[" in label for label in below)
        for axis in axes:
            beside = [axis, *axis.get_shared_y_axes().get_siblings(axis), *neighbours(axis, axes)]
            labels = [one.get_ylabel() for one in beside if one.get_ylabel()]
            assert labels and all("[" in label or "%" in label or "°" in label for label in labels)


def neighbours(axis, axes):
    """Axes of the same row: the righting curves share one quantity."""
    row = axis.get_subplotspec().rowspan.start
    return [one for one in axes if one.get_subplotspec().rowspan.start == row]


def test_terminal_and_page_say_the_same(demo_check):
    assert demo_check.code == 0
    answer = words.answer_sentences(demo_check.dataset)
    assert " ".join(answer.split()) in " ".join(demo_check.printed.split())
    assert answer.replace("'", "&#39;") in demo_check.page.replace("\xa0", "\xa0")
    for row in words.extension_rows(demo_check.dataset):
        for cell in row:
            assert cell in demo_check.printed
    assert max(len(line) for line in boat_table(demo_check.dataset).splitlines()) <= 130


def test_a_page_is_made_again_from_its_result(demo_check):
    (page,) = report_result(demo_check.folder / "result.nc")
    assert page.name == "boat.html" and page.read_text(encoding="utf-8") == demo_check.page


def test_hostile_text_of_a_file_is_escaped(demo_check, monkeypatch):
    bad = "<script>alert(1)</script>"
    rows = json.dumps([{"level": "mend", "about": bad, "words": bad, "mend": bad}])
    hostile = demo_check.dataset.assign_attrs(boat=bad, findings=rows, defaults_used=f"{bad} = 1", command=bad)
    page = pages.boat_page(hostile)
    assert bad not in page and "&lt;script&gt;" in page
    assert "Do not trust this file yet: 1 to mend" in page
    monkeypatch.setattr(pages, "inline_svg", lambda figure, name, said: "<svg></svg>")
    assert pages.boat_page(demo_check.dataset.assign_attrs(findings="no json")).startswith("<!doctype html>")


def test_motions_in_words():
    assert reading.motion_words(2.5, 0.4) == "2.5 s, 40 % of critical"
    assert reading.motion_words(2.5, 1.2).endswith("no swing") and reading.motion_words(2.5, -0.1).endswith("grows")
    assert reading.motion_words(float("nan"), float("nan")) == "does not come back"
    assert reading.return_words(-np.log(3.0)) == "to a third in 1.0 s" and "grows" in reading.return_words(0.5)


def test_speeds_of_balance_in_words(demo_check):
    data = demo_check.dataset
    points = np.ones((data.sizes["extension"], data.sizes["speed"]), dtype=bool)
    points[1, 1] = points[3, -2] = False
    speed = reading.speeds(data)
    said = words.balanced_words(data, points)
    assert said == f"balances from {speed[2]:.0f} to {speed[-3]:.0f} kn at every extension"


@pytest.mark.parametrize(("display", "unit"), [("microstrain", "microstrain"), ("percent_of_normal", "%")])
def test_gauges_are_told_in_the_unit_of_the_boat(demo_check, display, unit):
    data = demo_check.dataset
    scenario = json.loads(data.attrs["scenario"])
    scenario["boat"]["sensors"]["display"] = display
    heads, rows, said = words.gauge_table(data.assign_attrs(scenario=json.dumps(scenario)))
    assert said == unit and len(heads) == 6 and len(rows) == 3 * data.sizes["extension"]
    scale = 1e6 if display == "microstrain" else 100.0
    last = float(data["gauge_up"].values[-1, 5])
    assert float(rows[-3][5]) == pytest.approx(scale * last, abs=0.06)
