"""The damage-equivalent moment of each place: one range that, once a second, does the same as all counted cycles."""

import numpy as np

from seaload.fatigue.miner import damage_equivalent_range
from seaload.report.shared.result_reading import attribute, number, place_names, scenario

A_SECOND = 1.0  # [Hz] of the equal cycles: common practice, no source
USUAL = {"slope": 10.0, "steep_slope": 14.0}  # of the curve, where a boat file leaves it out (defaults of the program)
NOTE = (
    "Ranges alone, without the mean: for a test rig or another boat, not for wear, which takes the mean into account. "
    "In brackets with the steeper slope."
)


def slopes(dataset):
    """Slope of the S-N curve of this foil and its steeper one, as the boat file states them."""
    foils = scenario(dataset).get("boat", {}).get("foil", {})
    foil = foils.get(attribute(dataset, "foil"), {})
    foil = {**foils.get(foil.get("same_as"), {}), **foil} if isinstance(foil, dict) else {}
    stated = foil.get("fatigue", {})
    return [float(stated.get(name, usual)) for name, usual in USUAL.items()]


def equivalent_rows(dataset, setting, sea):
    """(place, "62 (58) kN m", "34 (31) %") of every place outside the hull; none without counted cycles."""
    if "rainflow_count" not in dataset:
        return []
    seconds = number(dataset, "duration_total", setting, sea)
    bounds = dataset["range_bin_bounds"].values
    middle, rows = bounds.mean(axis=1), []
    for place, name in enumerate(place_names(dataset)):
        if number(dataset, "place_inside", setting, place=place) > 0:
            continue
        count = dataset["rainflow_count"].isel(setting=setting, sea=sea, place=place)
        counts = np.nan_to_num(count.transpose("range_bin", "mean_bin").values).sum(axis=1)
        if not (seconds > 0.0 and counts.sum() > 0.0):
            continue
        limit = number(dataset, "normal_limit", setting, place=place) / 1e3
        ranges = [damage_equivalent_range(middle, counts, slope, A_SECOND * seconds) for slope in slopes(dataset)]
        rows.append((name, "{:.0f} ({:.0f}) kN m".format(*(r * limit for r in ranges)),
                     "{:.0f} ({:.0f}) %".format(*(100.0 * r for r in ranges))))  # fmt: skip
    return rows


def equivalent_heads(dataset):
    """Heads of the rows."""
    plain, steep = slopes(dataset)
    return ("Place", f"Range once a second, slope {plain:g} ({steep:g})", "of the normal limit")
