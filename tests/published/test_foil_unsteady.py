"""Unsteady thin-section theory: exact functions, two-term forms, and the march of the lag states.

Sources: Theodorsen 1935 (NACA TR 496), Sears 1940, Wagner 1925, Kuessner 1936; the tables were derived from
Bessel and Hankel functions and by Fourier inversion (no number read). Two-term Wagner after R. T. Jones
(NACA TN-682; constants read in a public library's text), two-term Kuessner from memory.
"""


import numpy as np
import pytest

from seaload.foil.lag_states import lag_rate, recalled
from tests.foil.foil_table import Comparison, table
from tests.oracles.unsteady_theory import (
    KUESSNER_A,
    KUESSNER_B,
    WAGNER_A,
    WAGNER_B,
    harmonic_pitch,
    harmonic_plunge,
    kuessner,
    sears,
    theodorsen,
    two_term_indicial,
    two_term_transfer,
    wagner,
)

ROUNDING = 6e-7  # the tables print six decimals
RHO = 1025.0


def complex_column(columns, real, imaginary, rows=slice(None)):
    return columns[real][rows] + 1j * columns[imaginary][rows]


def test_theodorsen_and_sears(logbook):
    t = table("foil_theodorsen_sears")
    moving = t["k"] > 0.0
    k = t["k"][moving]
    check = Comparison(logbook, "foil", "Theodorsen 1935, Sears 1940, table theodorsen_sears", "derived")
    for name, ours, re, im in (
        ("C(k)", theodorsen(k), "F_exact", "G_exact"),
        ("Sears S(k), mid-chord", sears(k), "sears_mid_re", "sears_mid_im"),
        ("Sears S(k), leading edge", sears(k) * np.exp(-1j * k), "sears_LE_re", "sears_LE_im"),
        ("two-term C(k)", two_term_transfer(k, WAGNER_A, WAGNER_B), "F_jones", "G_jones"),
        (
            "two-term gust",
            two_term_transfer(k, KUESSNER_A, KUESSNER_B),
            "kussner2exp_LE_re",
            "kussner2exp_LE_im",
        ),
    ):
        check.close(f"{name}, real", t[re][moving], ours.real, absolute=1e-6, rounding=ROUNDING)
        check.close(f"{name}, imaginary", t[im][moving], ours.imag, absolute=1e-6, rounding=ROUNDING)


def test_published_values_of_theodorsen(logbook):
    check = Comparison(logbook, "foil", "Theodorsen 1935, values quoted in texts", "memory")
    found = theodorsen(np.array([0.1, 1.0]))
    check.close("C(0.1), C(1) real", [0.832, 0.539], found.real, absolute=0.001)
    check.close("C(0.1), C(1) imaginary", [-0.172, -0.100], found.imag, absolute=0.001)


def test_wagner_and_kuessner(logbook):
    t = table("foil_wagner_kussner")
    s = t["s_semichords"]
    check = Comparison(logbook, "foil", "Wagner 1925, Kuessner 1936, table wagner_kussner", "derived")
    # the table's inversion agrees with itself to 2e-5
    check.close("Wagner, exact", t["wagner_exact"], wagner(s), absolute=2e-5)
    check.close("Kuessner, exact", t["kussner_exact"], kuessner(s), absolute=2e-5)
    check.close(
        "Wagner, two terms", t["wagner_jones"], two_term_indicial(s, WAGNER_A, WAGNER_B), rounding=ROUNDING
    )
    two = two_term_indicial(s, KUESSNER_A, KUESSNER_B)
    check.close("Kuessner, two terms", t["kussner_2exp_0.5_0.13_0.5_1.0"], two, rounding=ROUNDING)


def test_what_two_terms_cost(logbook):
    """How far the marched lags are from the exact ones: the errors REFERENCES section 1 states."""
    s = np.linspace(0.0, 60.0, 601)
    check = Comparison(logbook, "foil", "error of the two-term forms, REFERENCES section 1", "derived")
    check.close("two-term less exact Wagner, s < 60", 0.0 * s,
                two_term_indicial(s, WAGNER_A, WAGNER_B) - wagner(s),
                absolute=0.0084)  # fmt: skip
    gap = two_term_indicial(s, KUESSNER_A, KUESSNER_B) - kuessner(s)
    check.close("two-term less exact Kuessner, s < 60", 0.0 * s, gap, absolute=0.096)


def test_harmonic_plunge_and_pitch(logbook):
    t = table("foil_harmonic_plunge_pitch")
    k, a = t["k"], t["axis_a"]
    deficiency = np.where(t["method"] == "exact", theodorsen(k), two_term_transfer(k, WAGNER_A, WAGNER_B))
    plunge, circulatory, plunge_moment = harmonic_plunge(k, a, deficiency)
    pitch, pitch_moment = harmonic_pitch(k, a, deficiency)
    check = Comparison(logbook, "foil", "Theodorsen 1935, table harmonic_plunge_pitch", "derived")
    for name, ours in (
        ("CL_h", plunge), ("CLcirc_h", circulatory), ("CL_alpha", pitch),
        ("CM_h", plunge_moment), ("CM_alpha", pitch_moment),
    ):  # fmt: skip
        check.close(f"{name}, real", t[f"{name}_re"], ours.real, absolute=1e-6, rounding=ROUNDING)
        check.close(f"{name}, imaginary", t[f"{name}_im"], ours.imag, absolute=1e-6, rounding=ROUNDING)


def marched_velocity(drive, semichord_rate, times, step, start=None):
    """Effective normal velocity at `times` from the lag states, fourth-order steps of `step` [s]."""
    w0 = drive(0.0)
    z = [0.0, 0.0] if start is None else [start * a for a in WAGNER_A]
    found, now = [], 0

    def rates(z, t):
        w = drive(t)
        return [lag_rate(z[i], WAGNER_A[i], WAGNER_B[i], w, semichord_rate) for i in range(2)]

    for time in times:
        while now * step < time - 0.5 * step:
            t = now * step
            k1 = rates(z, t)
            k2 = rates([z[i] + 0.5 * step * k1[i] for i in range(2)], t + 0.5 * step)
            k3 = rates([z[i] + 0.5 * step * k2[i] for i in range(2)], t + 0.5 * step)
            k4 = rates([z[i] + step * k3[i] for i in range(2)], t + step)
            z = [z[i] + step / 6.0 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]) for i in range(2)]
            now += 1
        w = drive(time) if time > 0 else w0
        past = recalled(z[0], z[1], 0.0)
        found.append(0.5 * (w - past) + past)  # a section alone: half at once, all of what is recalled
    return np.array(found)


def test_march_of_the_lag_states(logbook):
    t = table("foil_unsteady_time_march")
    speed, semichord = 10.0, 0.25
    check = Comparison(logbook, "foil", "Duhamel with two-term Wagner, table unsteady_time_march", "derived")
    cases = (
        ("plunge", "wE", "Lcirc", lambda s: 0.4 * np.cos(4.0 * s)),
        ("step", "wE_step0.5", "Lcirc_step", lambda s: 0.5),
        (
            "1 - cos gust",
            "wE_1cos",
            "Lcirc_1cos",
            lambda s: 0.25 * (1 - np.cos(2 * np.pi * s)) if s <= 1 else 0.0,
        ),
    )
    for name, velocity, lift, drive in cases:
        ours = marched_velocity(drive, speed / semichord, t["t"], 0.0025)
        check.close(f"effective velocity, {name}", t[velocity], ours, relative=1e-4, rounding=1e-6)
        force = 2.0 * np.pi * RHO * speed * semichord * ours
        check.close(f"circulatory lift, {name}", t[lift], force, relative=1e-4, absolute=0.05)


STRIPS = table("foil_foil_strip_in_regular_wave")


def test_strip_in_a_regular_wave_closed_form(logbook):
    t = STRIPS
    b, omega = 0.5 * t["chord"], 2.0 * np.pi / t["T_wave"]
    mu, g = np.radians(t["heading_mu"]), np.radians(t["dihedral"])
    wave_k = omega**2 / 9.81
    encounter = omega - wave_k * t["U"] * np.cos(mu)
    orbital = t["amplitude"] * omega * np.exp(-wave_k * t["depth"])
    normal = orbital * np.sqrt(np.cos(g) ** 2 + (np.sin(g) * np.sin(mu)) ** 2)
    answer = two_term_transfer(np.abs(encounter) * b / t["U"], WAGNER_A, WAGNER_B)
    lift = 2.0 * np.pi * RHO * t["U"] * b * normal
    total = lift * answer + 1j * np.pi * RHO * b**2 * np.abs(encounter) * normal
    check = Comparison(
        logbook, "foil", "strip in a regular wave, table foil_strip_in_regular_wave", "derived"
    )
    check.close("encounter frequency", t["omega_e"], encounter, relative=1e-4, absolute=1e-5)
    check.close("normal velocity", t["w_normal_amp"], normal, relative=1e-4)
    check.close("circulatory lift", t["Lcirc_amp"], lift * np.abs(answer), relative=1e-3)
    check.close("total lift", t["Ltotal_amp_incl_added_mass"], np.abs(total), relative=1e-3)


@pytest.mark.parametrize("row", [0, 7, 13, 20])
def test_strip_in_a_regular_wave_marched(logbook, row):
    t = {name: column[row] for name, column in STRIPS.items()}
    encounter, rate = abs(t["omega_e"]), t["U"] / (0.5 * t["chord"])
    period = 2.0 * np.pi / encounter
    cycles = int(np.ceil(8.0 / (0.0455 * rate) / period)) + 1
    times = (cycles + np.arange(64) / 64.0) * period
    ours = marched_velocity(lambda s: t["w_normal_amp"] * np.cos(encounter * s), rate, times, period / 256.0)
    amplitude = np.abs(2.0 * np.mean(ours * np.exp(-1j * encounter * times)))
    check = Comparison(
        logbook, "foil", "strip in a regular wave, table foil_strip_in_regular_wave", "derived"
    )
    lift = 2.0 * np.pi * RHO * t["U"] * 0.5 * t["chord"] * amplitude
    check.close(f"marched circulatory lift, row {row}", t["Lcirc_amp"], lift, relative=0.01)
