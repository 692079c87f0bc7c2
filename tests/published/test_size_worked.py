"""Worked numbers of sizing: mixtures of seas, the equivalent load of a usage, the contour of a published joint model.

Tables size_worked.json (derived by direct arithmetic: three seas with Gumbel laws, damage-equivalent loads of a usage,
an eight-step block after Gassner from memory) and size_contour_vanem2012.csv: the joint model of height and period of
Vanem and Bitner-Gregersen 2012 as an open contour package tests it; greatest height 15.23 m and greatest mean period
13.96 s of its 25-year contour of three-hour seas are published (Haselsteiner et al. 2017, tolerance 0.05), the points
derived. Return levels: risk_extremes_worked.json.
"""

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from seaload.fatigue.block_programme import programme
from seaload.fatigue.miner import damage_equivalent_range, equivalent_of_usage
from seaload.risk.contour import HeightPeriodLaw, contour, height_quantile, period_quantile
from seaload.risk.mixture import mixed_exceedance, mixed_return_value, shares_of
from seaload.risk.pooled_tail import return_level

DATA = Path(__file__).parent / "data"
WORKED = json.loads((DATA / "size_worked.json").read_text())
LEVELS = json.loads((DATA / "risk_extremes_worked.json").read_text())["gpd_return_level"]["cases"]
SEAS = WORKED["long_term_three_seas"]
LAW = HeightPeriodLaw(2.776, 1.471, 0.8888, (0.1, 1.489, 0.1901), (0.04, 0.1748, 0.2243))
YEARS_25 = 3.0 / (25.0 * 365.25 * 24.0)


@pytest.mark.parametrize("row", SEAS["rows"], ids=lambda row: f"{row['hours']} h")
def test_a_load_of_three_seas_is_mixed_by_its_exceedances(row, logbook):
    laws = SEAS["weights"], SEAS["gumbel_mode_20min"], SEAS["gumbel_scale"]
    value = mixed_return_value(*laws, row["blocks_20min"])
    shares = shares_of(*laws, value)
    over = 1.0 - (1.0 - mixed_exceedance(value, *laws)) ** row["blocks_20min"]
    met = value == pytest.approx(row["x"], rel=1e-9)
    logbook(
        stage="risk", quantity=f"load met once in {row['hours']} h of three seas", source="direct arithmetic",
        origin="derived", published=row["x"], ours=value, tolerance="rel 1e-9", met=met, of=mixed_return_value,
    )  # fmt: skip
    assert met
    assert shares == pytest.approx(row["share_of_exceedance_by_sea"], rel=1e-9)
    assert over == pytest.approx(row["p_max_over_x_in_exposure"], rel=1e-9)


@pytest.mark.parametrize("slope", [3, 5, 10, 14])
def test_the_equivalent_load_of_a_usage(slope, logbook):
    usage = WORKED["del_usage"]
    ours, published = equivalent_of_usage(usage["w"], usage["del_i"], slope), usage["total"][str(slope)]
    met = ours == pytest.approx(published, rel=1e-12)
    logbook(
        stage="counting", quantity=f"damage-equivalent load of a usage, slope {slope}", source="direct arithmetic",
        origin="derived", published=published, ours=ours, tolerance="rel 1e-12", met=met, of=equivalent_of_usage,
    )  # fmt: skip
    assert met
    cycles = np.array(usage["w"]) * 1e6  # the same by one sum over all cycles
    assert damage_equivalent_range(usage["del_i"], cycles, slope, 1e6) == pytest.approx(published, rel=1e-12)


GREATEST = [("greatest height [m]", 0, 15.23), ("greatest mean period [s]", 1, 13.96)]


@pytest.mark.parametrize("name, number, published", GREATEST)
def test_the_contour_of_a_published_joint_model(name, number, published, logbook):
    ours = float(np.max(contour(LAW, YEARS_25, 3601)[number]))
    met = abs(ours - published) < 0.005  # the digits printed; the package's own tolerance is 0.05
    logbook(
        stage="sea", quantity=f"25-year contour, {name}", source="Haselsteiner et al. 2017", origin="read",
        published=published, ours=ours, tolerance="0.005", met=met, of=contour,
    )  # fmt: skip
    assert met


def test_points_of_the_contour():
    rows = list(csv.DictReader(line for line in open(DATA / "size_contour_vanem2012.csv") if line[0] != "#"))
    theta, hs, tz = (np.array([float(row[name]) for row in rows]) for name in ("theta_rad", "hs_m", "tz_s"))
    heights, periods = contour(LAW, YEARS_25, 73)  # every five degrees
    assert theta[1] == pytest.approx(np.radians(5.0), rel=1e-6)
    assert heights[: len(hs)] == pytest.approx(hs, rel=1e-5)
    assert periods[: len(tz)] == pytest.approx(tz, rel=1e-5)


def test_quantiles_of_the_joint_model_are_those_of_its_laws():
    """Median of a Weibull law: location + scale (ln 2)^(1/shape); of a log-normal one: exp of its mean."""
    assert height_quantile(0.5, LAW) == pytest.approx(0.8888 + 2.776 * np.log(2.0) ** (1.0 / 1.471), rel=1e-12)
    assert period_quantile(0.5, 3.0, LAW) == pytest.approx(np.exp(0.1 + 1.489 * 3.0**0.1901), rel=1e-12)


@pytest.mark.parametrize("case", LEVELS)
def test_return_levels(case):
    hourly = case["lambda_per_h"] / 3600.0
    ours = return_level(case["u"], case["sigma"], case["xi"], hourly, 3600.0 * case["T_h"])
    assert ours == pytest.approx(case["x_T"], rel=1e-9)


@pytest.mark.parametrize("slope", [5, 10, 14])
def test_a_programme_keeps_the_equivalent_load_of_an_eight_step_block(slope, logbook):
    """Gassner's block of a million cycles (from memory) and the equivalent amplitudes worked out from it."""
    block = WORKED["gassner8"]
    ranges, counts = np.array(block["amplitude_ratio"]), np.array(block["cycles"], dtype=float)
    steps = programme(ranges, np.zeros(8), counts, slope, steps=8, repeats=10)
    ours = damage_equivalent_range([s.load_range for s in steps], [s.cycles for s in steps], slope, 1e6)
    published = block["equivalent_amplitude_at_1e6"][str(slope)]
    met = ours == pytest.approx(published, rel=0.005)  # a hundredth of the damage is left out: 0.2 % at slope 5
    logbook(
        stage="counting", quantity=f"equivalent amplitude of a block programme, slope {slope}",
        source="Gassner's block", origin="memory", published=published, ours=ours, tolerance="rel 0.005", met=met,
        of=programme,
    )  # fmt: skip
    assert met
