"""The risk board in a real browser, offline: readings equal Python's, greyed where there are none, prints on a page."""

import json
import math
import random

import pytest

from seaload.report.board.data import board_data, interpolate, odds_of
from seaload.report.read_answer import read_answer
from seaload.report.shared import wording
from seaload.report.shared.result_reading import open_result
from tests.browser.page_checks import fits_width, printed_pages, visible_text

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


def sentence(browser):
    return browser.find_element("id", "sentence").text


def test_the_board_answers_at_once(opened, pages, board):
    browser = opened(pages["board"], anew=False)
    assert sentence(browser).startswith("Keep 80 % out, rake 2°") and "for the next hour?" in sentence(browser)
    assert "Reverse load past the limit in the next hour" in sentence(browser)
    place = browser.execute_script("return seaboard.place")
    reading = interpolate(board, place)
    assert wording.one_in(odds_of(reading["reverse_rate"], 1.0)) in sentence(browser)
    rows = [row.text for row in browser.find_elements("css selector", "#odds tbody tr")]
    assert "the next hour" in rows[0] and "the watch, 3 h" in rows[1] and "12 h" in rows[2]
    assumed = browser.find_element("id", "assumed").text
    for words in ("Hs 3.5 m", "period 9.5 s", "from the bow", "true wind 24 kn", "18 kn"):
        assert words in assumed or words == "18 kn"
    moves = [row.text for row in browser.find_elements("css selector", "#moves tbody tr")]
    assert moves[0].startswith("Ease sheets: 2 kn less") and any("Extension 10 % less" in row for row in moves)
    assert any("Extension 10 % more" in row for row in moves)  # both ways: less foil is not better as such


def slider(browser, axis):
    return browser.find_element("css selector", f"#axis-{axis}").find_element("xpath", "../..//input[@type='range']")


def test_sliders_and_keys_change_the_numbers(opened, pages):
    from selenium.webdriver.common.keys import Keys

    browser = opened(pages["board"])
    before = visible_text(browser, "#odds")
    slider(browser, "hs_m").send_keys(Keys.ARROW_RIGHT * 5)
    assert browser.execute_script("return seaboard.place.hs_m") == pytest.approx(4.0)
    assert visible_text(browser, "#odds") != before
    typed = browser.find_element("id", "axis-hs_m")
    assert float(typed.get_attribute("value")) == pytest.approx(4.0)


def test_typing_changes_the_numbers_and_moves_the_slider(opened, pages):
    browser = opened(pages["board"])
    before = visible_text(browser, "#odds")
    typed = browser.find_element("id", "axis-extension_percent")
    typed.clear()
    typed.send_keys("90")
    assert "90 % out" in sentence(browser)
    assert visible_text(browser, "#odds") != before
    assert float(slider(browser, "extension_percent").get_attribute("value")) == 90.0
    hours = browser.find_element("id", "hours")
    hours.clear()
    hours.send_keys("24")
    assert "24 h" in visible_text(browser, "#odds")


@pytest.mark.parametrize("text", ["9", "99", "-3", ""])
def test_outside_the_data_it_is_greyed_and_says_why(opened, pages, text):
    browser = opened(pages["board"])
    typed = browser.find_element("id", "axis-hs_m")
    typed.clear()
    typed.send_keys(text or "4")
    if not text:
        typed.send_keys("\b")
    assert "off" in browser.find_element("id", "answers").get_attribute("class").split()
    assert "No data: Wave height Hs" in sentence(browser) and "2.5 m to 4.5 m" in sentence(browser)
    assert visible_text(browser, "#odds tbody") == ""
    assert browser.find_element("id", "speed").text == "no data"


def test_next_to_a_case_that_left_the_validity_nothing_is_read(opened, pages, board):
    browser = opened(pages["board"])
    cells = [i for i, value in enumerate(board["fields"]["reverse_rate"]) if value is None]
    place, rest = {}, cells[0]
    for axis in reversed(board["axes"]):
        rest, step = divmod(rest, len(axis["values"]))
        place[axis["name"]] = axis["values"][step]
    assert interpolate(board, place) == {"outside": "gap"}
    browser.execute_script("Object.assign(seaboard.place, arguments[0]); seaboard.show()", place)
    assert sentence(browser).startswith("No reading here")


ANSWERS = ("Yes: ", "Can't tell yet: ", "Probably not: ", "No: ")


def test_a_newcomer_reads_whether_to_keep_80_percent_and_what_one_step_less_buys(opened, pages, board):
    """Set 80 %, read the first sentence; press one step less; read the new odds; back by the same way."""
    browser = opened(pages["board"])
    typed = browser.find_element("id", "axis-extension_percent")
    typed.clear()
    typed.send_keys("80")
    place = browser.execute_script("return seaboard.place")
    kept, first = interpolate(board, place), browser.find_element("id", "said").text
    assert browser.find_element("id", "question").text.startswith("Keep 80 % out")
    assert browser.find_element("id", "verdict").text.startswith(ANSWERS)
    assert wording.one_in(odds_of(kept["reverse_rate"], 1.0)) in first
    row = next(r for r in browser.find_elements("css selector", "#moves tbody tr") if "Extension 10 % less" in r.text)
    eased = interpolate(board, {**place, "extension_percent": 70.0})
    promised = wording.one_in(odds_of(eased["reverse_rate"], 1.0))
    assert promised in row.text and "5 minutes" in row.text
    assert f"worst {round(eased['reverse_worst'])} % of limit" in row.text
    browser.find_element("id", "step-extension_percent-less").click()
    assert browser.find_element("id", "question").text.startswith("Keep 70 % out")
    assert promised in browser.find_element("id", "said").text
    browser.find_element("id", "step-extension_percent-more").click()
    assert browser.find_element("id", "said").text == first
    move = next(b for b in browser.find_elements("css selector", "#moves button") if b.text == "Extension 10 % less")
    move.click()
    assert promised in browser.find_element("id", "said").text


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
            0 if high <= limit_of(v) else 3 if low > limit_of(v) else 1 if best <= limit_of(v) else 2
            for v, (best, low, high) in zip(levels, rates, strict=True)
        )
        browser.execute_script("Object.assign(seaboard.place, arguments[0]); seaboard.show()", place)
        assert browser.find_element("id", "verdict").text.startswith(ANSWERS[worst])
        words.add(worst)
    assert len(words) >= 2


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
        reading = interpolate(board, {**place, "rake_deg": rake})
        assert odds == pytest.approx(max(odds_of(reading["reverse_rate"], 1.0), 1e-4), rel=1e-6)
        assert high == pytest.approx(max(odds_of(reading["reverse_rate_high"], 1.0), 1e-4), rel=1e-6)
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
    typed = browser.find_element("id", "axis-speed_knots")
    typed.clear()
    typed.send_keys("18.5")
    moves = [row.text for row in browser.find_elements("css selector", "#moves tbody tr")]
    assert "no data: not simulated at 16.5 kn" in moves[0]


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900), (820, 1180)])
def test_it_fits_desktop_tablet_and_phone(opened, pages, width, height, dark):
    browser = opened(pages["board"], width=width, height=height, dark=dark, anew=width == 390)
    assert fits_width(browser)
    ground = browser.execute_script("return getComputedStyle(document.body).backgroundColor")
    red = int(ground.split("(")[1].split(",")[0])
    assert (red < 60) == dark


def test_the_night_button_turns_the_ground(opened, pages):
    browser = opened(pages["board"])
    button = browser.find_element("id", "ground")
    button.click()
    assert browser.execute_script("return document.documentElement.dataset.ground") == "dark"
    assert button.get_attribute("aria-pressed") == "true"


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
