"""The risk board in a real browser, offline: readings equal Python's, greyed where there are none, prints on a page."""

import json
import math
import random

import pytest

from seaload.report.board.data import board_data, interpolate, odds_of, rate_in
from seaload.report.board.margins import worst_in
from seaload.report.read_answer import read_answer
from seaload.report.shared import wording
from seaload.report.shared.result_reading import open_result
from tests.browser.page_checks import CLIPPED, fits_width, printed_pages, small_targets, small_type, visible_text
from tests.report.test_board_data import place_of

TRIALS = 200


@pytest.fixture(scope="module")
def board(pages):
    """The response data, from the saved result as Python reads it."""
    result = open_result(pages["board_result"])
    return board_data(result, read_answer(result))


def random_places(board, count, *, beyond=0.05):
    """Places on the board, a few of them a little outside."""
    chance = random.Random(1)
    places = []
    for _ in range(count):
        place = {}
        for axis in board["axes"]:
            low, high = axis["values"][0], axis["values"][-1]
            place[axis["name"]] = chance.uniform(low - beyond * (high - low), high + beyond * (high - low))
        places.append(place)
    return places


def test_two_hundred_readings_equal_those_of_python(opened, pages, board):
    browser = opened(pages["board"], anew=False)
    places = random_places(board, TRIALS)
    script = (
        "return JSON.stringify(arguments[0].map((p) => { const r = seaboard.reading(p); delete r.found; return r; }))"
    )
    read = json.loads(browser.execute_script(script, places))
    inside = 0
    for place, found in zip(places, read, strict=True):
        expected = interpolate(board, place)
        assert set(found) == set(expected)
        for name, value in expected.items():
            if isinstance(value, float):
                assert found[name] == pytest.approx(value, rel=1e-6, abs=1e-12)
            else:
                assert found[name] == value
        inside += "outside" not in expected
    assert inside > TRIALS / 4  # enough of them are real readings


def test_odds_in_any_time_are_read_as_python_reads_them(opened, pages, board):
    browser, place = opened(pages["board"], anew=False), {}
    for axis in board["axes"]:
        values = axis["values"]
        place[axis["name"]] = 0.3 * values[0] + 0.7 * values[min(1, len(values) - 1)]
    reading = interpolate(board, place)
    hours = [0.05, 0.1, 0.4, 1.0, 2.2, 3.0, 7.0, 12.0, 100.0, 240.0, 300.0]
    data = "const board = JSON.parse(document.getElementById('board-data').textContent)"
    rates = "arguments[1].map((h) => seaboard.words.rateIn(board, there, 'normal_rate_high', h))"
    read = browser.execute_script(f"{data}, there = seaboard.reading(arguments[0]); return {rates}", place, hours)
    assert read == pytest.approx([rate_in(board, place, "normal_rate_high", h) for h in hours], rel=1e-6)
    assert read[2] > 1.5 * reading["normal_rate_high"]  # all told, a short time is riskier than its share of a long one


def test_the_words_are_those_of_python(opened, pages):
    browser = opened(pages["board"], anew=False)
    chance = random.Random(2)
    odds = [10.0 ** chance.uniform(-6.0, 0.0) for _ in range(300)] + [0.0, 1.0, 0.95, 0.02]
    read = browser.execute_script(
        "return arguments[0].map((p) => [seaboard.words.oneIn(p, false), seaboard.words.oneIn(p, true)])", odds
    )
    assert read == [[wording.one_in(p), wording.one_in(p, "risk")] for p in odds]
    values = [10.0 ** chance.uniform(-4.0, 5.0) for _ in range(300)]
    read = browser.execute_script(
        "const w = seaboard.words; return arguments[0].map((v) => [w.significant(v), w.upwards(v), w.downwards(v)])",
        values,
    )
    assert read == [[wording.significant(v), wording.upwards(v), wording.downwards(v)] for v in values]


def text_of(browser, name):
    return browser.find_element("id", name).text


def test_the_side_nearest_to_your_risk_limit_decides_not_the_one_with_the_larger_load(opened, pages):
    """64 % of the normal limit may be as good as never past it, 58 % of the reverse one not."""
    side = opened(pages["board"], anew=False).execute_script("""
      const levels = ["reverse", "normal"].map((side) => ({ side, odds: 0.02, hours: 3 }));
      const made = { levels, places: { reverse: [null], normal: [null] }, place_names: [] };
      return boardJudge(made).decides({ reverse_worst: 58, normal_worst: 64, reverse_rate_high: 1e-3,
        normal_rate_high: 1e-4, found: [[0, 1]] }).side;""")
    assert side == "reverse"


def test_the_board_leads_with_the_margin_then_the_word_then_the_odds(opened, pages, board):
    browser = opened(pages["board"], anew=False)
    place = browser.execute_script("return seaboard.place")
    reading = interpolate(board, place)
    assert text_of(browser, "question") == "Keep 80 % out, rake 2°, 20 kn for 1 h?"
    median, twenty = round(reading["reverse_worst_median"]), round(reading["reverse_worst"])
    assert text_of(browser, "margin-reverse") == f"worst of 3 h: {median} % of the reverse limit; 1 in 20: {twenty} %"
    assert text_of(browser, "verdict") in ("Keep", "Watch", "Back off")
    assert wording.one_in(odds_of(rate_in(board, place, "reverse_rate", 1.0), 1.0)) in text_of(browser, "said")
    levels = json.loads(browser.find_element("id", "board-data").get_attribute("textContent"))["levels"]
    nearest = max(levels, key=lambda level: reading[level["side"] + "_rate_high"] / -math.log1p(-level["odds"]))
    assert nearest["side"] == "reverse"
    assert text_of(browser, "decides") == "What decides: reverse load, worst at station 2."
    heights = [browser.find_element("id", name).location["y"] for name in ("margins", "verdict", "said", "decides")]
    assert heights == sorted(heights)
    rows = [row.text for row in browser.find_elements("css selector", "#odds tbody tr")]
    assert "the next hour" in rows[0] and "the watch, 3 h" in rows[1] and "12 h" in rows[2]
    for words in ("Hs 3.5 m", "period 9.5 s", "from the bow", "true wind 24 kn"):
        assert words in text_of(browser, "assumed")


def test_in_a_longer_time_the_worst_load_is_that_of_an_exponential_tail(opened, pages, board):
    browser = opened(pages["board"])
    reading = interpolate(board, browser.execute_script("return seaboard.place"))
    for button, hours in (("for-1", 1.0), ("for-3", 3.0), ("for-own", 12.0)):
        browser.find_element("id", button).click()
        told = worst_in(reading["reverse_worst_median"], reading["reverse_worst"], 3.0, hours)
        said = text_of(browser, "margin-reverse")
        assert f"of {max(hours, 3.0):.0f} h: {told[0]:.0f} %" in said and f"1 in 20: {told[1]:.0f} %" in said


def slider(browser, axis):
    return browser.find_element("css selector", f"#axis-{axis}").find_element("xpath", "../..//input[@type='range']")


def test_sliders_and_keys_change_the_numbers(opened, pages):
    from selenium.webdriver.common.keys import Keys

    browser = opened(pages["board"])
    before = text_of(browser, "margins")
    slider(browser, "hs_m").send_keys(Keys.ARROW_RIGHT * 5)
    assert browser.execute_script("return seaboard.place.hs_m") == pytest.approx(4.0)
    assert text_of(browser, "margins") != before
    typed = browser.find_element("id", "axis-hs_m")
    assert float(typed.get_attribute("value")) == pytest.approx(4.0)


def type_into(browser, name, text):
    """Type a number as a person does, and leave the field."""
    from selenium.webdriver.common.keys import Keys

    typed = browser.find_element("id", name)
    typed.send_keys(Keys.CONTROL, "a")
    typed.send_keys(text or Keys.BACKSPACE, Keys.TAB)


def test_typing_changes_the_numbers_and_moves_the_slider(opened, pages):
    browser = opened(pages["board"])
    before = text_of(browser, "margins")
    type_into(browser, "axis-extension_percent", "90")
    assert "90 % out" in text_of(browser, "question") and text_of(browser, "margins") != before
    assert float(slider(browser, "extension_percent").get_attribute("value")) == 90.0
    type_into(browser, "hours", "24")
    assert text_of(browser, "question").endswith("for 24 h?") and "24 h" in visible_text(browser, "#odds")


@pytest.mark.parametrize(("name", "text", "shown", "said"), [
    ("axis-extension_percent", "80,5", "80.5", ""),
    ("axis-extension_percent", "82.5 %", "82.5", ""),
    ("axis-hs_m", "9", "4.5", "9 m lies outside 2.5 m to 4.5 m: set to 4.5 m."),
    ("axis-hs_m", "-3", "2.5", "-3 m lies outside"),
    ("axis-hs_m", "", "3.5", "Nothing typed: 3.5 m stays."),
    ("axis-hs_m", "3 to 4", "3.5", "is no number: 3.5 m stays."),
    ("hours", "-3 h", "0.1", "-3 h lies outside 0.1 h to 240 h: set to 0.1 h."),
    ("hours", "500", "240", "set to 240 h."),
    ("growth", "99", "5", "set to 5.0 m an hour."),
])  # fmt: skip
def test_bad_entries_are_set_to_the_nearest_and_say_so(opened, pages, name, text, shown, said):
    browser = opened(pages["board"])
    type_into(browser, name, text)
    assert browser.find_element("id", name).get_attribute("value") == shown
    note = browser.find_element("id", "note-" + name.removeprefix("axis-"))
    assert (said in note.text) if said else not note.is_displayed()
    assert text_of(browser, "verdict") != ""


def test_next_to_a_case_that_left_the_validity_nothing_is_read(opened, pages, board):
    browser = opened(pages["board"])
    cells = [i for i, value in enumerate(board["fields"]["reverse_rate"]) if value is None]
    place, rest = {}, cells[0]
    for axis in reversed(board["axes"]):
        rest, step = divmod(rest, len(axis["values"]))
        place[axis["name"]] = axis["values"][step]
    assert interpolate(board, place) == {"outside": "gap"}
    browser.execute_script("Object.assign(seaboard.place, arguments[0]); seaboard.show()", place)
    assert text_of(browser, "question").startswith("No reading here") and text_of(browser, "verdict") == ""
    assert visible_text(browser, "#odds tbody") == ""
    outside = {**place, "hs_m": 9.0}
    browser.execute_script("Object.assign(seaboard.place, arguments[0]); seaboard.show()", outside)
    assert "No data: Wave height Hs 9 m lies outside" in text_of(browser, "question")


def limit_of(level):
    return -math.log1p(-level["odds"]) / level["hours"]


def test_the_verdict_is_that_of_the_worse_side(opened, pages, board):
    browser = opened(pages["board"])
    levels = json.loads(browser.find_element("id", "board-data").get_attribute("textContent"))["levels"]
    words = set()
    for place in random_places(board, 60, beyond=0.0):
        reading = interpolate(board, place)
        if "outside" in reading:
            continue
        rates = [[reading[f"{v['side']}_rate{end}"] for end in ("", "_low", "_high")] for v in levels]
        worst = max(
            0 if high < limit_of(v) else 3 if low > limit_of(v) else 1 if best <= limit_of(v) else 2
            for v, (best, low, high) in zip(levels, rates, strict=True)
        )
        browser.execute_script("Object.assign(seaboard.place, arguments[0]); seaboard.show()", place)
        assert text_of(browser, "verdict") == ("Keep", "Watch", "Back off", "Back off")[worst]
        words.add(worst)
    assert len(words) >= 2


def test_at_every_simulated_point_the_boards_word_is_that_of_the_answer(opened, pages, board):
    browser = opened(pages["board"], anew=False)
    result = open_result(pages["board_result"])
    told = {pair: found.act for pair, found in read_answer(result).settings.items() if found.act}
    places = [place_of(result, board, *pair) for pair in told]
    script = "return arguments[0].map((p) => seaboard.judge.act(seaboard.reading(p)).word)"
    assert browser.execute_script(script, places) == list(told.values()) and len(set(told.values())) == 3


def chart_is_there(browser):
    from selenium.webdriver.support.ui import WebDriverWait

    ready = "return document.getElementById('chart-odds').dataset.ready === 'yes'"
    WebDriverWait(browser, 10).until(lambda b: b.execute_script(ready))


PART = "return [...seacharts.views.odds.references()].find((m) => m.name === arguments[0])"


def test_the_chart_follows_the_control_and_shows_the_same_odds(opened, pages, board):
    browser = opened(pages["board"])
    chart_is_there(browser)
    browser.find_element("id", "step-rake_deg-more").click()
    assert browser.find_element("id", "chart-axis").get_attribute("value") == "rake_deg"
    place = browser.execute_script("return seaboard.place")
    assert browser.execute_script(PART + ".location", "here") == place["rake_deg"]
    drawn = browser.execute_script(f"{PART}.data", "reverse-points")
    rakes = next(a for a in board["axes"] if a["name"] == "rake_deg")["values"]
    assert list(drawn["x"]) == rakes
    for rake, odds, high in zip(rakes, drawn["odds"], drawn["high"], strict=True):
        at = {**place, "rake_deg": rake}
        told = [odds_of(rate_in(board, at, name, 1.0), 1.0) for name in ("reverse_rate", "reverse_rate_high")]
        assert [odds, high] == pytest.approx([max(each, 1e-4) for each in told], rel=1e-6)
    rows = browser.execute_script(
        "return [...document.querySelectorAll('#chart-table tbody tr')].map((r) => r.textContent)"
    )
    assert len(rows) == len(rakes) and "1 in" in rows[0]
    assert "reverse" in browser.find_element("id", "chart-odds").get_attribute("aria-label")


def test_the_chart_takes_the_colours_of_the_ground(opened, pages):
    browser = opened(pages["board"])
    chart_is_there(browser)
    ground = "return seacharts.views.odds.background_fill_color"
    light = browser.execute_script(ground)
    browser.find_element("id", "ground").click()
    assert browser.execute_script("return new Promise((done) => setTimeout(() => done(0), 50))") == 0
    assert browser.execute_script(ground) != light


def test_the_plotting_library_is_there_once_and_without_a_logo(opened, pages):
    page = pages["board"].read_text(encoding="utf-8")
    assert page.count('id="plotting-library"') == 1
    browser = opened(pages["board"], anew=False)
    chart_is_there(browser)
    assert (
        browser.execute_script("return document.querySelector('#chart-odds').innerHTML.includes('bokeh.org')") is False
    )
    size = f"{pages['board'].stat().st_size / 1e6:.1f} MB"
    assert size in visible_text(browser, "footer")


def test_moves_outside_the_data_say_so(opened, pages):
    browser = opened(pages["board"])
    type_into(browser, "axis-speed_knots", "18.5")
    moves = [row.text for row in browser.find_elements("css selector", "#moves tbody tr")]
    assert "no data: not simulated at 16.5 kn" in moves[0]


@pytest.mark.parametrize(("width", "height"), [(390, 844), (820, 1180), (1280, 900)])
def test_it_fits_can_be_read_and_pressed_by_day_and_by_night(opened, pages, width, height):
    browser = opened(pages["board"], width=width, height=height)
    chart_is_there(browser)
    next(b for b in browser.find_elements("css selector", "#moves button") if b.text == "Extension 10 % less").click()
    grounds = []
    for ground in ("light", "night"):
        if ground == "night":
            browser.execute_script("document.getElementById('ground').click()")
        assert fits_width(browser)
        assert browser.execute_script(CLIPPED) == []
        assert small_type(browser) == [] and small_targets(browser) == []
        grounds.append(browser.execute_script("return getComputedStyle(document.body).backgroundColor"))
    assert grounds[1] == "rgb(0, 0, 0)" != grounds[0]


def test_the_dark_of_the_reader_and_the_nights_red(opened, pages):
    browser = opened(pages["board"], dark=True)
    colour = "return getComputedStyle(document.body).{}.match(/[0-9]+/g).map(Number)"
    assert max(browser.execute_script(colour.format("backgroundColor"))) < 60
    button = browser.find_element("id", "ground")
    button.click()
    assert button.get_attribute("aria-pressed") == "true"
    red, green, blue = browser.execute_script(colour.format("color"))[:3]
    assert red > 2 * max(green, blue) and browser.execute_script(colour.format("backgroundColor"))[:3] == [0, 0, 0]
    button.click()
    assert button.get_attribute("aria-pressed") == "false"


def test_it_prints_on_one_page(opened, pages):
    assert printed_pages(opened(pages["board"], anew=False)) == 1


def test_every_control_has_a_name(opened, pages):
    browser = opened(pages["board"], anew=False)
    nameless = browser.execute_script(
        "return [...document.querySelectorAll('input, select, button')].filter((e) => "
        "!(e.labels && e.labels.length) && !e.getAttribute('aria-label') && !e.textContent.trim()).length"
    )
    assert nameless == 0


def test_the_page_is_small(pages):
    assert pages["board"].stat().st_size <= 6_000_000
