"""Incidence of inclined elements from rake, heave, sway, roll, pitch and rising water (tables derived).

The tables have x forward, y to port, z up; the port element lies like our leeward foil with y to leeward, the
starboard one with the span direction (cos G, sin G) towards -y. Their roll and pitch rates are about
+x and nose up.
"""


import numpy as np

from seaload.foil.strip_axes import along_normal, along_tangent, rake_incidence
from seaload.foil.strip_load import inflow_angle
from tests.foil.foil_table import Comparison, table


def test_rake_of_an_inclined_element(logbook):
    t = table("foil_dihedral_rake_to_alpha")
    rake = np.radians(t["rake_rotation_about_transverse_axis"])
    cosine = np.cos(np.radians(t["dihedral"]))
    ours = [np.degrees(rake_incidence(r, c)) for r, c in zip(rake, cosine, strict=True)]
    check = Comparison(logbook, "foil", "sin a = sin d cos G, table dihedral_rake_to_alpha", "derived")
    check.close("local incidence [deg]", t["alpha_local_exact"], ours, absolute=1e-6, rounding=5e-7)
    small = np.degrees(rake) * cosine
    check.close(
        "small angle used by the march [deg]",
        t["alpha_local_exact"],
        small,
        relative=1.3e-3,  # rake^2 sin^2 G / 6
    )


def motion_at_element(name, side):
    """(v_y, v_z) of the element less that of the water [m/s], port axes; `side` +1 port, -1 starboard."""
    place_x, place_y, place_z = 2.0, 4.0 * side, -1.0
    if name.startswith("heave body up"):
        return 0.0, 1.0
    if name.startswith("heave body down"):
        return 0.0, -1.0
    if name.startswith("sway body to port"):
        return 1.0, 0.0
    if name.startswith("water vertical orbital up"):
        return 0.0, -1.0
    if name.startswith("roll rate"):  # (0.1, 0, 0) x r
        return -0.1 * place_z, 0.1 * place_y
    if name.startswith("pitch rate"):  # nose up lifts what lies ahead
        return 0.0, 0.1 * place_x
    raise AssertionError(name)


def test_velocity_of_an_inclined_element(logbook):
    t = table("foil_inclined_element_velocity")
    normal, angle = [], []
    for side_name, dihedral, name, speed in zip(t["side"], t["dihedral"], t["motion"], t["U"], strict=True):
        side = 1.0 if side_name == "port" else -1.0
        v_y, v_z = motion_at_element(name, side)
        g = np.radians(dihedral)
        # towards our outward axis: y of the starboard element runs the other way
        normal.append(along_normal(-v_y * side, -v_z, np.cos(g), np.sin(g)))
        angle.append(np.degrees(inflow_angle(normal[-1], speed)))
    check = Comparison(logbook, "foil", "w_n = (u - v).n, table inclined_element_velocity", "derived")
    check.close("normal velocity [m/s]", t["w_normal"], normal, absolute=1e-6, of=along_normal)
    check.close("change of incidence [deg]", t["delta_alpha"], angle, absolute=0.01, of=inflow_angle)


def test_normal_and_tangent_are_a_right_angle():
    for chi in (-1.1, 0.0, 0.4, 1.3):
        c, s = np.cos(chi), np.sin(chi)
        assert abs(along_normal(c, s, c, s)) < 1e-15
        assert abs(along_tangent(-s, c, c, s)) < 1e-15
        assert abs(along_normal(-s, c, c, s) - 1.0) < 1e-15
