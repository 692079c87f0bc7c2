"""Tells what a library's points say between them: of a setting in a sea, how often each level is passed either way,
wear, speed, and how far off each of these may be; or why it does not tell.
"""

from functools import cached_property
from typing import NamedTuple

import numpy as np

from seaload.deciding.library.coordinates import cover_of, refusal
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.point import AT_LEAST, HELD
from seaload.deciding.library.surfaces import Surface, recipe_of, told_of
from seaload.evidence.rate_curve import RateCurve
from seaload.evidence.verdict import DEVIATE, SIDES

BANDS = {2: [0, 1, 2, 3], 5: [4, 5, 6], 8: [7, 8, 9, 10]}  # rates that are told with the surface of one of them
PLAIN = {  # quantity: (column, column of its error or an error that is the same everywhere)
    "log_wear": ("log_wear", "log_wear_error"),
    "load_mean_reverse": ("load_mean", 0.005),
    "load_mean_normal": ("load_mean", 0.005),
    "speed_attainable": ("speed_attainable", 0.02),
}
MOST_ENDED = 0.05  # [-] of the cases, so many ended or left the validity: rates are not shown; our own choice
SOFT = 0.3  # [share of the limit]: surfaces are drawn over the logarithm of loads above, over the loads below
STEEPEST = 4.0  # [-] our own choice
LEAST_STEP = 1e-6  # [share of the limit] between the loads at two rates


def drawn(load):
    """What surfaces of loads [share of the limit] are drawn over [-]: asinh(load / SOFT).

    Waves make a load by factors, so far out its logarithm is smooth; about nothing it has none.
    """
    return np.arcsinh(load / SOFT)


def read(value):
    """Load [share of the limit] of a drawn `value` [-], the inverse of `drawn`."""
    return SOFT * np.sinh(value)


def steepness(load):
    """Load [share of the limit] that one of the drawn scale makes at a `load`: sqrt(load^2 + SOFT^2)."""
    return np.hypot(load, SOFT)


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
        """`RateCurve` with its 90 % interval, as finished cases give it."""
        ln = np.log(RATES)
        wide = DEVIATE * self.load_error * fall_of(self.load)
        return RateCurve(self.load, ln, ln - wide, ln + wide)

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
    shown: bool  # False where cases about it ended or left the validity: rates are at least these


class Emulator:
    """A shelf that answers. Surfaces are worked out when they are first needed, as are recipes that the shelf lacks."""

    def __init__(self, shelf):
        self.shelf, self._recipes = shelf, dict(shelf.surfaces)

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
        return Answer(sides, *self.plain("log_wear", rows), speed, attainable, ended <= MOST_ENDED)

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
        rows, column = np.asarray(question, dtype=float)[None], self.shelf.columns[name]
        if column.ndim == 1:
            return self.plain(name, rows)
        return np.array([self.plain(f"{name}@{place}", rows) for place in range(column.shape[1])]).T

    def side_answer(self, rows, side):
        """`SideAnswer` at `rows` (1, names) [SI]."""
        load = self.loads(rows, side)
        errors = np.concatenate([self.load_errors(rows, side, reference) for reference in BANDS], axis=1)
        return SideAnswer(load[0], errors[0] * steepness(load[0]), self.value(f"load_mean_{side}", rows))

    def loads(self, rows, side):
        """Load (n, rates) [share of the limit] that comes at each of RATES at `rows` (n, names) [SI], rising."""
        parts = [self.surface(f"load_{side}_{reference}").others(rows) for reference in BANDS]
        return np.maximum.accumulate(read(np.concatenate(parts, axis=1)), axis=1) + LEAST_STEP * np.arange(len(RATES))

    def load_errors(self, rows, side, reference):
        """Standard error (n, members) of the drawn loads at the rates of one of BANDS, at `rows` (n, names) [SI]."""
        usual, own = self._ratios[side], self.surface(f"load_{side}_{reference}").error(rows)
        return np.outer(own, usual[BANDS[reference]] / usual[reference])

    def difference(self, one, other, side, rate=2):
        """(difference, standard error) [share of the limit] of the loads at a rate (number in RATES, one of BANDS) at
        two places, (names,) [SI] each: what the same waves did to both drops out.
        """
        values, spread = self.surface(f"load_{side}_{rate}").jointly(np.array([one, other]))
        loads = read(values)
        slopes = steepness(loads) * np.array([1.0, -1.0])
        return float(loads[0] - loads[1]), float(np.sqrt(max(slopes @ spread @ slopes, 0.0)))

    def surface(self, name):
        """The `Surface` of a quantity."""
        if name not in self._surfaces:
            self._surfaces[name] = surface_of(self.shelf, self.cover, name, self.recipe(name))
        return self._surfaces[name]

    def rows_of(self, name):
        """Numbers of the points that a quantity's surface goes through."""
        rows, values, errors = known_of(self.shelf, name)
        return np.flatnonzero(rows & np.isfinite(values) & np.isfinite(errors))

    @staticmethod
    def bands_of(side):
        """[(name of the quantity, numbers in RATES of the loads that go with it)] of a side."""
        return [(f"load_{side}_{reference}", members) for reference, members in BANDS.items()]

    @cached_property
    def _surfaces(self):
        return {}

    @cached_property
    def _ratios(self):
        """{side: (rates,) usual error of the drawn load at each rate [-]}."""
        held, found = self.shelf.columns["status"] == HELD, {}
        for i, side in enumerate(SIDES):
            loads, errors = (self.shelf.columns[name][held, i] for name in ("load_at_rate", "load_at_rate_error"))
            found[side] = np.nanmedian(errors / steepness(loads), axis=0).astype(float)
        return found


def known_of(shelf, name):
    """(rows (n,) bool, values (n,), errors (n,)) of a quantity at the points of a `shelf`."""
    columns, status = shelf.columns, shelf.columns["status"]
    rows = status == HELD
    if name.startswith("load_") and name.rpartition("_")[2].isdigit():
        _, side, rate = name.split("_")
        loads, errors = (columns[part][:, SIDES.index(side)] for part in ("load_at_rate", "load_at_rate_error"))
        rows = rows & np.all(np.isfinite(loads[:, BANDS[int(rate)]]), axis=1)
        at = (slice(None), int(rate))
        return rows, drawn(loads[at].astype(float)), (errors[at] / steepness(loads[at])).astype(float)
    if name == "ended_share":
        cases = np.maximum(columns["cases"], 1)
        return (status == HELD) | (status == AT_LEAST), columns["cases_ended"] / cases, np.full(len(rows), 0.05)
    if name not in PLAIN:
        channel, _, place = name.partition("@")
        at = (slice(None), int(place)) if place else slice(None)
        return rows, columns[channel][at], columns[f"{channel}_error"][at]
    column, error = PLAIN[name]
    values = columns[column]
    if name == "speed_attainable":
        rows = np.isfinite(values)
    if name.startswith("load_mean_"):
        values = values[:, SIDES.index(name.rpartition("_")[2])]
    return rows, values, columns[error] if isinstance(error, str) else np.full(len(rows), error)


def quantities():
    """Names of all quantities with a surface of their own."""
    return [*(f"load_{side}_{rate}" for side in SIDES for rate in BANDS), *PLAIN, "speed_mean", "ended_share"]


def surface_of(shelf, cover, name, recipe):
    """The `Surface` of a quantity of a `shelf`, with the loads at the rates that go with it."""
    rows, values, errors = known_of(shelf, name)
    rows = rows & np.isfinite(values) & np.isfinite(errors)
    places, groups = shelf.coordinates[rows], shelf.groups[rows]
    told = told_of(cover, recipe.kind, places, values[rows], errors[rows], groups)
    others = None
    if name.startswith("load_") and name.rpartition("_")[2].isdigit():
        _, side, rate = name.split("_")
        loads = shelf.columns["load_at_rate"][rows][:, SIDES.index(side)]
        others = drawn(loads[:, BANDS[int(rate)]].astype(float))
    return Surface(cover, recipe, told, others)


def recipes_of(shelf, names=None):
    """{quantity: Recipe} of a `shelf`, of all `quantities` unless some `names` are given; those with too few seas left
    out.
    """
    if not len(shelf) or not shelf.marched.any():
        return {}
    cover, found = cover_of(shelf.coordinates[shelf.marched]), {}
    for name in names or quantities():
        rows, values, errors = known_of(shelf, name)
        recipe = recipe_of(cover, shelf.coordinates[rows], values[rows], errors[rows], shelf.groups[rows])
        if recipe is not None:
            found[name] = recipe
    return found
