"""Cavitation and stall of sections (tables derived with a surrogate, +-10-15 %)."""


import numpy as np
import pytest

from seaload.foil.strip_load import cavitation_number, lift_limit
from tests.foil.foil_table import Comparison, table
from tests.oracles.section_limits import DEMO_TIP, cavitation_free_range, inception_line, limit_line, rough_stall

SECTIONS = ("naca0012", "n63412", "naca66210", "e817")


def test_cavitation_number(logbook):
    t = table("foil_cavitation_inception")
    ours = [
        cavitation_number(depth, speed, 101325.0 - 1700.0, 1025.0 * 9.80665, 1025.0)
        for depth, speed in zip(t["depth"], t["V"], strict=True)
    ]
    check = Comparison(logbook, "foil", "sigma, table cavitation_inception", "derived")
    check.close("cavitation number", t["sigma_v"], ours, relative=2e-4)


@pytest.mark.parametrize("section", SECTIONS)
def test_lift_range_free_of_cavitation(logbook, section):
    """From the stored polars (the table ends at a step of 0.03 in CL inside: one step is allowed)."""
    polar = table("foil_section_polars_re3e6")
    mine = (
        (polar["section"] == section) & (polar["transition"] == "free_n9") & (np.abs(polar["alpha"]) <= 12.0)
    )
    lift, pressure = polar["CL"][mine], polar["Cpmin_viscous_surrogate"][mine]
    t = table("foil_cavitation_inception")
    check = Comparison(logbook, "foil", "cavitation-free lift, table cavitation_inception", "derived")
    for place, name in ((0, "lower"), (1, "upper")):
        published = t[f"{section}_CL_{name}_inception"]
        ours = np.array([cavitation_free_range(lift, pressure, sigma)[place] for sigma in t["sigma_v"]])
        both = np.isfinite(published) & np.isfinite(ours) & (t["sigma_v"] > 0.7)
        check.close(f"{section}, {name} end", published[both], ours[both], absolute=0.031)


def test_demo_values_follow_from_the_tables():
    """The rounded values in `section_limits.DEMO_TIP` are those of its text, within rounding."""
    t = table("foil_cavitation_inception")
    normal = limit_line(inception_line(t["sigma_v"], t["n63412_CL_upper_inception"]))
    reverse = limit_line(inception_line(t["sigma_v"], -t["n63412_CL_lower_inception"]))
    for sigma in (0.9, 1.3, 1.7):
        for line, rounded in ((normal, DEMO_TIP.cavitation_normal), (reverse, DEMO_TIP.cavitation_reverse)):
            assert abs(line[0] + line[1] * sigma - rounded[0] - rounded[1] * sigma) < 0.04
    summary = table("foil_section_summary")
    row = (
        (summary["section"] == "n63412") & (summary["Re"] == 3e6) & (summary["transition"] == "tripped_5pct")
    )
    assert abs(rough_stall(summary["CLmax"][row][0]) - DEMO_TIP.cl_max) < 0.05
    assert abs(rough_stall(summary["CLmin"][row][0]) - DEMO_TIP.cl_min) < 0.05


def test_lift_limit_takes_the_lower_of_stall_and_cavitation():
    a, b = DEMO_TIP.cavitation_normal
    assert lift_limit(DEMO_TIP.cl_max, a, b, 5.0) == DEMO_TIP.cl_max
    assert lift_limit(DEMO_TIP.cl_max, a, b, 1.0) == pytest.approx(a + b)


def test_section_slope_and_zero_lift_from_the_polars(logbook):
    polar, summary = table("foil_section_polars_re3e6"), table("foil_section_summary")
    check = Comparison(
        logbook, "foil", "section polars, tables section_polars and section_summary", "derived"
    )
    for section in SECTIONS:
        mine = (polar["section"] == section) & (polar["transition"] == "tripped_5pct")
        near = mine & (np.abs(polar["alpha"]) <= 4.0)
        slope, at_zero = np.polyfit(polar["alpha"][near], polar["CL"][near], 1)
        row = (
            (summary["section"] == section)
            & (summary["Re"] == 3e6)
            & (summary["transition"] == "tripped_5pct")
        )
        check.close(f"{section}, slope per degree", summary["dCLdalpha"][row], slope, relative=0.02)
        check.close(f"{section}, zero lift [deg]", summary["alpha0"][row], -at_zero / slope, absolute=0.15)


@pytest.mark.slow
@pytest.mark.parametrize("section", SECTIONS)
def test_polars_by_an_open_aerofoil_library(logbook, section):
    """Both load directions by the library itself, where it is installed (pip install neuralfoil aerosandbox)."""
    surrogate = pytest.importorskip("neuralfoil")
    shapes = pytest.importorskip("aerosandbox")
    angles = np.array([-8.0, -6.0, -4.0, -2.0, 0.0, 2.0, 4.0, 6.0, 8.0])
    found = surrogate.get_aero_from_airfoil(shapes.Airfoil(section), alpha=angles, Re=3e6, model_size="xlarge")["CL"]
    polar = table("foil_section_polars_re3e6")
    mine = (polar["section"] == section) & (polar["transition"] == "free_n9")
    stored = np.interp(angles, polar["alpha"][mine], polar["CL"][mine])
    check = Comparison(logbook, "foil", "package neuralfoil 0.3.3, Re 3e6, free transition", "read")
    check.close(f"{section}, stored lift, reverse side", found[angles < 0.0], stored[angles < 0.0], absolute=0.01)
    check.close(f"{section}, stored lift, normal side", found[angles >= 0.0], stored[angles >= 0.0], absolute=0.01)
    around_zero = 2.0 * np.pi * np.radians(angles - np.interp(0.0, found, angles))
    linear = np.abs(angles) <= 6.0  # the march takes 2 pi and the zero-lift angle; the library sees boundary layers
    check.close(f"{section}, lift of a thin section as the march has it", found[linear], around_zero[linear],
                absolute=0.08)  # fmt: skip
