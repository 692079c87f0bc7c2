"""A forecast of waves, wind and current over a stretch of sea and time, told at any place and moment within it.

Between points of the grid and times: heights, periods and the parts of wind and current linearly, each over the points
that know it; directions as unit vectors, each as long as its waves are high. Wave systems are joined by their number.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from seaload.files.forecast_points import apart

LEAST_HEIGHT = 0.01  # [m] of a system that counts


@dataclass(frozen=True)
class Forecast:
    """What a file tells. Arrays (..., t, m, a, o): times, members, latitudes, longitudes; nan where nothing is known.
    """

    time: np.ndarray  # (t,) [s] since 1970-01-01 UTC, rising
    latitude: np.ndarray  # (a,) [rad], rising
    longitude: np.ndarray  # (o,) [rad], rising, may pass pi
    hs: np.ndarray  # (t, m, a, o) [m] of all waves
    systems: tuple  # words of each wave system
    system_hs: np.ndarray  # (s, t, m, a, o) [m]
    system_tp: np.ndarray  # (s, t, m, a, o) [s] peak period
    system_from: np.ndarray  # (s, t, m, a, o) [rad] true, where the waves come from
    wind: np.ndarray | None  # (2, t, m, a, o) [m/s] towards east and north
    current: np.ndarray | None  # (2, t, m, a, o) [m/s] the same
    notes: tuple  # plain words: what was chosen, assumed, does not fit
    points: np.ndarray | None = None  # (o, 2) [rad] latitude and longitude of points that are no grid; a is then 1

    @property
    def members(self):
        """Number of members."""
        return self.hs.shape[1]


class SeaThere(NamedTuple):
    """What a `Forecast` tells at n places and moments."""

    hs: np.ndarray  # (n, m) [m] of all waves; nan where no point around knows
    system_hs: np.ndarray  # (n, m, s) [m]
    system_tp: np.ndarray  # (n, m, s) [s]; nan where there is no such system
    system_from: np.ndarray  # (n, m, s) [rad] true
    wind: np.ndarray | None  # (n, m, 2) [m/s] towards east and north
    current: np.ndarray | None  # (n, m, 2) [m/s]


def between(axis, values):
    """(index below (n,), share of the next (n,) [-]) of `values` (n,) on a rising `axis`; ends hold beyond it."""
    if len(axis) == 1:
        return np.zeros(len(values), dtype=int), np.zeros(len(values))
    below = np.clip(np.searchsorted(axis, values, side="right") - 1, 0, len(axis) - 2)
    return below, np.clip((values - axis[below]) / (axis[below + 1] - axis[below]), 0.0, 1.0)


def corners_of(forecast, latitude, longitude, time):
    """(index tuple of (8, n), weights (8, n)) of the grid points and times about places [rad] and moments [s]."""
    if forecast.points is not None:
        return of_nearest(forecast, latitude, longitude, time)
    found = [between(forecast.time, time), between(forecast.latitude, latitude)]
    turned = forecast.longitude[0] + np.mod(longitude - forecast.longitude[0] + 1e-9, 2.0 * np.pi) - 1e-9
    found.append(between(forecast.longitude, turned))
    places, weights = [], []
    for corner in np.ndindex(2, 2, 2):
        at = [np.minimum(low + step, len(axis) - 1) for (low, _), step, axis in
              zip(found, corner, (forecast.time, forecast.latitude, forecast.longitude), strict=True)]  # fmt: skip
        share = [part if step else 1.0 - part for (_, part), step in zip(found, corner, strict=True)]
        places.append(at)
        weights.append(share[0] * share[1] * share[2])
    return tuple(np.array(part) for part in zip(*places, strict=True)), np.array(weights)


def of_nearest(forecast, latitude, longitude, time):
    """The same, (2, n), of a forecast at points: the nearest in space, between times."""
    below, share = between(forecast.time, time)
    nearest = np.argmin(apart(np.column_stack([latitude, longitude]), forecast.points), axis=1)
    later = np.minimum(below + 1, len(forecast.time) - 1)
    places = np.stack([below, later]), np.zeros((2, len(time)), dtype=int), np.stack([nearest, nearest])
    return places, np.stack([1.0 - share, share])


def blended(rows, weights):
    """Means over the first axis of `rows` (8, ..., n) with `weights` that fit; nan where none is known."""
    weights = np.broadcast_to(np.where(np.isfinite(rows), weights, 0.0), rows.shape)
    total = weights.sum(axis=0)
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(total > 0.0, (weights * np.nan_to_num(rows)).sum(axis=0) / total, np.nan)


def sea_there(forecast, latitude, longitude, time):
    """`SeaThere` at places (n,) [rad] and moments (n,) [s] within a `Forecast`."""
    (t, a, o), weights = corners_of(forecast, *(np.asarray(x, dtype=float) for x in (latitude, longitude, time)))
    rows = lambda values: np.moveaxis(values[..., t, :, a, o], -1, 1)  # noqa: E731  (8, m, n) of (t, m, a, o)
    weights = weights[:, None, :]
    height = rows(forecast.hs)
    hs, tp, where = [], [], []
    for number in range(len(forecast.systems)):
        own, period, angle = (rows(part[number]) for part in
                              (forecast.system_hs, forecast.system_tp, forecast.system_from))  # fmt: skip
        there = np.isfinite(own) & (own > LEAST_HEIGHT) & np.isfinite(period) & np.isfinite(angle)
        known = np.where(np.isfinite(height), np.where(there, own, 0.0), np.nan)  # no such system, or no sea at all
        long = np.where(there, weights * np.nan_to_num(own), 0.0)
        east, north = (blended(np.where(there, turn(angle), np.nan), long) for turn in (np.sin, np.cos))
        hs.append(blended(known, weights))
        tp.append(blended(np.where(there, period, np.nan), long))
        where.append(np.mod(np.arctan2(east, north), 2.0 * np.pi))
    stack = lambda parts: np.moveaxis(np.array(parts), (0, 1, 2), (2, 1, 0))  # noqa: E731  (n, m, s) of s (m, n)
    flow = lambda field: None if field is None else stack(  # noqa: E731
        [blended(rows(part), weights) for part in field]
    )
    return SeaThere(blended(height, weights).T, stack(hs), stack(tp), stack(where), flow(forecast.wind),
                    flow(forecast.current))  # fmt: skip
