"""Directional spreading against tables computed from the published densities.

cos^2s and the wrapped normal: definitions read in an open source, numbers derived; cos^n: DNV-RP-C205.
Numbers are given to ten digits, so the tolerance is 1e-8.
"""

import numpy as np

from seaload.waves import spreading
from tests.oracles.spreading import circular_width, cosn_density, first_amplitude_from_s, wrapped_normal_density

ANGLES = {"D_0": 0.0, "D_30deg": 30.0, "D_60deg": 60.0, "D_90deg": 90.0, "D_180deg": 180.0}


def compared(rows, parameter, density, columns):
    published, ours = [], []
    for row in rows:
        for column in columns:
            published.append(row[column])
            ours.append(float(density(np.radians([ANGLES[column]]), parameter(row))[0]))
    return published, ours


def test_cos2s_density(reference_table, check_against):
    rows = reference_table("sea_spreading_cos2s.csv")
    published, ours = compared(rows, lambda row: row["s"], spreading.cos2s_density, ANGLES)
    check_against(
        "sea",
        "cos^2s density [1/rad]",
        "normalised cos^2s",
        "derived",
        published,
        ours,
        relative=1e-8,
        absolute=1e-16,
    )


def test_cos2s_first_amplitude_and_width(reference_table, check_against):
    rows = reference_table("sea_spreading_cos2s.csv")
    r1 = np.array([first_amplitude_from_s(row["s"]) for row in rows])
    source = "Fourier amplitudes of cos^2s; Kuik et al. 1988"
    check_against(
        "sea", "r1 of cos^2s [-]", source, "derived", [row["r1"] for row in rows], r1, relative=1e-8
    )
    check_against(
        "sea",
        "circular width of cos^2s [deg]",
        source,
        "derived",
        [row["sigma_circ_deg"] for row in rows],
        np.degrees(circular_width(r1)),
        relative=1e-8,
    )


def test_directions_by_quantile_have_the_tabulated_first_amplitude(reference_table, check_against):
    """The inverse used for components: the mean cosine over even quantiles is r1."""
    rows = reference_table("sea_spreading_cos2s.csv")
    quantile = (np.arange(200_000) + 0.5) / 200_000
    ours = [np.cos(spreading.cos2s_direction(quantile, row["s"])).mean() for row in rows]
    check_against(
        "sea",
        "r1 of directions drawn by quantile [-]",
        "Fourier amplitudes of cos^2s",
        "derived",
        [row["r1"] for row in rows],
        ours,
        absolute=1e-6,  # midpoint rule over 200 000 quantiles
    )


def test_cosn_density(reference_table, check_against):
    rows = reference_table("sea_spreading_cosn.csv")
    columns = ("D_0", "D_30deg", "D_60deg")
    published, ours = compared(rows, lambda row: row["n"], cosn_density, columns)
    check_against(
        "sea", "cos^n density [1/rad]", "DNV-RP-C205 form", "derived", published, ours, relative=1e-8
    )


def test_wrapped_normal_density(reference_table, check_against):
    rows = reference_table("sea_spreading_wrapped_normal.csv")
    published, ours = compared(
        rows, lambda row: np.radians(row["sigma_deg"]), wrapped_normal_density, ANGLES
    )
    check_against(
        "sea",
        "wrapped normal density [1/rad]",
        "Fourier series",
        "derived",
        published,
        ours,
        relative=1e-8,
        absolute=1e-15,  # rounding of the alternating series, also in the table
    )
