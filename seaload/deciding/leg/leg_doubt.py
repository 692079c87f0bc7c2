"""What is uncertain of a leg, drawn once for all its stretches: what one deviation of each input does to the loads, and
the cases that stand for all that the inputs may turn out to be.

The inputs are those of the boat file, the library's own error and, where the forecast has few members, its error by
lead time. Each shifts the mean load and lets the fluctuation grow, as the library tells it there, by the rule of
`deciding.library.doubt_there` and `evidence.all_told`, but that height and period of the sea act by their slope. Of the
sums of all inputs the two directions count along which loads on the leg move most: what is left at a place is added to
the first of them, so that no place loses spread.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.designed_runs import deviation
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD
from seaload.deciding.library.doubt_there import changes_between, designed_effects, of_itself, told_by_runs
from seaload.deciding.library.effects import RUN
from seaload.deciding.library.emulator import fall_of
from seaload.deciding.library.rates import RAREST, ln_rates_past, rates_of
from seaload.evidence.all_told import normal_weights
from seaload.evidence.verdict import SIDES

ALONG = np.linspace(-4.0, 4.0, 17)  # deviations of the direction that loads move along most
BESIDE = np.array([-1.0, 1.0])  # of the next one: keeps mean and spread
CASES = len(ALONG) * len(BESIDE)
CRESTS = "second_order_crests"
MOST_ERROR = 0.5  # [share of the limit] of one deviation of the library's own error
LIBRARY, FORECAST = "library", ("forecast_hs", "forecast_tp", "forecast_heading")


class Lead(NamedTuple):
    """One deviation of the forecast's error at each piece and moment, and how height and period go together."""

    hs: np.ndarray  # (n, q) [-] of the height
    tp: np.ndarray  # (n, q) [-] of the period
    angle: np.ndarray  # (n, q) [rad]
    correlation: float  # [-]


class Columns(NamedTuple):
    """What one deviation of each of u inputs, independent of one another, does at k questions."""

    names: tuple  # (u,)
    shift: np.ndarray  # (k, sides, u) [share of the limit] of the mean load
    growth: np.ndarray  # (k, sides, u) of ln(fluctuation)
    wear: np.ndarray  # (k, u) of ln(wear)
    unknown: tuple  # names of inputs of which the library tells nothing somewhere: counted as nothing there

    def moved(self, mean):
        """Change (k, sides, u) [share of the limit] of the load at the limit, by the `mean` loads (k, sides)."""
        return self.shift + (1.0 - mean)[..., None] * self.growth


def columns_at(emulator, questions, rates, inputs, off=None):
    """`Columns` of `Inputs` at `questions` (k, names) [SI] that the library tells, with their `Rates`.

    off : the forecast's error there, as of `Lead` with (k,) each, or None where members tell it.
    """
    runs = designed_effects(emulator, questions)
    found, unknown = {}, []
    for entry in inputs.entries:
        if entry.name in FORECAST:
            continue
        if entry.name == CRESTS:
            found[entry.name] = half_steps(emulator, questions, rates, HEIGHT, np.exp(deviation(entry)))
            continue
        tell = told_by_runs if entry.name in RUN else None
        parts = [
            np.stack([
                np.broadcast_to(tell(runs, entry, kind, i) if tell else of_itself(runs, entry, kind, i, inputs),
                                len(questions)) for i in range(count)
            ], axis=1) for kind, count in (("shift", len(SIDES)), ("growth", len(SIDES)), ("wear", 1))
        ]  # fmt: skip
        if any(np.isnan(part).any() for part in parts[:2]):
            unknown.append(entry.name)
        found[entry.name] = tuple(map(np.nan_to_num, (*parts[:2], parts[2][:, 0])))
    if off is not None:
        found |= of_forecast_error(emulator, questions, rates, off)
    found[LIBRARY] = of_library(rates)
    stacked = [np.stack([found[name][kind] for name in found], axis=-1) for kind in range(3)]
    return Columns(tuple(found), *stacked, tuple(unknown))


def of_library(rates):
    """(shift, growth, wear) of one deviation of the library's own error, as large in the load as at the limit."""
    error = np.where(np.isfinite(rates.log_rate_error), rates.log_rate_error, 0.0) / slope_at_limit(rates)
    return np.minimum(error, MOST_ERROR), np.zeros_like(error), np.zeros(len(error))


def of_forecast_error(emulator, questions, rates, off):
    """{name: (shift, growth, wear)} of the forecast's error: height with what of the period goes with it, the rest of
    the period, direction.
    """
    hs = half_steps(emulator, questions, rates, HEIGHT, np.exp(off.hs))
    tp = half_steps(emulator, questions, rates, PERIOD, np.exp(off.tp))
    angle = half_steps(emulator, questions, rates, ANGLE, -off.angle)  # waves that turn + come from further ahead
    tied, free = off.correlation, np.sqrt(1.0 - off.correlation**2)
    first = tuple(a + tied * b for a, b in zip(hs, tp, strict=True))
    return dict(zip(FORECAST, (first, tuple(free * part for part in tp), angle), strict=True))


def half_steps(emulator, questions, rates, column, step):
    """(shift (k, sides), growth (k, sides), wear (k,)): half of what one deviation up of a coordinate changes against
    one down; by one of them where the other is not told. `step` is a factor, of an angle what is added [rad].
    """
    ends = []
    for way in (1.0, -1.0):
        other = questions.copy()
        other[:, column] = questions[:, column] + way * step if column == ANGLE else questions[:, column] * step**way
        there = rates_of(emulator, other)
        ends.append((changes_between(rates, there), there.told))
    (up, up_told), (down, down_told) = ends
    found = []
    for one, other in zip(up, down, strict=True):
        shape = (-1, *[1] * (one.ndim - 1))
        both, first = (up_told & down_told).reshape(shape), up_told.reshape(shape)
        either = np.where(first, one, np.where(down_told.reshape(shape), -other, 0.0))
        found.append(np.nan_to_num(np.where(both, 0.5 * (one - other), either)))
    return tuple(found)


def slope_at_limit(told):
    """How fast ln(rate) falls [-] a share of the limit, at the limit, of `Rates`, (k, sides)."""
    load = np.nan_to_num(told.load, nan=1.0)
    before = np.clip(np.sum(load < 1.0, axis=-1) - 1, 0, load.shape[-1] - 2)[..., None]
    low, high = (np.take_along_axis(load, before + step, axis=-1)[..., 0] for step in (0, 1))
    share = np.clip((1.0 - low) / np.maximum(high - low, 1e-6), 0.0, 1.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        falls = np.nan_to_num(fall_of(load), nan=1.0, posinf=1.0)
    ends = [np.take_along_axis(falls, before + step, axis=-1)[..., 0] for step in (0, 1)]
    return np.maximum((1.0 - share) * ends[0] + share * ends[1], 1e-6)


class Cases(NamedTuple):
    """What all inputs together may turn out to be, drawn once a leg."""

    first: np.ndarray  # (u,) direction in the inputs along which loads on the leg move most
    second: np.ndarray  # (u,)
    along: np.ndarray  # (d,) deviations of the first
    beside: np.ndarray  # (d,) of the second
    weights: np.ndarray  # (d,)


def cases_of(moved):
    """`Cases` by the changes `moved` (rows, u) [share of the limit] of loads on the leg by one of each input."""
    size = moved.shape[1]
    values, vectors = np.linalg.eigh(moved.T @ moved)
    order = np.argsort(-values, kind="stable")
    axes = [vectors[:, order[k]] if k < size else np.zeros(size) for k in (0, 1)]
    axes = [axis * (-1.0 if axis[np.argmax(np.abs(axis))] < 0.0 else 1.0) for axis in axes]
    along, beside = np.repeat(ALONG, len(BESIDE)), np.tile(BESIDE, len(ALONG))
    return Cases(*axes, along, beside, np.repeat(normal_weights(ALONG), len(BESIDE)) / len(BESIDE))


def ln_rates_in(cases, columns, rates, level=1.0):
    """ln(rate) (k, sides, d) [ln 1/s] of events past a `level` [share of the limit] in each of the `Cases`."""
    moved = columns.moved(rates.load_mean)
    own, next_ = moved @ cases.first, moved @ cases.second
    rest = np.sqrt(np.maximum(np.sum(moved**2, axis=-1) - own**2 - next_**2, 0.0))
    more = np.where(own < 0.0, -1.0, 1.0) * (np.hypot(own, rest) - np.abs(own))
    shift = (columns.shift @ cases.first + more)[..., None] * cases.along
    shift = shift + (columns.shift @ cases.second)[..., None] * cases.beside
    growth = (columns.growth @ cases.first)[..., None] * cases.along
    growth = growth + (columns.growth @ cases.second)[..., None] * cases.beside
    mean = rates.load_mean[..., None]
    levels = mean + (level - mean - shift) * np.exp(-growth)
    found = np.moveaxis(ln_rates_past(rates.load, np.moveaxis(levels, -1, 0))[0], 0, -1)
    return np.where(np.isfinite(found), found, RAREST)


def ln_rates_known(columns, rates, off, level):
    """ln(rate) (k, sides) [ln 1/s] of events past a `level` where inputs are known to be `off` (k, u) [deviations]."""
    shift, growth = (np.sum(part * off[:, None, :], axis=-1) for part in (columns.shift, columns.growth))
    levels = rates.load_mean + (level - rates.load_mean - shift) * np.exp(-growth)
    found = ln_rates_past(rates.load, levels)[0]
    return np.where(np.isfinite(found), found, RAREST)
