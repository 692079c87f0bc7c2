"""Runs of which every one serves every uncertain input: the designs of Plackett & Burman (1946), and the numbers of the
model that the inputs move.
"""

from math import sqrt

import numpy as np

from seaload.fatigue.other_ultimates import ln_wear_change

ROWS = {  # first rows of the designs of 12 and 20 runs, Plackett & Burman 1946
    12: (1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1),
    20: (1, 1, -1, -1, 1, 1, 1, 1, -1, 1, -1, 1, -1, -1, -1, -1, 1, 1, -1),
}
MARCHED = {
    "lift_slope": "lift_slope_factor",
    "steering_gain": "steering_gain_factor",
    "cavitation_limit": "cavitation_factor",
    "rake_zero": "rake_zero_shift",
    "roll_inertia": "roll_inertia_factor",
    "hull_damping": "hull_damping_factor",
    "hull_wave_force": "hull_wave_factor",
    "tail_level": "tail_factor",
    "wind_sea_share": "wind_sea_factor",
    "forecast_heading": "heading_shift",
}
ULTIMATES = {"ultimate_over_normal_limit": 0, "ultimate_over_reverse_limit": 1}


def deviation(entry):
    """Standard deviation of an uncertain input [its unit]; of an even spread, half width over root three."""
    return entry.spread if entry.distribution == "normal" else entry.spread / sqrt(3.0)


def design(count):
    """The smallest of the designs for `count` inputs, (runs, count), of +1 and -1; ValueError for more than 19."""
    fitting = [runs for runs in sorted(ROWS) if runs > count]
    if not fitting:
        raise ValueError(f"{count} uncertain inputs of the march; a design holds at most {max(ROWS) - 1}")
    first = ROWS[fitting[0]]
    rows = [np.roll(first, shift) for shift in range(len(first))]
    return np.vstack([rows, -np.ones(len(first), dtype=int)])[:, :count]


def perturbed(entry, sign):
    """Model number of an input one deviation up or down."""
    change = sign * deviation(entry)
    return 1.0 + change if entry.kind == "factor" else change


def ultimate_effect(records, curve, which, spread):
    """Change of ln(wear) at the place that wears most by one deviation `spread` [-] of an ultimate load [-].

    `records` finished cases, `curve` a `FatigueCurve`, `which` 0 the normal ultimate, 1 the reverse one. Nothing where
    no wear can be told so.
    """
    place = int(np.argmax(np.sum([record.damage for record in records], axis=0)))
    counts = np.sum([record.rainflow_count[place] for record in records], axis=0)
    first = records[0]
    ratio = 1.0 if first.normal_limit is None else first.reverse_limit[place] / first.normal_limit[place]
    ultimates = curve.ultimate_normal, curve.ultimate_reverse * ratio
    ends = []
    for sign in (1.0, -1.0):
        factors = [1.0, 1.0]
        factors[which] += sign * spread
        ends.append(sign * ln_wear_change(counts, ultimates, curve.slope, factors))
    known = [end for end in ends if np.isfinite(end)]
    return float(np.mean(known)) if known else 0.0
