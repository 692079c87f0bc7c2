"""Spectral damage: Dirlik 1985, Wirsching & Light 1980, Tovo & Benasciutti 2005/2006, Zhao & Baker 1992.

Formulas read in the open package FLife, numbers derived from exact moments (spectral_fatigue_coefficients,
spectral_fatigue_damage; rel 1e-8 of ten printed digits). Against counted cycles: spectral_fatigue_timedomain (derived
by simulation, 6 seeds, its standard error given): 3 standard errors of theirs and ours together.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.rainflow import STACK_SIZE, close_residue, count_chunk, new_counter
from tests.oracles import spectral_damage as spectral

DATA = Path(__file__).parent / "data"


def rows(name):
    with open(DATA / name, encoding="utf-8") as file:
        table = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return [{k: v if k == "psd" else float(v) for k, v in row.items()} for row in table]


COEFFICIENTS = {row["psd"]: row for row in rows("fatigue_spectral_fatigue_coefficients.csv")}
JONSWAP = next(name for name in COEFFICIENTS if name.startswith("JONSWAP"))


def psd_values(name, f):
    """One-sided density of the table's spectra at frequencies f [Hz]."""
    if name == "BIMODAL":
        return np.where((f >= 0.1) & (f <= 0.14), 20.0, 0.0) + np.where((f >= 0.9) & (f <= 1.1), 1.0, 0.0)
    if name == "BOX_wide":
        return np.where((f >= 0.2) & (f <= 2.0), 1.0 / 1.8, 0.0)
    x = np.maximum(f, 1e-9) / 0.125
    peak = np.exp(-0.5 * ((x - 1.0) / np.where(x <= 1.0, 0.07, 0.09)) ** 2)
    shape = np.where((f > 0.025) & (f < 0.625), x**-5.0 * np.exp(-1.25 * x**-4.0) * 3.3**peak, 0.0)
    return shape / (shape.sum() * (f[1] - f[0]))


@pytest.mark.parametrize("name", COEFFICIENTS)
def test_coefficients(name):
    row = COEFFICIENTS[name]
    xm, g1, g2, g3, r, q = spectral.dirlik_weights(row["m0"], row["m1"], row["m2"], row["m4"])
    for ours, key in ((xm, "xm"), (g1, "G1"), (g2, "G2"), (g3, "G3"), (r, "R"), (q, "Q")):
        assert ours == pytest.approx(row[key], rel=2e-6), key  # differences of nearly equal ten-digit moments
    alpha075 = spectral.bandwidth(row["m0"], row["m0.75"], row["m1.5"])
    assert alpha075 == pytest.approx(row["alpha075"], rel=1e-8)
    b2005 = spectral.tovo_benasciutti_weight_2005(row["alpha1"], row["alpha2"])
    assert b2005 == pytest.approx(row["b_TB2005"], rel=2e-6)
    assert spectral.tovo_benasciutti_weight_2006(alpha075, row["alpha2"]) == pytest.approx(
        row["b_TB2006"], rel=2e-6
    )


@pytest.mark.parametrize("row", rows("fatigue_spectral_fatigue_damage.csv"), ids=lambda r: f"{r['psd'][:9]}-{r['m']:g}")
def test_damage_rates(row, logbook):
    c, m = COEFFICIENTS[row["psd"]], row["m"]
    b2005 = spectral.tovo_benasciutti_weight_2005(c["alpha1"], c["alpha2"])
    b2006 = spectral.tovo_benasciutti_weight_2006(c["alpha075"], c["alpha2"])
    ours = {
        "NB": spectral.narrow_band_damage(c["m0"], c["m2"], m),
        "WL": spectral.wirsching_light_damage(c["m0"], c["m2"], c["m4"], m),
        "Dirlik": spectral.dirlik_damage(c["m0"], c["m1"], c["m2"], c["m4"], m),
        "TB2005": spectral.tovo_benasciutti_damage(c["m0"], c["m2"], c["m4"], b2005, m),
        "TB2006": spectral.tovo_benasciutti_damage(c["m0"], c["m2"], c["m4"], b2006, m),
        "ZB": spectral.zhao_baker_damage(c["m0"], c["m2"], c["m4"], m),
    }
    # BOX_narrow loses digits: its coefficients are differences of moments that agree to three digits
    tolerance = 2e-6 if row["psd"] == "BOX_narrow" else 2e-7
    for method, value in ours.items():
        met = value == pytest.approx(row[method], rel=tolerance)
        logbook(
            stage="counting", quantity=f"{method} damage rate, {row['psd'][:9]}, m = {m:g}",
            source="FLife formulas, exact moments", origin="derived", published=row[method], ours=value,
            tolerance=f"rel {tolerance:g}", met=met,
        )  # fmt: skip
        assert met, method


def counted_rate(seed, name, slopes, *, step, samples):
    """Damage rate [1/s] at the slopes from counted cycles of one Gaussian record, amplitude S-N of strength 1."""
    generator = np.random.default_rng(seed)
    frequency = np.fft.rfftfreq(samples, step)
    width = frequency[1]
    noise = generator.standard_normal((2, len(frequency)))
    amplitude = np.sqrt(psd_values(name, frequency) * width) * (noise[0] + 1j * noise[1])
    load = np.fft.irfft(0.5 * samples * amplitude, samples)
    rates = []
    for slope in slopes:
        stacks, states = new_counter()
        damage, ultimate = np.zeros(2), 1e9
        curve = WearCurve(ultimate, ultimate, slope, slope, 1.0, 1.0)
        rules = (CycleBins(1.0, 0.0, 1.0), np.zeros((0, 0)), damage, curve)
        count_chunk(load, stacks[0], states[0], *rules)
        close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
        rates.append(damage[0] * ultimate**slope / (samples * step))
    return np.array(rates), load.var()


@pytest.mark.parametrize("row", rows("fatigue_spectral_fatigue_timedomain.csv"), ids=lambda r: r["psd"][:9])
def test_counted_damage_against_the_narrow_band(row, logbook):
    """Ratio of counted to narrow-band damage, as the table's own simulations had it."""
    name, slopes = row["psd"], (3.0, 5.0, 10.0)
    c = COEFFICIENTS[name]
    step = 0.1 if name == JONSWAP else 0.025
    runs = [counted_rate(seed, name, slopes, step=step, samples=2**21) for seed in range(6)]
    closed = np.array([spectral.narrow_band_damage(c["m0"], c["m2"], m) for m in slopes])
    ratios = np.array([rate / closed for rate, _ in runs])
    assert np.mean([variance for _, variance in runs]) == pytest.approx(c["m0"], rel=0.02)
    for i, slope in enumerate(slopes):
        ours, error = ratios[:, i].mean(), ratios[:, i].std(ddof=1) / np.sqrt(len(runs))
        published, theirs = row[f"ratio_m{slope:g}"], row[f"se_m{slope:g}"]
        # both sides miss the top of peaks between samples: 1 - cos(pi/n), about 0.2 % of the load at n = 16 to 50
        allowed = 3.0 * np.hypot(error, theirs) + 0.002 * slope * published
        met = abs(ours - published) <= allowed
        logbook(
            stage="counting", quantity=f"counted over narrow-band damage, {name[:9]}, m = {slope:g}",
            source="time-domain simulation, 6 seeds", origin="derived", published=published, ours=ours,
            tolerance=f"3 standard errors and sampled peaks: {allowed:.3f}", met=met, of=close_residue,
        )  # fmt: skip
        assert met, f"m {slope:g}: {ours:.3f} against {published:.3f} within {allowed:.3f}"
    dirlik = np.array([spectral.dirlik_damage(c["m0"], c["m1"], c["m2"], c["m4"], m) for m in slopes]) / closed
    if name == "BIMODAL":  # the finding: low by a third at slope 10
        assert 0.55 < dirlik[2] / ratios[:, 2].mean() < 0.8
    else:
        assert dirlik[:2] == pytest.approx(ratios[:, :2].mean(axis=0), rel=0.06)
