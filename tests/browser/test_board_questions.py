"""The skipper's four questions on the board at phone size, in at most three clicks from opening; A beside B; what a
reload keeps; a sea that builds; the gauge."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from seaload.report.board.data import board_data, interpolate
from seaload.report.board.page import board_page
from seaload.report.read_answer import read_answer
from seaload.report.shared.result_reading import open_result
from tests.browser.page_checks import go
from tests.report.invented_result import invented_study, invented_sweep

PHONE = {"width": 390, "height": 844}
MOST_CLICKS = 3


@pytest.fixture(scope="module")
def board(pages):
    """The response data, from the saved result as Python reads it."""
    result = open_result(pages["board_result"])
    return board_data(result, read_answer(result))


class Visitor:
    """Someone at the board who counts what is pressed; what is read must be on the screen, not behind anything."""

    def __init__(self, browser):
        self.browser, self.clicks = browser, 0

    def press(self, words):
        """Press the link or button with these words where it is, after bringing it onto the screen."""
        named = "[...document.querySelectorAll('button, nav a')].filter((e) => e.textContent.trim() === arguments[0])"
        found = self.browser.execute_script(f"return {named}", words)
        assert len(found) == 1 and found[0].is_displayed(), words
        self.browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", found[0])
        found[0].click()
        self.clicks += 1

    def reads(self, name):
        """Text of an element, which has to be seen without pressing anything."""
        element = self.browser.find_element("id", name)
        assert element.is_displayed() and element.text
        return element.text


@pytest.fixture
def visitor(opened, pages):
    """A visitor whose board has just opened on a phone."""
    found = Visitor(opened(pages["board"], **PHONE))
    yield found
    assert found.clicks <= MOST_CLICKS


def test_may_i_keep_80_percent_for_the_next_hour(visitor):
    assert visitor.reads("question") == "Keep 80 % out, rake 2°, 20 kn for 1 h?"
    assert visitor.reads("verdict") in ("Keep", "Watch", "Back off") and "your risk limit" in visitor.reads("why")
    assert "of the reverse limit; 1 in 20:" in visitor.reads("margin-reverse")


def test_what_does_one_step_less_buy(visitor, board):
    here = visitor.browser.execute_script("return seaboard.place")
    visitor.press("Extension 10 % less")
    a, b = (interpolate(board, {**here, "extension_percent": v}) for v in (80.0, 70.0))
    said = visitor.reads("difference")
    assert said.startswith(f"B against A: {a['reverse_worst'] - b['reverse_worst']:.0f} points less reverse load, ")
    assert "the same speed; 5 minutes, only below 15 kn: slow down first. " in said


def test_where_does_bearing_away_hurt(visitor, board):
    here = visitor.browser.execute_script("return seaboard.place")
    visitor.press("Where it hurts")
    loads = [interpolate(board, {**here, "waves_from_bow_deg": v})["reverse_worst"] for v in (45.0, 90.0)]
    assert visitor.reads("along-words") == (
        f"Bearing away hurts: {loads[0]:.0f} % now, {loads[1]:.0f} % at 90°; not simulated beyond 90°."
    )


def height_that_passes(board, place):
    """The height at which the best estimate of either rate passes the study's risk limit, 2 % in 3 h: by halves."""
    limit, low, high = -math.log1p(-0.02) / 3.0, place["hs_m"], 4.5
    for _ in range(50):
        half = 0.5 * (low + high)
        reading = interpolate(board, {**place, "hs_m": half})
        past = max(reading["reverse_rate"], reading["normal_rate"]) > limit
        low, high = (low, half) if past else (half, high)
    return low


def test_when_must_i_start(visitor, board):
    visitor.press("−0.5 m")
    visitor.press("−0.5 m")
    here = visitor.browser.execute_script("return seaboard.place")
    visitor.press("When to start")
    minutes = math.floor(
        (height_that_passes(board, here) - here["hs_m"]) / 0.5 * 60.0
    )  # it grows by half a metre an hour
    assert f"back off in {minutes} min" in visitor.reads("builds-words")
    assert f"must start in {minutes - 15} min at the latest" in visitor.reads("slowest")  # reefing takes 15 minutes
    moves = visitor.reads("latest").splitlines()
    assert len(moves) >= 2 and moves[0].startswith("Reef") and "at the latest" in moves[-1]


def press(browser, name):
    """Press a button by its id, brought out from under the answer that stays at the head of the page."""
    browser.execute_script("document.getElementById(arguments[0]).scrollIntoView({block: 'center'})", name)
    browser.find_element("id", name).click()


def test_a_move_goes_into_b_nothing_jumps_focus_stays_and_undo_brings_it_back(opened, pages):
    browser = opened(pages["board"], **PHONE)
    move = next(b for b in browser.find_elements("css selector", "#moves button") if b.text == "Rake 1° less")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", move)
    before, where = browser.find_element("id", "ab").text, "return arguments[0].getBoundingClientRect().top"
    top = browser.execute_script(where, move)
    move.click()
    assert browser.execute_script(where, move) == pytest.approx(top, abs=1.0)
    assert browser.execute_script("return document.activeElement === arguments[0]", move)
    assert move.get_attribute("aria-pressed") == "true"
    assert "rake 1°" in browser.find_element("id", "b-setting").text
    assert "rake 2°" in browser.find_element("id", "a-setting").text  # A stays
    press(browser, "take")
    assert "rake 1°" in browser.find_element("id", "question").text
    press(browser, "undo")
    press(browser, "undo")
    assert browser.find_element("id", "ab").text == before
    assert browser.find_element("id", "undo").get_attribute("aria-disabled") == "true"


def test_b_stands_in_the_same_waves_and_can_be_set_by_hand(opened, pages, board):
    browser = opened(pages["board"])
    press(browser, "sets-b")
    press(browser, "step-extension_percent-more")
    press(browser, "step-hs_m-less")  # the sea is one for both
    place = browser.execute_script("return seaboard.place")
    assert place["extension_percent"] == 80.0 and place["hs_m"] == 3.0
    b = interpolate(board, {**place, "extension_percent": 90.0})
    assert f"1 in 20: {b['reverse_worst']:.0f} %" in browser.find_element("id", "b-reverse").text
    press(browser, "clear")
    assert browser.find_element("id", "b-setting").text == "–"


def test_small_differences_are_not_told_as_differences(opened, pages):
    browser = opened(pages["board"], anew=False)
    said = browser.execute_script("return [60, 60.9, 61.9, 62.1, 57].map((v) => seaboard.judge.pointsWords(60, v))")
    assert said == ["about the same"] * 3 + ["2 points MORE", "3 points less"]  # intervals of moves: 2 points each way


@pytest.mark.parametrize("by", ["address", "storage"])
def test_a_reload_keeps_everything(opened, pages, by):
    browser = opened(pages["board"])
    for name in ("step-hs_m-less", "for-3", "growth-more", "ground", "move-0"):
        press(browser, name)
    look = "return [JSON.stringify(seaboard.place), JSON.stringify(seaboard.state), document.body.innerText]"
    before, address = browser.execute_script(look), browser.current_url
    assert "#" in address
    if by == "address":
        browser.execute_script("localStorage.clear()")
        go(browser, "about:blank")
        go(browser, address)
    else:
        opened(pages["board"], forget=False)
    after = browser.execute_script(look)
    assert after[:2] == before[:2]
    assert browser.execute_script("return document.documentElement.dataset.ground") == "night"


@pytest.mark.parametrize("address", ["#hs_m=99&b.rake_deg=-7&hours=nan", "#%E0%A4%A", "#<img src=x>"])
def test_an_address_that_says_nothing_useful_is_passed_over(opened, pages, address):
    browser = opened(pages["board"])
    place = browser.execute_script("return seaboard.place")
    browser.execute_script("localStorage.clear()")
    go(browser, "about:blank")
    go(browser, pages["board"].as_uri() + address)
    assert browser.execute_script("return seaboard.place") == place
    assert browser.find_element("id", "verdict").text and browser.find_element("id", "b-setting").text == "–"


@pytest.mark.parametrize(("field", "text", "said"), [
    ("highest", "60", "Ordinary in this sea."),
    ("highest", "66,5", "High: above 64 %"),
    ("lowest", "-10", "Low: below -9 %"),
    ("lowest", "−13", "A reason to step back if it comes 2 times in 20 minutes: past -12 %"),
    ("highest", "many", "is no number."),
])  # fmt: skip
def test_my_gauge_reads(opened, pages, field, text, said):
    browser = opened(pages["board"])
    browser.find_element("id", f"gauge-{field}").send_keys(text)
    words = browser.find_element("id", "gauge-words").text
    assert said in words
    if said.startswith("A reason"):
        assert "this is missed 1 in 3 (at worst 5 in 10)" in words and "a false alarm 1 in 20" in words


def test_the_printed_strip_tells_the_next_watch(opened, pages):
    browser = opened(pages["board"])
    press(browser, "move-0")
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    strip = browser.find_element("id", "strip").text
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    for words in ("Hand-over", "A, as set: 80 % out", "Worst of 3 h", "B, ready: 80 % out", "____"):
        assert words in strip


@pytest.fixture(scope="module")
def plain_boards(tmp_path_factory):
    """{name: board} of a list of seas that is no grid, of one setting in one sea, and of a result of the version before
    (see tests/report/test_answer.py), which knows no worst load to expect."""
    study = invented_study("settings-map")
    some = invented_sweep(replace(study, settings=study.settings[:4]))
    one = invented_sweep(replace(study, settings=study.settings[:1], seas=study.seas[:1]))
    older = open_result(Path(__file__).parents[1] / "report" / "data" / "earlier-sweep.nc")
    folder, made = tmp_path_factory.mktemp("boards"), {}
    for name, result in (("list", some), ("one", one), ("older", older)):
        made[name] = folder / f"{name}.html"
        made[name].write_text(board_page(result, read_answer(result)), encoding="utf-8")
    return made


@pytest.mark.parametrize("name", ["list", "one", "older"])
def test_a_board_without_a_grid_answers_and_says_what_it_cannot_tell(opened, plain_boards, name):
    browser = opened(plain_boards[name], **PHONE)  # the console stays silent, which `opened` looks after
    read = lambda part: browser.find_element("id", part).text  # noqa: E731
    assert read("verdict") in ("Keep", "Watch", "Back off") and "of the reverse limit" in read("margin-reverse")
    assert read("builds-words").startswith("No data: this board holds no range of wave heights")
    assert ("No data" in read("along-words")) == (name == "one")
    assert ("simulated" in read("margin-reverse")) == (name == "older")
    if name == "list":
        press(browser, "for-3")
        browser.find_element("css selector", "#axis-sea option:last-child").click()
        assert browser.execute_script("return seaboard.place.sea") == 2


def test_all_round_the_rose_says_what_to_do_where_it_was_simulated_and_nothing_elsewhere(visitor, board):
    """The word of the table's own rule at every fifth degree, from the same readings between the same points."""
    here = visitor.browser.execute_script("return seaboard.place")
    data = "JSON.parse(document.getElementById('board-data').textContent)"
    level = visitor.browser.execute_script(f"return {data}.levels")

    def word(angle):
        reading = interpolate(board, {**here, "waves_from_bow_deg": angle})
        worst = 0
        for each in level:
            best, low, high = (reading[f"{each['side']}_rate{end}"] for end in ("", "_low", "_high"))
            limit = -math.log1p(-each["odds"]) / each["hours"]
            worst = max(worst, 0 if high < limit else 3 if low > limit else 1 if best <= limit else 2)
        return ("keep", "watch", "back off", "back off")[worst]

    runs = []
    for start in range(45, 90, 5):
        act = word(start + 2.5)
        if runs and runs[-1][0] == act:
            runs[-1][2] = start + 5
        else:
            runs.append([act, start, start + 5])
    said = "; ".join(f"{act} from {first}° to {last}°" for act, first, last in runs)
    assert visitor.reads("rose-words") == f"At 20 kn: {said}. Not simulated outside 45° to 90°."
    starts = "filter((e) => e.getAttribute('stroke-width') === '0.6').map((e) => e.getAttribute('d').slice(1))"
    cells = visitor.browser.execute_script(f"return [...document.querySelectorAll('#rose path')].{starts}")
    assert len(cells) == 9 * len(next(axis["values"] for axis in board["axes"] if axis["name"] == "speed_knots"))
    assert all(float(cell.split(",")[0]) > 195.0 for cell in cells)  # waves from windward, drawn on that side
