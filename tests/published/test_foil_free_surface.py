"""Lift and drag near the water surface: one curve read (digitised by others), the rest derived."""


import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.foil.free_surface import finite_froude_factor
from seaload.foil.strip_load import surface_factor
from tests.foil.foil_table import Comparison, table
from tests.oracles.surface_drag import spray_drag, vortex_wave_drag


def test_infinite_froude_factor(logbook):
    t = table("foil_freesurface_Frinf_lift_ratio")
    ours = [surface_factor(h, 1.0) for h in t["h_over_c"]]
    check = Comparison(logbook, "foil", "vortex and image, table freesurface_Frinf_lift_ratio", "derived")
    check.close("K = (1+16H^2)/(2+16H^2)", t["K2D_single_vortex_(16H^2+1)/(16H^2+2)"], ours, absolute=1e-6)
    # what one vortex is worth against a flat plate: 13 % at a tenth of a chord, 3 % at half a chord
    deep = t["h_over_c"] >= 0.5
    check.close("one vortex against a flat plate, H >= 0.5", t["K2D_flatplate_exact_linear"][deep],
                np.array(ours)[deep], relative=0.03)  # fmt: skip


def test_finite_froude_factor(logbook):
    t = table("foil_freesurface_finiteFr_2D")
    ours = finite_froude_factor(t["h_over_c"], t["Fn_h=U/sqrt(g h)"])
    check = Comparison(logbook, "foil", "vortex under linear waves, table freesurface_finiteFr_2D", "derived")
    check.close("K, one vortex", t["K_single_vortex"], ours, absolute=0.005)
    sane = (t["h_over_c"] >= 1.0) & (t["Fn_h=U/sqrt(g h)"] >= 0.7)
    check.close(
        "K, one vortex against 24, H >= 1", t["K_flatplate_24_vortices"][sane], ours[sane], absolute=0.02
    )


def test_hough_and_moran(logbook):
    t = table("foil_freesurface_HoughMoran_h_c_1")
    ours = finite_froude_factor(1.0, t["Fn_h=U/sqrt(g h)"])
    read = next(name for name in t if name.startswith("K_read"))
    check = Comparison(
        logbook, "foil", "Hough and Moran 1969 after Faltinsen 2005 p. 199, digitised by others", "read"
    )
    check.close("K at h/c = 1", t[read], ours, absolute=0.05)
    derived = Comparison(
        logbook, "foil", "vortex under linear waves, table freesurface_HoughMoran_h_c_1", "derived"
    )
    derived.close("K at h/c = 1", t["K_single_vortex_derived"], ours, absolute=0.005)


def test_wave_drag(logbook):
    t = table("foil_wave_drag_2d_vortex")
    ours = vortex_wave_drag(t["CL"], t["chord"], t["depth"], t["V"], 9.81)  # V: the m/s column
    check = Comparison(logbook, "foil", "vortex under linear waves, table wave_drag_2d_vortex", "derived")
    check.close("wave drag coefficient", t["CD_wave_2D"], ours, relative=1e-4)


def test_spray_drag(logbook):
    t = table("foil_spray_drag_hoerner")
    speed = np.sqrt(2.0 * t["q"] / SEA_WATER_DENSITY)
    ours = spray_drag(speed, t["strut_thickness_at_surface"], SEA_WATER_DENSITY)
    check = Comparison(logbook, "foil", "Hoerner, spray of a piercing strut (+-50 %)", "memory")
    check.close("spray drag", t["D_spray=0.24 q t^2"], ours, relative=1e-4)
