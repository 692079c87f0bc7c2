"""The sea that a setting bears: how much higher, shorter, longer or turned it may be before the odds leave the levels.

Run at two deviations of the forecast either way, over the same waves; in between the load that comes as often as the
limit is a parabola through both ends and the sea as it is. The bounds are found on a fine row of deviations, so a
setting that is outside now gets the nearest sea in which it would be within.
"""

from dataclasses import dataclass
from math import exp, isfinite, nan

import numpy as np

from seaload.basis.units import DEGREE
from seaload.deciding.uncertainty import deviation, inputs_of
from seaload.deciding.variants import SEA, Change, foreseen
from seaload.evidence.verdict import SIDES, WEAR, rates_of_odds

REACH = 2.0  # deviations of the forecast, either way
ROW = np.linspace(-REACH, REACH, 41)
INPUTS = {"hs_factor": "forecast_hs", "tp_factor": "forecast_tp", "heading_shift": "forecast_heading"}
ASSUMED = {"hs_factor": 0.10, "tp_factor": 0.05, "heading_shift": 15.0 * DEGREE}  # where the study is sure of it


@dataclass(frozen=True)
class Borne:
    """What a setting bears: factors on Hs and Tp, turns of the waves [rad]; nan: in none of the seas looked at."""

    hs_most: float = nan
    tp_least: float = nan
    tp_most: float = nan
    turn_least: float = nan
    turn_most: float = nan


def step_of(study, sea, name):
    """One deviation of the forecast of a `sea` (record) that the model number `name` stands for [its unit]."""
    found = [deviation(entry) for entry in inputs_of(study, sea) if entry.name == INPUTS[name]]
    return found[0] if found and found[0] > 0.0 else ASSUMED[name]


def number_at(study, sea, name, deviations):
    """Model number `name` so many `deviations` away from the forecast of a `sea`; height and period log-normal."""
    change = deviations * step_of(study, sea, name)
    return change if name == "heading_shift" else exp(change)


def other_seas(setting, study, sea):
    """The setting in seas two deviations higher, lower, longer, shorter and turned either way."""
    return [
        Change(f"{name} {end:+g}", setting, ((name, number_at(study, sea, name, end)),), kind=SEA)
        for name in INPUTS for end in (-REACH, REACH)
    ]  # fmt: skip


def borne_sea(study, verdict, sampled, doubt, effects, sea):
    """`Borne` of a setting in a `sea` (record); effects : {Change: Effect} of `other_seas`."""
    ends = {change.name: effect for change, effect in effects.items()}
    found = {}
    for name in INPUTS:
        pair = [ends[f"{name} {end:+g}"] for end in (-REACH, REACH)]
        inside = np.array([within_at(study.risk, verdict, sampled, doubt, pair, off) for off in ROW])
        found[name] = [number_at(study, sea, name, off) for off in stretch(inside)]
    (_, hs), (tp_least, tp_most), (turn_least, turn_most) = found.values()
    return Borne(hs, tp_least, tp_most, turn_least, turn_most)


def stretch(inside):
    """(least, most) deviations of the stretch of ROW that is `inside` (bool) and nearest to none; nan without one."""
    if not inside.any():
        return nan, nan
    middle = int(np.argmin(np.where(inside, np.abs(ROW), np.inf)))
    low = high = middle
    while low > 0 and inside[low - 1]:
        low -= 1
    while high < len(ROW) - 1 and inside[high + 1]:
        high += 1
    return float(ROW[low]), float(ROW[high])


def within_at(risk, verdict, sampled, doubt, pair, off):
    """Whether the setting is within all levels `off` deviations away; `pair` the Effects of both ends."""
    share, end = abs(off) / REACH, pair[int(off > 0.0)]
    if share > 1e-9 and not end.valid:
        return False
    for side in SIDES:
        odds = odds_at(risk, sampled, doubt, pair, side, off) if share > 1e-9 else doubt.odds(side, sampled, risk)
        if not rates_of_odds(odds, risk.exposure)[2] < verdict.limits[side]:
            return False
    return WEAR not in verdict.limits or verdict.rates[WEAR][2] * end.wear**share < verdict.limits[WEAR]


def odds_at(risk, sampled, doubt, pair, side, off):
    """(odds, low, high) of one side `off` deviations away, by the parabola; by the end's own cases without one."""
    end = pair[int(off > 0.0)]
    levels = [effect.level[side] for effect in pair]
    if not isfinite(levels[int(off > 0.0)]):
        return end.odds(side, sampled, doubt, risk)
    low, high = (level if isfinite(level) else 2.0 - levels[int(off > 0.0)] for level in levels)
    x = off / REACH
    level = 1.0 + 0.5 * (high - low) * x + 0.5 * (high + low - 2.0) * x**2
    return foreseen(doubt, side, sampled, risk, level, end.error[side] * abs(x))
