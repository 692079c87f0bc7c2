"""The sea, wind and current that the boat meets on each piece of a route at a row of moments, seen from the boat.

A library knows one wave system: it is asked with the height of all waves and the period and direction of the highest
system. The marches that check a plan have all systems.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.earth import wrapped
from seaload.files.forecast_field import sea_there

STILL = 0.05  # [m] of height below which a sea spends nothing; our own choice
CLOSE = np.radians(30.0)  # between course and wind: nothing sails so


class Met(NamedTuple):
    """What is met on n pieces at q moments each, in m members of a forecast."""

    moments: np.ndarray  # (n, q) [s] after the start
    hs: np.ndarray  # (n, q, m) [m] of all waves
    tp: np.ndarray  # (n, q, m) [s] of the highest system
    angle: np.ndarray  # (n, q, m) [rad] of the highest system from the bow, + from windward
    system_hs: np.ndarray  # (n, q, m, s) [m]
    system_tp: np.ndarray  # (n, q, m, s) [s]
    system_angle: np.ndarray  # (n, q, m, s) [rad]
    foil: np.ndarray  # (n, q) number of the working foil: 0 = port, on starboard tack
    wind_speed: np.ndarray  # (n, q) [m/s] true, mean of the members
    wind_angle: np.ndarray  # (n, q) [rad] from the bow, + to starboard
    along: np.ndarray  # (n, q) [m/s] of the current along the course, mean of the members


def met_on(route, forecast, start, moments, steady):
    """`Met` on a `Route`, at `moments` (n, q) [s] after the `start` [s since 1970], by a `Forecast`.

    steady : (wind, current), records with speed and direction, used where the forecast has none; None is none.
    """
    n, q = moments.shape
    every = lambda values: np.repeat(values, q)  # noqa: E731
    there = sea_there(forecast, every(route.latitude), every(route.longitude), start + moments.ravel())
    shaped = lambda values: values.reshape(n, q, *values.shape[1:])  # noqa: E731
    heading = route.heading[:, None]
    east, north = flow(there.wind, steady[0], towards=False, count=n * q)
    speed, came = np.hypot(east, north).reshape(n, q), np.arctan2(-east, -north).reshape(n, q)
    off_bow = wrapped(came - heading)
    tack = np.where(off_bow >= 0.0, 1.0, -1.0)  # + = starboard tack, wind from starboard
    side = tack[:, :, None, None]
    systems = side * wrapped(shaped(there.system_from) - heading[:, :, None, None])
    heights = shaped(there.system_hs)
    highest = np.argmax(np.nan_to_num(heights), axis=-1)[..., None]
    of_highest = lambda values: np.take_along_axis(values, highest, axis=-1)[..., 0]  # noqa: E731
    periods = shaped(there.system_tp)
    east, north = flow(there.current, steady[1], towards=True, count=n * q)
    along = east.reshape(n, q) * np.sin(heading) + north.reshape(n, q) * np.cos(heading)
    return Met(moments, shaped(there.hs), of_highest(periods), of_highest(systems), heights, periods, systems,
               (tack < 0.0).astype(int), speed, off_bow, along)  # fmt: skip


def flow(told, steady, *, towards, count):
    """(east, north) (count,) [m/s] of a wind or current: the mean of the members `told` (count, m, 2), else a `steady`
    one with its direction where it goes `towards` or comes from, else none.
    """
    if told is not None:
        east, north = np.nanmean(told, axis=1).T
        return np.nan_to_num(east), np.nan_to_num(north)
    if steady is None:
        return np.zeros(count), np.zeros(count)
    sign = 1.0 if towards else -1.0
    return (np.full(count, sign * steady.speed * np.sin(steady.direction)),
            np.full(count, sign * steady.speed * np.cos(steady.direction)))  # fmt: skip
