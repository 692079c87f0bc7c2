"""The page of a sizing answers in a designer's words; text of files is escaped, nothing is fetched, it repeats."""

import re

import numpy as np
import pytest

from seaload.report.size import reading as read
from seaload.report.size import words
from seaload.report.size.table import answer_tree, size_table
from seaload.report.write_pages import report_result


@pytest.fixture(scope="module")
def page(small_sizing):
    (path,) = report_result(small_sizing.result_path)
    return path.read_text(encoding="utf-8")


def visible(text):
    """Text of a page without scripts, styles and tags."""
    text = re.sub(r"<(script|style)\b.*?</\1>", " ", text, flags=re.S)
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def test_the_answer_names_place_situation_verdict_and_margin_each_way(small_sizing, page):
    data = small_sizing.dataset
    for k, side in enumerate(read.SIDES):
        sentence = words.side_sentence(data, k)
        assert sentence in page.replace("&#39;", "'")
        found = read.weakest(data, k)
        assert side in sentence and "margin of" in sentence and f"{found.material:.1f} m from the root" in sentence
        assert f"{100 * found.margin[0]:+.0f} %" in sentence or f"{100 * found.margin[0]:+.1f} %" in sentence
        # the weakest place is the one short of most
        margin, places = data["limit_margin"].values[k], read.loaded(data, k)
        assert found.margin[0] == min(margin[p] for p in places)


def test_changes_are_in_the_answer_with_their_intervals(small_sizing, page):
    sentence = words.change_sentence(small_sizing.dataset, 0)
    assert sentence.startswith("3 degrees more dihedral: reverse loads ") and "normal loads " in sentence
    assert re.search(r"normal loads [+-][\d.,]+ % \([+-][\d.,]+ to [+-][\d.,]+\)", sentence)
    assert sentence in page


@pytest.mark.parametrize("margin, said", [
    ((0.2, 0.1, 0.3), "is enough, also"), ((-0.2, -0.3, -0.1), "is not enough"),
    ((0.05, -0.1, 0.2), "just enough"), ((-0.05, -0.2, 0.1), "is short"),
])  # fmt: skip
def test_whether_a_limit_is_enough_follows_the_interval(margin, said):
    assert said in words.verdict(margin)


def test_text_of_files_is_escaped_and_nothing_is_fetched(page):
    assert "<b>made up</b>" not in page and "&lt;b&gt;made up&lt;/b&gt;" in page
    assert not re.search(r"(?:src|href)=[\"']https?:", page)


def test_no_page_calls_a_limit_safe_and_no_number_is_missing(small_sizing, page):
    for text in (visible(page), size_table(small_sizing.dataset)):
        assert not re.search(r"\bsafe\b|\bnan\b|\binf\b|-0 %|-0\.0 ", text)


def test_the_cautions_stand_once(page):
    assert visible(page).count("A model with stated error bars, not a warrant.") == 1


def test_every_figure_is_described_and_every_heading_is_there(page):
    heads = ("The answer", "Limits", "What changes do", "Usage", "Loads", "Spectra and test", "The tails", "Method")
    for head in heads:
        assert f">{head}</h2>" in page
    figures = re.findall(r"<svg[^>]*>", page)
    assert len(figures) >= 7 and all("aria-label=" in figure for figure in figures)


def test_page_repeats_bit_for_bit(small_sizing, page):
    (again,) = report_result(small_sizing.result_path)
    assert again.read_text(encoding="utf-8") == page


def test_the_table_fits_a_terminal_and_tells_every_place(small_sizing):
    text = size_table(small_sizing.dataset)
    assert max(map(len, text.splitlines())) <= 100
    for s in small_sizing.dataset["sized_material"].values:
        assert re.search(rf"(?m)^{s:.1f} ", text)


def test_the_tree_is_the_sentence_s(small_sizing):
    tree = answer_tree(small_sizing.dataset)
    assert [one["side"] for one in tree["sides"]] == ["reverse", "normal"]
    for k, one in enumerate(tree["sides"]):
        assert one["weakest"]["margin"] == read.weakest(small_sizing.dataset, k).margin
    assert tree["changes"][0]["name"] == "3 degrees more dihedral"


def test_percent_is_never_minus_nothing():
    assert words.percent(-0.0001) == "+0 %"
    assert words.percents((np.nan, 0.0, 1.0)) == "unknown"
