"""The deepest events and the motions on board, in the table and on the page of a run."""

import pytest

from seaload.report.read_answer import read_answer
from seaload.report.run import page as page_of_a_run
from seaload.report.run.events import FEW, MOST, event_lines, events_of, motion_rows, place_words
from seaload.report.run.page import run_page
from seaload.report.run.table import run_table
from seaload.report.shared.text_table import COLUMNS
from tests.report.invented_result import invented_run


def test_events_stand_deepest_first_and_say_what_the_result_says(run_result):
    events = events_of(run_result, 0, 0)
    assert [event.share_percent for event in events] == sorted((e.share_percent for e in events), reverse=True)
    first = events[0]
    assert first.share_percent == pytest.approx(100.0 * float(run_result["event_depth"].max()), rel=1e-6)
    assert first.reverse and first.cause == "rise" and first.place == "bearing"
    assert len(events) == run_result.sizes["event"]


def test_the_table_counts_all_events_and_shows_the_five_deepest(run_result):
    lines = event_lines(run_result, 0, 0)
    counts = "27 past 40 % of the reverse limit and 18 past 55 % of the normal limit in 3 hours simulated"
    assert lines[0] == f"EVENTS  {counts}."
    rows = [line for line in lines if " % down " in line or " % up " in line]
    assert len(rows) == FEW and max(map(len, lines)) <= COLUMNS
    text = run_table(run_result, read_answer(run_result))
    assert all(line in text for line in lines)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("acceleration, bow", "+-0.51 g, highest tenth 2.1 g, worst 6.1 g"),  # 5, 21 and 60 m/s2
        ("forefoot back in the water", "120 times an hour at 1.2 m/s or faster"),  # 40 in 20 minutes, 16.5 m
        ("sail thrust", "+-1.5 kN"),
        ("shear, most along the foil", "2.7 t up, 0.9 t down"),
        ("twist, most along the foil", "0.6 t m nose up, 0.5 t m nose down"),
    ],
)
def test_motions_in_the_units_of_the_trade(run_result, name, words):
    assert dict(motion_rows(run_result, 0, 0))[name] == words


def test_a_place_is_named_after_its_station_or_told_in_metres(run_result):
    places = run_result["place_material"].values[0]
    assert place_words(run_result, 0, float(places[3])) == "station 3"
    assert place_words(run_result, 0, float(places[3]) + 0.1) == f"{places[3] + 0.1:.1f} m"


def test_the_page_lists_the_deepest_events_and_draws_them(run_result, monkeypatch):
    drawn = []
    monkeypatch.setattr(page_of_a_run, "inline_svg", lambda figure, name, said: drawn.append(name) or "<svg></svg>")
    page = run_page(run_result, read_answer(run_result))
    assert {"events", "gallery"} <= set(drawn)
    assert "The deepest events" in page and "highest tenth 2.1 g" in page
    table = page[page.index("<caption>The deepest events") :]
    assert table[: table.index("</table>")].count("<tr>") == 1 + min(MOST, run_result.sizes["event"])


def test_a_result_of_before_shows_neither(monkeypatch):
    old = invented_run(series=False, realisations=2)
    since = ("event", "acceleration", "slam", "shear", "torsion")
    old = old.drop_vars([name for name in old.variables if name.startswith(since)])
    assert event_lines(old, 0, 0) == [] and motion_rows(old, 0, 0) == []
    text = run_table(old, read_answer(old))
    assert "EVENTS" not in text and "acceleration" not in text
    monkeypatch.setattr(page_of_a_run, "inline_svg", lambda figure, *said: "<svg></svg>")
    assert "deepest events" not in run_page(old, read_answer(old))


def test_a_sea_without_events_says_none():
    quiet = invented_run(series=False, realisations=2)
    quiet = quiet.drop_vars([n for n in quiet.variables if "event" in quiet[n].dims])
    for side in ("reverse", "normal"):
        quiet[f"event_count_{side}"] = 0.0 * quiet[f"event_count_{side}"]
    lines = event_lines(quiet, 0, 0)
    assert " ".join(lines).startswith("EVENTS  none past 40 % of the reverse limit") and "cause" not in " ".join(lines)
    assert events_of(quiet, 0, 0) == []
