"""The odds that a study accepts, both ways."""

from seaload.report.shared.named_values import SIDES
from seaload.report.shared.result_reading import attribute, scenario


def accepted_levels(dataset):
    """{side: odds of at least one event in the exposure time that the study accepts}."""
    risk = scenario(dataset).get("study", {}).get("risk", {})
    found = {side: risk.get(f"{side}_odds", default_level(dataset, f"risk.{side}_odds")) for side in SIDES}
    return {side: float(odds) for side, odds in found.items() if isinstance(odds, int | float) and 0.0 < odds < 1.0}


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
