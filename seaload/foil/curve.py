"""The foil as a curve in the upright boat's y-z plane, and the even strips of what is outside the hull.

Material coordinate s: zero at the lower bearing when the foil is fully out, L at the tip. Extension
slides the curve along its own straight shaft, so the material now at the bearing is (1 - e) L and
what is outside keeps its shape. The shaft must be long enough for that, or the elbow would have to
turn inside the bearing.
"""

from typing import NamedTuple

import numpy as np

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)


class CurveShape(NamedTuple):
    """Shape of the whole curve: a straight shaft, an elbow that turns smoothly, a straight tip."""

    shaft_length: float  # [m] from the bearing, fully out
    shaft_angle: float  # [rad] dihedral of the shaft, outward-up +
    elbow_length: float  # [m]
    tip_length: float  # [m]
    tip_angle: float  # [rad] dihedral of the tip, outward-up +
    least_extension: float  # [-] smallest share of the outside length that may be out

    @property
    def outside_length(self):
        """Arc length outside the hull, foil fully out [m]."""
        return self.shaft_length + self.elbow_length + self.tip_length


class SectionRows(NamedTuple):
    """Section data given at places in the material; between them everything is linear in s."""

    material_s: np.ndarray  # (k,) [m], rising
    chord: np.ndarray  # (k,) [m]
    thickness_share: np.ndarray  # (k,) [-] thickness over chord
    zero_lift: np.ndarray  # (k,) [rad]
    incidence: np.ndarray  # (k,) [rad]


class FoilStrips(NamedTuple):
    """Even strips of the part outside the hull, from the bearing to the tip; places from the hull exit."""

    s_edge: np.ndarray  # (n+1,) [m] material coordinate
    y_edge: np.ndarray  # (n+1,) [m] leeward of the hull exit, upright boat
    z_edge: np.ndarray  # (n+1,) [m] above the hull exit
    s_mid: np.ndarray  # (n,) [m]
    length: np.ndarray  # (n,) [m] along the curve
    y: np.ndarray  # (n,) [m] of the strip's middle
    z: np.ndarray  # (n,) [m]
    chi_b: np.ndarray  # (n,) [rad] slope angle of the strip, outward-up +
    chord: np.ndarray  # (n,) [m]
    thickness: np.ndarray  # (n,) [m]
    zero_lift: np.ndarray  # (n,) [rad]
    incidence: np.ndarray  # (n,) [rad]


def slope_angle(s, shaft_length, shaft_angle, elbow_length, tip_angle):
    """Slope angle of the curve in the upright y-z plane at material s [rad], outward-up +.

    `s` (any shape) [m], `shaft_length` and `elbow_length` [m], `shaft_angle` and `tip_angle` [rad]; the elbow turns
    along the ramp 3 p^2 - 2 p^3, so curvature is zero at both its ends (choice of this project).
    """
    s = np.asarray(s, dtype=float)
    if elbow_length > 0.0:
        p = np.clip((s - shaft_length) / elbow_length, 0.0, 1.0)
    else:
        p = (s > shaft_length).astype(float)
    return shaft_angle + (tip_angle - shaft_angle) * p * p * (3.0 - 2.0 * p)


def _material_points(s, shaft_length, shaft_angle, elbow_length, tip_angle):
    """Places (y, z) [m] of material `s` (n,) [m] from material 0: integrals of cos and sin of the slope angle.

    `shaft_length`, `elbow_length` [m], `shaft_angle`, `tip_angle` [rad]. Geometry.
    """
    s = np.atleast_1d(np.asarray(s, dtype=float))
    straight = np.minimum(s, shaft_length)
    in_elbow = np.clip(s - shaft_length, 0.0, elbow_length)
    in_tip = np.maximum(s - shaft_length - elbow_length, 0.0)
    inner = shaft_length + in_elbow[:, None] * 0.5 * (1.0 + _NODES)
    angle = slope_angle(inner, shaft_length, shaft_angle, elbow_length, tip_angle)
    share = 0.5 * in_elbow
    y = straight * np.cos(shaft_angle) + share * (np.cos(angle) @ _WEIGHTS) + in_tip * np.cos(tip_angle)
    z = straight * np.sin(shaft_angle) + share * (np.sin(angle) @ _WEIGHTS) + in_tip * np.sin(tip_angle)
    return y, z


def outside_points(s_b, s_array, shaft_length, shaft_angle, elbow_length, tip_angle):
    """Places (y, z) of material points from the hull exit [m], y to leeward, z up, upright boat.

    `s_b` [m] material now at the bearing; `s_array` (n,) [m] material places (those below s_b lie inside, on the
    straight line through the bearings); `shaft_length`, `elbow_length` [m], `shaft_angle`, `tip_angle` [rad] of the
    curve. ValueError when s_b is past the straight shaft.
    """
    if s_b > shaft_length * (1.0 + 1e-12):
        raise ValueError(
            f"material at the bearing {s_b:g} m lies past the straight shaft of {shaft_length:g} m: "
            "the elbow would turn inside the bearing"
        )
    y, z = _material_points(s_array, shaft_length, shaft_angle, elbow_length, tip_angle)
    y_b, z_b = _material_points(s_b, shaft_length, shaft_angle, elbow_length, tip_angle)
    return y - y_b[0], z - z_b[0]


def check_curve(curve):
    """Refuse (ValueError) a `curve` (`CurveShape`, [m] and [-]) whose elbow would turn inside the bearing at the least
    extension.
    """
    needed = (1.0 - curve.least_extension) * curve.outside_length
    if curve.shaft_length < needed * (1.0 - 1e-12):
        raise ValueError(
            f"shaft length {curve.shaft_length:g} m is under (1 - least extension) x outside length = "
            f"{needed:g} m: the elbow would turn inside the bearing"
        )


def bearing_material(extension, curve):
    """Material coordinate now at the lower bearing [m]: (1 - e) L; ValueError outside what is allowed.

    `extension` e [-], `curve` a `CurveShape` of outside length L.
    """
    if not curve.least_extension - 1e-12 <= extension <= 1.0 + 1e-12:
        raise ValueError(
            f"extension {extension:g} is outside {curve.least_extension:g} .. 1 of the outside length"
        )
    return max(0.0, (1.0 - extension) * curve.outside_length)


def strip_edges(s_b, outside_length, strips):
    """Material coordinates of the edges of even strips outside the hull, (strips+1,) [m].

    `s_b` [m] material at the bearing, `outside_length` [m], `strips` their number.
    """
    return np.linspace(s_b, outside_length, strips + 1)


def section_at(s, sections):
    """Chord [m], thickness [m], zero-lift angle [rad], incidence [rad] at material s, each like s.

    `s` (n,) [m], `sections` `SectionRows`. Linear in s between the given rows (thickness as a share of the chord),
    level past their ends.
    """
    chord = np.interp(s, sections.material_s, sections.chord)
    thickness = chord * np.interp(s, sections.material_s, sections.thickness_share)
    zero_lift = np.interp(s, sections.material_s, sections.zero_lift)
    incidence = np.interp(s, sections.material_s, sections.incidence)
    return chord, thickness, zero_lift, incidence


def foil_strips(extension, strips, curve, sections):
    """Strips of the foil outside the hull at an extension, as `FoilStrips`.

    `extension` [-] share of the outside length that is out; `strips` number of even strips; `curve` a
    `CurveShape`; `sections` `SectionRows`. ValueError for a curve or an extension that cannot be.
    """
    check_curve(curve)
    s_b = bearing_material(extension, curve)
    shape = (curve.shaft_length, curve.shaft_angle, curve.elbow_length, curve.tip_angle)
    s_edge = strip_edges(s_b, curve.outside_length, strips)
    s_mid = 0.5 * (s_edge[1:] + s_edge[:-1])
    y_edge, z_edge = outside_points(s_b, s_edge, *shape)
    y, z = outside_points(s_b, s_mid, *shape)
    chord, thickness, zero_lift, incidence = section_at(s_mid, sections)
    return FoilStrips(
        s_edge, y_edge, z_edge, s_mid, np.diff(s_edge), y, z, slope_angle(s_mid, *shape),
        chord, thickness, zero_lift, incidence,
    )  # fmt: skip
