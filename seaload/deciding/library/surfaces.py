"""How a quantity of a library is told between its points: as one level, as a plane, by products of two coordinates, or
by a smooth surface; whichever tells whole seas left out best.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.library.coordinates import features_of, products_of
from seaload.deciding.library.gaussian_process import Process, Scales, Told, fitted_scales

LEVEL, PLANE, PRODUCTS, SMOOTH = "level", "plane", "products", "smooth"
KINDS = (LEVEL, PLANE, PRODUCTS, SMOOTH)
MOST_FITTED = 400  # points that scales are fitted to: whole groups, evenly taken
TINY = 1e-12  # [any] least error whose logarithm is taken
FEWEST_GROUPS = 5  # seas without which nothing is told


class Recipe(NamedTuple):
    """How one quantity's surface is drawn, and how well it tells seas left out."""

    kind: str  # of KINDS
    lengths: tuple  # (d,) [-] of the smooth part
    spread: float  # [-]
    noise: float  # [-]
    common: float  # [-]
    widening: float  # [-] >= 1, factor on every error told: by how much errors left out were larger than foreseen
    missed: float  # [any] root mean square of values less what other seas tell of them
    expected: float  # [any] what the values' own errors make of that

    @property
    def scales(self):
        """`Scales` of it."""
        return Scales(np.array(self.lengths), self.spread, self.noise, self.common)

    @property
    def held_out(self):
        """Error [any] where nothing was marched: what is missed less what the values' own errors make of it."""
        return float(np.sqrt(max(self.missed**2 - self.expected**2, 0.0)))


class Surface:
    """One quantity of the points of a shelf, told anywhere that the shelf covers."""

    def __init__(self, cover, recipe, told):
        """`told` as `told_of` gives it."""
        self.cover, self.recipe = cover, recipe
        self.process = Process(told, recipe.scales)

    def features(self, coordinates):
        """Features (n, d) [-] of `coordinates` (n, names) [SI]."""
        return of_kind(self.recipe.kind, features_of(self.cover, coordinates))

    def at(self, coordinates):
        """(value (n,), standard error (n,)) [any] at `coordinates` (n, names) [SI]."""
        value, error = self.process.at(self.features(coordinates))
        return value, error * self.recipe.widening

    def error(self, coordinates):
        """Standard error (n,) [any] at `coordinates` (n, names) [SI]."""
        return self.process.error(self.features(coordinates)) * self.recipe.widening

    def value(self, coordinates):
        """Value (n,) [any] at `coordinates` (n, names) [SI], without its error."""
        return self.process.value(self.features(coordinates))

    def jointly(self, coordinates):
        """(values (n,) [any], covariance (n, n) [any] squared) at `coordinates` (n, names) [SI].

        What the same waves did to the points about all of them drops out of a difference.
        """
        value, spread = self.process.jointly(self.features(coordinates))
        return value, spread * self.recipe.widening**2


def told_of(cover, kind, coordinates, values, errors, groups):
    """`Told` for a surface of a `kind`, of what is known of `values` (n,) [any] with `errors` (n,) at `coordinates`
    (n, names) [SI]; `groups` (n,) number the waves met.
    """
    rows = np.isfinite(values) & np.isfinite(errors)
    features = features_of(cover, coordinates[rows])
    errors = usual_errors(features, np.asarray(errors, dtype=float)[rows])
    return Told(of_kind(kind, features), np.asarray(values, dtype=float)[rows], errors, groups[rows])


def of_kind(kind, features):
    """What a surface of a `kind` is drawn over, of `features` (n, d) [-]."""
    return {LEVEL: lambda part: part[:, :0], PRODUCTS: products_of}.get(kind, lambda part: part)(features)


def usual_errors(features, errors):
    """Errors (n,) [any] > 0 as a plane over the `features` (n, d) tells their logarithms, as large in the mean square.

    A point's own error is told by the waves that its value is told by, and goes with it: weighed by their own errors,
    points that came out low by chance would count more than those that came out high.
    """
    if len(errors) <= 2 * features.shape[1] + 1:
        return errors
    plane = np.column_stack([np.ones(len(errors)), features])
    logs = np.log(np.maximum(np.abs(errors), TINY))
    usual = np.exp(plane @ np.linalg.lstsq(plane, logs, rcond=None)[0])
    return usual * np.sqrt(np.mean(errors**2) / np.mean(usual**2))


def recipe_of(cover, coordinates, values, errors, groups, kinds=KINDS):
    """`Recipe` of the surface, of one of the `kinds`, that tells whole groups left out best; other arguments as of
    `told_of`. None: too few groups.
    """
    known = np.isfinite(values) & np.isfinite(errors)
    if len(np.unique(groups[known])) < FEWEST_GROUPS:
        return None
    found = []
    for kind in kinds:
        told = told_of(cover, kind, coordinates, values, errors, groups)
        if told.features.shape[1] == 0 and kind != LEVEL or 2 * told.features.shape[1] > len(told.values):
            continue
        scales = fitted_scales(told.of(fitted_rows(told.groups)), smooth=kind == SMOOTH)
        found.append(judged(kind, told, scales))
    return min(found, key=lambda recipe: recipe.missed, default=None)


def fitted_rows(groups):
    """Rows (n,) of at most MOST_FITTED points of whole `groups`, evenly taken from all."""
    names = np.unique(groups)
    step = max(int(np.ceil(len(groups) / MOST_FITTED)), 1)
    return np.flatnonzero(np.isin(groups, names[::step]))


def judged(kind, told, scales):
    """`Recipe` of a `kind` with its `Scales`, by how it tells the `told` points of whole groups left out."""
    process = Process(told, scales)
    value, error = process.left_out()
    off = told.values - value
    own = scales.noise * told.errors
    widening = max(float(np.sqrt(np.mean((off / error) ** 2))), 1.0)
    return Recipe(
        kind, tuple(map(float, scales.lengths)), scales.spread, scales.noise, scales.common, widening,
        float(np.sqrt(np.mean(off**2))), float(np.sqrt(np.mean(own**2))),
    )  # fmt: skip
