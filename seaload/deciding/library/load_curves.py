"""The curve of loads over rates of one side, put together of what surfaces tell of its tail, and how far off it is.

A load is a mean one, and a swing about it that grows as loads get rarer: where the tail begins at the place where the
foil is bent most, how much more all places together have, how often that is passed, how far peaks go beyond, and the
shape. Few of these change much from sea to sea, so all hours of the library tell them together.
"""

import numpy as np

from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.tail_of_point import loads_at
from seaload.evidence.verdict import SIDES

CALM, SWING, UNION, OFTEN, EXCESS, SHAPE = (
    "load_calm", "load_swing", "load_union", "load_often", "load_excess", "load_shape",
)  # fmt: skip
PARTS = (CALM, SWING, UNION, OFTEN, EXCESS, SHAPE)
OF_CURVE = PARTS[1:]  # those that a swing is worked out of
CALM_ERROR = 0.003  # [share of the limit] of the mean load of some hours
COLUMNS = {SWING: "tail_swing", UNION: "tail_union", OFTEN: "tail_log_rate", EXCESS: "tail_excess", SHAPE: "tail_l_cv"}
LOGARITHMS = (SWING, EXCESS)  # surfaces are drawn of their logarithms
STEPS = np.array([1e-3, 1e-3, 1e-3, 1e-3, 1e-4])  # [-] of OF_CURVE, for derivatives


def names_of(side):
    """Names of the quantities of a side (name) that surfaces are drawn of, in the order of PARTS."""
    return [f"{part}_{side}" for part in PARTS]


def part_of(name):
    """(one of PARTS, number of the side) of a quantity's name; (None, None) for another quantity."""
    part, _, side = name.rpartition("_")
    return (part, SIDES.index(side)) if part in PARTS and side in SIDES else (None, None)


def known_part(columns, part, i):
    """(values (n,), standard errors (n,)) of one of PARTS at the points in `columns`, of the side number `i`."""
    if part == CALM:
        calm = columns[CALM][:, i].astype(float)
        return calm, np.full(len(calm), CALM_ERROR)
    value, error = (columns[f"{COLUMNS[part]}{end}"][:, i].astype(float) for end in ("", "_error"))
    return (np.log(value), error / value) if part in LOGARITHMS else (value, error)


def log_swings(parts):
    """ln(load over the mean one [share of the limit]) at each of RATES, (n, rates), of `parts` (n, 5): OF_CURVE."""
    swing, union, often, excess, shape = np.asarray(parts, dtype=float).T
    return (swing + union)[:, None] + np.log1p(np.exp(excess)[:, None] * loads_at(RATES, (often, shape)))


def slopes(parts):
    """Derivatives (n, rates, 5) [-] of `log_swings` by each of the `parts` (n, 5)."""
    parts = np.asarray(parts, dtype=float)
    return np.stack([
        (log_swings(parts + step) - log_swings(parts - step)) / (2.0 * step[number])
        for number, step in enumerate(np.diag(STEPS))
    ], axis=-1)  # fmt: skip


def swing_errors(parts, errors):
    """Standard error (n, rates) [-] of `log_swings`, of `parts` with `errors` (n, 5): those of each part by itself."""
    return np.sqrt(np.sum((slopes(parts) * errors[:, None]) ** 2, axis=-1))
