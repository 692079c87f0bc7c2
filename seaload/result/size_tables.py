"""Tables of a sizing as CSV beside the result: for a laminate, a stress analyst, a test rig."""

import csv
import io
import os
from pathlib import Path

import numpy as np

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR, KNOT, PERCENT
from seaload.evidence.verdict import SIDES

ENDS = ("", "_low", "_high")


def write_tables(dataset, folder):
    """Write every table into `folder`, whole or not at all; gives their paths."""
    tables = {
        "limits.csv": limit_rows, "return-values.csv": return_rows, "envelope.csv": envelope_rows,
        "companion-loads.csv": companion_rows, "equivalent-loads.csv": equivalent_rows, "cycles.csv": cycle_rows,
        "programme.csv": programme_rows, "usage.csv": usage_rows, "changes.csv": change_rows,
    }  # fmt: skip
    paths = []
    for name, rows in tables.items():
        heads, lines = rows(dataset)
        if not lines:
            continue
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(heads)
        writer.writerows([[shown(value) for value in line] for line in lines])
        part, target = Path(folder) / f".{name}.part", Path(folder) / name
        part.write_text(text.getvalue(), encoding="utf-8")
        os.replace(part, target)
        paths.append(target)
    return paths


def shown(value):
    """A cell: numbers to six digits; text that a spreadsheet would take for a formula gets a blank before it."""
    if isinstance(value, float | np.floating):
        return f"{float(value):.6g}"
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return f" {value}"
    return value


def names_of(dataset, numbers):
    """Names of situations by their numbers, "" for none."""
    names = dataset["situation_name"].values
    return [str(names[n]) if n >= 0 else "" for n in np.asarray(numbers).ravel()]


def limit_rows(dataset):
    """Least limits by place and side."""
    kinds = ("limit_given", "limit_if_right", "limit_all_told", "limit_wear", "limit_needed", "limit_margin")
    columns = [f"{kind}{end}" for kind in kinds for end in ENDS if f"{kind}{end}" in dataset]
    heads = ["side", "material_m", *(f"{c}{'' if 'margin' in c else '_n_m'}" for c in columns), "governing_situation",
             "its_share"]  # fmt: skip
    rows = []
    for k, side in enumerate(SIDES):
        named = names_of(dataset, dataset["governing_situation"].values[k])
        for p, s in enumerate(dataset["sized_material"].values):
            numbers = [float(dataset[c].values[k, p]) for c in columns]
            rows.append([side, float(s), *numbers, named[p], float(dataset["governing_share"].values[k, p])])
    return heads, rows


def return_rows(dataset):
    """Characteristic moments by return time."""
    heads = ["return_hours", "side", "material_m", "moment_n_m", "low_n_m", "high_n_m"]
    rows = [
        [float(t) / HOUR, side, float(s), *(float(dataset[f"load_return{end}"].values[i, k, p]) for end in ENDS)]
        for i, t in enumerate(dataset["return_time"].values)
        for k, side in enumerate(SIDES)
        for p, s in enumerate(dataset["sized_material"].values)
    ]
    return heads, rows


def envelope_rows(dataset):
    """Moment, shear and torsion met once in a season, with the situation that has most of them."""
    kinds = (("moment", "n_m"), ("shear", "n"), ("torsion", "n_m"))
    heads = ["side", "material_m", *(h for kind, unit in kinds for h in (f"{kind}_{unit}", f"{kind}_situation"))]
    rows = []
    for k, side in enumerate(SIDES):
        named = {kind: names_of(dataset, dataset[f"envelope_{kind}_situation"].values[k]) for kind, _ in kinds}
        for p, s in enumerate(dataset["sized_material"].values):
            cells = [x for kind, _ in kinds for x in (float(dataset[f"envelope_{kind}"].values[k, p]), named[kind][p])]
            rows.append([side, float(s), *cells])
    return heads, rows


def companion_rows(dataset):
    """The load of every strip at each extreme, with moment and shear at its inner edge."""
    heads = ["extreme", "side", "extreme_material_m", "extreme_moment_n_m", "situation", "extension_percent",
             "bearing_m", "upper_bearing_n", "lower_bearing_n", "strip", "strip_from_m", "strip_to_m", "strip_load_n",
             "edge_moment_n_m", "edge_shear_n"]  # fmt: skip
    if "extreme" not in dataset:
        return heads, []
    rows, named = [], names_of(dataset, dataset["extreme_situation"].values)
    at = lambda name, *where: float(dataset[name].values[where])  # noqa: E731
    for e in range(dataset.sizes["extreme"]):
        side = "reverse" if dataset["extreme_side"].values[e] < 0 else "normal"
        first = [e, side, at("extreme_material", e), at("extreme_moment", e), named[e],
                 at("extreme_extension", e) / PERCENT,
                 *(at(f"extreme_{name}", e) for name in ("bearing", "upper_reaction", "lower_reaction"))]  # fmt: skip
        for s in range(dataset.sizes["strip"]):
            ends = [at("extreme_edge_material", e, s), at("extreme_edge_material", e, s + 1)]
            rows.append([*first, s, *ends, at("extreme_strip_load", e, s), at("extreme_edge_moment", e, s),
                         at("extreme_edge_shear", e, s)])  # fmt: skip
    return heads, rows


def place_name(dataset, k):
    """ "bearing" or "station 2"."""
    n = int(dataset["station"].values[k])
    return "bearing" if n == 0 else f"station {n}"


def equivalent_rows(dataset):
    """Damage-equivalent moments by place and slope."""
    heads = ["place", "slope", "cycles", "range_over_normal_limit", "low", "high", "moment_range_n_m"]
    rows = [
        [place_name(dataset, k), float(m), 1000000, *(float(dataset[f"equivalent_range{end}"].values[i, k])
         for end in ENDS), float(dataset["equivalent_moment"].values[i, k])]
        for k in range(dataset.sizes["place"])
        for i, m in enumerate(dataset["fatigue_slope"].values)
    ]  # fmt: skip
    return heads, rows


def cycle_rows(dataset):
    """Cycles of a season by place, range and mean; empty bins left out."""
    heads = ["place", "range_from", "range_to", "mean", "cycles"]
    rows, edges = [], dataset["cycle_range_bounds"].values
    for k in range(dataset.sizes["place"]):
        cycles = dataset["season_cycles"].values[k]
        for i, j in zip(*np.nonzero(cycles > 0.0), strict=True):
            rows.append([place_name(dataset, k), *map(float, edges[i]), float(dataset["cycle_mean"].values[j]),
                         float(cycles[i, j])])  # fmt: skip
    return heads, rows


def programme_rows(dataset):
    """The sequence of the block programme."""
    heads = ["repeat", "step", "range_n_m", "mean_n_m", "highest_n_m", "lowest_n_m", "cycles"]
    rows = []
    for r in range(dataset.sizes["programme_row"]):
        step = int(dataset["programme_row_step"].values[r])
        load_range, mean = (float(dataset[f"programme_{name}"].values[step]) for name in ("range", "mean"))
        rows.append([int(dataset["programme_row_repeat"].values[r]) + 1, step + 1, load_range, mean,
                     mean + 0.5 * load_range, mean - 0.5 * load_range,
                     float(dataset["programme_row_cycles"].values[r])])  # fmt: skip
    return heads, rows


def usage_rows(dataset):
    """The seas of the usage and how they are sailed."""
    units = {"usage_hs": 1.0, "usage_tp": 1.0, "usage_waves_from_bow": DEGREE, "usage_share": PERCENT,
             "usage_speed": KNOT, "usage_damage_rate": FULL_LOAD_SHARE / HOUR}  # fmt: skip
    heads = ["sea", "hs_m", "tp_s", "waves_from_bow_deg", "share_percent", "speed_knots", "wear_cycles_per_hour",
             "extension_percent", "rake_deg", "why", "simulated_hours", "ended"]  # fmt: skip
    rows = []
    for j in range(dataset.sizes["usage_sea"]):
        setting = int(dataset["usage_setting"].values[j])
        numbers = [float(dataset[name].values[j]) / unit for name, unit in units.items()]
        extension, rake = (float(dataset[name].values[setting]) for name in ("extension", "rake"))
        rows.append([str(dataset["usage_sea_name"].values[j]), *numbers, extension / PERCENT, rake / DEGREE,
                     str(dataset["usage_rule"].values[j]), float(dataset["usage_duration"].values[j]) / HOUR,
                     int(dataset["usage_ended"].values[j])])  # fmt: skip
    return heads, rows


def change_rows(dataset):
    """What each change does to the least limits, place by place."""
    heads = ["change", "side", "material_m", "least_limit_change", "low", "high"]
    rows = [
        [str(name), side, float(s), *(float(dataset[f"change_limit{end}"].values[c, k, p]) for end in ENDS)]
        for c, name in enumerate(dataset["change_name"].values)
        for k, side in enumerate(SIDES)
        for p, s in enumerate(dataset["sized_material"].values)
    ]
    return heads, rows
