"""The load along the whole foil at each extreme moment: what a stress analyst puts on a model.

Of its deepest events a case keeps the load of every strip along its normal, weight and inertia in it. Statics turns
these into moment and shear at the strip edges and into the two bearing reactions; load along the chord and the bending
mode's own ringing are left out, so the moment differs a little from the one that was counted.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.records import EVENT_COLUMNS
from seaload.evidence.verdict import SIDES
from seaload.foil.bending import moment_arms
from seaload.foil.strip_axes import strip_normal

SPEED = EVENT_COLUMNS.index("speed")


class Extreme(NamedTuple):
    """The largest moment at one place towards one side, and the load then."""

    side: str
    material: float  # [m] of the place
    moment: float  # [N m] there, + = normal
    situation: int
    sea: int  # of the usage; -1 = another
    extension: float  # [-]
    bearing: float  # [m]
    strip_load: np.ndarray  # (strips,) [N]
    edge_material: np.ndarray  # (strips + 1,) [m]
    edge_moment: np.ndarray  # (strips + 1,) [N m]
    edge_shear: np.ndarray  # (strips + 1,) [N]
    upper: float  # [N] reaction of the upper bearing, towards the design side +
    lower: float  # [N]
    speed: float  # [m/s]


class Statics:
    """Moments and shears of one geometry from loads of its strips along their normals."""

    def __init__(self, foil, geometry, points):
        strips, self.bearing = geometry.strips, geometry.bearing
        ny, nz = (np.asarray(each) for each in strip_normal(strips.chi_b))
        self.edges = strips.s_edge
        arms = lambda s: moment_arms(  # noqa: E731
            s, np.interp(s, strips.s_edge, strips.y_edge), np.interp(s, strips.s_edge, strips.z_edge), strips,
            geometry.bearing, foil.bearing_distance,
        )  # fmt: skip
        self.at_points, self.at_edges = ((up * nz + out * ny) for up, out in (arms(points), arms(strips.s_edge)))
        ends_y, ends_z = (np.append(each, each[-1]) for each in (ny, nz))
        outboard = np.arange(len(ny)) >= np.arange(len(ny) + 1)[:, None]
        self.shear = outboard * (ends_y[:, None] * ny + ends_z[:, None] * nz)


def extremes(season):
    """[`Extreme`] of every place both ways, reverse first, root to tip; none of places that no kept event loads."""
    best, known = {}, {}
    for part in season.seas:
        key = part.setting.extension
        if key not in known:
            known[key] = Statics(season.foil, part.geometry, season.points)
        for record in part.records:
            if record.event_strip_load is None or len(record.event_strip_load) == 0:
                continue
            loads = np.asarray(record.event_strip_load, dtype=float)
            moments = loads @ known[key].at_points.T
            for side, sign in zip(SIDES, (-1.0, 1.0), strict=True):
                rows = np.argmax(sign * moments, axis=0)
                for p, row in enumerate(rows):
                    value = sign * moments[row, p]
                    if value > 0.0 and value > best.get((side, p), (0.0,))[0]:
                        best[side, p] = (value, part, known[key], loads[row], record.event_table[row, SPEED])
    return [extreme(season, side, p, *best[side, p]) for side in SIDES
            for p in range(len(season.points)) if (side, p) in best]  # fmt: skip


def extreme(season, side, point, value, part, statics, load, speed):
    """`Extreme` of one place; `value` [N m] > 0, `load` (strips,) [N], `speed` [m/s]."""
    moment, shear = statics.at_edges @ load, statics.shear @ load
    upper = moment[0] / season.foil.bearing_distance
    sign = -1.0 if side == "reverse" else 1.0
    return Extreme(
        side, float(season.points[point]), float(sign * value), part.situation, part.sea, part.setting.extension,
        statics.bearing, load, statics.edges, moment, shear, float(upper), float(-(shear[0] + upper)), float(speed),
    )  # fmt: skip
