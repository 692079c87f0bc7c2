"""Reports in a real browser, offline: loaded in silence, the replay moves, nothing overflows, names are harmless."""

import pytest
from page_checks import fits_width, printed_pages, visible_text

PAGES = ["run_report.html", "sweep_report.html"]
HOSTILE = (
    "<script>document.title='taken'</script><img src=x onerror=\"document.title='taken'\">\"'\u202e" + "A" * 10_000
)


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize(("width", "height"), [(1280, 900), (820, 1180), (390, 844)])
def test_it_loads_offline_and_fits(opened, pages, name, width, height):
    browser = opened(pages[name], width=width, height=height, dark=width == 820)
    assert fits_width(browser)
    assert visible_text(browser, "#answer-head") == "The answer"
    requests = browser.execute_script("return performance.getEntriesByType('resource').length")
    assert requests == 0


@pytest.mark.parametrize("name", PAGES)
def test_headings_and_pictures_can_be_read_aloud(opened, pages, name):
    browser = opened(pages[name])
    levels = browser.execute_script("return [...document.querySelectorAll('h1,h2,h3')].map((e) => +e.tagName[1])")
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in zip(levels, levels[1:], strict=False))
    assert browser.execute_script(
        "return [...document.querySelectorAll('svg[role=img]')].every((e) => e.getAttribute('aria-label').length > 20)"
    )
    assert browser.execute_script(
        "const ids = [...document.querySelectorAll('[id]')].map((e) => e.id); return ids.length === new Set(ids).size"
    )


def frame(browser):
    return int(browser.find_element("id", "replay-time").get_attribute("value"))


def test_the_replay_opens_on_the_deepest_moment_and_moves(opened, pages):
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.support.ui import WebDriverWait

    browser = opened(pages["run_report.html"])
    deepest = frame(browser)
    words = visible_text(browser, "#replay-words")
    assert "% of its reverse limit" in words
    browser.find_element("id", "replay-time").send_keys(Keys.ARROW_LEFT * 3)
    assert frame(browser) == deepest - 3
    assert visible_text(browser, "#replay-words") != words
    browser.find_element("id", "replay-play").click()
    WebDriverWait(browser, 10).until(lambda b: frame(b) > deepest)
    browser.find_element("id", "replay-play").click()
    browser.find_element("id", "replay-worst").click()
    assert frame(browser) == deepest


def test_the_replay_draws_the_load_on_the_foil(opened, pages):
    browser = opened(pages["run_report.html"])
    reverse = "return document.querySelector('#replay-picture path[fill=\"var(--reverse)\"]').getAttribute('d').length"
    assert browser.execute_script(reverse) > 50  # at the deepest moment strips pull the wrong way round
    foil = browser.execute_script("return document.querySelectorAll('#replay-picture polyline')[1].points.length")
    assert foil == 25


@pytest.mark.parametrize("name", PAGES)
def test_it_prints_on_a_few_pages(opened, pages, name):
    assert 2 <= printed_pages(opened(pages[name])) <= 30


def test_hostile_names_do_nothing(opened, pages, tmp_path):
    from seaload.files.result_file import write_result
    from seaload.report.result_reading import open_result
    from seaload.report.write_pages import report_result

    dataset = open_result(pages["board_result"]).isel(sea=[0])
    attrs = dict.fromkeys(("study", "boat", "foil", "notes", "command", "defaults_used"), HOSTILE)
    hostile = dataset.assign_attrs(**attrs).assign_coords(sea_name=("sea", [HOSTILE]))
    for path in report_result(write_result(hostile, tmp_path)):
        if path.suffix != ".html":
            continue
        browser = opened(path, width=390, height=844)
        assert browser.title != "taken"
        assert browser.execute_script("return document.images.length") == 0
        assert fits_width(browser)
        assert "<script>document.title" in browser.find_element("tag name", "h1").text + visible_text(browser, "header")
