"""Gusts over the sea, and the sea that a wind can raise, against published forms and numbers.

`wind_spectrum_spot_values.csv`, `wind_gust_peak_factors.csv`, `wind_fetch_duration_waves.csv`,
`wind_gust_factor_curves.csv`: formulas read in open packages (pyconturb 2.7.4, scientimate 2.0), numbers derived, as
their heads say. Gates are those of the tables: 1e-6 for a spectrum, 5 % for gusts of simulated Gaussian wind.
"""

import numpy as np
import pytest

from seaload.waves.fetch_growth import fully_developed_sea, wind_for_height
from seaload.waves.gusts import gust_deviations, gust_field, gust_length, gustiness, kaimal_spectrum

PLACES, SPACING, RECORD = 2**21, 0.5, 600.0  # of a field [m], [s]


def test_spectrum_at_its_spot_values(reference_table, check_against):
    rows = reference_table("wind_spectrum_spot_values.csv")
    ours = [kaimal_spectrum(r["f_Hz"], 1.0, gust_length(r["z_m"]) / r["U_m_s"]) for r in rows]
    published = [r["Kaimal_IEC_over_s2"] for r in rows]
    check_against("sea", "spectrum of gusts over its variance [s]", "Kaimal as in IEC 61400-1 ed. 3", "derived",
                  published, ours, relative=5e-6)  # six printed digits  # fmt: skip


@pytest.mark.parametrize("wind", [8.0, 12.0, 18.0])
def test_strongest_gust_of_ten_minutes(wind, reference_table, check_against):
    """Mean over some hundred records of the highest running mean above the mean of ten minutes."""
    _, each = gust_deviations(PLACES, SPACING, 1.0, gust_length(10.0))
    field = gust_field(np.random.default_rng(4), each)
    length = int(RECORD * wind / SPACING)
    records = field[: len(field) // length * length].reshape(-1, length)
    records = records - records.mean(axis=1, keepdims=True)
    sums = np.pad(np.cumsum(records, axis=1), ((0, 0), (1, 0)))
    rows = [row for row in reference_table("wind_gust_peak_factors.csv") if row["U_m_s"] == wind]
    widths = [max(1, round(row["ta_s"] * wind / SPACING)) for row in rows]
    ours = [np.mean(np.max(sums[:, n:] - sums[:, :-n], axis=1)) / n for n in widths]
    published = [row["gust_excess_over_sigma_u"] for row in rows]
    check_against("sea", f"largest gust of 600 s over sigma, wind {wind:g} m/s", "Davenport on the Kaimal spectrum",
                  "derived", published, ours, relative=0.05, of=gust_field)  # fmt: skip


def test_gusts_over_the_sea_are_weaker_than_over_land(reference_table, check_against):
    """Three seconds over ten minutes: 1.2 to 1.3 at sea (from memory), and under every published curve for land."""
    excess = next(r["gust_excess_over_sigma_u"] for r in reference_table("wind_gust_peak_factors.csv")
                  if r["U_m_s"] == 12.0 and r["ta_s"] == 3.0)  # fmt: skip
    ours = 1.0 + excess * gustiness(12.0)
    check_against("sea", "three-second gust over the ten-minute wind at sea", "1.2 to 1.3", "memory", 1.25, ours,
                  absolute=0.05, of=gustiness)  # fmt: skip
    land = next(row for row in reference_table("wind_gust_factor_curves.csv") if row["t_s"] == 3.0)
    assert ours < min(land[f"{name}_vs_10min"] for name in ("CEM", "Durst", "Cook"))


@pytest.mark.parametrize("wind", [8.0, 12.0, 18.0, 25.0])
def test_gustiness_is_that_of_the_norwegian_sea_within_a_sixth(wind, check_against):
    """0.06 (1 + 0.043 U) of the hourly wind at 10 m, as in ISO 19901-1 (from memory)."""
    check_against("sea", f"gustiness at sea, wind {wind:g} m/s", "ISO 19901-1", "memory", 0.06 * (1.0 + 0.043 * wind),
                  gustiness(wind), relative=1.0 / 6.0)  # fmt: skip


def test_full_grown_sea_caps_the_growth_with_fetch(reference_table, check_against):
    rows = [row for row in reference_table("wind_fetch_duration_waves.csv") if row["fetch_km"] == 1000.0]
    found = [fully_developed_sea(row["U10"]) for row in rows]
    heights, periods = [s.hs for s in found], [s.tp for s in found]
    for name, column, ours in (("height [m]", "Hs_J", heights), ("period [s]", "Tp_J", periods)):
        check_against("sea", f"fully developed sea, {name}", "cap of Hasselmann et al. 1973", "derived",
                      [row[column] for row in rows], ours, relative=5e-6)  # fmt: skip
    assert [wind_for_height(s.hs) for s in found] == pytest.approx([row["U10"] for row in rows], rel=1e-12)
