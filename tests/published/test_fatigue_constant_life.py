"""Constant-life diagrams: shifted linear Goodman spots, and the tent against measured carbon coupons.

goodman_shifted_spots (formula read in NuMAD shiftedGoodman.m and MFatigue.m, numbers derived);
carbon_epoxy_fatigue_snl_msu_doe: SNL/MSU/DOE Composite Material Fatigue Database v29.0 (2019, read);
goodman_vs_measured_p2b (derived from those records). The honest finding is asserted: the tent is unconservative
near its tip (R = -0.5) for slopes of 14 and more.
"""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from seaload.fatigue.measured_life import MEASURED_RAYS, measured_log_life
from tests.oracles.constant_life import cycles_to_failure

DATA = Path(__file__).parent / "data"


def rows(name):
    with open(DATA / name, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


SPOTS = rows("fatigue_goodman_shifted_spots.csv")
P2B = "[±45/(0)4C]S"


def coupons(ratio):
    """(amplitude, mean, cycles) of the coupons at one load ratio, as the comparison table picked them."""
    picked = [
        row
        for row in rows("fatigue_carbon_epoxy_fatigue_snl_msu_doe.csv")
        if row["material"] == "MD-P2B" and row["layup"] == P2B and row["R"] == ratio
        and row["runout"] == "0" and row["cycles"] not in ("", "1")
    ]  # fmt: skip
    high = np.array([float(row["max_stress_MPa"]) for row in picked])
    low = np.array([float(row["min_stress_MPa"]) for row in picked])
    sound = high > low  # one record has lost the sign of its minimum, see REFERENCES of the table
    cycles = np.array([float(row["cycles"]) for row in picked])
    return (0.5 * (high - low))[sound], (0.5 * (high + low))[sound], cycles[sound]


def test_shifted_goodman_spots(logbook):
    worst = 0.0
    for row in SPOTS:
        tension, compression, slope, amplitude, mean, on_mean, on_range = (
            float(row[key]) for key in ("Rt_MPa", "Rc_MPa", "m", "Sa_MPa", "Sm_MPa", "gMa", "gMb")
        )
        # the source puts its partial factors on mean and amplitude: the same as factored loads
        ours = cycles_to_failure(2.0 * amplitude * on_range, mean * on_mean, tension, compression, slope)
        expected = float(row["N_cycles"])
        if expected == 0.0:
            assert ours < 1e-9
            continue
        worst = max(worst, abs(ours / expected - 1.0))
    met = worst <= 1e-8
    logbook(
        stage="counting", quantity=f"shifted Goodman lives, {len(SPOTS)} spots: worst ratio to published",
        source="NuMAD shiftedGoodman.m formula", origin="derived", published=1.0, ours=1.0 + worst,
        tolerance="rel 1e-8", met=met,
    )  # fmt: skip
    assert met, worst


@pytest.mark.parametrize("row", rows("fatigue_goodman_vs_measured_p2b.csv"), ids=lambda r: f"R{r['R']}-m{r['m']}")
def test_tent_against_measured_lives(row, logbook):
    amplitude, mean, cycles = coupons(row["R"])
    assert len(cycles) == int(row["n"])
    life = [
        cycles_to_failure(2.0 * a, s, 1545.904762, 1046.947368, float(row["m"]))
        for a, s in zip(amplitude, mean, strict=True)
    ]
    decades = np.log10(life) - np.log10(cycles)
    met = decades.mean() == pytest.approx(float(row["mean_d"]), abs=1e-3)
    logbook(
        stage="counting", quantity=f"tent life over coupon life, decades, R = {row['R']}, m = {row['m']}",
        source="SNL/MSU/DOE v29 MD-P2B coupons", origin="derived", published=float(row["mean_d"]),
        ours=decades.mean(), tolerance="0.001 decades", met=met,
    )  # fmt: skip
    assert met
    if row["R"] == "-0.5" and float(row["m"]) >= 14.0:
        assert decades.mean() > 0.5, "the tent was found to promise too long a life near its tip"


@pytest.mark.parametrize("ratio", ["10", "-2", "-1", "-0.5", "0.1", "0.5"])
def test_measured_diagram_meets_the_coupons_on_average(ratio, logbook):
    """The diagram is built from these coupons' own fits: on average it must give their lives back."""
    amplitude, mean, cycles = coupons(ratio)
    decades = measured_log_life(amplitude, mean) - np.log10(cycles)
    met = abs(decades.mean()) < 0.02
    logbook(
        stage="counting", quantity=f"measured diagram over coupon life, decades, R = {ratio}",
        source="SNL/MSU/DOE v29 MD-P2B coupons", origin="derived", published=0.0, ours=decades.mean(),
        tolerance="0.02 decades", met=met,
    )  # fmt: skip
    assert met, decades.mean()


def test_rays_are_those_of_the_fit_table():
    fits = {float(row["R"]): row for row in rows("fatigue_carbon_epoxy_sn_fits.csv") if row["layup"] == P2B}
    assert len(fits) == len(MEASURED_RAYS)
    for ratio, slope, log_strength in MEASURED_RAYS:
        assert slope == pytest.approx(float(fits[ratio]["m_N_on_S"]), rel=1e-9)
        assert log_strength == pytest.approx(float(fits[ratio]["log10K_N_on_S"]), rel=1e-9)
    assert math.isclose(len({ratio for ratio, *_ in MEASURED_RAYS}), 6)
