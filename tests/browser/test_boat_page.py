"""The page of a boat file in a real browser, offline: it fits, its text can be read and its links be pressed."""

import pytest

from tests.browser.page_checks import fits_width, printed_pages, visible_text

LEAST_TEXT, LEAST_TARGET = 10.0, 44.0  # [px]


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900), (820, 1180)])
def test_it_loads_offline_fits_and_can_be_read(opened, demo_check, width, height):
    browser = opened(demo_check.folder / "boat.html", width=width, height=height, dark=width == 820, anew=width == 390)
    assert fits_width(browser)
    assert visible_text(browser, "#answer-head") == "The answer"
    assert browser.execute_script("return performance.getEntriesByType('resource').length") == 0
    sizes = browser.execute_script(
        "return [...document.querySelectorAll('svg.figure text')].map((e) => parseFloat(getComputedStyle(e).fontSize) "
        "* Math.abs(e.getScreenCTM().a || e.getScreenCTM().b))"
    )
    assert len(sizes) > 100 and min(size for size in sizes if size) >= LEAST_TEXT
    targets = "return [...document.querySelectorAll('nav a, summary')].map((e) => e.getBoundingClientRect().height)"
    assert min(browser.execute_script(targets)) >= LEAST_TARGET


def test_no_two_words_of_a_figure_lie_over_each_other(opened, demo_check):
    browser = opened(demo_check.folder / "boat.html", anew=False)
    over = browser.execute_script("""
      const found = [];
      for (const svg of document.querySelectorAll('svg.figure')) {
        const boxes = [...svg.querySelectorAll('text')].map((e) => [e.textContent, e.getBoundingClientRect()]);
        for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
          const [a, b] = [boxes[i][1], boxes[j][1]];
          const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
          const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
          if (wide > 3 && high > 5) found.push([boxes[i][0], boxes[j][0], wide, high]);
        }
      }
      return found;""")
    assert over == []


def test_headings_pictures_and_print(opened, demo_check):
    browser = opened(demo_check.folder / "boat.html", anew=False)
    levels = browser.execute_script("return [...document.querySelectorAll('h1,h2,h3')].map((e) => +e.tagName[1])")
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in zip(levels, levels[1:], strict=False))
    ids = "const ids = [...document.querySelectorAll('[id]')].map((e) => e.id); return ids.length === new Set(ids).size"
    assert browser.execute_script(ids)
    assert 2 <= printed_pages(browser) <= 14
