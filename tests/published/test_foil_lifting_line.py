"""Plane wings: Fourier lifting line, elliptic loading, biplane factor. All tables derived, none read.

Glauert 1926 (tau of rectangular wings, from memory) differs from the derived tau by his few terms.
"""


import numpy as np

from tests.foil.foil_table import Comparison, table
from tests.oracles.lifting_line import (
    biplane_sigma,
    elliptic_half_span_load,
    elliptic_lift_slope,
    helmbold_lift_slope,
    slender_lift_slope,
    tapered_lifting_line,
)


def test_tapered_wings(logbook):
    t = table("foil_liftingline_tapered")
    wings = [tapered_lifting_line(taper, ar) for taper, ar in zip(t["taper"], t["AR"], strict=True)]
    check = Comparison(logbook, "foil", "Glauert's lifting line, table liftingline_tapered", "derived")
    check.close("lift slope", t["CLalpha_a0=2pi"], [w.lift_slope for w in wings], relative=0.002)
    check.close("delta", t["delta"], [w.delta for w in wings], absolute=1e-5)
    check.close("tau", t["tau"], [w.tau for w in wings], absolute=1e-5)
    check.close("half-lift centroid", t["half-lift_centroid"], [w.centroid for w in wings], relative=0.002)
    for eta in ("0.2", "0.4", "0.6", "0.8", "0.9", "0.95"):
        ours = [w.circulation(float(eta))[0] for w in wings]
        check.close(f"circulation at {eta} of the half span", t[f"G{eta}"], ours, relative=0.01)


def test_glauert_table(logbook):
    ratio = np.array([0.50, 0.75, 1.00, 1.25, 1.50, 1.75])
    ours = [tapered_lifting_line(1.0, 2.0 * np.pi * r).tau for r in ratio]
    check = Comparison(logbook, "foil", "Glauert 1926, rectangular wings, tau", "memory")
    check.close("tau", [0.10, 0.14, 0.17, 0.20, 0.22, 0.24], ours, absolute=0.01)


def test_closed_forms(logbook):
    t = table("foil_wing_liftslope_rect")
    check = Comparison(logbook, "foil", "closed forms, table wing_liftslope_rect", "derived")
    check.close("Helmbold", t["Helmbold"], helmbold_lift_slope(t["AR"]), relative=1e-4)
    check.close(
        "elliptic", t["elliptic_lifting_line_2pi/(1+2/AR)"], elliptic_lift_slope(t["AR"]), relative=1e-4
    )
    check.close("slender", t["Jones_slender_piAR/2"], slender_lift_slope(t["AR"]), relative=1e-4)
    ours = [tapered_lifting_line(1.0, ar).lift_slope for ar in t["AR"]]
    check.close("rectangular lifting line", t["rect_lifting_line_Fourier"], ours, relative=1e-4)


def test_elliptic_half_span(logbook):
    t = table("foil_elliptic_load_half_span")
    load, shear, moment = elliptic_half_span_load(t["eta=y/s"])
    check = Comparison(logbook, "foil", "elliptic loading, table elliptic_load_half_span", "derived")
    check.close("load", t["l*s/(L/2)"], load, absolute=1e-5)
    check.close("shear", t["shear/(L/2)"], shear, absolute=1e-5)
    check.close("moment", t["bending_moment/((L/2)*s)"], moment, absolute=1e-5)


def test_biplane_factor(logbook):
    t = table("foil_biplane_sigma")
    ours = [biplane_sigma(gap) for gap in t["gap_over_span(=2h/b)"]]
    check = Comparison(logbook, "foil", "two elliptic loadings, table biplane_sigma", "derived")
    check.close("sigma", t["sigma_elliptic_exact"], ours, relative=1e-4)
