"""What all pages share: colours that can be read, text that cannot become markup, nothing from outside."""

import json
import re
from importlib.resources import files

import pytest

from seaload.report.board.page import board_page
from seaload.report.read_answer import read_answer
from seaload.report.run.page import run_page
from seaload.report.shared.page_layout import (
    asset,
    colour_rules,
    dark_colours,
    embedded_json,
    light_colours,
    night_colours,
)
from seaload.report.sweep.page import sweep_page

REPORT = files("seaload.report")
SCRIPTS = sorted(f"{room.name}/{file.name}" for room in REPORT.iterdir() if room.is_dir() for file in room.iterdir()
                 if file.name.endswith(".js"))  # fmt: skip
HOSTILE = "</script><script>document.title='taken'</script><img src=x onerror=alert(1)>\"'\u202e\u2028" + "A" * 10_000


def luminance(colour):
    """Relative luminance, WCAG 2.2 (read: the definition in the standard)."""
    channels = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, two):
    """Contrast ratio, WCAG 2.2."""
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("colours", [light_colours(), dark_colours(), night_colours()], ids=["light", "dark", "night"])
@pytest.mark.parametrize("name", ["--ink", "--muted", "--normal", "--reverse", "--sea"])
def test_text_and_lines_stand_out_from_the_ground(colours, name):
    # WCAG 2.2, 1.4.3: at least 4.5 for text (read)
    assert contrast(colours[name], colours["--paper"]) >= 4.5


@pytest.mark.parametrize("colours", [light_colours(), dark_colours(), night_colours()], ids=["light", "dark", "night"])
def test_lines_of_places_stand_out_too(colours):
    # WCAG 2.2, 1.4.11: at least 3 for drawings; the ramp's palest steps are kept for cells with their own text
    drawn = [colours[f"--ramp-{i}"] for i in range(7)]
    assert all(contrast(colour, colours["--paper"]) >= 3.0 for colour in drawn)


def test_up_and_down_differ_in_lightness_so_that_grey_keeps_them_apart():
    light = light_colours()
    assert contrast(light["--normal"], light["--band-normal"]) > 3.0
    assert contrast(light["--reverse"], light["--band-reverse"]) > 3.0


def test_all_grounds_know_the_same_colours():
    assert set(light_colours()) == set(dark_colours()) == set(night_colours())


def test_by_night_everything_is_red_and_up_and_down_differ_in_lightness():
    night = night_colours()
    for colour in night.values():
        red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
        assert red > 1.5 * max(green, blue) or colour == "#000000"
    assert contrast(night["--normal"], night["--reverse"]) > 1.5


    assert all(name in colour_rules() for name in light_colours())


def test_embedded_data_cannot_end_their_element():
    text = str(embedded_json({"name": HOSTILE}))
    assert "<" not in text and ">" not in text and "&" not in text
    assert json.loads(text)["name"] == HOSTILE


@pytest.fixture(scope="module")
def hostile_pages(run_result, sweep_result):
    run, sweep = run_result, sweep_result.isel(sea=[0])
    attrs = {name: HOSTILE for name in ("study", "boat", "foil", "notes", "command", "defaults_used", "limit_basis")}
    scenario = json.dumps({"study": {"name": HOSTILE}, "boat": {"moves": {"rake": {"minutes": 1}}}})
    pages = {}
    for name, dataset, make in (
        ("run", run, run_page),
        ("sweep", sweep, sweep_page),
        ("board", sweep, board_page),
    ):
        seas = ("sea", [HOSTILE] * dataset.sizes["sea"])
        changed = dataset.assign_attrs(**attrs, scenario=scenario).assign_coords(sea_name=seas)
        pages[name] = make(changed, read_answer(changed))
    return pages


@pytest.mark.parametrize("name", ["run", "sweep", "board"])
def test_hostile_text_is_only_ever_text(hostile_pages, name):
    page = hostile_pages[name]
    assert "<img" not in page and "<script>document" not in page
    assert "\u202e" not in page
    assert page.count("<script") == page.count("</script>")


NAMES = (  # of the drawing languages; and in the notices of the plotting library's authors, which stay in it
    "http://www.w3.org/",
    "http://jquery.org/license",
    "http://www.foretagsplatsen.se",
    "https://tabler.io",
    "https://github.com/tabler/tabler-icons/blob/master/LICENSE",
)


@pytest.mark.parametrize("name", ["run", "sweep", "board"])
def test_pages_ask_for_nothing_outside_themselves(hostile_pages, name):
    page = hostile_pages[name]
    addresses = set(re.findall(r"https?://[^\s\"'<>)`\\]+", page))
    assert all(address.startswith(NAMES) for address in addresses)
    own = re.sub(r'<script id="plotting-library">.*?</script>', "", page, flags=re.S)
    assert not re.search(r"<link|<iframe|@import|src=\"(?!data:)", own)
    assert "default-src 'none'" in page


@pytest.mark.parametrize("name", ["run", "sweep", "board"])
def test_no_page_calls_a_setting_safe(hostile_pages, name):
    words = re.sub(r"<style.*?</style>|<script.*?</script>", "", hostile_pages[name], flags=re.S).lower()
    assert not re.search(r"\bsafe(ly|st|r|ty)?\b", words)


@pytest.mark.parametrize("name", SCRIPTS)
def test_scripts_turn_no_text_into_markup_or_code(name):
    script = asset(name)
    assert not re.search(
        r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|new Function|fetch|XMLHttp", script
    )


def test_scripts_of_every_page_are_looked_at():
    assert {"board/page.js", "run/replay.js", "run/trace.js", "shared/charts.js"} <= set(SCRIPTS)


@pytest.mark.parametrize("name", [name for name in SCRIPTS if name.startswith(("board/", "shared/"))])
def test_scripts_are_written_in_120_columns(name):
    assert max(map(len, asset(name).splitlines())) <= 120
