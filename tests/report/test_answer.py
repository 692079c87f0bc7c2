"""The answer: read once, names checked, the same on table, page, card and board; results of the version before open."""

import json
import re
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import SimpleNamespace

import pytest

from seaload import report
from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.command_line.summary import as_json
from seaload.command_line.work import answers_of
from seaload.report.board.data import board_data
from seaload.report.board.page import board_page
from seaload.report.card.grid import card_grid
from seaload.report.card.page import card_page
from seaload.report.read_answer import read_answer
from seaload.report.run.table import run_table
from seaload.report.shared.answer_words import points_words
from seaload.report.shared.held_names import EVERY, SWEEP
from seaload.report.shared.named_values import Names
from seaload.report.shared.result_reading import check_result, number, open_result
from seaload.report.sweep.page import move_blocks
from seaload.report.sweep.table import sweep_table
from seaload.result.outcome import setting_rows

EARLIER = Path(__file__).parent / "data"
ONLY_SWEEPS = {"decision", "act", "reason", "time_to_decide", "speed_cost", "odds.all_told"}
NEW = {"worst.median", "worst.one_in_twenty", "worst.place", "speed_in_sea"}  # that results of the version before lack


@pytest.fixture(scope="module")
def answer(sweep_result):
    return read_answer(sweep_result)


def test_a_misspelt_variable_raises(run_result):
    with pytest.raises(KeyError):
        number(run_result, "speed_maen", 0, 0)
    with pytest.raises(KeyError):
        Names(run_result).maybe("speed_maen", setting=0, sea=0)
    with pytest.raises(KeyError):
        Names(run_result).holds("reverse_odds_al")


def test_numbers_are_those_of_the_result(sweep_result, answer):
    for (setting, sea), found in answer.settings.items():
        for side in ("reverse", "normal"):
            odds = found.odds[side].deciding
            for end, value in (("", odds.best), ("_low", odds.low), ("_high", odds.high)):
                assert value == float(sweep_result[f"{side}_odds_all_told{end}"].values[setting, sea])
        assert found.speed == float(sweep_result["speed_mean"].values[setting, sea])
        assert (answer.seas[sea].chosen == setting) == bool(sweep_result["chosen"].values[setting, sea])


def test_what_a_result_does_not_hold_is_none_and_named(answer, run_result):
    one = read_answer(run_result).settings[0, 0]
    assert one.odds["reverse"].all_told is None and one.worst["reverse"].median is None
    assert {"odds.all_told", "worst.median", "worst.one_in_twenty", "decision"} <= set(one.absent)
    assert one.odds["reverse"].deciding == one.odds["reverse"].if_right
    assert not {"odds.all_told", "worst.median"} & set(answer.settings[0, 0].absent) and answer.seas[0].absent == ()


def card_lines(dataset, answer):
    """All that is written on the first page of the card."""
    grid = card_grid(dataset, answer)
    return [text.get_text() for text in card_page(dataset, answer, grid, range(3), range(2)).texts]


def test_the_margin_stands_on_table_page_card_and_board(sweep_result, answer):
    """Worst load of 1 exposure in 20 and what a move does to it, the same on all of them."""
    found = answer.settings[answer.seas[0].shown, 0]
    share = f"1 in 20: {100.0 * found.worst['reverse'].one_in_twenty:.0f} %"
    for shown in (sweep_table(sweep_result, answer), " ".join(card_lines(sweep_result, answer))):
        assert share in " ".join(shown.split())
    board = board_data(sweep_result, answer)
    cell = board["fields"]["reverse_worst"][board["sea_of_cell"].index(0) + found.setting]
    assert cell == pytest.approx(100.0 * found.worst["reverse"].one_in_twenty, rel=1e-6)
    told = next(m for m in answer.seas[0].moves if m.move.name == "ease_sheets")  # the made-up one: 12 points less
    assert points_words(told.worst_change["reverse"]) == "worst load 12 points less (10 to 14)"
    assert "worst load 12 points less" in sweep_table(sweep_result, answer)
    less = "worst load 12 points less (10 to 14)"
    assert any(less in row for b in move_blocks(sweep_result, answer, 0) for row in b["rows"])


def test_a_result_without_a_variable_that_pages_need_is_refused_by_its_name(sweep_result):
    check_result(sweep_result, Path("result.nc"))
    for name in set(EVERY + SWEEP) - {"reverse_odds"}:
        with pytest.raises(InputError, match=rf"\b{name}\b"):
            check_result(sweep_result.drop_vars(name), Path("result.nc"))


@pytest.mark.parametrize("name", ["earlier-run.nc", "earlier-sweep.nc"])
def test_a_result_of_the_version_before_opens_and_every_answer_is_filled(name):
    """Made by the program as it was before words and sizes of moves stood in the result (source 08d1b81255efac1e)."""
    result = open_result(EARLIER / name)
    answer = read_answer(result)
    for found in answer.settings.values():
        empty = {path for path in unfilled(found) if path.split(".")[0] != "absent"}
        assert {path.replace(".reverse", "").replace(".normal", "") for path in empty} <= set(found.absent)
        assert set(found.absent) == (NEW if name == "earlier-sweep.nc" else NEW | ONLY_SWEEPS)
    if name == "earlier-run.nc":
        assert "Reverse load past the limit in 3 hours" in run_table(result, answer)
        return
    assert set(answer.seas[0].absent) == {"bears.angle_least", "bears.angle_most", "bears.ended", "neighbours"}
    told = {found.move.words: found.move.changes for found in answer.seas[0].moves}
    assert told["Bear away 15°"] == {"waves_from_bow": pytest.approx(15.0 * DEGREE)}
    reef = {"speed": pytest.approx(-2.0 * KNOT), "heel": pytest.approx(-2.0 * DEGREE)}
    assert told["Reef: 2 kn, 2° heel less"] == reef
    assert told["Rake 1° more"] == {"rake": pytest.approx(DEGREE)} and "Ballast 0.2 m aft" in told
    assert answer.seas[0].trigger is not None and len(answer.seas[0].readings) == 5
    assert "Bear away 15°" in sweep_table(result, answer)


def unfilled(record, path=""):
    """Dotted names of the fields that are None."""
    for field in fields(record):
        value = getattr(record, field.name)
        name = f"{path}{field.name}"
        if value is None:
            yield name
        elif isinstance(value, dict):
            for key, inner in value.items():
                yield from unfilled(inner, f"{name}.{key}.")
        elif is_dataclass(value):
            yield from unfilled(value, f"{name}.")


SIZE = re.compile(r"(\d+(?:\.\d+)?) ?(°|kn|%|m)(?![a-z/])")


def test_no_page_holds_a_size_of_a_move_that_is_not_in_the_dataset(sweep_result, answer):
    """Every move on table, page, card and board is written as `move_words` says; other sizes there make other pages."""
    names, words = ([str(v) for v in sweep_result[f"move_{end}"].values] for end in ("name", "words"))
    for name, said in zip(names, words, strict=True):  # the words hold the sizes of the numbers beside them
        i = names.index(name)
        changes = {key: float(sweep_result[f"move_change_{key}"].values[i]) for key in
                   ("extension", "rake", "heel", "cant", "ballast_shift", "speed", "waves_from_bow")}  # fmt: skip
        unit = {"extension": 0.01, "ballast_shift": 1.0, "speed": KNOT}
        sizes = sorted(f"{abs(change) / unit.get(key, DEGREE):.6g}" for key, change in changes.items() if change)
        assert sorted(f"{float(number):.6g}" for number, _ in SIZE.findall(said)) == sizes, said
    other = sweep_result.assign(move_words=(("move",), [f"Way {n} of 77 m" for n in range(len(words))]))
    told = read_answer(other)
    blocks = [cell for block in move_blocks(other, told, 0) for row in block.get("rows", ()) for cell in row[:1]]
    card = card_lines(other, told)
    page = board_page(other, told).split('id="board-data">')[1].split("</script>")[0]
    for shown in (sweep_table(other, told), " ".join(blocks), " ".join(card), page):
        assert "of 77 m" in shown
        assert not any(said in shown for said in words)
        assert not re.search(r"\b(Ease|Bear away|Head up|Reef|Rake|Cant|Extension|Ballast) [^.;\n]{0,12}\d", shown)


def test_json_tells_the_same_answers(sweep_result, answer):
    tree = json.loads(as_json(answers_of(SimpleNamespace(dataset=sweep_result, settings=setting_rows(sweep_result)))))
    assert len(tree["settings"]) == len(answer.settings) and len(tree["seas"]) == len(answer.seas)
    for row in tree["settings"]:
        told = answer.settings[row["setting"], row["sea_number"]]
        assert row["answer"]["decision"] == told.decision
        assert row["answer"]["worst"]["reverse"]["median"] == told.worst["reverse"].median
        assert row["answer"]["odds"]["reverse"]["all_told"]["high"] == told.odds["reverse"].deciding.high
    assert [sea["chosen"] for sea in tree["seas"]] == [found.chosen for found in answer.seas]
    assert tree["seas"][0]["moves"][0]["move"]["words"] == answer.seas[0].moves[0].move.words


DECIDED = re.compile(
    r"""["']\{?\w*\}?_?(odds\w*|share_worst|decision|chosen_setting|least_bad_setting|bears_\w+|worst_\w+|
    gust_leaps|damage_rate_worst|speed_given_up|speed_attainable|sea_to_decide|
    (move|trigger|display)_\w+)["']""",
    re.VERBOSE,
)


@pytest.mark.parametrize("room", ["run", "sweep", "board", "card"])
def test_no_page_reads_by_itself_what_the_answer_holds(room):
    """Numbers that decide come from the records: no room asks the Dataset for them by name."""
    for file in (Path(report.__file__).parent / room).glob("*.py"):
        asked = re.findall(r"(?:number|bounds|flag|number_if_held)\([^()]*\)|dataset\[[^\]]*\]", file.read_text())
        assert not [text for text in asked if DECIDED.search(text)], file.name
