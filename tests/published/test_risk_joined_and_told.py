"""The joined rate on a published record of rain, and odds all told against closed forms and quadrature.

Rain: daily rainfall over 30 mm, south-west England 1914-1962 (Coles 2001, chapters 4, 6 and 7; the series of the ismev
package, read). Published fit: log-likelihood -485.1, scale 7.44, shape 0.184. Rates past a level by the censored
likelihood of peaks and count together, with their profile intervals, are derived (risk_rain_over_30mm.csv holds the
peaks). Odds: risk_predictive_probability.csv, derived by Gauss-Hermite sums and quadrature.
"""

import csv
import re
from pathlib import Path

import numpy as np
import pytest

from seaload.evidence.all_told import Lean, odds_all_told
from seaload.evidence.rate_curve import RateCurve
from seaload.risk.joined_rate import (
    excess_log_likelihood,
    joined_rates,
    log_exceedance,
    tail_of_peaks,
)

DATA = Path(__file__).parent / "data"
YEARS = 17531 / 365.0
# level [mm]: (rate past it a year, profile interval of 90 %), derived from peaks and count in one likelihood
CENSORED = {
    35.0: (1.68460, 1.39495, 2.01179),
    40.0: (0.91387, 0.70563, 1.15964),
    60.0: (0.1436, 0.0753, 0.2462),
    100.0: (0.01353, 0.0023, 0.0454),
}


def rows_of(name):
    with open(DATA / name, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.fixture(scope="module")
def rain():
    return np.array([float(row["rain_mm"]) for row in rows_of("risk_rain_over_30mm.csv")])


def test_log_likelihood_of_the_published_fit(rain, logbook):
    found = float(excess_log_likelihood(rain - 30.0, np.array([7.44027]), np.array([0.184499]))[0])
    met = found == pytest.approx(-485.0937, abs=1e-3)
    logbook(
        stage="risk", quantity="log-likelihood of a generalised Pareto fit", source="Coles 2001, rain over 30 mm",
        origin="read", published=-485.1, ours=found, tolerance="0.05", met=met,
    )  # fmt: skip
    assert met


def test_the_tail_alone_gives_the_published_return_level(rain):
    """Once in 100 years: 106.3 mm (Coles 2001); 152 peaks in 48.03 years."""
    past = log_exceedance(np.array([[106.328 - 30.0]]), np.array([7.44027]), np.array([0.184499]))[0, 0]
    assert np.exp(past) * 152 / YEARS == pytest.approx(1.0 / 100.0, rel=1e-3)


@pytest.mark.parametrize("level", CENSORED)
def test_joined_rates_of_rain_lie_with_the_censored_likelihood(rain, level, logbook):
    """Flat in shape and with hardly a doubt of tail against count, as that likelihood has none: half its own
    interval.
    """
    rate, low, high = CENSORED[level]
    tail = tail_of_peaks(rain - 30.0, 30.0, YEARS, prior=(0.0, 10.0))
    count = int(np.sum(rain > level))
    found = joined_rates(tail, [level], [count], 0.3, [1.0])[0]
    met = abs(np.log(found[0] / rate)) < 0.5 * np.log(high / low) / 2.0
    logbook(
        stage="risk", quantity=f"joined rate of rain past {level:g} mm a year", source="Coles 2001, peaks and count",
        origin="derived", published=rate, ours=found[0], tolerance="half its half-width", met=met, of=joined_rates,
    )  # fmt: skip
    assert met
    assert found[1] == pytest.approx(low, rel=0.35) and found[2] == pytest.approx(high, rel=0.35)


def told(slope, rate, sigma, hours):
    levels = np.linspace(0.0, 2.0, 5)
    ln_rate = np.log(rate) - slope * (levels - 1.0)
    curve = RateCurve(levels, ln_rate, ln_rate, ln_rate)
    return odds_all_told(curve, Lean(0.0, np.array([sigma / slope]), np.zeros(1)), hours)[0]


LOGNORMAL = [row for row in rows_of("risk_predictive_probability.csv") if row["case"] == "lognormal_rate"]
GUMBEL = [
    row for row in rows_of("risk_predictive_probability.csv") if row["case"] == "gumbel_load_times_lognormal_factor"
]


@pytest.mark.parametrize("row", LOGNORMAL, ids=[row["setting"] for row in LOGNORMAL])
def test_odds_of_a_lognormal_rate(row, logbook):
    rate, sigma, hours = map(float, re.findall(r"[\d.]+", row["setting"]))
    ours, published = told(20.0, rate, sigma, hours), float(row["predictive"])
    met = ours == pytest.approx(published, rel=1e-4)
    logbook(
        stage="risk", quantity=f"odds all told, {row['setting']}", source="Gauss-Hermite sum of 200 points",
        origin="derived", published=published, ours=ours, tolerance="rel 1e-4", met=met, of=odds_all_told,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("row", GUMBEL, ids=[row["setting"] for row in GUMBEL])
def test_odds_of_a_gumbel_load_that_grows_by_a_lognormal_factor(row, logbook):
    """The worst load of the exposure is Gumbel (mode 1, scale 0.1, limit 1.6): its rate past x is exp(-(x - 1)/0.1)."""
    growth, published = float(re.search(r"exp\(([\d.]+) z\)", row["setting"])[1]), float(row["predictive"])
    levels = np.linspace(0.0, 3.0, 7)
    curve = RateCurve(levels, *[-(1.6 * levels - 1.0) / 0.1] * 3)
    ours = odds_all_told(curve, Lean(0.0, np.zeros(1), np.array([growth])), 1.0)[0]
    met = ours == pytest.approx(published, rel=2e-3)
    logbook(
        stage="risk", quantity=f"odds all told, growth {growth:g}", source="quadrature", origin="derived",
        published=published, ours=ours, tolerance="rel 2e-3", met=met, of=odds_all_told,
    )  # fmt: skip
    assert met
