"""What a library tells of every setting in every sea that may be met on a leg, as tables that a plan is sought in.

The doubt is one deviation of the load: of the library's own error and, where the forecast has few members, of what its
error by lead time does to the load that comes as often as the limit is passed. It is the same all along the leg. A sea
lower than the library's lowest is taken as that, one longer than its longest as that one: both tell more load than
there is. What else it does not tell, and what ended or left the validity there, counts as past the limit for certain.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.met import STILL
from seaload.deciding.leg.spending import FOILS, Spending
from seaload.deciding.leg.whole_odds import doubt_cases
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, NAMES, PERIOD, SETTING
from seaload.deciding.library.emulator import fall_of
from seaload.deciding.library.rates import rates_of
from seaload.evidence.verdict import SIDES

AT_ONCE = 4000  # questions: what a library answers together fits the processor's memory
ENOUGH_MEMBERS = 5  # that a forecast's own members tell how far off it may be
DOUBT_CASES = 5
CERTAIN = 5.0  # events of a piece that is past the limit for certain
LEAST_OVER_GROUND = 0.5  # [m/s] slower is not under way
LEAST_SLOPE = 1e-6  # [-]
MOST_WEAR_ERROR = 2.0  # [-] of ln(wear) that its mean is taken over
MOST_DOUBT = 0.5  # [share of the limit] of one deviation of the load


class Lead(NamedTuple):
    """One deviation of the forecast's error at each piece and moment, and how height and period go together."""

    hs: np.ndarray  # (n, q) [-] of the height
    tp: np.ndarray  # (n, q) [-] of the period
    angle: np.ndarray  # (n, q) [rad]
    correlation: float  # [-]


class Told(NamedTuple):
    """What a library tells at n pieces, q moments, m members, j settings."""

    rate: dict  # {side: (n, q, m, j, d) [1/s] events past the limit in each case of the doubt}
    wear: np.ndarray  # (n, q, m, j) [1/s]
    speed: np.ndarray  # (n, q, m, j) [m/s] through the water; nan where it is not told
    certain: np.ndarray  # (n, q, m, j) bool, counted as past the limit
    outside: np.ndarray  # (n, q, m, j) bool, because the library does not cover it
    unreachable: np.ndarray  # (n, q, m, j) bool, faster than the thrust holds


def told_by(emulator, settings, met, lead, needed):
    """`Told` of `settings` (j, SETTING names) [SI] in what is `Met`; `needed` (n, q) bool says where. lead : `Lead`, or
    None where the members tell how far off the forecast may be.
    """
    shape = (*met.hs.shape, len(settings))
    where = np.broadcast_to((needed[:, :, None] & (met.hs > STILL))[..., None], shape)
    rows = question_rows(emulator.cover, settings, met)[where]
    deviation, _ = doubt_cases(DOUBT_CASES)
    found = {name: np.full((len(rows), *extra), fill) for name, extra, fill in
             (("reverse", deviation.shape, 0.0), ("normal", deviation.shape, 0.0), ("wear", (), 0.0),
              ("speed", (), np.nan), ("certain", (), False), ("outside", (), False),
              ("unreachable", (), False))}  # fmt: skip
    steps = None if lead is None else [np.broadcast_to(part[:, :, None, None], shape)[where] for part in lead[:3]]
    for start in range(0, len(rows), AT_ONCE):
        part = slice(start, start + AT_ONCE)
        off = None if steps is None else (*(step[part] for step in steps), lead.correlation)
        for name, values in answers(emulator, rows[part], deviation, off).items():
            found[name][part] = values
    whole = {}
    for name, values in found.items():
        whole[name] = np.zeros((*shape, *values.shape[1:]), dtype=values.dtype)
        whole[name][where] = values
    still = np.broadcast_to((needed[:, :, None] & ~(met.hs > STILL))[..., None], shape)
    whole["speed"] = np.where(where, whole["speed"], np.nan)
    whole["speed"][still] = np.broadcast_to(settings[:, SETTING.index("speed_set")], shape)[still]
    unknown = np.broadcast_to((needed[:, :, None] & ~np.isfinite(met.hs))[..., None], shape)
    whole["certain"] |= unknown
    return Told({side: whole[side] for side in SIDES}, *(whole[n] for n in
                ("wear", "speed", "certain", "outside", "unreachable")))  # fmt: skip


def question_rows(cover, settings, met):
    """Questions (n, q, m, j, names) [SI]; lower seas as the lowest, longer ones as the longest that are covered."""
    n, q, m = met.hs.shape
    rows = np.empty((n, q, m, len(settings), len(NAMES)))
    rows[..., : len(SETTING)] = settings
    rows[..., len(SETTING) :] = cover.low[len(SETTING) :]
    period = np.minimum(met.tp, cover.high[PERIOD])
    rows[..., PERIOD] = period[..., None]
    rows[..., HEIGHT] = np.maximum(met.hs, cover.low[HEIGHT])[..., None]
    rows[..., ANGLE] = met.angle[..., None]
    return np.nan_to_num(rows, nan=1e-3)


def answers(emulator, rows, deviation, off):
    """{name: values} of questions `rows` (n, names) [SI], events in each case `deviation` (d,) of the doubt; `off` of
    the forecast: (height [-], period [-], angle [rad], correlation), (n,) each but the last, or None.
    """
    told = rates_of(emulator, rows)
    doubt = np.where(np.isfinite(told.log_rate_error), told.log_rate_error, 0.0) / slope_at_limit(told)
    if off is not None:
        doubt = np.hypot(doubt, forecast_doubt(emulator, rows, told, off))
    doubt = np.minimum(np.nan_to_num(doubt), MOST_DOUBT)
    levels = 1.0 - deviation[:, None, None] * doubt
    rate = np.exp(np.moveaxis(told.log_rate_past(levels), 0, -1))
    known = told.told & ~told.at_least
    found = {side: np.where(known[:, None], np.nan_to_num(rate[:, k]), 0.0) for k, side in enumerate(SIDES)}
    wide = np.minimum(np.nan_to_num(told.log_wear_error), MOST_WEAR_ERROR)
    wear = np.where(known, np.nan_to_num(told.log_wear, nan=-np.inf), -np.inf) + 0.5 * wide**2  # its mean
    return found | {
        "wear": np.exp(wear),
        "speed": np.where(told.told & np.isfinite(told.speed), told.speed, rows[:, NAMES.index("speed_set")]),
        "certain": ~known & ~told.unreachable, "outside": told.outside, "unreachable": told.unreachable,
    }  # fmt: skip


def slope_at_limit(told):
    """How fast ln(rate) falls [-] a share of the limit, at the limit, of `Rates`, (n, sides)."""
    load = np.nan_to_num(told.load, nan=1.0)
    before = np.clip(np.sum(load < 1.0, axis=-1) - 1, 0, load.shape[-1] - 2)[..., None]
    low, high = (np.take_along_axis(load, before + step, axis=-1)[..., 0] for step in (0, 1))
    share = np.clip((1.0 - low) / np.maximum(high - low, LEAST_SLOPE), 0.0, 1.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        falls = np.nan_to_num(fall_of(load), nan=1.0, posinf=1.0)
    ends = [np.take_along_axis(falls, before + step, axis=-1)[..., 0] for step in (0, 1)]
    return np.maximum((1.0 - share) * ends[0] + share * ends[1], LEAST_SLOPE)


def forecast_doubt(emulator, rows, told, off):
    """One deviation (n, sides) [share of the limit] of the load by the forecast's error `off`: by the load at the rate
    nearest to that of the limit, with height, period and angle one deviation off.
    """
    height, period, angle, correlation = off
    moved = {"hs": 0.0, "tp": 0.0, "angle": 0.0}
    at = np.clip(np.sum(told.load < 1.0, axis=-1), 0, told.load.shape[-1] - 1)[..., None]
    here = np.take_along_axis(told.load, at, axis=-1)[..., 0]
    for name, column, steps in (("hs", HEIGHT, (1.0 + height, 1.0 - height)),
                                ("tp", PERIOD, (1.0 - period, 1.0 + period)),
                                ("angle", ANGLE, (angle, -angle))):  # fmt: skip
        sizes = []
        for step, sense in zip(steps, (1.0, -1.0), strict=True):
            other = rows.copy()
            other[:, column] = rows[:, column] + step if name == "angle" else rows[:, column] * step
            there = np.take_along_axis(rates_of(emulator, other).load, at, axis=-1)[..., 0]
            sizes.append(sense * (there - here))
        if name == "angle":
            moved[name] = np.fmax(np.abs(sizes[0]), np.abs(sizes[1]))
        else:
            moved[name] = np.where(np.isfinite(sizes[0]), sizes[0], sizes[1])
    moved = {name: np.nan_to_num(value) for name, value in moved.items()}
    whole = moved["hs"] ** 2 + moved["tp"] ** 2 + moved["angle"] ** 2 - 2.0 * correlation * moved["hs"] * moved["tp"]
    return np.sqrt(np.maximum(whole, 0.0))


def spending_of(told, met, route, open_settings, least_between, step):
    """`Spending` of what is `Told` along a `Route`; `open_settings` (n, j) bool by the segments' own bounds."""
    with np.errstate(invalid="ignore"):
        speed = np.nanmean(np.where(np.isnan(told.speed).all(axis=2, keepdims=True), 0.0, told.speed), axis=2)
        over_ground = speed + met.along[:, :, None]
        closed = told.unreachable.any(axis=2) | (over_ground < LEAST_OVER_GROUND) | ~open_settings[:, None, :]
        duration = np.where(closed, np.inf, route.length[:, None, None] / np.maximum(over_ground, LEAST_OVER_GROUND))
    took = np.where(np.isfinite(duration), duration, 0.0)
    _, weights = doubt_cases(DOUBT_CASES)
    members = met.hs.shape[2]
    events = {}
    for side in SIDES:
        counted = told.rate[side] * took[:, :, None, :, None]
        counted = np.where(told.certain[..., None], CERTAIN, counted)
        events[side] = np.moveaxis(counted, 2, 3).reshape(*took.shape, -1)
    weights = np.tile(weights / members, members)
    wear = told.wear.mean(axis=2) * took
    both = np.stack([np.where(met.foil[:, :, None] == k, wear, 0.0) for k in range(len(FOILS))], axis=-1)
    return Spending(met.moments[:, 0], step, duration, events, weights, both, route.change, least_between)
