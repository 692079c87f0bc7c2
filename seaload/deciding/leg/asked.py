"""What a library tells of every setting in every sea that may be met on a leg, as tables that a plan is sought in.

What is uncertain is drawn once a leg, see `leg_doubt`. A sea lower than the library's lowest is taken as that, one
longer than its longest as that one: both tell more load than there is. What else it does not tell, and what ended or
left the validity there, counts as past the limit for certain.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.leg_doubt import CASES
from seaload.deciding.leg.met import STILL
from seaload.deciding.leg.spending import FOILS, Spending
from seaload.deciding.library.coordinates import SETTING
from seaload.evidence.verdict import DEVIATE, SIDES

ENOUGH_MEMBERS = 5  # that a forecast's own members tell how far off it may be
CERTAIN = 5.0  # events of a piece that is past the limit for certain
LEAST_OVER_GROUND = 0.5  # [m/s] slower is not under way
MOST_WEAR_ERROR = 3.0  # [-] of ln(wear) that its mean is taken over: beyond it no tail is believed
ROWS_AT_ONCE = 2000  # seas


class Told(NamedTuple):
    """What a library tells at n pieces, q moments, m members, j settings."""

    rate: dict  # {side: (n, q, m, j, d) [1/s] events past the limit in each case of the doubt}
    wear: np.ndarray  # (n, q, m, j) [1/s]
    speed: np.ndarray  # (n, q, m, j) [m/s] through the water; nan where it is not told
    certain: np.ndarray  # (n, q, m, j) bool, counted as past the limit
    outside: np.ndarray  # (n, q, m, j) bool, because the library does not cover it
    unreachable: np.ndarray  # (n, q, m, j) bool, faster than the thrust holds
    most: np.ndarray  # (n, q, m, j) [m/s] that the thrust holds; infinite where it is not told
    weights: np.ndarray  # (d,) of the cases of the doubt


def told_by(table, met, lead, needed):
    """`Told` by a `SeaTable` in what is `Met`; `lead` (n, q) [s] how long ahead it is forecast; `needed` (n, q) bool
    says where it is wanted.
    """
    settings = table.settings
    shape = (*met.hs.shape, len(settings))
    where = needed[:, :, None] & (met.hs > STILL) & np.isfinite(met.tp) & np.isfinite(met.angle)
    ahead = np.broadcast_to(lead[:, :, None], met.hs.shape)
    seas = np.stack([part[where] for part in (met.hs, met.tp, met.angle, ahead)], axis=-1)
    found = {"reverse": np.zeros((*shape, CASES)), "normal": np.zeros((*shape, CASES)), "wear": np.zeros(shape),
             "speed": np.full(shape, np.nan), "most": np.full(shape, np.inf)} | {
             name: np.zeros(shape, dtype=bool) for name in ("certain", "outside", "unreachable")}  # fmt: skip
    places = np.stack(np.nonzero(where), axis=-1)
    for start in range(0, len(seas), ROWS_AT_ONCE):
        at = tuple(places[start : start + ROWS_AT_ONCE].T)
        for name, values in answers(table, seas[start : start + ROWS_AT_ONCE]).items():
            found[name][at] = values
    still = needed[:, :, None] & ~(met.hs > STILL) & np.isfinite(met.hs)
    found["speed"][still] = settings[:, SETTING.index("speed_set")]
    found["certain"][needed[:, :, None] & ~where & ~still] = True
    weights = np.ones(CASES) / CASES if table.cases is None else table.cases.weights
    return Told({side: found[side] for side in SIDES}, *(found[n] for n in
                ("wear", "speed", "certain", "outside", "unreachable", "most")), weights)  # fmt: skip


def answers(table, seas):
    """{name: values (r, j, ...)} of all settings in `seas` (r, 4), as of `sea_grid`."""
    told = table.read(seas)
    known = told.told & ~told.at_least
    rates = np.where(known[..., None, None], np.exp(told.ln_rates()), 0.0)
    wear = np.where(known, mean_log_wear(told.of("log_wear"), told.of("log_wear_error")), -np.inf)
    speed = np.where(told.told & (told.of("speed") > 0.0), told.of("speed"),
                     table.settings[:, SETTING.index("speed_set")])  # fmt: skip
    return {side: rates[:, :, k] for k, side in enumerate(SIDES)} | {
        "wear": np.exp(wear), "speed": speed, "certain": ~known & ~told.unreachable, "outside": told.outside,
        "unreachable": told.unreachable,
        "most": np.where(told.told & (told.of("speed_most") > 0.0), told.of("speed_most"), np.inf),
    }  # fmt: skip


def mean_log_wear(log_wear, error):
    """Logarithm [ln 1/s] of the mean wear where ln(wear) is told with a standard error [-], taken as normal.

    Wear goes with a high power of the load, so ln(wear) is known badly between the points of a library, to 5 where
    loads are known to a third; seas that wear more than told hold most of the wear of many: the median is not what
    comes.
    """
    return np.nan_to_num(log_wear) + 0.5 * np.minimum(np.nan_to_num(error), MOST_WEAR_ERROR) ** 2


def wear_span(table, settings, met, took, lead):
    """(low, high) (n,) [-]: nine in ten of the wear of n pieces passed with the setting of each, `settings` (n,)
    numbers in a `SeaTable`, in `took` (n,) [s], lie between, were every piece off alike; `met`, lead (n, 1) as of
    `told_by`.
    """
    low, high = np.zeros(len(settings)), np.zeros(len(settings))
    members = met.hs.shape[2]
    for member in range(members):
        seas = np.column_stack([part[:, 0, member] for part in (met.hs, met.tp, met.angle)] + [lead[:, 0]])
        known = np.flatnonzero(np.isfinite(seas).all(axis=1) & (seas[:, 0] > STILL))
        told = table.read(seas[known])
        row = np.arange(len(known)), settings[known]
        sure = (told.told & ~told.at_least)[row]
        for sign, end in ((-1.0, low), (1.0, high)):
            rate = np.exp(told.of("log_wear")[row] + sign * DEVIATE * told.of("log_wear_error")[row])
            end[known] += np.where(sure, rate, 0.0) * took[known] / members
    return low, high


def spending_of(told, met, route, open_settings, least_between, step):
    """`Spending` of what is `Told` along a `Route`; `open_settings` (n, j) or (n, q, j) bool by the segments' own
    bounds and by the wind.
    """
    with np.errstate(invalid="ignore"):
        speed = np.nanmean(np.where(np.isnan(told.speed).all(axis=2, keepdims=True), 0.0, told.speed), axis=2)
        over_ground = speed + met.along[:, :, None]
        open_settings = open_settings if open_settings.ndim == 3 else open_settings[:, None, :]
        closed = told.unreachable.any(axis=2) | (over_ground < LEAST_OVER_GROUND) | ~open_settings
        duration = np.where(closed, np.inf, route.length[:, None, None] / np.maximum(over_ground, LEAST_OVER_GROUND))
    took = np.where(np.isfinite(duration), duration, 0.0)
    members = met.hs.shape[2]
    events = {}
    for side in SIDES:
        counted = told.rate[side] * took[:, :, None, :, None]
        counted = np.where(told.certain[..., None], CERTAIN, counted)
        events[side] = np.moveaxis(counted, 2, 3).reshape(*took.shape, -1)
    weights = np.tile(told.weights / members, members)
    wear = told.wear.mean(axis=2) * took
    both = np.stack([np.where(met.foil[:, :, None] == k, wear, 0.0) for k in range(len(FOILS))], axis=-1)
    return Spending(met.moments[:, 0], step, duration, events, weights, both, route.change, least_between)
