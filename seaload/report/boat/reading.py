"""Reading the result of a boat file: curves and numbers in human units, findings, the setting in words."""

import json
import math

import numpy as np

from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.report.shared.result_reading import attribute, line, number, scenario

LEVELS = {"mend": "To mend", "look": "To look at", "know": "To know"}


def curve(dataset, name, unit=1.0):
    """A variable as an array in a `unit`."""
    return np.asarray(dataset[name].values, dtype=float) / unit


def speeds(dataset):
    """Speeds of the curves [kn]."""
    return curve(dataset, "speed", KNOT)


def extensions(dataset):
    """Extensions in words: "80 %", on one line."""
    return [f"{value:.3g}\u00a0%" for value in curve(dataset, "extension", PERCENT)]


def reference(dataset):
    """Number of the extension that the boat file states its thrust for."""
    return int(np.argmin(np.abs(curve(dataset, "extension") - number(dataset, "reference_extension"))))


def racing_knots(dataset):
    """Racing speed [kn]."""
    return number(dataset, "racing_speed") / KNOT


def at_racing(dataset, name, unit=1.0):
    """A curve over speed read at the racing speed, one number an extension, or (extensions, places)."""
    values, speed = curve(dataset, name, unit), speeds(dataset)
    along = np.moveaxis(values, 1, -1)
    return np.apply_along_axis(lambda row: np.interp(racing_knots(dataset), speed, row), -1, along)


def attainable_knots(dataset):
    """Attainable speed of every extension [kn], nan where there is none."""
    return curve(dataset, "speed_attainable", KNOT)


def findings(dataset):
    """{level: [{"about", "words", "mend"}]} of LEVELS in their order."""
    try:
        rows = json.loads(attribute(dataset, "findings") or "[]")
    except ValueError:
        rows = []
    return {level: [row for row in rows if row.get("level") == level] for level in LEVELS}


def finding_words(row):
    """A finding as two short sentences: what is, what to do."""
    about, found, todo = (line(row.get(key, ""), 400) for key in ("about", "words", "mend"))
    return f"{about}: {found}. {sentence(todo)}"


def sentence(text):
    """Text with a capital letter in front and a full stop behind."""
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def setting_words(dataset):
    """Heel, rake and cant that the page is made for."""
    heel, rake, cant = (number(dataset, name) / DEGREE for name in ("heel", "rake", "cant"))
    return f"heel {heel:.3g}°, rake {rake:.3g}°, keel canted {cant:.3g}°"


def wind_words(dataset):
    """The wind that the file states its thrust for."""
    rig = scenario(dataset).get("boat", {}).get("rig", {})
    wind, angle = (rig.get(f"reference_wind_{name}", math.nan) for name in ("speed_knots", "angle_deg"))
    return f"{wind:.3g} kn true at {angle:.3g}°"


def stations(dataset):
    """Numbers of the strain stations, root outward."""
    return [int(n) for n in dataset["station"].values if n > 0]


def worst_load(dataset):
    """(extensions, speeds) [%] highest share of the normal limit in calm water outside the hull; and lowest of the
    reverse one, below zero.
    """
    ratio = curve(dataset, "calm_load_ratio", PERCENT)
    outside = np.asarray(dataset["place_inside"].values)[:, None, :] == 0
    shown = np.where(outside, ratio, np.nan)
    empty = np.isnan(shown).all(axis=2)
    high = np.where(empty, np.nan, np.where(outside, ratio, -np.inf).max(axis=2))
    low = np.where(empty, np.nan, np.where(outside, ratio, np.inf).min(axis=2))
    return high, low


def defaults(dataset):
    """Lines "key = value" of what the file leaves unsaid."""
    return [line(text) for text in attribute(dataset, "defaults_used").splitlines() if text]


def motion_rows(dataset):
    """(freedom, (period, damping) in words at each speed) of every freedom with the others held, then of all."""
    names = [str(name) for name in dataset["freedom"].values]
    period, damping = dataset["motion_period"].values, dataset["motion_damping"].values
    rows = [
        (f"{name} alone", *(motion_words(p, d) for p, d in zip(period[:, j], damping[:, j], strict=True)))
        for j, name in enumerate(names)
    ]
    swing = zip(dataset["swing_period"].values, dataset["swing_damping"].values, strict=True)
    rows.append(("all together, least damped swing", *(motion_words(p, d) for p, d in swing)))
    rows.append(("all together, slowest return", *(return_words(rate) for rate in dataset["motion_growth"].values)))
    return rows


def motion_words(period, damping):
    """A natural motion: "2.5 s, 64 % of critical"."""
    if not math.isfinite(period):
        return "does not come back"
    tail = ", no swing" if damping >= 1.0 else ", grows" if damping < 0.0 else ""
    return f"{period:.1f} s, {100.0 * damping:.0f} % of critical{tail}"


def return_words(rate):
    """How fast all of it dies out or grows: "to a third in 4.5 s"."""
    if not math.isfinite(rate):
        return "not known"
    time = math.log(3.0) / abs(rate)
    return f"grows threefold in {time:.1f} s" if rate > 0.0 else f"to a third in {time:.1f} s"
