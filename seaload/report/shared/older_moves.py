"""Moves of results made before a result stated words and sizes of its moves: what that version simulated."""

import math

from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.report.shared.result_reading import line, scenario

STEPS = 2.0  # steps of an actuator that one of its moves was
FIXED = {
    "ease_sheets": ("Ease sheets: 2 kn less", {"speed": -2.0 * KNOT}),
    "bear_away": ("Bear away 15°", {"waves_from_bow": 15.0 * DEGREE}),
    "reef": ("Reef: 2 kn, 2° heel less", {"speed": -2.0 * KNOT, "heel": -2.0 * DEGREE}),
}
ACTUATORS = {  # move: (key of its range in the boat file, changed setting, its unit, words of the size, less, more)
    "rake": ("rake_deg", "rake", DEGREE, "Rake {}°", "less", "more"),
    "cant": ("cant_deg", "cant", DEGREE, "Cant {}°", "less", "more"),
    "extension": ("extension_percent", "extension", PERCENT, "Extension {} %", "less", "more"),
    "ballast": ("ballast_shift_m", "ballast_shift", 1.0, "Ballast {} m", "aft", "forward"),
}


def older_move(dataset, name):
    """{"words", "only_below", "changes"} of a move by its name."""
    base, _, way = name.partition(" ")
    boat = scenario(dataset).get("boat", {})
    below = stated(boat, "moves", base).get("only_below_knots", math.inf)
    words, changes = FIXED.get(base, (line(name).replace("_", " "), {}))
    if base in ACTUATORS:
        key, setting, unit, shown, less, more = ACTUATORS[base]
        step = STEPS * float(stated(boat, "worked", key).get("step", math.nan))
        sign, told = (1.0, more) if way == "more" else (-1.0, less)
        words, changes = f"{shown.format(f'{step:g}')} {told}", {setting: sign * step * unit}
    return {"words": words, "only_below": float(below) * KNOT, "changes": changes}


def stated(boat, table, key):
    """A table of the boat file as it was written; empty when it is not there."""
    found = boat.get(table, {})
    inner = found.get(key, {}) if isinstance(found, dict) else {}
    return inner if isinstance(inner, dict) else {}
