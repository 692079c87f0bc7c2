"""Tables, figures, card and pages of a sweep, from an invented one."""

import re

import numpy as np
import pytest

from seaload.report.read_answer import read_answer
from seaload.report.shared import answer_words as read
from seaload.report.shared import charts
from seaload.report.shared.figure_style import NONE_SEEN
from seaload.report.shared.wording import one_in
from seaload.report.sweep.drawings import sweep_drawings
from seaload.report.sweep.figures import side_by_side
from seaload.report.sweep.page import move_blocks, setting_blocks, sweep_page
from seaload.report.sweep.setting_charts import point
from seaload.report.sweep.table import sweep_table

ENDED = (4, 2)


@pytest.fixture(scope="module")
def result(sweep_result):
    return sweep_result


@pytest.fixture(scope="module")
def answer(result):
    return read_answer(result)


def test_levels_come_from_the_study_or_its_printed_defaults(answer):
    assert answer.accepted == {"reverse": 0.02, "normal": 0.02}


def test_the_table_fits_and_names_the_suggestion_first(result, answer):
    text = sweep_table(result, answer)
    assert max(len(row) for row in text.splitlines()) <= 100
    assert "safe" not in text.lower()
    for sea in range(result.sizes["sea"]):
        chosen = answer.seas[sea].chosen
        first = read.ranked_settings(answer, sea)[0]
        assert chosen is None or first.setting == chosen


def test_a_case_that_ended_is_never_said_to_be_within(answer):
    assert answer.settings[ENDED].decision == "not_shown"
    assert read.ranked_settings(answer, ENDED[1])[-1].setting == ENDED[0]


def test_none_is_an_answer(result, answer):
    none = [found.sea for found in answer.seas if found.chosen is None]
    assert none and "No setting is shown to be within the limits" in read.suggestion_sentences(result, answer, none[0])


def test_what_is_closest_is_said_with_the_risk_limit_it_would_pass_at(result, answer):
    """The higher of both upper ends: a setting is within when both lie under its limit."""
    sea = next(found for found in answer.seas if found.chosen is None)
    near = answer.settings[sea.closest, sea.sea]
    least = max(near.odds[side].deciding.high for side in ("reverse", "normal"))
    words = f"It would be within at a risk limit of {one_in(least, 'risk')}."
    assert least < 0.95 and words in read.suggestion_sentences(result, answer, sea.sea)


def test_moves_come_fastest_first_and_say_what_stands_in_the_way(answer):
    told = answer.seas[0].moves
    assert [found.move.time for found in told] == sorted(found.move.time for found in told)
    names = [found.move.words for found in told]
    assert "Ease sheets: 2 kn less" in names and "Rake 1° more" in names and "Extension 10 % less" in names
    assert not next(found for found in told if found.move.words.startswith("Extension")).possible


def test_a_setting_not_quite_set_shows_what_that_takes_off_the_margin(result, answer):
    """Four points more the one way, four less the other; nothing in a sea without a suggestion."""
    with_one = next(found for found in answer.seas if found.chosen is not None)
    blocks = move_blocks(result, answer, with_one.sea)
    rows = next(block for block in blocks if block.get("caption", "").startswith("What a setting"))
    assert rows["rows"][0] == ("rake less", "+4 points (3 to 5)", "-2 points (-3 to -1)", "1.5 times now")
    assert rows["rows"][1][1] == "-4 points (-5 to -3)"
    none = next(found for found in answer.seas if found.chosen is None)
    assert none.neighbours == () and read.off_words(None) == "not known"


def test_the_page_shows_the_worst_load_of_every_setting(result, answer):
    table = setting_blocks(result, answer, 0)[0]
    column = next(i for i, head in enumerate(table["heads"]) if head.startswith("Worst load"))
    first = read.ranked_settings(answer, 0)[0]
    shares = [100.0 * first.worst[side].one_in_twenty for side in ("reverse", "normal")]
    assert table["rows"][0][column] == f"-{shares[0]:.0f} +{shares[1]:.0f}"


@pytest.mark.parametrize(
    ("factor", "valid", "words"),
    [
        (0.4, 1, "40 % of now"),
        (1.0, 1, "about the same"),
        (3.2, 1, "3.2 times now"),
        (1e-9, 1, "under 1 % of now"),
        (5e4, 1, "over 100 times now"),
        (0.4, 0, "leaves the model's validity"),
        (np.inf, 1, "leaves the model's validity"),
        (np.nan, 1, "too few hours to compare; at worst almost certain"),
    ],
)
def test_what_a_move_does_is_said_without_false_precision(factor, valid, words):
    assert read.factor_words(factor, valid) == words


def test_display_readings_are_in_the_scale_of_the_display(result, answer):
    rows = read.display_rows(result, answer.seas[0].readings)
    assert rows[0][:2] == ("station 1", "reads nothing at this extension")
    assert rows[1][2] == "-5 (-9 to -1) %"


def test_the_trigger_says_how_often_how_sure_and_how_early(result, answer):
    words = read.readings_words(result, answer.seas[0])
    assert "gauge 3 reads below -12 % 2 times in 20 minutes, each in another wave" in words
    assert "In 20 minutes, false alarm: 1 in 20 (at worst 1 in 7); missed: 1 in 3 (at worst 5 in 10)" in words
    assert "after 29 minutes on average" in words and "every 30 hours or so (at worst every 7 hours)" in words
    assert "too short to show at their full size at station 2 (40 %)" in words


def test_a_trigger_that_is_no_single_reading_says_what_to_look_at(result):
    other = {
        "other_sea": (("other_sea",), [0]),
        "other_sea_name": (("other_sea",), np.array(["period 15 % shorter"], object)),
        "trigger_called": (("sea", "other_sea"), np.full((result.sizes["sea"], 1), 0.25)),
    }
    of = lambda number: (result["trigger_place"].dims, np.full(result["trigger_place"].shape, number))  # noqa: E731
    said = []
    for kind, threshold in ((1.0, -0.12), (2.0, 0.34), (3.0, 0.09)):
        kinds = {"trigger_kind": of(kind), "trigger_share": of(0.05), "trigger_threshold": of(threshold)}
        above = result.assign(trigger_side=of(-1.0 if kind == 1.0 else 1.0), **kinds, **other)
        said.append(read.readings_words(above, read_answer(above).seas[0]))
    assert "gauge 3 reads below -12 % for 5 % of 20 minutes: the sea" in said[0]
    assert "gauge 3 shows a swing above 34 % over 20 minutes (the mean of every ten seconds' highest less" in said[1]
    assert "gauge 3 shows a spread above 9 % over 20 minutes (the standard deviation of the reading)" in said[2]
    assert all("calls within that time: period 15 % shorter 25 %." in words for words in said)


def test_a_worse_sea_beyond_the_model_is_told_as_that(result):
    open_ended = result.assign(trigger_next_event_rate_high=result["trigger_next_event_rate"] * np.inf)
    none_seen = open_ended.assign(trigger_next_event_rate=result["trigger_next_event_rate"] * 0.0)
    said, unsaid, plain = (
        read.readings_words(each, read_answer(each).seas[0]) for each in (open_ended, none_seen, result)
    )
    assert "every 30 hours or more often: a simulation of that sea leaves what the model holds for" in said
    assert "is not known" in unsaid
    assert not any("every 0 minutes" in words for words in (said, unsaid, plain))


def test_a_trigger_that_comes_too_late_is_not_waited_for(result):
    late = result.assign(trigger_delay=result["trigger_delay"] * 100.0)
    assert "do not wait" in read.readings_words(late, read_answer(late).seas[0])


def test_figures_say_what_they_leave_out(result, answer):
    drawn = sweep_drawings(result, answer)
    kinds = {re.sub(r"-\d+$", "", name) for name, _, _ in drawn}
    assert kinds == {"settings-map", "speed-risk", "tail", "wave-angle"}
    assert all("Not shown:" in caption for _, _, caption in drawn)


def test_none_seen_has_one_mark_on_paper_and_screen(result):
    """A setting without any event: the same shape in both figures and in the chart, and no other point has it."""
    names = [f"reverse_odds_all_told{end}" for end in ("", "_low")]
    quiet = result.assign({name: result[name].where(result["setting"] > 3, 0.0) for name in names})
    told = read_answer(quiet)
    points = [point(quiet, told, setting, 0) for setting in range(quiet.sizes["setting"])]
    assert [p["mark"] == charts.NONE_SEEN for p in points] == [p["odds"] == 0.0 for p in points]
    assert sum(p["odds"] == 0.0 for p in points) == 4
    drawn = {name: figure for name, figure, _ in sweep_drawings(quiet, told)}
    marks = [line.get_marker() for line in drawn["speed-risk-1"].axes[0].lines if len(line.get_xdata()) == 1]
    assert marks.count(NONE_SEEN) == 4
    angles = drawn["wave-angle"].axes[0].lines
    assert any(line.get_marker() == NONE_SEEN and len(line.get_xdata()) for line in angles)


def test_every_point_of_the_speed_figure_can_be_told_apart():
    places = side_by_side([18.0, 18.0, 18.01, 20.0, 20.0])
    assert len(set(np.round(places, 6))) == 5
    assert np.all(np.abs(places - [18.0, 18.0, 18.01, 20.0, 20.0]) < 0.2)


def test_the_page_has_the_answer_before_pictures_before_tables(result):
    two = result.isel(sea=[0, 4])
    page = sweep_page(two, read_answer(two))
    parts = [
        page.index(f'<section id="{name}"') for name in ("answer", "pictures", "backing-off", "settings", "inputs")
    ]
    assert parts == sorted(parts)
    assert "Suggested: " in page and "not shown to be within the limits" in page


def test_undecided_names_the_hours_that_would_decide(result):
    def said(seconds):
        changed = result.copy()
        changed["decision"] = result["decision"].copy(data=np.zeros_like(result["decision"].values))
        changed["sea_to_decide"] = changed["decision"].astype(float) + seconds
        return read.decision_words(read_answer(changed).settings[0, 0])

    assert said(40 * 3600.0) == "can't tell (40 h)"
    assert said(np.inf) == "can't tell (too close)"
