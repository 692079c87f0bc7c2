"""Variables of a sizing on changes and foils compared, on what is uncertain, and on the tails."""

import numpy as np

from seaload.evidence.verdict import SIDES

POINT = ("change", "side", "sized_material")
FIGURES = {"excess_threshold": "threshold", "excess_mean": "excess", "excess_error": "error"}
STABLE = {"stable_shape": "shapes", "stable_level": "levels"}
QUANTILES = {"quantile_told": "told", "quantile_met": "met"}


def change_parts(sized, found):
    """What changes do to least limits, speed, righting moment, wear, odds and margins; and what each input does."""
    rows, sizing = found.changes, found.sizing
    parts = {
        "change": (("change",), np.arange(len(rows), dtype=np.int32)),
        "change_name": (("change",), np.array([name for name, _, _ in rows], dtype=object)),
        "change_ended": (("change",), np.array([told.ended for *_, told in rows], dtype=np.int32)),
    }
    limits = np.array([[told.limit[side] for side in SIDES] for *_, told in rows])  # (changes, sides, 3, points)
    three("change_limit", POINT, limits.transpose(2, 0, 1, 3), parts)
    for name in ("speed", "righting", "wear"):
        three(f"change_{name}", ("change",), np.array([getattr(told, name) for *_, told in rows]).T, parts)
    margins = np.array([[margin_of(sizing, told, side) for side in SIDES] for *_, told in rows])
    three("change_margin", ("change", "side"), margins.transpose(2, 0, 1), parts)
    parts["change_odds"] = (
        ("change", "side"), np.array([[odds_of(sizing, told, side) for side in SIDES] for *_, told in rows])
    )  # fmt: skip
    usage = found.usage_changes
    parts["usage_change"] = (("usage_change",), np.arange(len(usage), dtype=np.int32))
    parts["usage_change_name"] = (("usage_change",), np.array([name for name, _ in usage], dtype=object))
    moved = np.array([[limit[side] for side in SIDES] for _, limit in usage])
    parts["usage_change_limit"] = (("usage_change", "side", "sized_material"), moved)
    names, effects = found.uncertain
    parts["uncertain"] = (("uncertain",), np.arange(len(names), dtype=np.int32))
    parts["uncertain_name"] = (("uncertain",), np.array(names, dtype=object))
    moved = np.array([effects[side] for side in SIDES])  # (sides, 3, inputs, points)
    three("uncertain_limit", ("uncertain", "side", "sized_material"), moved.transpose(1, 2, 0, 3), parts)
    return parts


def three(name, dims, values, parts):
    """Put (value, low, high) of a name into the parts."""
    for end, each in zip(("", "_low", "_high"), values, strict=True):
        parts[name + end] = (dims, each)


def margin_of(sizing, told, side):
    """(value, low, high) [-] of the changed foil's given limit over its least one, less 1, at its weakest place."""
    needed = np.maximum(sizing.needed[side].all_told, 1e-9)
    given, (value, low, high) = told.given[side], told.limit[side]
    margins = given / (needed * (1.0 + value)) - 1.0
    p = int(np.argmin(margins))
    return tuple(float(given[p] / (needed[p] * (1.0 + each[p])) - 1.0) for each in (value, high, low))


def odds_of(sizing, told, side):
    """Odds [-] of passing the changed foil's own limits in the season, all told: as if the loads as they are met limits
    lower by what the change adds to them.
    """
    limits = told.given[side] / np.maximum(1.0 + told.limit[side][0], 0.05)
    ratio = sizing.season.limits[side] / np.maximum(sizing.needed[side].all_told, 1e-9)
    return sizing.season_odds(side, limits, float(sizing.spread[side][int(np.argmin(ratio))]))[0]


def tail_parts(found):
    """Numbers of the figures that show whether the tails are to be believed."""
    known = {side: tail for side, tail in found.tails.items() if tail is not None}
    if not known:
        return {}
    first = next(iter(known.values()))

    def rows(name):
        blank = np.full(np.shape(getattr(first, name)), np.nan)
        return np.array([getattr(known[side], name) if side in known else blank for side in SIDES])

    parts = {name: (("side", "tail_point"), rows(field)) for name, field in {**FIGURES, **QUANTILES}.items()}
    parts.update({name: (("side", "stable_threshold"), rows(field)) for name, field in STABLE.items()})
    parts["stable_threshold"] = (("stable_threshold",), first.shares)
    ends = np.array([known[side].predicted if side in known else (np.nan,) * 3 for side in SIDES]).T
    three("predicted_largest", ("side",), ends, parts)
    parts["tail_shape_fitted"] = (("side",), np.array([
        known[side].shape if side in known else np.nan for side in SIDES
    ]))  # fmt: skip
    return parts


