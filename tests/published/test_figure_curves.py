"""Curves of the validation page: tables of other test files as points, our formulas as lines.

Sources and their origin stand in the tables and in the test files that gate them; nothing is gated twice here.
"""


import numpy as np

from seaload.foil.free_surface import finite_froude_factor
from seaload.waves import ochi_hubble, spectra
from tests.foil.foil_table import table
from tests.oracles import spectral_damage as spectral
from tests.oracles.lifting_line import tapered_lifting_line
from tests.oracles.mode_exact import half_sine_response
from tests.oracles.torsethaugen_2004 import torsethaugen_2004

CASES = {
    "JONSWAP": "JS287_2.5_8_3.3",
    "Bretschneider": "BR_2.5_8",
    "Torsethaugen": "TORS04_4_9",
    "Ochi-Hubble": "OH0_4",
}
OURS = {
    "JONSWAP": lambda w: spectra.jonswap(w, 2.5, 8.0, 3.3, normalisation="short"),
    "Bretschneider": lambda w: spectra.bretschneider(w, 2.5, 8.0),
    "Torsethaugen": lambda w: torsethaugen_2004(w, 4.0, 9.0),
    "Ochi-Hubble": lambda w: ochi_hubble.ochi_hubble(w, 4.0, 0),
}


def test_spectra(reference_table, draw_curve):
    axes = ("Families of wave spectra", "frequency [rad/s]", "density over square of Hs [s/rad]")
    rows = reference_table("sea_spectra_spot_values.csv")
    omega = np.linspace(0.3, 2.4, 160)
    for name, case in CASES.items():
        some = [row for row in rows if row["case"] == case and 0.3 <= row["omega_rad_s"] <= 2.4]
        size = some[0]["Hs_m"] ** 2
        draw_curve(*axes, f"{name}, published", [r["omega_rad_s"] for r in some],
                   [r["S_omega_m2s_per_rad"] / size for r in some], published=True)  # fmt: skip
        draw_curve(*axes, f"{name}, ours", omega, OURS[name](omega) / size,
                   caption="JONSWAP (peak factor 3.3) and Bretschneider at 2.5 m, 8 s; Torsethaugen 2004 at 4 m, 9 s; "
                   "Ochi-Hubble, most probable set, at 4 m.")  # fmt: skip


def test_lifting_line(draw_curve):
    t = table("foil_liftingline_tapered")
    axes = ("Lift slope of tapered wings, lifting line", "aspect ratio [-]", "lift slope [1/rad]")
    for taper in sorted({1.0, float(t["taper"].min())}, reverse=True):
        picks = t["taper"] == taper
        ratio = np.linspace(t["AR"][picks].min(), t["AR"][picks].max(), 25)
        draw_curve(*axes, f"taper {taper:g}, published", t["AR"][picks], t["CLalpha_a0=2pi"][picks], published=True)
        draw_curve(*axes, f"taper {taper:g}, ours", ratio, [tapered_lifting_line(taper, a).lift_slope for a in ratio])


def test_free_surface(draw_curve):
    t = table("foil_freesurface_HoughMoran_h_c_1")
    read = next(name for name in t if name.startswith("K_read"))
    froude = t["Fn_h=U/sqrt(g h)"]
    axes = ("Lift near the surface, one chord deep", "speed / sqrt(g x depth) [-]", "lift over lift when deep [-]")
    fine = np.linspace(froude.min(), froude.max(), 80)
    draw_curve(*axes, "factor, published", froude, t[read], published=True)
    draw_curve(*axes, "factor, ours", fine, finite_froude_factor(np.ones_like(fine), fine),
               caption="Hough and Moran 1969, digitised by others from a book.")  # fmt: skip


def test_dynamic_amplification(draw_curve):
    t = table("structure_duhamel_daf")
    axes = ("A half-sine blow on one bending mode", "duration over natural period [-]",
            "deflection over static deflection [-]")  # fmt: skip
    fine = np.linspace(t["td_over_T"].min(), t["td_over_T"].max(), 60)
    for name, column, extreme in (("peak", "half_sine_z05", np.max), ("rebound", "half_sine_min_rebound_z05", np.min)):
        ours = [extreme(half_sine_response(d, 1.0, 0.05, np.linspace(0.0, d + 3.0, 4001))) for d in fine]
        draw_curve(*axes, f"{name}, published", t["td_over_T"], t[column], published=True)
        draw_curve(*axes, f"{name}, ours", fine, ours,
                   caption="Damping 5 %. The rebound is the reverse load after the blow.")  # fmt: skip


def test_spectral_damage(reference_table, draw_curve):
    """Closed forms over narrow band beside the cycles counted in the time domain."""
    axes = ("Wide-band damage: closed form against counted cycles", "slope of the S-N curve [-]",
            "damage over narrow-band damage [-]")  # fmt: skip
    known = {row["psd"]: row for row in reference_table("fatigue_spectral_fatigue_coefficients.csv")}
    for row in reference_table("fatigue_spectral_fatigue_timedomain.csv"):
        c, name = known[row["psd"]], {"BIM": "two peaks", "BOX": "wide box", "JON": "JONSWAP"}[row["psd"][:3]]
        slopes = np.linspace(3.0, 10.0, 15)
        narrow = np.array([spectral.narrow_band_damage(c["m0"], c["m2"], m) for m in slopes])
        ours = np.array([spectral.dirlik_damage(c["m0"], c["m1"], c["m2"], c["m4"], m) for m in slopes]) / narrow
        counted = [row[f"ratio_m{m}"] for m in (3, 5, 10)]
        draw_curve(*axes, f"{name}, published", [3, 5, 10], counted, published=True)
        draw_curve(*axes, f"{name}, ours", slopes, ours,
                   caption="Lines: Dirlik; circles: rainflow counts. Dirlik falls short for the two-peaked spectrum, "
                   "so seaload counts cycles and uses no closed form.")  # fmt: skip
