"""The model of forecast error by lead time, which is from memory, beside published values, which are scattered.

Sources in data/sea_forecast_error_published.csv: scatter index (standard deviation of forecast less observation over
the mean observation) of height and period, deviation of direction. No table of all three by lead time was found. Open
ocean by day is recalled; closed seas, old hindcasts and all seas together, small ones too, were read and err more: the
model is for a forecast that a crew looks at, of a sea that matters, on an ocean.
"""

import csv
from pathlib import Path

import pytest

from seaload.basis.units import DAY, DEGREE
from seaload.scenario.forecast_spec import ForecastSpec

DATA = Path(__file__).parent / "data" / "sea_forecast_error_published.csv"
MEASURES = {"Hs": ("scatter_index", "forecast_hs", 1.0), "Tp": ("scatter_index", "forecast_tp", 1.0),
            "mean direction": ("std_deg", "forecast_heading", DEGREE)}  # fmt: skip


def rows():
    """[(source, quantity, lead [days], published, ours, recalled)] of what can be compared."""
    with open(DATA, encoding="utf-8") as file:
        table = list(csv.DictReader(line for line in file if not line.startswith("#")))
    found, source = [], ""
    for row in table:
        source = source if row["source"].startswith("same") else row["source"]
        if row["quantity"] in MEASURES and row["measure"] == MEASURES[row["quantity"]][0]:
            _, name, unit = MEASURES[row["quantity"]]
            ours = {e.name: e.spread for e in ForecastSpec().inputs(float(row["lead_days"]) * DAY)}[name] / unit
            recalled = row["status"].startswith("FROM MEMORY")
            found.append((source, row["quantity"], float(row["lead_days"]), float(row["value"]), ours, recalled))
    return found


@pytest.mark.parametrize("source, quantity, days, published, ours, recalled", [row for row in rows() if row[5]])
def test_open_ocean_by_day(source, quantity, days, published, ours, recalled, logbook):
    met = ours == pytest.approx(published, rel=0.20)
    logbook(
        stage="sea", quantity=f"error of {quantity} {days:g} days ahead", source=source, origin="memory",
        published=published, ours=round(ours, 3), tolerance="20 %", met=met,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("source, quantity, days, published, ours, recalled", [row for row in rows() if not row[5]])
def test_closed_seas_and_hindcasts_err_as_much_or_more(source, quantity, days, published, ours, recalled, logbook):
    """Small waves and closed seas: 1.1 to 2.2 times as much; under the model in none."""
    met = 0.75 * ours < published < 2.4 * ours
    logbook(
        stage="sea", quantity=f"error of {quantity} {days:g} days ahead, closed sea or hindcast", source=source,
        origin="read", published=published, ours=round(ours, 3), tolerance="0.75 to 2.4 times ours", met=met,
    )  # fmt: skip
    assert met


def test_all_that_can_be_compared_is():
    assert (sum(row[5] for row in rows()), sum(not row[5] for row in rows())) == (6, 19)
