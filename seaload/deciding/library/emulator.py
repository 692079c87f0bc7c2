"""Tells what a library's points say between them: of a setting in a sea, how often each level is passed either way,
wear, speed, and how far off each of these may be; or why it does not tell.
"""

from functools import cached_property
from typing import NamedTuple

import numpy as np

from seaload.deciding.library.coordinates import cover_of, refusal
from seaload.deciding.library.effects import effect_names
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.load_curves import (
    CALM,
    OF_CURVE,
    OFTEN,
    SHAPE,
    known_part,
    log_swings,
    names_of,
    part_of,
    slopes,
    swing_errors,
)
from seaload.deciding.library.point import AT_LEAST, HELD
from seaload.deciding.library.surfaces import KINDS, SMOOTH, Surface, recipe_of, told_of
from seaload.evidence.rate_curve import RateCurve
from seaload.evidence.verdict import DEVIATE, SIDES

PLAIN = {  # quantity: (column, column of its error or an error that is the same everywhere)
    "log_wear": ("log_wear", "log_wear_error"),
    "load_mean_reverse": ("load_mean", 0.005),
    "load_mean_normal": ("load_mean", 0.005),
    "speed_attainable": ("speed_attainable", 0.02),
}
MOST_ENDED = 0.25  # [-] of the cases that end or leave the validity: rates are not shown; none of three leaves 1 in 8
BEYOND = 0.1  # [share of the limit] over the load of the lowest rate, where a curve ends
STEEPEST = 4.0  # [-] our own choice
LEAST_STEP = 1e-6  # [share of the limit] between the loads at two rates


def fall_of(load):
    """How fast ln(rate) falls with the load [-] at each of RATES on curves `load` (..., rates) [share of the limit].

    At most STEEPEST times as fast as on the whole curve: where surfaces of neighbouring rates cross, the loads stand
    still and their step says nothing.
    """
    ln, last = np.log(RATES), len(RATES) - 1
    before, after = np.maximum(np.arange(last + 1) - 1, 0), np.minimum(np.arange(last + 1) + 1, last)
    whole = (ln[0] - ln[-1]) / (load[..., -1] - load[..., 0])
    return np.minimum((ln[before] - ln[after]) / (load[..., after] - load[..., before]), STEEPEST * whole[..., None])


class SideAnswer(NamedTuple):
    """One side of an answer."""

    load: np.ndarray  # (rates,) [share of the limit] that comes at each of RATES
    load_error: np.ndarray  # (rates,) standard error: of the waves marched, and of what lies between points
    mean: float  # [share of the limit] mean load at the place likeliest to pass its limit

    @property
    def curve(self):
        """`RateCurve` with its 90 % interval, as finished cases give it; beyond the last load it falls as there."""
        fall = fall_of(self.load)
        ln, wide = np.log(RATES), DEVIATE * self.load_error * fall
        load, ln = np.append(self.load, self.load[-1] + BEYOND), np.append(ln, ln[-1] - BEYOND * fall[-1])
        wide = np.append(wide, wide[-1])
        return RateCurve(load, ln, ln - wide, ln + wide)

    def log_rate(self, level=1.0):
        """(ln(rate) [ln 1/s], standard error) of passing a `level` [share of the limit]; (nan, nan) where it is passed
        more often than the highest of RATES, or more rarely than the lowest.
        """
        if not self.load[0] <= level <= self.load[-1]:
            return np.nan, np.nan
        curve = self.curve
        middle = float(curve.ln_rate(level))
        return middle, (float(curve.ln_rate(level, "high")) - middle) / DEVIATE


class Answer(NamedTuple):
    """What a library tells of a setting in a sea, rates given the inputs."""

    sides: dict  # {side: SideAnswer}
    wear: float  # [ln 1/s] wear at the worst place
    wear_error: float  # [-]
    speed: float  # [m/s] mean
    speed_attainable: float  # [m/s] that the thrust holds in calm water
    speed_attainable_in_sea: tuple  # (value, standard error) [m/s] that it holds in the sea; nan where nothing tells
    shown: bool  # False where cases about it ended or left the validity: rates are at least these


class Emulator:
    """A shelf that answers. Surfaces are worked out when they are first needed, as are recipes that the shelf lacks."""

    def __init__(self, shelf, recipes=None):
        """`recipes` {quantity: Recipe} instead of those that the `shelf` holds."""
        self.shelf, self._recipes = shelf, dict(shelf.surfaces if recipes is None else recipes)

    def recipe(self, name):
        """The `Recipe` of a quantity, or None."""
        if name not in self._recipes:
            self._recipes[name] = recipes_of(self.shelf, [name]).get(name)
        return self._recipes[name]

    @cached_property
    def cover(self):
        """`Cover` of the marched points."""
        return cover_of(self.shelf.coordinates[self.shelf.marched])

    def refusal(self, question):
        """`Refusal` of a `question` (names,) [SI], or None."""
        return refusal(self.cover, np.asarray(question, dtype=float))

    def answer(self, question):
        """`Answer` to a `question` (names,) [SI] that the library covers."""
        rows = np.asarray(question, dtype=float)[None]
        sides = {side: self.side_answer(rows, side) for side in SIDES}
        speed, attainable, ended = (self.value(n, rows) for n in ("speed_mean", "speed_attainable", "ended_share"))
        in_sea = self.plain("speed_attainable_in_sea", rows)
        return Answer(sides, *self.plain("log_wear", rows), speed, attainable, in_sea, not often_ends(ended))

    def value(self, name, rows):
        """Value of a quantity at `rows` (1, names) [SI]; nan where no surface of it is drawn."""
        return np.nan if self.recipe(name) is None else float(self.surface(name).value(rows)[0])

    def plain(self, name, rows):
        """(value, standard error) of a quantity at `rows` (1, names) [SI]; nan where no surface of it is drawn."""
        if self.recipe(name) is None:
            return np.nan, np.nan
        value, error = self.surface(name).at(rows)
        return float(value[0]), float(error[0])

    def channel(self, name, question):
        """(value, standard error) of one of CHANNELS at a `question` (names,) [SI], arrays where it is told at places;
        nan at places that are inside the hull wherever a surface might be drawn.
        """
        rows, shape = np.asarray(question, dtype=float)[None], self.shelf.columns[name].shape[1:]
        if not shape:
            return self.plain(name, rows)
        told = [self.plain(f"{name}@{','.join(map(str, place))}", rows) for place in np.ndindex(shape)]
        return np.array(told).T.reshape(2, *shape)

    def side_answer(self, rows, side):
        """`SideAnswer` at `rows` (1, names) [SI]."""
        return self.side_answers(rows, side)[0]

    def side_answers(self, rows, side):
        """[`SideAnswer`] at `rows` (n, names) [SI]."""
        loads, means = self.loads(rows, side)
        errors = self.load_errors(rows, side)
        return [SideAnswer(*each) for each in zip(loads, errors, map(float, means), strict=True)]

    def loads(self, rows, side):
        """(load (n, rates) at each of RATES, rising, mean load (n,)) [share of the limit] at `rows` (n, names) [SI]."""
        calm = self.surface(f"{CALM}_{side}").value(rows)
        swing = np.exp(log_swings(self.parts(rows, side)))
        means = self.surface(f"load_mean_{side}").value(rows)
        return calm[:, None] + swing + LEAST_STEP * np.arange(len(RATES)), means

    def load_errors(self, rows, side):
        """Standard error (n, rates) [share of the limit] of those loads, at `rows` (n, names) [SI]."""
        parts = self.parts(rows, side)
        errors = np.column_stack([self.surface(f"{part}_{side}").error(rows) for part in OF_CURVE])
        swing = np.exp(log_swings(parts)) * swing_errors(parts, errors)
        return np.hypot(swing, self.surface(f"{CALM}_{side}").error(rows)[:, None])

    def parts(self, rows, side):
        """What the curve of loads over rates is put together of, (n, 5) in the order of OF_CURVE, at `rows` (n, names)
        [SI].
        """
        return np.column_stack([self.surface(f"{part}_{side}").value(rows) for part in OF_CURVE])

    def difference(self, one, other, side, rate=2):
        """(difference, standard error) [share of the limit] of the loads at a rate (number in RATES) at two places,
        (names,) [SI] each: what the same waves did to both drops out.
        """
        places, signs = np.array([one, other]), np.array([1.0, -1.0])
        loads, _ = self.loads(places, side)
        parts = self.parts(places, side)
        swing = np.exp(log_swings(parts))[:, rate] * signs
        by_part = swing[:, None] * slopes(parts)[:, rate]
        variance = signs @ self.surface(f"{CALM}_{side}").jointly(places)[1] @ signs
        for part, slope in zip(OF_CURVE, by_part.T, strict=True):
            variance += slope @ self.surface(f"{part}_{side}").jointly(places)[1] @ slope
        return float(signs @ loads[:, rate]), float(np.sqrt(max(variance, 0.0)))

    def surface(self, name):
        """The `Surface` of a quantity."""
        if name not in self._surfaces:
            self._surfaces[name] = surface_of(self.shelf, self.cover, name, self.recipe(name))
        return self._surfaces[name]

    def rows_of(self, name):
        """Numbers of the points that a quantity's surface goes through."""
        rows, values, errors = known_of(self.shelf, name)
        return np.flatnonzero(rows & np.isfinite(values) & np.isfinite(errors))

    @cached_property
    def _surfaces(self):
        return {}


def often_ends(logit):
    """Whether more than MOST_ENDED of the cases end or leave the validity, from the `logit` of their share [-], which
    surfaces are drawn through (empirical logit: Cox 1970).
    """
    return logit > np.log(MOST_ENDED / (1.0 - MOST_ENDED))


def known_of(shelf, name):
    """(rows (n,) bool, values (n,), errors (n,)) of a quantity at the points of a `shelf`."""
    columns, status = shelf.columns, shelf.columns["status"]
    rows = status == HELD
    part, side = part_of(name)
    if part is not None:
        return rows, *known_part(columns, part, side)
    if name == "ended_share":
        ended, whole = columns["cases_ended"] + 0.5, columns["cases"] - columns["cases_ended"] + 0.5
        return (status == HELD) | (status == AT_LEAST), np.log(ended / whole), np.sqrt(1.0 / ended + 1.0 / whole)
    if name not in PLAIN:
        column, _, place = name.partition("@")
        at = (slice(None), *map(int, place.split(","))) if place else slice(None)
        return rows, columns[column][at], columns[f"{column}_error"][at]
    column, error = PLAIN[name]
    values = columns[column]
    if name == "speed_attainable":
        rows = np.isfinite(values)
    if name.startswith("load_mean_"):
        values = values[:, SIDES.index(name.rpartition("_")[2])]
    return rows, values, columns[error] if isinstance(error, str) else np.full(len(rows), error)


def quantities():
    """Names of all quantities with a surface of their own."""
    loads = [name for side in SIDES for name in names_of(side)]
    return [*loads, *PLAIN, "speed_mean", "speed_attainable_in_sea", "ended_share", *effect_names()]


def surface_of(shelf, cover, name, recipe):
    """The `Surface` of a quantity of a `shelf`."""
    rows, values, errors = known_of(shelf, name)
    rows = rows & np.isfinite(values) & np.isfinite(errors)
    places, groups = shelf.coordinates[rows], shelf.groups[rows]
    told = told_of(cover, recipe.kind, places, values[rows], errors[rows], groups)
    return Surface(cover, recipe, told)


def kinds_of(name):
    """Kinds of surfaces that are tried for a quantity: what hardly changes from sea to sea needs no smooth one, whose
    errors take the longest to tell.
    """
    return tuple(kind for kind in KINDS if kind != SMOOTH or part_of(name)[0] not in (OFTEN, SHAPE))


def recipes_of(shelf, names=None, kinds=None):
    """{quantity: Recipe} of a `shelf`, of all `quantities` unless some `names` are given; those with too few seas left
    out. Of the surfaces of these `kinds`, or of `kinds_of` each, the one that tells seas left out best.
    """
    if not len(shelf) or not shelf.marched.any():
        return {}
    cover, found = cover_of(shelf.coordinates[shelf.marched]), {}
    for name in names or quantities():
        rows, values, errors = known_of(shelf, name)
        told = shelf.coordinates[rows], values[rows], errors[rows], shelf.groups[rows]
        recipe = recipe_of(cover, *told, kinds or kinds_of(name))
        if recipe is not None:
            found[name] = recipe
    return found
