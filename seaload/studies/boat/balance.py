"""Trim, balance, drag and calm load of the foil over speed at every extension, and the speeds that can be held."""

from dataclasses import replace

import numpy as np

from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT
from seaload.studies.boat.calm_points import (
    drag_parts,
    load_ratios,
    rudder_wet_share,
    sailed_frequency,
    ventilation_demand,
)

POINT = ("extension", "speed")
NO_TRIM = "heave and pitch do not balance"
FLIES = "foil and fins lift the hull out of the water"
FALLS = "nothing holds up this heel"
DRIFTS = "no leeway meets the side force"


def balance_parts(question, trims):
    """{name: (dims, values)} of everything over extension and speed; `trims` a `KnownTrims`."""
    foil = question.foil
    columns, given, attained = [], [], []
    known = trims.reference(question.sea)
    for extension in question.extensions:
        setting = replace(question.setting, extension=float(extension))
        points = trims.points_of(setting)
        columns.append(point_rows(question, foil, points))
        curve = trims.curve(setting)
        spare = trims.spare(curve, known) + curve.thrust if known else np.full(len(question.speeds), np.nan)
        given.append(np.where(np.isfinite(spare), spare, np.nan))
        attained.append(trims.attainable(setting, question.sea))
    parts = {}
    for name in columns[0]:
        values = np.array([column[name] for column in columns])
        parts[name] = ((*POINT, "place") if values.ndim == 3 else POINT, values)
    parts["thrust_given"] = (POINT, np.array(given))
    parts["speed_attainable"] = (("extension",), np.array(attained, dtype=float))
    return parts


def point_rows(question, foil, points):
    """{name: (speeds,) or (speeds, places)} of one extension; nan where a point does not balance."""
    trim, weight = points.trim, points.march.boat[BOAT["weight"]]
    asked = zip(trim.balanced, trim.hull_lift, trim.heel_moment, trim.sideways, strict=True)
    reasons = np.array([reason(*each) for each in asked])
    good = reasons == ""
    rows = {
        "calm_heave": trim.heave,
        "calm_pitch": trim.pitch,
        "leeway": trim.leeway,
        "rudder": trim.rudder,
        "foil_lift_share": trim.vertical_lift / weight,
        "hull_lift_share": trim.hull_lift / weight,
        "righting_calm": trim.heel_moment,
        "thrust_needed": trim.thrust,
        "ventilation_demand": ventilation_demand(foil, points),
        "rudder_wet_share": rudder_wet_share(points),
        "plunge_area": points.total[L.T_PLUNGE],
        "bending_frequency_sailed": sailed_frequency(points),
        **drag_parts(points),
    }
    rows = {name: np.where(good, values, np.nan) for name, values in rows.items()}
    rows["calm_load_ratio"] = np.where(good[:, None], load_ratios(foil, points), np.nan)
    return {**rows, "balanced": good.astype(np.int8), "balance_reason": reasons.astype(object)}


def reason(balanced, hull_lift, heel_moment, sideways):
    """Why a point does not balance, "" where it does.

    `balanced` bool of heave and pitch, `hull_lift` [N], `heel_moment` [N m] that rights the boat, `sideways` bool of
    leeway and rudder.
    """
    if not balanced:
        return NO_TRIM
    if hull_lift <= 0.0:
        return FLIES
    if heel_moment <= 0.0:
        return FALLS
    return "" if sideways else DRIFTS


def at_speed(question, parts, name, speed):
    """Values of a curve at a `speed` [m/s], one an extension."""
    return np.array([np.interp(speed, question.speeds, row) for row in parts[name][1]])
