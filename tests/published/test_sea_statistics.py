"""Statistics of a Gaussian sea against tables of the classical results.

Longuet-Higgins 1952 (Rayleigh), Rice 1944-45 (crossings): derived; Cartwright & Longuet-Higgins 1956: formula
from memory, numbers derived; largest of many: quadrature, derived; WMO code 3700: read on two web pages.
"""

import numpy as np

from seaload.waves import fetch_growth
from tests.oracles import sea_statistics
from tests.oracles.bulk import sea_state_code


def test_rayleigh_factors(reference_table, check_against):
    known = {row["quantity"]: row["value"] for row in reference_table("sea_rayleigh_factors.csv")}
    ours = {
        "H_1/3/sqrt(m0)": sea_statistics.mean_of_highest(1.0 / 3.0, 1.0),
        "H_1/10/sqrt(m0)": sea_statistics.mean_of_highest(0.1, 1.0),
        "H_1/100/sqrt(m0)": sea_statistics.mean_of_highest(0.01, 1.0),
        "H_mean/sqrt(m0)": sea_statistics.mean_of_highest(1.0, 1.0),
        "P(H>Hm0)": sea_statistics.height_exceedance(4.0, 1.0),
        "P(H>2Hm0)": sea_statistics.height_exceedance(8.0, 1.0),
        "P(crest>0.5Hm0)": sea_statistics.crest_exceedance(2.0, 1.0),
    }
    check_against(
        "sea",
        "Rayleigh heights and crests",
        "Longuet-Higgins 1952",
        "derived",
        [known[name] for name in ours],
        list(ours.values()),
        relative=1e-8,
    )


def test_rice_crossings_and_poisson_odds(reference_table, check_against):
    rows = reference_table("sea_rice_poisson.csv")
    rate = [sea_statistics.upcrossing_rate(r["level_m"], r["m0_m2"], r["m2_m2s-2"]) for r in rows]
    odds = [
        sea_statistics.exceedance_odds(n, 3600.0 * r["exposure_h"]) for n, r in zip(rate, rows, strict=True)
    ]
    check_against(
        "sea",
        "rate of up-crossings [1/s]",
        "Rice 1944-45",
        "derived",
        [row["nu_level_Hz"] for row in rows],
        rate,
        relative=1e-8,
    )
    check_against(
        "sea",
        "odds of at least one up-crossing [-]",
        "Poisson",
        "derived",
        [row["P_exceed_poisson"] for row in rows],
        odds,
        relative=1e-8,
    )


def test_largest_of_many_crests(reference_table, check_against):
    rows = reference_table("sea_expected_maximum.csv")
    counts = [row["N"] for row in rows]
    check_against(
        "sea",
        "mean of the largest of N crests [std]",
        "quadrature",
        "derived",
        [row["mean_exact"] for row in rows],
        [sea_statistics.expected_maximum(n) for n in counts],
        relative=1e-6,
    )
    check_against(
        "sea",
        "mean of the largest of N crests, asymptotic [std]",
        "sqrt(2 ln N) + 0.5772/sqrt(2 ln N)",
        "derived",
        [row["mean_asympt"] for row in rows],
        [sea_statistics.expected_maximum_asymptotic(n) for n in counts],
        relative=1e-8,
    )
    for probability, column in ((0.5, "median_exact"), (0.9, "q90_exact"), (0.99, "q99_exact")):
        check_against(
            "sea",
            f"quantile {probability} of the largest of N crests [std]",
            "closed form",
            "derived",
            [row[column] for row in rows],
            [sea_statistics.maximum_quantile(n, probability) for n in counts],
            relative=1e-6,
        )


def test_all_maxima(reference_table, check_against):
    rows = reference_table("sea_cartwright_lh_maxima.csv")
    source = "Cartwright & Longuet-Higgins 1956, from memory"
    for column, function in (("pdf", "maxima_density"), ("P_exceed", "maxima_exceedance")):
        check_against(
            "sea",
            f"distribution of all maxima, {column}",
            source,
            "memory",
            [row[column] for row in rows],
            [float(getattr(sea_statistics, function)(row["x"], row["eps"])) for row in rows],
            relative=1e-7,
            absolute=1e-12,
        )
    check_against(
        "sea",
        "share of negative maxima [-]",
        source,
        "memory",
        [row["frac_negative"] for row in rows],
        [float(sea_statistics.negative_maxima_share(row["eps"])) for row in rows],
        relative=1e-7,
    )


def test_fetch_growth(reference_table, check_against):
    rows = reference_table("sea_fetch_growth_jonswap.csv")
    for relation, columns in (
        ("hasselmann 1973", ("Hs_m_eps1.6e-7", "H73_Tp_s", "H73_alpha")),
        ("hasselmann 1973 tabulated", ("Hs_m_eps9.91e-8_1.1", "H73_Tp_s", "H73_alpha")),
        ("hasselmann 1976", ("Hs_m_eps1.6e-7", "H76_Tp_s", "H76_alpha")),
        ("lewis allos 1990", ("LA90_Hs_m", "LA90_Tp_s", "LA90_alpha", "LA90_gamma")),
    ):
        published, ours = [], []
        for row in rows:
            sea = fetch_growth.fetch_limited_sea(row["U10_m_s"], 1000.0 * row["fetch_km"], relation)
            published += [row[column] for column in columns]
            ours += list(sea)[: len(columns)]
        check_against(
            "sea",
            f"fetch growth, {relation}",
            "as coded in an open source",
            "derived",
            published,
            ours,
            relative=1e-8,
        )


def test_wmo_sea_state_code(reference_table, check_against):
    rows = [row for row in reference_table("sea_wmo_sea_state_3700.csv") if np.isfinite(row["h_max_m"])]
    heights = [row["h_max_m"] for row in rows] + [14.5]
    check_against(
        "sea",
        "WMO code 3700 at the upper bound of each band",
        "WMO code table 3700, read on two web pages",
        "read",
        [row["code"] for row in rows] + [9.0],
        [sea_state_code(h) for h in heights],
    )
