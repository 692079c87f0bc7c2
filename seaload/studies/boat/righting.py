"""Righting moment over heel, at rest by the true heeled sections and at the racing speed by the trims; and floating."""

from dataclasses import replace

import numpy as np
from scipy.optimize import brentq

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.boat.heeling import heeled
from seaload.boat.hydrostatics import flotation, section_corners
from seaload.boat.righting import righting_arm, righting_line
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.prepare import lane_centre
from seaload.studies.boat.calm_points import calm_points, keel_share

REST_HEELS = np.radians(np.arange(0.0, 121.0, 5.0))
MOST_SAILED_HEEL = np.radians(35.0)
SAILED_HEELS = 8  # heels of that curve: each costs a dozen flotations
MOST_TRIM = np.radians(8.0)  # looked for at rest


def righting_parts(question, trims):
    """{name: (dims, values)} of both righting curves."""
    return {**rest_parts(question), **sailed_parts(question, trims)}


def rest_parts(question):
    """Righting at rest: {name: (dims, values)}, nan from the heel on at which the hull would go under."""
    boat, dims = question.boat, ("heel_at_rest",)
    weight = boat.mass * STANDARD_GRAVITY
    whole, upright = np.full((2, len(REST_HEELS)), np.nan)
    _, y, z = lane_centre(boat, question.setting)
    _, y_upright, z_upright = lane_centre(boat, replace(question.setting, cant=0.0))
    for i, heel in enumerate(REST_HEELS):
        try:
            centre = flotation(boat.hull, boat.mass, heel).centre_y
        except ValueError:
            break
        whole[i] = weight * (centre - heeled(y, z, heel)[0])
        upright[i] = weight * (centre - heeled(y_upright, z_upright, heel)[0])
    return {
        "heel_at_rest": (dims, REST_HEELS),
        "righting_at_rest": (dims, whole),
        "righting_at_rest_hull": (dims, upright),
        "righting_at_rest_keel": (dims, whole - upright),
        "vanishing_heel": ((), vanishing_heel(boat, y, z, whole)),
        **floating_parts(question),
    }


def vanishing_heel(boat, centre_y, centre_z, moments):
    """Heel [rad] past which the boat at rest no longer rights herself, nan where the curve does not come down to zero.

    `moments` (heels,) [N m] over REST_HEELS.
    """
    falling = (moments[:-1] > 0.0) & (moments[1:] <= 0.0)
    if not falling.any():
        return np.nan
    i = int(np.argmax(falling))
    arm = lambda heel: righting_arm(boat.hull, boat.mass, heel, centre_y, centre_z)  # noqa: E731
    return float(brentq(arm, REST_HEELS[i], REST_HEELS[i + 1], xtol=1e-5))


def floating_parts(question):
    """How she floats at rest, upright unless said: {name: ((), value)}."""
    boat = question.boat
    centre = lane_centre(boat, replace(question.setting, cant=0.0))
    level = flotation(boat.hull, boat.mass, 0.0)
    slope = righting_line(boat.hull, boat.mass, 0.0, centre[1], centre[2])[1]
    numbers = {
        "metacentric_height": slope,
        "draught_at_rest": level.draught,
        "trim_at_rest": trim_at_rest(boat, centre),
        "buoyancy_at_rest": level.centre_x,
        "gravity_from_transom": centre[0],
        "gravity_height": centre[2],
        "floating_length": level.waterline_length,
        "freeboard_least": freeboard(boat, question.setting.heel),
    }
    return {name: ((), float(value)) for name, value in numbers.items()}


def trim_at_rest(boat, centre):
    """Trim [rad] bow up + at which centre of buoyancy and of gravity lie over each other, upright; nan past MOST_TRIM.

    `centre` (x, y, z) [m] of gravity in hull axes. Statics, first order in the trim.
    """

    def ahead(trim):
        floats = flotation(boat.hull, boat.mass, 0.0, trim, centre[0])
        return floats.centre_x - centre[0] - trim * (floats.centre_z - centre[2])

    try:
        return brentq(ahead, -MOST_TRIM, MOST_TRIM, xtol=1e-6)
    except ValueError:  # no change of sign in between, or the hull goes under
        return np.nan


def freeboard(boat, heel):
    """Least height of the deck edge above water [m] at rest at a `heel` [rad]; below zero the deck is awash."""
    floats = flotation(boat.hull, boat.mass, heel)
    _, y, z = section_corners(boat.hull)
    edges = heeled(y, z, heel)[1][:, 2:4]
    return edges.min() - floats.keel_point_depth


def sailed_parts(question, trims):
    """Righting at the racing speed and the reference extension: {name: (dims, values)}, nan where nothing balances."""
    boat = question.boat
    heels = np.linspace(0.0, max(MOST_SAILED_HEEL, question.setting.heel), SAILED_HEELS)
    lanes = np.minimum(np.arange(LANES), SAILED_HEELS - 1)  # empty lanes repeat the last
    settings = [replace(question.setting, heel=float(heel), speed=question.racing_speed) for heel in heels[lanes]]
    points = calm_points(boat, question.foil, settings, trims.model)
    trim, total = points.trim, points.total
    carried = total[L.T_HULL_FZ] * points.march.boat[BOAT["righting_arm"]]
    keel = keel_share(boat, points)
    rows = {
        "righting_sailed": trim.heel_moment,
        "righting_sailed_hull": carried - keel,
        "righting_sailed_keel": keel,
        "righting_sailed_foil": total[L.T_FOIL_RM],
        "righting_sailed_fins": -total[L.T_MROLL] - total[L.T_FOIL_RM],
    }
    dims, good = ("heel_sailed",), trim.balanced & (trim.hull_lift > 0.0)
    shown = {name: (dims, np.where(good, values, np.nan)[:SAILED_HEELS]) for name, values in rows.items()}
    return {"heel_sailed": (dims, heels), **shown}
