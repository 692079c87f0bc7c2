"""Lift slope of plane, inclined and surface-near wings against another vortex lattice (tables derived).

Deep rectangular wings: 0.3 % is the table's own tolerance. Inclined and piercing wings: 2 %. Near the
surface: 1.5 % on the ratio.
"""


import numpy as np

from tests.foil.foil_table import Comparison, table
from tests.oracles.lattice_reading import span_lift_slope
from tests.oracles.lifting_line import tapered_lifting_line
from tests.oracles.lifting_surface import _far_wash, _mesh, span_loading


def flat(aspect_ratio, strips=24):
    span = np.linspace(0.0, aspect_ratio, strips + 1)
    return span, np.zeros_like(span), np.ones(strips)


def test_rectangular_wings(logbook):
    t = table("foil_wing_liftslope_rect")
    ours = [span_loading(*flat(ar)).total_slope for ar in t["AR"]]
    check = Comparison(logbook, "foil", "vortex lattice, table wing_liftslope_rect", "derived")
    check.close("lift slope of rectangular wings", t["CLalpha_VLM_extrapolated"], ours, relative=0.003)
    memory = Comparison(logbook, "foil", "accurate lifting-surface values, AR 1 and 2", "memory")
    memory.close("lift slope", [1.4602, 2.4744], ours[1:3], relative=0.003)


def test_inclined_and_piercing_wings(logbook):
    t = table("foil_inclined_foil_vlm")
    single, vee = ([], []), ([], [])
    for row, case in enumerate(t["case"]):
        angle = np.radians(t["dihedral"][row])
        if case == "V_deep_two_panels":
            s = np.linspace(-3.0, 3.0, 25)
            found = span_loading(s * np.cos(angle), np.abs(s) * np.sin(angle), np.ones(24)).total_slope
            vee[0].append(t["CZ_per_delta(developed area)"][row])
            vee[1].append(found * np.cos(angle) ** 2)  # rake gives cos, the vertical part another cos
        else:
            s = np.linspace(-3.0, 0.0, 25)
            surface = 0.0 if "piercing" in case else None
            found = span_loading(
                s * np.cos(angle), s * np.sin(angle), np.ones(24), surface_z=surface
            ).total_slope
            single[0].append(t["CN_per_local_alpha"][row])
            single[1].append(found)
    check = Comparison(logbook, "foil", "vortex lattice, table inclined_foil_vlm", "derived")
    check.close("single panel, deep and piercing", *single, relative=0.02)
    check.close("V foil, vertical", *vee, relative=0.02)


def test_near_the_surface(logbook):
    t = table("foil_freesurface_Frinf_lift_ratio")
    check = Comparison(logbook, "foil", "vortex lattice, table freesurface_Frinf_lift_ratio", "derived")
    for ar in (2, 3, 4, 6, 10):
        deep = span_loading(*flat(ar)).total_slope
        ours = [span_loading(*flat(ar), surface_z=h).total_slope / deep for h in t["h_over_c"]]
        check.close(f"lift ratio, AR {ar}", t[f"KVLM_AR{ar}"], ours, relative=0.015)


def test_long_wing_tends_to_the_flat_plate(logbook):
    """In the middle of a very long wing the loss is the two-dimensional one."""
    t = table("foil_freesurface_Frinf_lift_ratio")
    rows = [4, 6, 8]
    ours = []
    for h in t["h_over_c"][rows]:
        near = span_lift_slope(*flat(400.0, 25), surface_z=h)[12]
        ours.append(near / (2.0 * np.pi))
    check = Comparison(logbook, "foil", "linear flat plate, table freesurface_Frinf_lift_ratio", "derived")
    check.close("lift ratio of a section", t["K2D_flatplate_exact_linear"][rows], ours, relative=0.01)


def far_plane_drag(aspect_ratio, loading):
    """C_Di pi AR / C_L^2 of a rectangular wing with a given circulation, by our far plane."""
    span, level, chord = flat(aspect_ratio)
    mesh = _mesh((0.0, aspect_ratio), span, span, level, chord, 96)
    gamma = loading(2.0 * mesh.s_mid / aspect_ratio - 1.0)
    width = np.diff(mesh.s)
    wash = 0.5 * _far_wash(mesh, mesh, None) @ gamma
    return -0.5 * np.pi * aspect_ratio**2 * np.sum(wash * gamma * width) / np.sum(gamma * width) ** 2


def test_induced_drag_in_the_far_plane(logbook):
    """Elliptic loading gives the least drag; the lifting line's loading gives the lifting line's drag."""
    line = [tapered_lifting_line(1.0, ar) for ar in (4.0, 6.0, 10.0)]
    check = Comparison(
        logbook, "foil", "Glauert's lifting line, delta of table liftingline_tapered", "derived"
    )
    t = table("foil_liftingline_tapered")
    delta = [t["delta"][(t["taper"] == 1.0) & (t["AR"] == ar)][0] for ar in (4.0, 6.0, 10.0)]
    ours = [far_plane_drag(ar, wing.circulation) for ar, wing in zip((4.0, 6.0, 10.0), line, strict=True)]
    check.close("induced drag over the least possible", 1.0 + np.array(delta), ours, relative=0.001, of=_far_wash)
    exact = Comparison(logbook, "foil", "elliptic loading, C_Di = C_L^2 / (pi AR)", "derived")
    exact.close("induced drag over the least possible", 1.0,
                far_plane_drag(6.0, lambda eta: np.sqrt(1.0 - eta**2)),
                relative=1e-6, of=_far_wash)  # fmt: skip


def test_induced_drag_lies_between_the_least_and_the_lifting_line():
    """A lifting surface loads a wing nearer the ellipse than a lifting line does, never better."""
    for ar in (4.0, 6.0, 10.0):
        found = span_loading(*flat(ar)).total_induced * np.pi * ar
        assert 1.0 < found < 1.0 + tapered_lifting_line(1.0, ar).delta
