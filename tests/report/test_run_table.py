"""The table of a run: what must be on it, what must not, and that hostile text stays one harmless line."""

import numpy as np
import pytest

from seaload.basis.cautions import CAUTIONS
from seaload.basis.records import STATUS_NOT_FINITE
from seaload.report.read_answer import read_answer
from seaload.report.run.table import run_table
from seaload.report.shared.text_table import COLUMNS
from tests.report.invented_result import invented_run, invented_study


def table_of(result):
    """The table of a result, its answer read anew."""
    return run_table(result, read_answer(result))


@pytest.fixture(scope="module")
def text(run_result):
    return table_of(run_result)


def test_it_fits_a_hundred_columns_of_plain_characters(text):
    assert max(len(row) for row in text.splitlines()) <= COLUMNS
    assert text.isascii()


@pytest.mark.parametrize(
    "words",
    [
        "Reverse load past the limit in 3 hours:",
        "Load past the normal limit in 3 hours:",
        "80 % out, rake 2 deg, heel 18 deg, keel canted 30 deg",
        "Hs 4.5 m",
        "45 deg from the bow (on the bow, from",
        "station 1 is inside the hull",
        "working limits: what to sail by, not where the foil breaks",
        "90 % interval",
        " t mean, at most",
        "20.0 kn mean",
        "of the boat's weight",
        "hold-down line",
        "28 % of its breaking load",  # 50 kN of 18 tonne-force
        "2.9 kN more thrust (2.9 to 2.9), 41 % of calm",  # 10.1 kN given, 7.2 asked in calm
        "foredeck under 0.05 %",  # 0.6 s of 20 minutes
        "Simulated: 3 hours in 9 realisations. All ran to their end",
        "Gust of 30 %: does not jump clear",
        "direction and spreading (s = 10) assumed",
        "seaload run bow-quarter-swell.toml --seed 1",
    ],
)
def test_it_says(text, words):
    assert words in " ".join(text.split()) or words in text


def test_every_place_outside_has_a_row_and_the_inside_one_has_no_share(text):
    rows = [row for row in text.splitlines() if row.startswith(("bearing ", "station "))]
    assert [row.split("  ")[0].strip() for row in rows[:5]] == ["bearing"] + [f"station {n}" for n in (2, 3, 4, 5)]
    assert "station 1 " not in text.replace("station 1 is inside", "")


def test_shares_are_those_of_the_result(run_result, text):
    bearing = next(row for row in text.splitlines() if row.startswith("bearing"))
    for name in ("mean", "max", "min"):
        ratio = float(run_result[f"load_ratio_{name}"].values[0, 0, 0])
        assert f"{abs(100 * ratio):.0f} {'down' if ratio < 0 else 'up'}" in bearing


def test_a_lull_is_told_as_a_lull(run_result, text):
    assert "Gust of 30 %: does not jump clear." in text
    lull = run_result.assign(gust_strength=((), -0.4))
    assert "Lull of 40 %: hull and foil stay in the water." in table_of(lull)
    clear = lull.assign(gust_leaps=lull["gust_leaps"] * 0 + 1)
    assert "Lull of 40 %: SHE COMES CLEAR" in table_of(clear)
    older = run_result.drop_vars("gust_strength")
    assert "Gust: does not jump clear." in table_of(older)


def test_gusts_stand_with_the_wind(run_result):
    gusty = run_result.assign(gustiness=(("sea",), np.full(run_result.sizes["sea"], 0.1)))
    assert "gusts and lulls of 10 %" in " ".join(table_of(gusty).split())
    assert "lulls" not in table_of(run_result.assign(gustiness=(("sea",), np.zeros(run_result.sizes["sea"]))))


def test_no_word_promises_safety(text):
    assert "safe" not in text.lower()


def test_cautions_are_left_to_the_command_which_prints_them_once(text):
    assert not any(caution in text for caution in CAUTIONS)


def test_a_case_that_ended_early_makes_every_rate_at_least():
    study = invented_study()
    text = " ".join(table_of(invented_run(study, status=STATUS_NOT_FINITE, series=False)).split())
    assert "NOT SHOWN TO BE WITHIN THE LIMITS: 9 ended early: the motion ran away" in text
    assert "or more" in text


def test_limits_without_a_basis_say_so(run_result):
    nameless = run_result.assign_attrs(limit_basis="not said")
    assert "does not say what its limits mean" in " ".join(table_of(nameless).split())


def test_it_still_fits_when_every_number_is_long(run_result):
    long = run_result.copy()
    rates = {"reverse_excursion_rate": 0.0456, "reverse_excursion_rate_half": 0.0456, "damage_rate": 4.56e-7}
    for name, rate in rates.items():
        for end, factor in (("", 1.0), ("_low", 0.123), ("_high", 9.87)):
            long[name + end] = long[name + end] * 0.0 + rate * factor
    long["load_ratio_min"] = long["load_ratio_min"] * 0.0 - 1.234
    assert max(len(row) for row in table_of(long).splitlines()) <= COLUMNS


def test_seen_events_give_a_rate_with_its_interval():
    text = table_of(invented_run(severity=1.6, reverse_events=2, series=False))
    row = next(row for row in text.splitlines() if row.startswith("any place"))
    assert "6 (" in row
    assert "almost certain" in text


HOSTILE = "<script>alert(1)</script>'\"\x1b[31m\u202egnp.exe\n" + "A" * 10_000


def test_hostile_names_stay_one_harmless_line(run_result):
    bad = run_result.assign_attrs(study=HOSTILE, boat=HOSTILE, notes=HOSTILE, command=HOSTILE)
    bad = bad.assign_coords(sea_name=("sea", np.array([HOSTILE], dtype=object)))
    text = table_of(bad)
    assert max(len(row) for row in text.splitlines()) <= COLUMNS
    assert "\x1b" not in text and "\u202e" not in text
    assert len(text) < 10_000


def test_a_setting_without_a_balance_is_told_with_its_reason(run_result):
    pair = ("setting", "sea")
    why = (pair, np.array([["no leeway meets the side force"]], dtype=object))
    told = table_of(run_result.assign(reachable=(pair, np.array([[0]], dtype=np.int8)), unreachable_reason=why))
    assert "cannot be held at this speed: no leeway meets the side force." in " ".join(told.split())
