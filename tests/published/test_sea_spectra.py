"""Wave spectra against spot values, moments and relations computed from the published formulas.

Tables sea_*.csv carry their own origin lines. Spot values and moments: derived, most of them checked with
open packages; the JONSWAP polynomials and the gamma rule: DNV-RP-C205 3.5.5, read in open sources;
Torsethaugen 1996, Torsethaugen & Haver 2004, Ochi & Hubble 1976: read in open sources.
"""

import numpy as np
import pytest

from seaload.waves import bulk, ochi_hubble, spectra, torsethaugen
from tests.oracles import dispersion
from tests.oracles.bulk import spectral_narrowness, spectral_width
from tests.oracles.spectra import (
    jonswap_gamma_rule,
    pierson_moskowitz,
    pierson_moskowitz_height,
    pierson_moskowitz_peak_period,
    tma_factor,
)
from tests.oracles.torsethaugen_2004 import torsethaugen_2004, torsethaugen_2004_peaks

CHECKED = {  # kind of spectrum: the formula that its rows check
    "BR": spectra.bretschneider, "JS287": spectra.jonswap, "JSEX": spectra.jonswap, "PMU": pierson_moskowitz,
    "TMA": tma_factor, "TORS96": torsethaugen.torsethaugen_1996, "TORS04": torsethaugen_2004,
}  # fmt: skip
SOURCE = "reference spot values, from the published formulas"


def density_of(row):
    """Our density at the frequency of one spot value."""
    case, hs, tp = row["case"], row["Hs_m"], row["Tp_s"]
    omega = np.array([row["omega_rad_s"]])
    kind = case.split("_")[0]
    if kind == "BR":
        return spectra.bretschneider(omega, hs, tp)[0]
    if kind == "JS287":
        return spectra.jonswap(omega, hs, tp, row["gamma"], normalisation="short")[0]
    if kind == "JSEX":
        return spectra.jonswap(omega, hs, tp, row["gamma"])[0]
    if kind == "PMU":
        return pierson_moskowitz(omega, float(case.split("_")[1]))[0]
    if kind == "TMA":
        deep = spectra.jonswap(omega, hs, tp, row["gamma"], normalisation="short")
        return (deep * tma_factor(dispersion.finite_wavenumber(omega, 20.0), 20.0))[0]
    if kind == "TORS96":
        return torsethaugen.torsethaugen_1996(omega, hs, tp)[0]
    if kind == "TORS04":
        return torsethaugen_2004(omega, hs, tp)[0]
    return ochi_hubble.ochi_hubble(omega, hs, int(kind[2:]))[0]


@pytest.mark.parametrize(
    "kind", ["BR", "JS287", "JSEX", "PMU", "TMA", "TORS96", "TORS04", "OH0", "OH5", "OH10"]
)
def test_spot_values(kind, reference_table, check_against):
    rows = [
        row for row in reference_table("sea_spectra_spot_values.csv") if row["case"].startswith(kind + "_")
    ]
    assert len(rows) >= 10
    check_against(
        "sea",
        f"density of {rows[0]['spectrum']} [m2 s/rad]",
        SOURCE,
        "derived",
        [row["S_omega_m2s_per_rad"] for row in rows],
        [density_of(row) for row in rows],
        relative=1e-6,  # the table's own statement for a correct code
        absolute=1e-14,  # far below the peak the values lose digits
        of=CHECKED.get(kind, ochi_hubble.ochi_hubble),
    )


def test_jonswap_relations(reference_table, check_against):
    rows = reference_table("sea_jonswap_relations.csv")
    gamma = [row["gamma"] for row in rows]
    check_against(
        "sea",
        "exact JONSWAP normalisation A [-]",
        "integral 0..infinity",
        "derived",
        [row["A_int"] for row in rows],
        [spectra.jonswap_normalisation(g) for g in gamma],
        relative=1e-8,
    )
    check_against(
        "sea",
        "short JONSWAP normalisation [-]",
        "DNV-RP-C205 3.5.5, read in open sources",
        "read",
        [row["A_1_minus_0.287ln"] for row in rows],
        [spectra.jonswap_short_normalisation(g) for g in gamma],
        relative=1e-9,
    )
    omega = np.geomspace(0.2, 5.0, 40001)  # peak at 1 rad/s, cut at five times the peak
    ours = [bulk.bulk_sea(omega, spectra.jonswap(omega, 1.0, 2.0 * np.pi, g)) for g in gamma]
    for name, column, values in (
        ("Tz/Tp", "Tz_Tp_c5", [sea.tz for sea in ours]),
        ("T1/Tp", "T1_Tp_c5", [sea.t1 for sea in ours]),
    ):
        check_against(
            "sea",
            f"JONSWAP {name}, cut at 5 omega_p [-]",
            "integral to 5 omega_p",
            "derived",
            [row[column] for row in rows],
            np.array(values) / (2.0 * np.pi),
            relative=1e-5,
        )
    wide = np.geomspace(0.2, 2000.0, 60001)
    check_against(
        "sea",
        "JONSWAP Tz/Tp against the DNV polynomial [-]",
        "DNV-RP-C205 3.5.5, read in open sources",
        "read",
        [row["Tz_Tp_DNV"] for row in rows],
        [bulk.bulk_sea(wide, spectra.jonswap(wide, 1.0, 2.0 * np.pi, g)).tz / 2.0 / np.pi for g in gamma],
        relative=2.5e-3,  # how far the polynomial itself is from the integral in the table
    )


def test_gamma_rule(reference_table, check_against):
    rows = reference_table("sea_jonswap_gamma_rule.csv")
    check_against(
        "sea",
        "JONSWAP gamma from Hs and Tp [-]",
        "DNV-RP-C205 3.5.5.5, read in open sources",
        "read",
        [row["gamma_DNV"] for row in rows],
        [jonswap_gamma_rule(row["Hs_m"], row["Tp_s"]) for row in rows],
        relative=1e-9,
    )


def test_spectral_moments(reference_table, check_against):
    shapes = {
        "BR": lambda w, hs, tp, g: spectra.bretschneider(w, hs, tp),
        "JS287": lambda w, hs, tp, g: spectra.jonswap(w, hs, tp, g, normalisation="short"),
        "JSEX": lambda w, hs, tp, g: spectra.jonswap(w, hs, tp, g),
        "TORS04": lambda w, hs, tp, g: torsethaugen_2004(w, hs, tp),
        "OH0": lambda w, hs, tp, g: ochi_hubble.ochi_hubble(w, hs),
    }
    rows = reference_table("sea_spectral_moments.csv")
    published, ours = [], []
    for row in rows:
        kind, gamma = row["case"].split("_")[0], float(row["case"].split("_")[-1])
        peak = 2.0 * np.pi / row["Tp_s"]
        omega = np.linspace(0.02 * peak, row["cut_over_wp"] * peak, 40001)
        density = shapes[kind](omega, row["Hs_in_m"], row["Tp_s"], gamma)
        for column, order in (("m_minus1", -1), ("m0", 0), ("m1", 1), ("m2", 2), ("m4", 4)):
            published.append(row[column])
            ours.append(bulk.spectral_moment(omega, density, order))
    check_against("sea", "spectral moments", "adaptive quadrature", "derived", published, ours, relative=1e-4,
                  of=bulk.spectral_moment)  # fmt: skip


def test_width_measures(reference_table, check_against):
    rows = reference_table("sea_spectral_moments.csv")
    for name, column, values in (
        ("eps", "eps", [spectral_width(row["m0"], row["m2"], row["m4"]) for row in rows]),
        ("nu", "nu", [spectral_narrowness(row["m0"], row["m1"], row["m2"]) for row in rows]),
    ):
        check_against(
            "sea",
            f"spectral width {name} [-]",
            "closed form",
            "derived",
            [r[column] for r in rows],
            values,
            relative=1e-8,
        )


def test_fully_developed_sea(reference_table, check_against):
    rows = reference_table("sea_pm_fully_developed.csv")
    wind = [row["U19_5_m_s"] for row in rows]
    source = "Pierson & Moskowitz 1964 constants, from memory"
    check_against(
        "sea",
        "fully developed Hs [m]",
        source,
        "memory",
        [row["Hs_m"] for row in rows],
        [pierson_moskowitz_height(u) for u in wind],
        relative=1e-8,
    )
    check_against(
        "sea",
        "fully developed Tp [s]",
        source,
        "memory",
        [row["Tp_s"] for row in rows],
        [pierson_moskowitz_peak_period(u) for u in wind],
        relative=1e-8,
    )


def test_closed_form_ratios(reference_table, check_against):
    known = {row["quantity"]: row["value"] for row in reference_table("sea_pm_closed_forms.csv")}
    omega = np.geomspace(0.2, 2000.0, 200001)
    sea = bulk.bulk_sea(omega, spectra.bretschneider(omega, 2.0, 2.0 * np.pi))
    check_against(
        "sea",
        "Bretschneider period ratios Tp/Tz, Tp/T1, Te/Tp [-]",
        "gamma functions",
        "derived",
        [known["Tp/Tz"], known["Tp/T1"], known["Te/Tp"]],
        2.0 * np.pi * np.array([1 / sea.tz, 1 / sea.t1, sea.te / (2.0 * np.pi) ** 2]),
        relative=1e-6,  # the table of omega ends at 2000 times the peak
    )


def test_torsethaugen_peaks(reference_table, check_against):
    rows = reference_table("sea_torsethaugen_partition_values.csv")
    models = (
        (True, torsethaugen.torsethaugen_1996_peaks, "Torsethaugen 1996"),
        (False, torsethaugen_2004_peaks, "Torsethaugen & Haver 2004"),
    )
    for full, peaks_of, source in models:
        published, ours = [], []
        for row in (row for row in rows if (row["model"] == "Torsethaugen1996") == full):
            for number, peak in enumerate(peaks_of(row["Hs_m"], row["Tp_s"]), 1):
                published += [row[f"{key}{number}{unit}"] for key, unit in KEYS]
                ours += list(peak)
        check_against(
            "sea",
            f"Torsethaugen peak parameters, {source[-4:]}",
            f"{source}, read in open sources",
            "derived",
            published,
            ours,
            relative=1e-6,
            of=peaks_of,
        )


KEYS = (("H_peak", "_m"), ("T_peak", "_s"), ("gamma", ""), ("N", ""), ("M", ""))


def test_long_wind_sea_keeps_gamma_at_one():
    """Torsethaugen & Haver 2004 has no value below gamma = 1: the trap named in the reference notes."""
    period = 4.9
    peaks = torsethaugen_2004_peaks(0.5, period)
    assert min(peak.gamma for peak in peaks) >= 1.0
    assert np.all(np.isfinite(torsethaugen_2004(np.linspace(0.0, 6.0, 200), 0.5, period)))


def test_ochi_hubble_families(reference_table, check_against):
    rows = reference_table("sea_ochi_hubble_parameters.csv")
    columns = ("h1", "h2", "a1_rad_s", "b1_per_m", "a2_rad_s", "b2_per_m", "lambda1", "l2", "c2_per_m")
    check_against(
        "sea",
        "Ochi-Hubble family parameters",
        "Ochi & Hubble 1976, read in an open source",
        "read",
        [row[column] for row in rows for column in columns],
        [value for family in ochi_hubble.FAMILIES for value in family],
    )
