"""The odds that a study accepts, both ways."""

import math

from seaload.basis.units import HOUR
from seaload.report.shared.result_reading import attribute, number, scenario


def levels(dataset):
    """What the study accepts, both ways: [{"side", "odds", "hours", "words"}]."""
    risk = scenario(dataset).get("study", {}).get("risk", {})
    hours = number(dataset, "exposure_time") / HOUR
    found = []
    for side, words in (("reverse", "Accepted reverse odds"), ("normal", "Accepted normal odds")):
        odds = risk.get(f"{side}_odds", default_level(dataset, f"risk.{side}_odds"))
        if isinstance(odds, int | float) and 0.0 < odds < 1.0 and math.isfinite(hours):
            found.append({"side": side, "odds": float(odds), "hours": hours, "words": words})
    return found


def default_level(dataset, key):
    """A level that the study left to its default, from the printed list; None when it is not there."""
    for text in attribute(dataset, "defaults_used").splitlines():
        name, _, value = text.partition(" = ")
        if name == key:
            try:
                return float(value)
            except ValueError:
                return None
    return None
