"""Worked numbers of extremes_worked.json and rice_poisson.csv (derived; likelihood fit checked there with scipy).

Tolerances as the table says: 1e-9 for moments, L-moments and formulas, 1e-4 for the likelihood fit.
"""

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from seaload.risk import gumbel
from seaload.risk.joined_rate import log_exceedance
from seaload.risk.poisson import odds_in_exposure
from tests.oracles.tail import gpd_return_level

DATA = Path(__file__).parent / "data"
WORKED = json.loads((DATA / "risk_extremes_worked.json").read_text())
MAXIMA = np.array(WORKED["block_maxima_sample"])
FITS = (
    ("gumbel_method_of_moments(ddof=1)", gumbel.gumbel_by_moments, 1e-9),
    ("gumbel_maximum_likelihood", gumbel.gumbel_by_likelihood, 1e-4),
    ("gumbel_L_moments", gumbel.gumbel_by_l_moments, 1e-9),
)


@pytest.mark.parametrize("name, fit, tolerance", FITS, ids=[f[0] for f in FITS])
def test_gumbel_fits(name, fit, tolerance, logbook):
    expected = WORKED[name]
    location, scale = fit(MAXIMA)
    ours = [location, scale, *(gumbel.gumbel_return_value(location, scale, n) for n in (10, 100))]
    keys = ("location", "scale", "return_value_10_blocks", "return_value_100_blocks")
    for value, key in zip(ours, keys, strict=True):
        met = value == pytest.approx(expected[key], rel=tolerance)
        logbook(
            stage="risk", quantity=f"{name}: {key}", source="worked sample of 20 block maxima", origin="derived",
            published=expected[key], ours=value, tolerance=f"rel {tolerance:g}", met=met, of=fit,
        )  # fmt: skip
        assert met, key


@pytest.mark.parametrize("case", WORKED["gpd_return_level"]["cases"])
def test_pareto_return_levels(case, logbook):
    ours = gpd_return_level(case["u"], case["xi"], case["sigma"], case["lambda_per_h"], case["T_h"])
    met = ours == pytest.approx(case["x_T"], rel=1e-9)
    logbook(
        stage="risk", quantity=f"Pareto return level, shape {case['xi']:g}, {case['T_h']:g} h",
        source="formula of Coles' kind, direct arithmetic", origin="derived", published=case["x_T"], ours=ours,
        tolerance="rel 1e-9", met=met, of=gpd_return_level,
    )  # fmt: skip
    assert met
    excess = np.array([[ours - case["u"]]])
    odds = np.exp(log_exceedance(excess, np.array([case["sigma"]]), np.array([case["xi"]])))[0, 0]
    assert odds * case["lambda_per_h"] * case["T_h"] == pytest.approx(1.0, rel=1e-9)


def test_block_to_long_exposure():
    case = WORKED["block_to_long_exposure"]["example"]
    location, scale = gumbel.gumbel_over_blocks(case["location_block"], case["scale"], case["n_blocks"])
    assert location == pytest.approx(case["location_48"], rel=1e-9)
    assert gumbel.gumbel_mean(location, scale) == pytest.approx(case["mean_max_48"], rel=1e-9)
    assert gumbel.gumbel_quantile(location, scale, 0.9) == pytest.approx(case["q90_48"], rel=1e-9)


@pytest.mark.parametrize("case", WORKED["poisson_examples"])
def test_odds_of_at_least_one(case, logbook):
    ours = float(odds_in_exposure(case["rate_per_h"] / 3600.0, case["T_h"] * 3600.0))
    met = ours == pytest.approx(case["P"], rel=1e-9)
    logbook(
        stage="risk", quantity=f"odds at {case['rate_per_h']:g} an hour in {case['T_h']:g} h",
        source="Poisson, arithmetic", origin="derived", published=case["P"], ours=ours, tolerance="rel 1e-9", met=met,
    )  # fmt: skip
    assert met


def test_rice_rates_to_odds():
    with open(DATA / "risk_rice_poisson.csv", encoding="utf-8") as file:
        table = list(csv.DictReader(line for line in file if not line.startswith("#")))
    for row in table:
        ours = odds_in_exposure(float(row["nu_level_Hz"]), float(row["exposure_h"]) * 3600.0)
        assert ours == pytest.approx(float(row["P_exceed_poisson"]), rel=1e-8)
