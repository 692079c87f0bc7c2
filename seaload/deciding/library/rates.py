"""Many questions to a library at once, for what looks at hundreds of settings in hundreds of seas: rates given the
inputs, never odds.

The rate of events past a limit is read off the curve of loads over rates, at any level of the limit: where that level
lies between the loads that come at two of RATES, ln(rate) is told by a straight line between them. Past the load of the
rarest rate ln(rate) falls on as fast as there, down to RAREST. A level that is passed more often than the highest of
RATES is told at that rate.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.known_wind import SPARE
from seaload.deciding.library.coordinates import NAMES, covered
from seaload.deciding.library.emulator import fall_of, often_ends
from seaload.deciding.library.load_at_rate import HOUR, RATES
from seaload.evidence.verdict import DEVIATE, SIDES

SPEED = NAMES.index("speed_set")
LN_RATES = np.log(RATES)
RAREST = np.log(1e-8 / HOUR)  # [ln 1/s] nothing is told to be rarer


class Rates(NamedTuple):
    """Answers to n questions; sides in the order of `evidence.verdict.SIDES`; nan where nothing is told."""

    log_rate: np.ndarray  # (n, sides) ln(rate [1/s]) of events past the limit, at any place
    log_rate_error: np.ndarray  # (n, sides) its standard error: of the waves marched and of what lies between points
    log_wear: np.ndarray  # (n,) ln(wear [1/s]) at the worst place
    log_wear_error: np.ndarray  # (n,)
    speed: np.ndarray  # (n,) [m/s] mean
    speed_attainable: np.ndarray  # (n,) [m/s] that the thrust holds, in the sea where that is told
    told: np.ndarray  # (n,) bool: covered by the points, and its speed is one that the thrust holds
    outside: np.ndarray  # (n,) bool: not covered
    unreachable: np.ndarray  # (n,) bool: covered, but faster than the thrust holds
    at_least: np.ndarray  # (n,) bool: cases about it ended or left the validity: rates are at least these
    load: np.ndarray  # (n, sides, rates) [share of the limit] that comes at each of RATES
    load_mean: np.ndarray  # (n, sides) [share of the limit] mean load at the place likeliest to pass it
    speed_most: np.ndarray  # (n,) [m/s] the most that still counts as held by the thrust

    def of(self, rows):
        """Those of some `rows`, a mask, a slice or numbers."""
        return Rates(*(part[rows] for part in self))

    def log_rate_past(self, levels):
        """ln(rate) [ln 1/s] of events past `levels` [share of the limit], an array of (n, sides) or any shape before
        it, (..., n, sides).
        """
        return ln_rates_past(self.load, np.asarray(levels, dtype=float))[0]


def rates_of(emulator, questions):
    """`Rates` of an `Emulator` at `questions` (n, names) [SI]: some ten milliseconds a hundred."""
    questions = np.atleast_2d(np.asarray(questions, dtype=float))
    inside = covered(emulator.cover, questions)
    attainable, most = speeds_held(emulator, questions, inside)
    unreachable = inside & (questions[:, SPEED] > (1.0 + SPARE) * most)
    told = inside & ~unreachable
    rows, sides = questions[told], []
    for side in SIDES:
        load, mean = emulator.loads(rows, side) if len(rows) else (np.zeros((0, len(RATES))), np.zeros(0))
        sides.append((*at_limit(emulator, rows, side, (load, mean)), load, mean))
    log_rate, error, load, mean = (spread_out(np.stack(part, axis=1), told) for part in zip(*sides, strict=True))
    wear, wear_error = (spread_out(part, told) for part in plain_values(emulator, "log_wear", rows, error=True))
    ended = spread_out(plain_values(emulator, "ended_share", rows), told)
    speed = spread_out(plain_values(emulator, "speed_mean", rows), told)
    at_least = often_ends(ended)
    return Rates(
        log_rate, error, wear, wear_error, speed, attainable, told, ~inside, unreachable, at_least, load, mean, most
    )  # fmt: skip


def at_limit(emulator, rows, side, loads):
    """(ln(rate) [ln 1/s] past the limit (n,), its standard error (n,)) at `rows` (n, names) [SI] with their `loads`, a
    pair of loads (n, rates) and means (n,) [share of the limit].

    The error of the load there times how fast ln(rate) falls with it.
    """
    found, before, share = ln_rates_past(loads[0][:, None], np.ones((len(rows), 1)))
    if len(rows) == 0:
        return found[:, 0], loads[1]
    errors = emulator.load_errors(rows, side) * fall_of(loads[0])
    low, high = (np.take_along_axis(errors, before + step, axis=1) for step in (0, 1))
    return found[:, 0], ((1.0 - share) * low + share * high)[:, 0]


def ln_rates_past(load, levels):
    """(ln(rate) [ln 1/s] past `levels`, number in RATES before, share of the step to the next), (..., n, sides) each.

    load : (n, sides, rates) [share of the limit] at RATES, rising; levels : (..., n, sides) [share of the limit].
    """
    before = np.clip(np.sum(load < levels[..., None], axis=-1) - 1, 0, load.shape[-1] - 2)
    curves = np.broadcast_to(load, (*before.shape, load.shape[-1]))
    low, high = (np.take_along_axis(curves, (before + step)[..., None], axis=-1)[..., 0] for step in (0, 1))
    share = np.clip((levels - low) / (high - low), 0.0, 1.0)
    beyond = fall_of(load)[..., -1] * np.maximum(levels - load[..., -1], 0.0)
    told = LN_RATES[before] + share * (LN_RATES[before + 1] - LN_RATES[before]) - beyond
    return np.maximum(told, RAREST), before, share


def plain_values(emulator, name, rows, error=False):
    """Value (n,) of a quantity at `rows` (n, names) [SI], with its standard error (n,) if asked for; nan where no
    surface of it is drawn.
    """
    if emulator.recipe(name) is None or len(rows) == 0:
        nothing = np.full(len(rows), np.nan)
        return (nothing, nothing) if error else nothing
    surface = emulator.surface(name)
    return surface.at(rows) if error else surface.value(rows)


def speeds_held(emulator, questions, told):
    """(speed that the thrust holds (n,) [m/s], the most that counts as held) at `questions` (n, names) [SI] that are
    `told` (n,) bool; nan elsewhere.

    In the sea, up to the upper end of its interval, and never over that of calm water; in calm water alone where no
    runs with free speed tell it.
    """
    calm = spread_out(plain_values(emulator, "speed_attainable", questions[told]), told)
    parts = plain_values(emulator, "speed_attainable_in_sea", questions[told], error=True)
    there, error = (spread_out(part, told) for part in parts)
    return np.where(np.isfinite(there), there, calm), np.fmin(calm, there + DEVIATE * error)


def spread_out(values, told):
    """Array (n, ...) with `values` (m, ...) where `told` (n,) bool, m of them; nan elsewhere."""
    found = np.full((len(told), *values.shape[1:]), np.nan)
    found[told] = values
    return found
