"""Scatter tables: shares sum to one, the header says which period, everything else is refused in one line."""

import pytest

from seaload.basis.errors import InputError
from seaload.files.scatter_table import read_scatter
from tests.small_study import STUDIES

PUBLISHED = STUDIES.parent / "data" / "44007-scatter.csv"
TABLE = "# made\nhs_lower_m,tz_4,tz_6\n0,0.5,0.25\n1,0.125,0.125\n"


def written(folder, text):
    path = folder / "table.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_published_table_has_its_hours_and_its_mean_height():
    """82,805 hours; the hourly values have a mean height of 0.944 m, which bins of half a metre keep to 0.03."""
    scatter = read_scatter(PUBLISHED)
    assert scatter.period == "tz" and scatter.hours == 82805
    assert sum(share for *_, share in scatter.cells) == pytest.approx(1.0, abs=1e-12)
    assert sum(hs * share for hs, _, share in scatter.cells) == pytest.approx(0.944, abs=0.03)
    assert max(hs for hs, *_ in scatter.cells) == 7.25


def test_shares_as_they_are_and_hours_made_shares(tmp_path):
    shares = read_scatter(written(tmp_path, TABLE))
    assert shares.cells == ((0.5, 5.0, 0.5), (0.5, 7.0, 0.25), (1.5, 5.0, 0.125), (1.5, 7.0, 0.125))
    hours = read_scatter(written(tmp_path, "hs_lower_m;tp_5\n2;30\n3;10\n"))
    assert hours.period == "tp" and hours.cells == ((2.5, 5.5, 0.75), (3.5, 5.5, 0.25))


@pytest.mark.parametrize("text, field, allowed", [
    (TABLE.replace("0.5,", "0.4,"), "sum", "shares that sum to 1"),
    (TABLE.replace("hs_lower_m", "height"), "first column", "hs_lower_m"),
    (TABLE.replace("tz_6", "te_6"), "first row", "tz_N or tp_N"),
    (TABLE.replace("tz_6", "tp_6"), "first row", "one kind of period"),
    (TABLE.replace("tz_6", "tz_3"), "first row", "rise"),
    (TABLE.replace("1,0.125,0.125", "0,0.125,0.125"), "hs_lower_m", "rise"),
    (TABLE.replace("1,0.125,0.125", "1,0.125"), "row 1", "3 columns"),
    (TABLE.replace("0.25", "-0.25"), "row 0", "at least 0"),
    (TABLE.replace("0.25", "nan"), "row 0", "at least 0"),
    ("hs_lower_m,tz_4\n", "size", "a row of periods and one of heights"),
    ("hs_lower_m,tz_4\n0,0\n1,0\n", "sum", "some time"),
    ("", "first column", "hs_lower_m"),
])  # fmt: skip
def test_what_is_no_such_table_is_refused_in_a_line(tmp_path, text, field, allowed):
    with pytest.raises(InputError) as error:
        read_scatter(written(tmp_path, text))
    assert error.value.field == field and allowed in error.value.allowed
    assert "\n" not in str(error.value)
