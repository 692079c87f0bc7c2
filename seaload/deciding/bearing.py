"""The sea that a setting bears: how much higher, shorter, longer or turned it may be before the odds leave the levels.

Run at two deviations of the forecast either way, over the same waves, or at one where a case of the two ended early; in
between the load that comes as often as the limit is a parabola through both ends and the sea as it is. The bounds are
found on a fine row of deviations, so a setting that is outside now gets the nearest sea in which it would be within.
"""

from dataclasses import dataclass
from math import exp, isfinite, nan

import numpy as np

from seaload.basis.units import DEGREE
from seaload.deciding.uncertainty import deviation, inputs_of
from seaload.deciding.variants import SEA, Change, Effect, foreseen
from seaload.evidence.verdict import SIDES, WEAR, rates_of_odds

REACH = 2.0  # deviations of the forecast, either way
ROW = np.linspace(-REACH, REACH, 41)
INPUTS = {"hs_factor": "forecast_hs", "tp_factor": "forecast_tp", "heading_shift": "forecast_heading"}
ASSUMED = {"hs_factor": 0.10, "tp_factor": 0.05, "heading_shift": 15.0 * DEGREE}  # where the study is sure of it
WAYS = {  # as `other_seas` goes; waves that turn + come from further ahead
    ("hs_factor", -REACH): "lower",
    ("hs_factor", REACH): "higher",
    ("tp_factor", -REACH): "shorter",
    ("tp_factor", REACH): "longer",
    ("heading_shift", -REACH): "further aft",
    ("heading_shift", REACH): "further ahead",
}


@dataclass(frozen=True)
class Borne:
    """What a setting bears: factors on Hs and Tp, turns of the waves [rad]; nan: in none of the seas looked at."""

    hs_most: float = nan
    tp_least: float = nan
    tp_most: float = nan
    turn_least: float = nan
    turn_most: float = nan
    ended: tuple = ()  # words of WAYS: what lies beyond is not known, for cases ended there


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
    return [sea_off(setting, study, sea, name, end) for name, end in WAYS]


def nearer_seas(study, effects, sea):
    """The setting one deviation off, each way in which a case two deviations off ended; `effects` of `other_seas`."""
    return [
        sea_off(change.setting, study, sea, name, end / 2.0)
        for (change, effect), (name, end) in zip(effects.items(), WAYS, strict=True)
        if not effect.valid
    ]


def sea_off(setting, study, sea, name, off):
    """The `Change` to a sea in which a model number lies `off` deviations away."""
    return Change(f"{name} {off:+g}", setting, ((name, number_at(study, sea, name, off)),), kind=SEA)


def borne_sea(study, verdict, sampled, doubt, effects, sea):
    """`Borne` of a setting in a `sea` (record); effects : {Change: Effect} of `other_seas` and `nearer_seas`."""
    found, ended, known = {}, [], {change.name: effect for change, effect in effects.items()}
    for name in INPUTS:
        ends = [end_of(known, name, sign) for sign in (-1.0, 1.0)]
        inside = np.array([within_at(study.risk, verdict, sampled, doubt, ends, off) for off in ROW])
        offs = stretch(inside)
        found[name] = [number_at(study, sea, name, off) for off in offs]
        ended += [
            WAYS[name, sign * REACH]
            for sign, off, end in zip((-1.0, 1.0), offs, ends, strict=True)
            if end.off < REACH and abs(abs(off) - end.off) < 1e-9
        ]
    (_, hs), (tp_least, tp_most), (turn_least, turn_most) = found.values()
    return Borne(hs, tp_least, tp_most, turn_least, turn_most, tuple(ended))


@dataclass(frozen=True)
class End:
    """The farthest sea of one way whose cases all came through, and how many deviations off; 0 where none did."""

    off: float
    effect: Effect | None


def end_of(effects, name, sign):
    """The `End` of a model number on the side of a `sign`; effects : {name of the change: Effect}."""
    for off in (REACH, REACH / 2.0):
        effect = effects.get(f"{name} {sign * off:+g}")
        if effect is not None and effect.valid:
            return End(off, effect)
    return End(0.0, None)


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


def within_at(risk, verdict, sampled, doubt, ends, off):
    """Whether the setting is within all levels `off` deviations away; `ends` the (lower, upper) `End`."""
    end, there = ends[int(off > 0.0)], abs(off) > 1e-9
    if there and abs(off) > end.off + 1e-9:
        return False
    for side in SIDES:
        odds = odds_at(risk, sampled, doubt, ends, side, off) if there else doubt.odds(side, sampled, risk)
        if not rates_of_odds(odds, risk.exposure)[2] < verdict.limits[side]:
            return False
    wear = end.effect.wear ** (abs(off) / end.off) if there else 1.0
    return WEAR not in verdict.limits or verdict.rates[WEAR][2] * wear < verdict.limits[WEAR]


def odds_at(risk, sampled, doubt, ends, side, off):
    """(odds, low, high) of one side `off` deviations away, by the parabola through both ends and the sea as it is; by
    the end's own cases without a tail to read, by a straight line where the other end has none.
    """
    end = ends[int(off > 0.0)]
    slopes = [(e.effect.level[side] - 1.0) / e.off if e.off > 0.0 else nan for e in ends]  # away from the middle
    slope = slopes[int(off > 0.0)]
    if not isfinite(slope):
        return end.effect.odds(side, sampled, doubt, risk)
    low, high = ((other if isfinite(other) else -slope) for other in slopes)
    reaches = [e.off if isfinite(s) else end.off for e, s in zip(ends, slopes, strict=True)]
    across = sum(reaches)
    level = 1.0 + off * (high * reaches[0] - low * reaches[1]) / across + off**2 * (high + low) / across
    return foreseen(doubt, side, sampled, risk, level, end.effect.error[side] * abs(off) / end.off)
