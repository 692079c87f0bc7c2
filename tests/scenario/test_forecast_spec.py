"""How far off a forecast is by how long ahead it was made."""

import pytest

from seaload.basis.errors import InputError
from seaload.basis.units import DAY, DEGREE
from seaload.scenario.forecast_spec import FORECAST, ForecastSpec, forecast_words
from seaload.scenario.read_toml import checked
from seaload.scenario.study_spec import StudySpec


def at(days, **keys):
    return {entry.name: entry for entry in ForecastSpec(**keys).inputs(days * DAY)}


@pytest.mark.parametrize("days, hs, tp, heading", [
    (0.0, 0.12, 0.15, 15.0), (1.0, 0.15, 0.1625, 18.75), (4.0, 0.24, 0.20, 30.0),
])  # fmt: skip
def test_the_model_from_memory(days, hs, tp, heading):
    """0.12 + 0.03 a day of the height; period 0.15 to 0.20 and direction 15 to 30 degrees over four days."""
    found = at(days)
    assert tuple(found) == FORECAST
    assert found["forecast_hs"].spread == pytest.approx(hs) and found["forecast_tp"].spread == pytest.approx(tp)
    assert found["forecast_heading"].spread == pytest.approx(heading * DEGREE)
    assert [entry.kind for entry in found.values()] == ["factor", "factor", "shift"]
    assert all("from memory" in entry.reason for entry in found.values())


def test_what_is_written_goes_before_the_model():
    found = at(2.0, hs_percent=20.0, tp_percent_per_day=0.0, heading_deg_per_day=1.0)
    spreads = [entry.spread for entry in found.values()]
    assert spreads == pytest.approx([0.26, 0.15, 17.0 * DEGREE])


def test_the_words_of_a_note():
    assert forecast_words(at(1.0).values()) == "Hs 15 %, Tp 16 %, heading 19 degrees"
    assert forecast_words([at(1.0)["forecast_tp"]]) == "Tp 16 %"


@pytest.mark.parametrize("tables, words", [
    ({"forecast": {"hs_percent": 90.0}}, ["forecast.hs_percent = 90", "0 to 40"]),
    ({"forecast": {"hs_tp_correlation": 1.0}}, ["hs_tp_correlation", "-0.95 to 0.95"]),
    ({"forecast": {"hs_percents": 9.0}}, ["hs_percent"]),
    ({"uncertain": {"forecast_hs": {"spread_deg": 5.0}}}, ["uncertain.forecast_hs.spread_deg", "write spread_percent"]),
    ({"uncertain": {"rake_zero": {"spread_percent": 5.0}}}, ["uncertain.rake_zero.spread_percent", "write spread_deg"]),
])  # fmt: skip
def test_what_cannot_be_is_refused_in_one_line(tables, words, tmp_path):
    sea = {"name": "x", "spectrum": "jonswap", "hs_m": 3.0, "tp_s": 9.0, "waves_from_bow_deg": 45.0}
    study = {"name": "s", "boat": "b.toml", "sea": [sea], "settings": {}, **tables}
    with pytest.raises(InputError) as caught:
        checked(StudySpec, study, tmp_path / "s.toml")
    assert "\n" not in str(caught.value) and all(word in str(caught.value) for word in words), str(caught.value)
