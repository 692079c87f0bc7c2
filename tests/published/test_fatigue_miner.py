"""Worked numbers: Miner sums, damage-equivalent loads, mean-load corrections, narrow-band closed form.

Tables miner_del_worked, mean_stress_corrections, narrowband_gamma (derived by direct arithmetic; the narrow-band
form of Miles 1954 / Bendat was read in an open package). Tolerance: the digits printed.
"""

import csv
import json
from pathlib import Path

import numpy as np
import pytest

from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.miner import damage_equivalent_range, miner_damage
from tests.oracles.mean_load import bilinear_cycles, gerber_amplitude, goodman_amplitude, smith_watson_topper_amplitude
from tests.oracles.spectral_damage import narrow_band_damage

DATA = Path(__file__).parent / "data"
WORKED = json.loads((DATA / "fatigue_miner_del_worked.json").read_text())
ASTM_HISTORY = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0]


def rows(name):
    with open(DATA / name, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.mark.parametrize("case", WORKED["cases"])
def test_miner_sum_and_equivalent_range(case, logbook):
    ranges, counts = np.array(WORKED["spectrum_range_cycles"]).T
    damage = miner_damage(ranges, counts, case["m"], case["K (N=K*S^-m, S=range)"])
    equal = damage_equivalent_range(ranges, counts, case["m"], case["N_ref"])
    met = damage == pytest.approx(case["D"], rel=1e-9) and equal == pytest.approx(case["DEL_range"], rel=1e-9)
    logbook(
        stage="counting", quantity=f"Miner equivalent range, m = {case['m']:g}, N = {case['N_ref']:g}",
        source="direct arithmetic", origin="derived", published=case["DEL_range"], ours=equal,
        tolerance="rel 1e-9", met=met, of=damage_equivalent_range,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("case", WORKED["ASTM_fig6_DEL"])
def test_equivalent_range_of_the_standard_history(case):
    ranges, _, counts, _, _ = list_cycles(ASTM_HISTORY)
    assert miner_damage(ranges, counts, case["m"], 1.0) == pytest.approx(case["sum_n_S^m"], rel=1e-9)
    assert damage_equivalent_range(ranges, counts, case["m"], case["N_ref"]) == pytest.approx(
        case["DEL_range"], rel=1e-9
    )


def test_sine_counted_from_samples():
    """Sine of amplitude 2 at 0.5 Hz for 600 s, 0.01 s apart: 300 cycles of range 4 (the last partly residue)."""
    ranges, _, counts, _, _ = list_cycles(2.0 * np.sin(np.pi * np.arange(60001) * 0.01))
    for slope in (4, 10):
        expected = WORKED["sinusoid"][f"DEL_m{slope}"]
        assert damage_equivalent_range(ranges, counts, slope, 600.0) == pytest.approx(expected, rel=1e-3)
    assert counts.sum() == pytest.approx(300.0, abs=0.6)


def test_curve_with_a_knee():
    curve = WORKED["bilinear_SN"]
    strength = 10.0 ** curve["log10K1"]
    for load_range, expected in ((100.0, curve["N_at_100"]), (30.0, curve["N_at_30"])):
        found = bilinear_cycles(load_range, curve["m1"], strength, curve["m2"], curve["N1"])
        assert found == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("row", rows("fatigue_mean_stress_corrections.csv"))
def test_mean_load_corrections(row):
    amplitude, mean, ultimate = (float(row[key]) for key in ("sa", "sm", "su"))
    assert goodman_amplitude(amplitude, mean, ultimate) == pytest.approx(float(row["goodman"]), rel=1e-9)
    assert gerber_amplitude(amplitude, mean, ultimate) == pytest.approx(float(row["gerber"]), rel=1e-9)
    assert smith_watson_topper_amplitude(amplitude, mean) == pytest.approx(float(row["swt"]), rel=1e-9)


@pytest.mark.parametrize("row", rows("fatigue_narrowband_gamma.csv"))
def test_narrow_band_closed_form(row, logbook):
    slope = float(row["m"])
    ours = narrow_band_damage(1.0, 1.0, slope)
    expected = float(row["E[a^m]/s^m"])
    met = ours == pytest.approx(expected, rel=1e-9)
    logbook(
        stage="counting", quantity=f"narrow-band damage, m = {slope:g}", source="Miles 1954, Bendat 1964",
        origin="derived", published=expected, ours=ours, tolerance="rel 1e-9", met=met,
    )  # fmt: skip
    assert met
    assert ours * 2.0**slope == pytest.approx(float(row["E[S^m]/s^m"]), rel=1e-9)


def test_narrow_band_worked_example():
    example = WORKED["narrowband_example"]
    strength = example["K_range"] / 2.0 ** example["m"]
    rate = narrow_band_damage(
        example["std_MPa"] ** 2, (example["std_MPa"] * example["nu0_Hz"]) ** 2, example["m"], strength
    )
    assert rate * example["T_s"] == pytest.approx(example["D"], rel=1e-9)
