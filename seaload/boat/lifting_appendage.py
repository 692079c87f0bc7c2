"""Keel fin and rudder as a few strips of lifting surface: where they are.

Same axes as the foil: a strip's tangent is (cos chi, sin chi) in (y leeward, z up), its normal
(-sin chi, cos chi). The tangent runs from tip to root, so the normal of a canted fin points to
windward and up: leeway gives positive lift.
"""

from typing import NamedTuple

import numpy as np


class AppendageStrips(NamedTuple):
    """n strips of one surface at its cant, in boat axes from the centre of gravity (not yet heeled)."""

    x: np.ndarray  # (n,) [m] forward
    y: np.ndarray  # (n,) [m] to leeward
    z: np.ndarray  # (n,) [m] up
    area: np.ndarray  # (n,) [m2]
    chord: np.ndarray  # (n,) [m]
    thickness_share: np.ndarray  # (n,) [-]
    span_angle: float  # [rad] chi_b; chi = chi_b - heel


def appendage_strips(surface, cant, cg_x, cg_y, cg_z, count=4):
    """`AppendageStrips` of a fin or rudder canted to windward by `cant` [rad] (0 for a rudder), `count` of them.

    `surface` has area, span, root_x (from the transom), root_y, root_z (above the keel point), tilt (tip to leeward +),
    thickness_share, SI. The centre of gravity (`cg_x`, `cg_y`, `cg_z`) [m] is given in the same
    frame. Constant chord (geometry, derived here).
    """
    lean = surface.tilt - cant  # of the tip to leeward, from straight down
    reach = (np.arange(count) + 0.5) * surface.span / count
    chord = surface.area / surface.span
    return AppendageStrips(
        x=np.full(count, surface.root_x - cg_x),
        y=surface.root_y + reach * np.sin(lean) - cg_y,
        z=surface.root_z - reach * np.cos(lean) - cg_z,
        area=np.full(count, surface.area / count),
        chord=np.full(count, chord),
        thickness_share=np.full(count, surface.thickness_share),
        span_angle=0.5 * np.pi + lean,
    )
