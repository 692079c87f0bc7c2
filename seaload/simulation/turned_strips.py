"""The foil's strips at any heel, turned with the boat exactly: the march itself rolls only a little about a mean heel.

What the strips do to each other under the surface is worked out at heels a few degrees apart and read between them.
"""

from typing import NamedTuple

import numpy as np

from seaload.boat.heeling import heeled
from seaload.foil.geometry import slope_angle
from seaload.foil.strip_axes import strip_normal
from seaload.foil.strip_load import wetting_half_width
from seaload.foil.wet_states import STATES, foil_answers
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT

SPAN_STEP = np.radians(2.0)  # [rad] at most, between two heels at which the strips' matrices are worked out: loads of a
# gybe then within half a per cent of the limit (measured against half a degree)


class UprightFoil(NamedTuple):
    """A foil in the upright boat: places from the centre of gravity, y to leeward and z up. n strips."""

    y: np.ndarray  # (n,) [m] of the strips' middles
    z: np.ndarray  # (n,) [m]
    edge_y: np.ndarray  # (n+1,) [m]
    edge_z: np.ndarray  # (n+1,) [m]
    slope: np.ndarray  # (n,) [rad] angle of each strip, outward-up +
    shaft: float  # [rad] the same of the shaft at the bearing
    length: np.ndarray  # (n,) [m]
    chord: np.ndarray  # (n,) [m]


class SpanTable(NamedTuple):
    """What the strips do to each other at h heels, as `foil_answers` gives it."""

    heel: np.ndarray  # (h,) [rad], even and rising
    states: np.ndarray  # (h, wet states, 2 n, n) [-]
    first: np.ndarray  # (h,) [m] water's height of the lowest state over the first edge
    step: np.ndarray  # (h,) [m] between two states


def upright_foil(foil, geometry, centre):
    """`UprightFoil` of a `foil` record and its `geometry`; `centre` (x, y, z) [m] of the centre of gravity in hull
    axes, y towards the side of this foil.
    """
    s = geometry.strips
    shaft = slope_angle(geometry.bearing, foil.shaft_length, foil.shaft_angle, foil.elbow_length, foil.tip_angle)
    y, z = foil.exit_y - centre[1], foil.exit_z - centre[2]
    return UprightFoil(
        y + s.y, z + s.z, y + s.y_edge, z + s.z_edge, s.chi_b, float(shaft), np.asarray(s.length), np.asarray(s.chord)
    )


def span_table(upright, section_slope, least, most):
    """`SpanTable` of an `upright` foil from heel `least` to `most` [rad]; `section_slope` [1/rad] in two dimensions."""
    heels = np.linspace(least, most, int(np.ceil((most - least) / SPAN_STEP - 1e-9)) + 1)
    found = []
    for heel in heels:
        y, z = heeled(upright.edge_y, upright.edge_z, heel)
        found.append(foil_answers(y - y[0], z - z[0], upright.chord, section_slope))
    states, first, step = zip(*found, strict=True)
    return SpanTable(heels, np.array(states), np.array(first), np.array(step))


def span_at(table, heel):
    """(states (wet states, 2 n, n) [-], first [m], step [m]) at a `heel` [rad], straight between those of a `table`."""
    if len(table.heel) == 1:
        return table.states[0], table.first[0], table.step[0]
    place = (heel - table.heel[0]) / (table.heel[1] - table.heel[0])
    k = min(max(int(place), 0), len(table.heel) - 2)
    share = min(max(place - k, 0.0), 1.0)
    return tuple((1.0 - share) * rows[k] + share * rows[k + 1] for rows in (table.states, table.first, table.step))


def turn_strips(march, upright, heel):
    """Write where the strips of an `upright` foil are at a `heel` (LANES,) [rad] into the arrays of a `march`."""
    n = march.foil_strips
    y, z = heeled(upright.y[:, None], upright.z[:, None], heel)
    angle = upright.slope[:, None] - heel
    rows = march.strip[:n]
    rows[:, L.S_Y], rows[:, L.S_Z] = y, z
    rows[:, L.S_NY], rows[:, L.S_NZ] = strip_normal(angle)
    rows[:, L.S_HALF_WIDTH] = wetting_half_width(upright.length[:, None], angle, upright.chord[:, None])


def turn_edges(march, upright, heel, tables):
    """The same of the strips' edges, the shaft and what the strips do to each other, which a step needs once.

    `march`, `upright`, `heel` [rad] as in `turn_strips`, `tables` a `SpanTable` a real lane; the lanes after repeat the
    last.
    """
    march.edge_y[:], march.edge_z[:] = heeled(upright.edge_y[:, None], upright.edge_z[:, None], heel)
    march.boat[BOAT["axial_y"]] = np.cos(upright.shaft - heel)
    march.boat[BOAT["axial_z"]] = np.sin(upright.shaft - heel)
    march.span_level[2], march.span_level[3] = STATES - 1.0, 1.0 / march.foil_strips
    for lane, table in enumerate(tables):
        states, first, step = span_at(table, heel[lane])
        march.span_states[..., lane:] = states[..., None]
        march.span_level[0, lane:] = first + march.edge_z[0, lane]
        march.span_level[1, lane:] = 1.0 / step
