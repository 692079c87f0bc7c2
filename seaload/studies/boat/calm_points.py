"""Calm-water trims of a page, sixteen points at a time, and what each point's loads are made of."""

from dataclasses import dataclass, replace

import numpy as np

from seaload.boat.heeling import heeled
from seaload.boat.resistance import friction_resistance, hump_resistance, other_resistance, plunge_drag
from seaload.foil.bending import static_moments
from seaload.simulation import layout as L
from seaload.simulation.balance import rudder_rows, still_water_loads
from seaload.simulation.calm import CalmTrim, calm_trim
from seaload.simulation.layout import BOAT, LANES, March
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, lane_centre, march_arrays
from seaload.simulation.workspace import load_state
from seaload.studies.attainable import Reach

ENCOUNTER = 1.0  # [rad/s] that stands for the sea in the arrays; a trim does not hang on it
WET = 0.2  # [-] a strip with less of it under water is not asked whether it ventilates


@dataclass(frozen=True)
class CalmPoints:
    """LANES trims side by side."""

    settings: tuple  # of Setting, one a lane
    march: March
    geometries: list  # of FoilGeometry
    trim: CalmTrim
    total: np.ndarray  # (L.TOTAL_ROWS, LANES) loads at the trim
    out: np.ndarray  # (strips, L.STRIP_OUT_ROWS, LANES)


def calm_points(boat, foil, settings, model):
    """`CalmPoints` of LANES `settings`; `boat`, `foil` records, `model` {name: value} as `model_factors` gives it."""
    march, _, geometries = march_arrays(boat, foil, settings, [ENCOUNTER] * LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, settings))
    total, out = loads_at(march, trim)
    return CalmPoints(tuple(settings), march, geometries, trim, total, out)


def loads_at(march, trim):
    """(total, out) of the loads at a `trim` in still water, motions held and the wake settled."""
    boat = march.boat.copy()
    for name in ("roll_free", "surge_free", "lag"):
        boat[BOAT[name]] = 0.0
    work = load_state(march, np.float64)
    still_water_loads(march._replace(boat=boat), work, trim.heave, trim.pitch)
    return work.total.reshape(L.TOTAL_ROWS, LANES), work.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)


class KnownTrims(Reach):
    """Attainable speeds of one boat that keep the whole trims behind each curve, so that a page needs none twice."""

    def __init__(self, question):
        super().__init__(question.boat, question.foil, {})
        self.window = float(question.speeds[0]), float(question.speeds[-1])
        self.points = {}

    def trim(self, key, lanes):
        """`CalmTrim` of LANES settings, their points kept."""
        points = self.points[key] = calm_points(self.boat, self.foil, lanes, self.model)
        return points.trim

    def points_of(self, setting):
        """`CalmPoints` of a setting over the page's speeds."""
        self.curve(setting)
        return self.points[replace(setting, speed=0.0, attainable=False), self.window]


def plain_model():
    """The full model without any choice of a study."""
    return model_factors({})


def drag_parts(points):
    """{name: (LANES,) [N]} of the drag at every trim; their sum is the thrust that it takes.

    Parts of the strips are what goes when those strips, or their induced drag, are left out.
    """
    march, total, boat = points.march, points.total, points.march.boat
    speed = boat[BOAT["target_speed"]]
    row = lambda name: boat[BOAT[name]]  # noqa: E731
    lanes = range(LANES)
    friction = [
        friction_resistance(speed[k], row("waterline_length")[k], row("wetted_surface")[k], march.density)
        for k in lanes
    ]
    waves = [hump_resistance(speed[k], row("waterline_length")[k], row("weight")[k], row("hump")[k]) for k in lanes]
    other = [other_resistance(speed[k], row("other_area")[k], march.density) for k in lanes]
    buried = [plunge_drag(speed[k], total[L.T_PLUNGE, k], march.density) for k in lanes]
    foil, leeway = march.foil_strips, points.trim.leeway
    along = lambda sums: sums[L.T_FX] + leeway * sums[L.T_FY]  # noqa: E731  (the course, off the heading by the leeway)
    bare = without(points, L.S_LENGTH, slice(None))
    alone = without(points, L.S_LENGTH, slice(foil, None))
    fins = without(points, L.S_LENGTH, slice(0, foil))
    smooth = without(points, L.S_INDUCED, slice(0, foil))
    return {
        "drag_hull_friction": np.array(friction),
        "drag_hull_waves": np.array(waves),
        "drag_hull_pressure": np.array(buried) - along(bare),
        "drag_other": np.array(other),
        "drag_foil_profile": along(fins) - along(smooth),
        "drag_foil_induced": along(smooth) - along(total),
        "drag_fins": along(alone) - along(total),
    }


def without(points, row, strips):
    """Totals at the same trims with a `row` of some `strips` (slice) set to zero."""
    strip = points.march.strip.copy()
    strip[strips, row] = 0.0
    return loads_at(points.march._replace(strip=strip), points.trim)[0]


def load_ratios(foil, points):
    """Bending moment at bearing and stations in calm water over its limit, (LANES, places) [-], below zero over the
    reverse one.
    """
    count, places = points.march.foil_strips, 1 + len(foil.stations)
    found = np.empty((LANES, places))
    for lane, (setting, geometry) in enumerate(zip(points.settings, points.geometries, strict=True)):
        strip, out = points.march.strip[:count, :, lane], points.out[:count, :, lane]
        lateral = out[:, L.O_NORMAL] * strip[:, L.S_NY]
        vertical = out[:, L.O_NORMAL] * strip[:, L.S_NZ] + out[:, L.O_VERTICAL]
        force = heeled(lateral, vertical, -setting.heel)
        s, at = geometry.strips, geometry.channel_s[:places]
        y, z = (np.interp(at, s.s_edge, edge) for edge in (s.y_edge, s.z_edge))
        moment = static_moments(at, y, z, s, geometry.bearing, foil.bearing_distance, *force)
        limit = np.where(moment >= 0.0, geometry.normal_limit[:places], geometry.reverse_limit[:places])
        found[lane] = moment / limit
    return found


def ventilation_demand(foil, points):
    """Highest demanded lift over the onset of ventilation among the wet strips of the `foil`, (LANES,) [-]."""
    out = points.out[: points.march.foil_strips]
    demand = np.maximum(out[:, L.O_DEMAND_N], out[:, L.O_DEMAND_R]) / foil.ventilation_onset
    return np.where(out[:, L.O_WET] > WET, demand, 0.0).max(axis=0)


def rudder_wet_share(points):
    """Share of the rudder under water, (LANES,) [-]."""
    return points.out[rudder_rows(points.march), L.O_WET].mean(axis=0)


def sailed_frequency(points):
    """First bending frequency as wet as at each trim, (LANES,) [1/s]."""
    boat = points.march.boat
    mass = boat[BOAT["mode_mass"]] + points.total[L.T_MODE_MASS]
    return np.sqrt(boat[BOAT["mode_stiffness"]] / mass) / (2.0 * np.pi)


def keel_share(boat, points):
    """What canting the keel adds to the hull's righting moment at each trim, (LANES,) [N m]."""
    sides = []
    for setting in points.settings:
        canted, upright = (
            heeled(*lane_centre(boat, each)[1:], setting.heel)[0] for each in (setting, replace(setting, cant=0.0))
        )
        sides.append(upright - canted)
    return points.total[L.T_HULL_FZ] * np.array(sides)
