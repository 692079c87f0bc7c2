"""A smooth surface through scattered numbers known with errors: a Gaussian process (Rasmussen & Williams 2006).

The surface is a plane that nothing is known of, plus a smooth part (Matern, smoothness 5/2, a length of its own along
every feature). Points of one group were marched through the same waves: their errors have a share in common, so that
what the waves did to all of them is not taken for the surface. How well the others tell a whole group left out is known
in closed form.
"""

from functools import cached_property
from typing import NamedTuple

import numpy as np
from scipy.linalg import cho_factor, cho_solve, solve_triangular
from scipy.optimize import minimize

from seaload.basis.errors import InputError

PLANE = 3.0  # [-] deviation of the plane's height and slopes, of the values': wide enough to say nothing
LEAST = 1e-4  # [-] of the values' deviation: error that every point has at least
ROOT5 = np.sqrt(5.0)
STARTS = {"length": 2.0, "spread": 0.5, "noise": 1.0, "common": 0.7}
LEEWAY = {"length": 1.0, "spread": 1.0, "noise": 0.3, "common": 1.0}  # deviations before any point is seen: our choice
ROUNDS = 60  # of the search, at most


class Told(NamedTuple):
    """What is known at n points."""

    features: np.ndarray  # (n, d) [-], of the order of one
    values: np.ndarray  # (n,) [any]
    errors: np.ndarray  # (n,) [any] standard errors of the values
    groups: np.ndarray  # (n,) whole numbers: points of one number met the same waves

    def of(self, rows):
        """The same at some `rows` alone."""
        return Told(*(part[rows] for part in self))


class Scales(NamedTuple):
    """What a process is like; lengths in features, spread in deviations of the values."""

    lengths: np.ndarray  # (d,) [-] over which the smooth part changes
    spread: float  # [-] deviation of the smooth part; 0 = none: a plane alone
    noise: float  # [-] factor on the stated errors
    common: float  # [-] share of the squared error that points of one group have in common


def matern(one, other, lengths):
    """Correlation (n, m) [-] of `one` (n, d) with `other` (m, d) features [-]: Matern of smoothness 5/2.

    (1 + sqrt5 r + 5 r2/3) exp(-sqrt5 r), r the distance in `lengths` (d,) [-] (Rasmussen & Williams 2006, eq. 4.17).
    """
    r = distance(one, other, lengths)
    return (1.0 + ROOT5 * r + 5.0 / 3.0 * r**2) * np.exp(-ROOT5 * r)


def distance(one, other, lengths):
    """Distance (n, m) [-] of `one` (n, d) from `other` (m, d) features [-] in `lengths` (d,) [-]."""
    one, other = one / lengths, other / lengths
    squared = np.sum(one**2, axis=1)[:, None] + np.sum(other**2, axis=1) - 2.0 * one @ other.T
    return np.sqrt(np.maximum(squared, 0.0))


def plane(one, other):
    """Covariance (n, m) [-] of a plane that nothing is known of, at `one` (n, d) and `other` (m, d) features [-]
    (Rasmussen & Williams 2006, section 2.7).
    """
    return PLANE**2 * (1.0 + one @ other.T)


def covariance(one, other, scales):
    """Covariance (n, m) of the surface at `one` (n, d) and `other` (m, d) features, in squared deviations of values."""
    smooth = scales.spread**2 * matern(one, other, scales.lengths) if scales.spread > 0.0 else 0.0
    return plane(one, other) + smooth


def error_covariance(errors, groups, scales):
    """Covariance (n, n) of the points' errors (n,), [any] squared: `scales.common` of it shared within a group."""
    shared = scales.common * np.outer(errors, errors) * (groups[:, None] == groups)
    return scales.noise**2 * (shared + np.diag((1.0 - scales.common) * errors**2))


class Process:
    """The surface through `told` points. Values are told as their mean and in their deviation inside."""

    def __init__(self, told, scales, unit=None):
        """`unit` (mean, deviation) [any] that values are told in; their own unless said."""
        self.told, self.scales = told, scales
        self.middle, self.unit = unit or unit_of(told.values)

    @cached_property
    def errors(self):
        """Errors (n,) in deviations of the values."""
        return np.maximum(self.told.errors / self.unit, LEAST)

    @cached_property
    def _noise(self):
        return error_covariance(self.errors, self.told.groups, self.scales)

    @cached_property
    def _factor(self):
        features = self.told.features
        try:
            return cho_factor(covariance(features, features, self.scales) + self._noise, lower=True)
        except np.linalg.LinAlgError:  # an honest library may come to this, too
            allowed = "no surface goes through them (their covariance is not positive definite): fill it further, "
            allowed += "or move the library aside, and a new one is begun"
            raise InputError("library", "points", len(features), allowed) from None
        except ValueError:  # not finite
            allowed = "numbers that are not finite: damaged; move the library aside, and a new one is begun"
            raise InputError("library", "points", len(features), allowed) from None

    @cached_property
    def _weights(self):
        return cho_solve(self._factor, (self.told.values - self.middle) / self.unit)

    def at(self, features):
        """(value (m,), standard error (m,)) of the surface at `features` (m, d), [any]."""
        return self.value(features), self.error(features)

    def error(self, features):
        """Standard error (m,) [any] of the surface at `features` (m, d) (Rasmussen & Williams 2006, eq. 2.26)."""
        if not self.scales.spread > 0.0:
            one = np.column_stack([np.ones(len(features)), features])
            return self.unit * np.sqrt(np.maximum(np.sum((one @ self._of_plane) * one, axis=1), 0.0))
        across = covariance(self.told.features, features, self.scales)
        known = solve_triangular(self._factor[0], across, lower=True, overwrite_b=True, check_finite=False)
        alone = PLANE**2 * (1.0 + np.sum(features**2, axis=1)) + self.scales.spread**2
        return self.unit * np.sqrt(np.maximum(alone - np.sum(np.asarray(known) ** 2, axis=0), 0.0))

    @cached_property
    def _of_plane(self):
        """Covariance (d + 1, d + 1) of height and slopes of a plane alone once the points are known (Rasmussen &
        Williams 2006, section 2.1): errors are told by it in a fraction of the time.
        """
        one = np.column_stack([np.ones(len(self.told.features)), self.told.features])
        return PLANE**2 * (np.eye(one.shape[1]) - PLANE**2 * one.T @ cho_solve(self._factor, one))

    def value(self, features):
        """Value (m,) [any] of the surface at `features` (m, d), without its error: a tenth of the time."""
        return self.middle + self.unit * (covariance(features, self.told.features, self.scales) @ self._weights)

    def jointly(self, features):
        """(values (m,) [any], covariance (m, m) [any] squared) of the surface at `features` (m, d).

        Rasmussen & Williams 2006, eq. 2.25 and 2.26.
        """
        across = covariance(self.told.features, features, self.scales)
        known = np.asarray(solve_triangular(self._factor[0], across, lower=True))
        spread = covariance(features, features, self.scales) - known.T @ known
        spread = 0.5 * (spread + spread.T)
        np.fill_diagonal(spread, np.maximum(np.diag(spread), 0.0))
        return self.middle + self.unit * (across.T @ self._weights), self.unit**2 * spread

    def left_out(self):
        """(value (n,), error (n,)) [any] of every point by all points of other groups; the error holds the point's own.

        With Q the inverse of the whole covariance: y_b - Q_bb^-1 (Q y)_b, of covariance Q_bb^-1, for a group b
        (Rasmussen & Williams 2006, eq. 5.12, for one point; for several by the same inverse of a block matrix).
        """
        found, spread = self.told.values.astype(float), np.empty(len(self.told.values))
        for rows, block in self._blocks:
            found[rows] -= self.unit * (block @ self._weights[rows])
            spread[rows] = self.unit * np.sqrt(np.diag(block))
        return found, spread

    @cached_property
    def _blocks(self):
        """[(rows of a group, inverse of its block of the inverse covariance)]."""
        inverse = cho_solve(self._factor, np.eye(len(self.told.values)))
        groups = [np.flatnonzero(self.told.groups == group) for group in np.unique(self.told.groups)]
        return [(rows, np.linalg.inv(inverse[np.ix_(rows, rows)])) for rows in groups]


def unit_of(values):
    """(mean, deviation) of values (n,) [any]; 1 for the deviation of values that are all alike."""
    unit = float(np.std(values))
    return float(np.mean(values)), unit if unit > 0.0 else 1.0


def fitted_scales(told, smooth=True):
    """`Scales` that make the `told` values likeliest, with weak beliefs beforehand; `smooth` False: a plane alone.

    The marginal likelihood of Rasmussen & Williams 2006, eq. 5.8, climbed by its derivatives (eq. 5.9; L-BFGS, Byrd et
    al. 1995).
    """
    start = beliefs(told.features.shape[1], smooth)
    found = minimize(
        lambda theta: cost(theta, told, start, smooth), start[:, 0], jac=True, method="L-BFGS-B",
        bounds=[(middle - 5.0 * wide, middle + 5.0 * wide) for middle, wide in start], options={"maxiter": ROUNDS},
    )  # fmt: skip
    return scales_of(found.x, told.features.shape[1], smooth)


def beliefs(count, smooth):
    """(parameters, 2): middle and deviation beforehand of what is searched, logarithms of `Scales`."""
    names = ["length"] * count + ["spread", "noise", "common"] if smooth else ["noise", "common"]
    middles = [np.log(STARTS[n] / (1.0 - STARTS[n])) if n == "common" else np.log(STARTS[n]) for n in names]
    return np.column_stack([middles, [LEEWAY[n] for n in names]])


def scales_of(theta, count, smooth):
    """`Scales` from the logarithms that are searched; a logit for the share in common."""
    common = 1.0 / (1.0 + np.exp(-theta[-1]))
    if not smooth:
        return Scales(np.ones(count), 0.0, float(np.exp(theta[0])), float(common))
    return Scales(np.exp(theta[:count]), float(np.exp(theta[count])), float(np.exp(theta[count + 1])), float(common))


def cost(theta, told, start, smooth):
    """(minus log posterior [-], its derivatives (parameters,)) at `theta`, up to a constant."""
    scales = scales_of(theta, told.features.shape[1], smooth)
    process = Process(told, scales)
    factor, weights = process._factor, process._weights
    values = (told.values - process.middle) / process.unit
    off = (theta - start[:, 0]) / start[:, 1]
    value = 0.5 * values @ weights + np.sum(np.log(np.diag(factor[0]))) + 0.5 * off @ off
    pull = cho_solve(factor, np.eye(len(weights))) - np.outer(weights, weights)
    slopes = [0.5 * np.sum(pull * slope) for slope in covariance_slopes(process, smooth)]
    return float(value), np.array(slopes) + off / start[:, 1]


def covariance_slopes(process, smooth):
    """Derivatives (n, n) of the covariance by each parameter, in the order of `beliefs`."""
    told, scales, errors = process.told, process.scales, process.errors
    if smooth:
        r = distance(told.features, told.features, scales.lengths)
        falling = scales.spread**2 * 5.0 / 3.0 * (1.0 + ROOT5 * r) * np.exp(-ROOT5 * r)
        for column, length in zip(told.features.T, scales.lengths, strict=True):
            yield falling * (np.subtract.outer(column, column) / length) ** 2
        yield 2.0 * scales.spread**2 * matern(told.features, told.features, scales.lengths)
    yield 2.0 * process._noise
    same = told.groups[:, None] == told.groups
    apart = np.outer(errors, errors) * same - np.diag(errors**2)
    yield scales.noise**2 * scales.common * (1.0 - scales.common) * apart
