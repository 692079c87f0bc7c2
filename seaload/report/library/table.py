"""The table of a library in plain characters: its points, what it covers, how well seas left out are told."""

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT, PERCENT
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line
from seaload.report.shared.text_table import in_columns, wrapped

COVERED = (  # coordinate, words, unit, its size in SI
    ("extension", "extension", " %", PERCENT),
    ("rake", "rake", "°", DEGREE),
    ("heel", "heel", "°", DEGREE),
    ("cant", "keel cant", "°", DEGREE),
    ("ballast_shift", "ballast shift", " m", 1.0),
    ("speed_set", "speed", " kn", KNOT),
    ("sea_hs", "Hs", " m", 1.0),
    ("sea_tp", "Tp", " s", 1.0),
    ("waves_from_bow", "waves from the bow", "°", DEGREE),
    ("peak_enhancement", "peak enhancement", "", 1.0),
    ("spreading", "spreading s", "", 1.0),
)
HEADS = (
    ("", "side"), ("rate past", "the limit"), ("", "points"), ("error of", "ln(rate)"), ("their own", "left off"),
    ("inside", "90 %"),
)  # fmt: skip
WAVES = ("wave_name", "wave_seed", "wave_first")
STATUS = ("held", "with cases that ended or left the validity (rates are at least these)", "that cannot be sailed")


def library_table(dataset):
    """Text of the whole table."""
    parts = [points_words(dataset), cover_words(dataset)]
    parts = ["\n".join(wrapped(part)) for part in parts]
    parts.append("\n".join(held_out_lines(dataset)))
    return "\n\n".join(parts)


def points_words(dataset):
    """How many points of which kind, in how many waves, of how much sea."""
    counts = np.bincount(dataset["status"].values, minlength=len(STATUS))
    told = ", ".join(f"{count} {words}" for count, words in zip(counts, STATUS, strict=True) if count)
    seas = len(np.unique(np.column_stack([dataset[name].values for name in WAVES]), axis=0))
    hours = float(dataset["duration_total"].sum(dtype=float)) / HOUR
    boat, foil = (line(attribute(dataset, name)) for name in ("boat", "foil"))
    points = dataset.sizes["point"]
    return f"{boat}, {foil} foil: {points} points in {seas} seas ({told}); {say.significant(hours)} h simulated."


def cover_words(dataset):
    """What it covers; nothing is told outside."""
    found = []
    for name, words, unit, size in COVERED:
        values = dataset[name].values / size
        low, high = (f"{value + 0.0:.4g}" for value in (values.min(), values.max()))
        found.append(f"{words} {low}{unit}" if low == high else f"{words} {low} to {high}{unit}")
    return f"Covers {', '.join(found)}. Nothing is told outside that."


def held_out_lines(dataset):
    """How well each sea is told by all others."""
    if "held_out_error" not in dataset:
        return ["Too few seas to tell anything between them."]
    rows = []
    for i, side in enumerate(dataset["side"].values):
        for j, (low, high) in enumerate(zip(*(dataset[f"rate_band_{end}"].values for end in ("low", "high")),
                                            strict=True)):  # fmt: skip
            rate = f"{low * HOUR:.3g} to {high * HOUR:.3g}/h"
            told = [float(dataset[f"held_out_{name}"].values[i, j]) for name in ("error", "own")]
            inside = float(dataset["held_out_inside"].values[i, j])
            cells = [f"{value:.2f}" if np.isfinite(value) else "-" for value in told]
            share = f"{100.0 * inside:.0f} %" if np.isfinite(inside) else "-"
            rows.append((str(side), rate, str(int(dataset["held_out_points"].values[i, j])), *cells, share))
    margins = [
        f"{side} {100.0 * float(dataset['held_out_margin_error'].values[i]):.1f} % of the limit"
        for i, side in enumerate(dataset["side"].values) if dataset["held_out_margin_points"].values[i] > 0
    ]  # fmt: skip
    lines = ["Each sea told by all others, what its own sampled waves leave open taken off:"]
    lines += in_columns(HEADS, rows[:-1], rows[-1])[:-2] + [in_columns(HEADS, rows[:-1], rows[-1])[-1]]
    if margins:
        lines += ["", *wrapped(f"Load met once in 3 h, where it is 50 to 150 % of the limit: {', '.join(margins)}.")]
    return lines
