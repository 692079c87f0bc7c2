"""The page of a log: the answer in two sentences, no claim of life left, text of files escaped, nothing fetched."""

import re

import numpy as np
import pytest

from seaload.report.log import figures, reading
from seaload.report.log.page import before_after, lasted
from seaload.report.log.table import log_table
from seaload.report.log.words import answer_sentences
from seaload.report.write_pages import report_result
from seaload.scenario.log_channels import CHANNEL_KIND
from seaload.studies.log.read_log import log_files
from tests.studies.log.invented_log import judged, loads_of, log_file

LOADS = loads_of(4000)
FILES = [("a.csv", 0.0, LOADS[:2000]), ("<b>.csv", 90000.0, LOADS[2000:])]


@pytest.fixture(scope="module")
def outcome(tmp_path_factory):
    folder = tmp_path_factory.mktemp("page")
    return log_files(log_file(folder), [], out=folder / "results", judged=judged(FILES))


@pytest.fixture(scope="module")
def page(outcome):
    (path,) = report_result(outcome.result_path)
    return path.read_text(encoding="utf-8")


def test_the_answer_is_two_sentences_with_wear_and_both_limits(outcome):
    answer = answer_sentences(outcome.dataset)
    assert len(re.findall(r"\.(?:\s|$)", answer)) == 2
    for words in ("former-port-1", "full-load cycles", "station 1", "of the normal limit", "of the reverse one"):
        assert words in answer


def test_days_and_totals_of_the_table_agree_with_the_result(outcome):
    rows = reading.by_day(outcome.dataset)
    assert len(rows) == 2
    total = float(outcome.dataset["ledger_damage"].sum())
    assert sum(wear.sum() for *_, wear in rows) == pytest.approx(total)
    assert "all days" in log_table(outcome.dataset)


def test_no_page_speaks_of_life_left_or_of_safety(outcome, page):
    for text in (page, log_table(outcome.dataset)):
        assert not re.search(r"life left|left of|\bsafe\b", re.sub(r"<script.*?</script>", "", text, flags=re.S))


def test_text_of_files_is_escaped_and_nothing_is_fetched(page):
    assert "<b>.csv" not in page and "&lt;b&gt;.csv" in page or "b>.csv" not in page
    assert not re.search(r"(?:src|href)=[\"']https?:", page)


def test_page_repeats_bit_for_bit(outcome, page):
    (again,) = report_result(outcome.result_path)
    assert again.read_text(encoding="utf-8") == page


def test_worst_class_of_quality_wins():
    meanings = ["good", "not_evaluated", "suspect", "fail", "missing"]
    counts = np.array([[[100, 0, 0, 0, 0], [99, 0, 1, 0, 0], [95, 0, 0, 5, 0], [80, 0, 0, 0, 20]]])
    assert figures.quality_classes(counts, meanings).tolist() == [[3, 2, 1, 0]]


def test_hours_of_like_settings_stand_in_one_cell():
    rows = [({"extension_percent": 80.0, "rake_deg": 2.0, "sails": s}, 1.5, 0.0) for s in "ab"]
    texts = [t.get_text() for t in figures.hours_figure(rows).axes[0].texts]
    assert texts == ["3.0 h"] and figures.hours_figure([({}, 1.0, 0.0)]) is None


def test_moments_read_as_sailors_write_them():
    assert reading.moment_words(826_689_906.4) == "13 Mar 1996 04:05:06"
    assert reading.moment_words(float("nan")) == "unknown"


def test_a_repair_is_told_in_the_units_people_use():
    spike = {"channel": "strain_2", "kind": "spike", "start": 0.0, "end": 0.0, "samples": 1, "before": 1.258e-3}
    assert before_after({**spike, "after": 3.815e-4}) == ("1,258 microstrain", "382 microstrain")
    assert before_after({**spike, "channel": "pitch_rate", "before": None, "after": np.pi / 60.0}) == (
        "nothing", "3 deg/s",
    )  # fmt: skip
    zero = {**spike, "kind": "zero", "before": 2.4e-5, "after": 2.4e-5, "end": 1320.0}
    assert before_after(zero) == ("zero at 24 microstrain", "taken off") and lasted(zero) == "22 minutes"
    assert set(reading.PEOPLES_UNITS) == {"strain", "load_share", *CHANNEL_KIND}
