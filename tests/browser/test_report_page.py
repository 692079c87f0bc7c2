"""Reports in a real browser, offline: loaded in silence, the replay moves, nothing overflows, names are harmless."""

import pytest

from tests.browser.page_checks import fits_width, printed_pages, small_targets, small_type, visible_text

PAGES = ["run_report.html", "sweep_report.html"]
HOSTILE = (
    "<script>document.title='taken'</script><img src=x onerror=\"document.title='taken'\">\"'\u202e" + "A" * 10_000
)


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900), (820, 1180)])
@pytest.mark.parametrize("name", PAGES)
def test_it_loads_offline_and_fits(opened, pages, name, width, height):
    browser = opened(pages[name], width=width, height=height, dark=width == 820, anew=width == 390)
    assert fits_width(browser)
    assert visible_text(browser, "#answer-head") == "The answer"
    requests = browser.execute_script("return performance.getEntriesByType('resource').length")
    assert requests == 0
    assert small_type(browser) == [] and small_targets(browser) == []


@pytest.mark.parametrize("name", PAGES)
def test_headings_and_pictures_can_be_read_aloud(opened, pages, name):
    browser = opened(pages[name], anew=False)
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


def part(chart, name):
    return f"[...seacharts.views['{chart}'].references()].find((m) => m.name === '{name}')"


def chart_is_there(browser, chart):
    from selenium.webdriver.support.ui import WebDriverWait

    ready = f"return document.getElementById('chart-{chart}').dataset.ready === 'yes'"
    WebDriverWait(browser, 10).until(lambda b: b.execute_script(ready))


@pytest.mark.parametrize(("page", "chart", "name"), [
    ("run_report.html", "trace", "trace-range"), ("sweep_report.html", "speed", "speed-range"),
])  # fmt: skip
def test_the_pages_own_buttons_bring_a_chart_nearer_and_back(opened, pages, page, chart, name):
    browser = opened(pages[page])
    chart_is_there(browser, chart)
    span = f"const r = {part(chart, name)}; return r.end - r.start"
    press = lambda how: browser.execute_script(  # noqa: E731
        f"document.querySelector('[data-chart={chart}][data-zoom={how}]').click()"
    )
    whole = browser.execute_script(span)
    press("nearer")
    assert browser.execute_script(span) == pytest.approx(0.5 * whole)
    press("farther")
    press("farther")
    assert browser.execute_script(span) == pytest.approx(whole)
    press("nearer")
    press("all")
    assert browser.execute_script(span) == pytest.approx(whole)


def test_the_trace_follows_the_replay_and_leads_it(opened, pages):
    from selenium.webdriver.common.keys import Keys

    browser = opened(pages["run_report.html"])
    chart_is_there(browser, "trace")
    cursor = f"return {part('trace', 'cursor-load')}.location"
    time = "return seareplay.data.time_s[seareplay.frame()]"
    assert browser.execute_script(cursor) == browser.execute_script(time)
    browser.find_element("id", "replay-time").send_keys(Keys.ARROW_LEFT * 4)
    assert browser.execute_script(cursor) == browser.execute_script(time)
    assert browser.execute_script(f"return {part('trace', 'trace-data')}.data.p0.length") > 100
    browser.execute_script("seareplay.go(3)")  # what a press on the trace does
    assert browser.execute_script("return seareplay.frame()") == 3
    assert browser.execute_script(cursor) == browser.execute_script("return seareplay.data.time_s[3]")
    assert "0." in visible_text(browser, "#replay-words")
    assert len(browser.find_element("id", "chart-trace").get_attribute("aria-label")) > 40


def test_an_event_in_the_list_opens_the_replay_at_its_moment_and_a_number_its_origin(opened, pages):
    browser = opened(pages["run_report.html"])
    buttons = browser.find_elements("css selector", "[data-replay]")
    for button in buttons:
        browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
        button.click()
        assert browser.execute_script("return seareplay.frame()") == int(button.get_attribute("data-replay"))
    summary = browser.find_element("css selector", ".tile summary")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", summary)
    summary.click()
    assert "seed 1." in browser.find_element("css selector", ".tile details").text


def test_the_charts_of_a_sweep_show_the_sea_that_is_chosen(opened, pages):
    from selenium.webdriver.support.ui import Select

    browser = opened(pages["sweep_report.html"])
    for chart in ("speed", "map"):
        chart_is_there(browser, chart)
    counts = "return ['within', 'undecided', 'outside', 'not_shown'].map((c) => [..." + (
        "seacharts.views.speed.references()].find((m) => m.name === 'speed-' + c).data.odds.length)"
    )
    first = browser.execute_script(counts)
    assert sum(first) == 18  # every setting of the sea is one point
    cells = f"return {part('map', 'map-cells')}.data.written"
    before = browser.execute_script(cells)
    assert len(before) == 9 and any("1 in" in words for words in before)
    Select(browser.find_element("id", "speed-choice")).select_by_index(1)
    assert browser.execute_script(counts) != first and browser.execute_script(cells) != before
    Select(browser.find_element("id", "map-choice")).select_by_index(2)
    assert not any("1 in" in words for words in browser.execute_script(cells))
    says = browser.execute_script(f"return {part('speed', 'speed-undecided')}.data.says")
    assert all("can't tell yet" in words and "% out" in words for words in says)
    assert not browser.execute_script("return [...document.querySelectorAll('.paper')].some((e) => e.offsetHeight > 0)")


def test_print_has_the_vector_figures_in_place_of_the_charts(opened, pages):
    browser = opened(pages["sweep_report.html"])
    chart_is_there(browser, "speed")
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    assert browser.execute_script("return [...document.querySelectorAll('.paper')].every((e) => e.offsetHeight > 0)")
    assert browser.execute_script("return document.getElementById('chart-speed').offsetHeight") == 0
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})


@pytest.mark.parametrize("name", PAGES)
def test_the_plotting_library_is_there_once_and_the_page_says_its_size(opened, pages, name):
    page = pages[name].read_text(encoding="utf-8")
    assert page.count('id="plotting-library"') == 1
    assert f"{len(page.encode()) / 1e6:.1f} MB" in visible_text(opened(pages[name], anew=False), "footer")


def test_the_replay_draws_the_load_on_the_foil(opened, pages):
    browser = opened(pages["run_report.html"], anew=False)
    reverse = "return document.querySelector('#replay-picture path[fill=\"var(--reverse)\"]').getAttribute('d').length"
    assert browser.execute_script(reverse) > 50  # at the deepest moment strips pull the wrong way round
    foil = browser.execute_script("return document.querySelectorAll('#replay-picture polyline')[1].points.length")
    assert foil == 25


@pytest.mark.parametrize("name", PAGES)
def test_it_prints_on_a_few_pages(opened, pages, name):
    assert 2 <= printed_pages(opened(pages[name], anew=False)) <= 30


def test_hostile_names_do_nothing(opened, pages, tmp_path):
    from seaload.report.board.page import board_page
    from seaload.report.read_answer import read_answer
    from seaload.report.shared.result_reading import open_result
    from seaload.report.sweep.page import sweep_page

    dataset = open_result(pages["board_result"]).isel(sea=[0])
    attrs = dict.fromkeys(("study", "boat", "foil", "notes", "command", "defaults_used"), HOSTILE)
    hostile = dataset.assign_attrs(**attrs).assign_coords(sea_name=("sea", [HOSTILE]))
    for number, page in enumerate((sweep_page, board_page)):
        path = tmp_path / f"{number}.html"
        path.write_text(page(hostile, read_answer(hostile)), encoding="utf-8")
        browser = opened(path, width=390, height=844)
        assert browser.title != "taken"
        assert browser.execute_script("return document.images.length") == 0
        assert fits_width(browser)
        assert "<script>document.title" in browser.find_element("tag name", "h1").text + visible_text(browser, "header")
