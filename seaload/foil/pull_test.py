"""A force at the tip of the foil, as in the shed: the boat upright and still, the foil dry."""

import numpy as np

from seaload.foil.bending import share_between_bearings
from seaload.foil.curve import bearing_material, foil_strips
from seaload.foil.geometry import curve_of


def tip_levers(foil, extension, places):
    """Lever of a vertical force at the tip about `places` (p,) [m] of a `foil`: bending moment over force [m].

    Places in the material, `extension` [-]; the boat upright. An upward force bends the tip up and inboard. Outside the
    hull it is the way from the place to the tip, athwartships; between the bearings it falls to nothing at the upper
    one (statics).
    """
    curve, rows = curve_of(foil)
    strips, bearing = foil_strips(extension, foil.strips, curve, rows), bearing_material(extension, curve)
    places = np.asarray(places, dtype=float)
    reach = strips.y_edge[-1] - np.interp(places, strips.s_edge, strips.y_edge)
    return reach * share_between_bearings(places, bearing, foil.bearing_distance)


def tip_force_at_limits(levers, places, bearing, limits):
    """(force at the tip [N], material [m]) at which the first of the `places` at or outside the `bearing` reaches its
    limit.

    `levers` (p,) [m] as `tip_levers`, `places` (p,) and `bearing` [m] in the material, `limits` (p,) [N m], positive.
    Places with no lever are never reached; infinity where there is none.
    """
    outside = (places >= bearing - 1e-9) & (levers > 1e-9)
    force = np.where(outside, limits / np.where(outside, levers, 1.0), np.inf)
    first = int(np.argmin(force))
    return float(force[first]), float(places[first])
