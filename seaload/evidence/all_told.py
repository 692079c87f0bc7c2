"""Odds with everything uncertain told in one number: P = E_x[1 - exp(-lambda(x) T)].

The inputs x (forecast, model, strengths) are drawn once an exposure, so probabilities are averaged, not rates and not
bounds (predictive failure probability; Der Kiureghian 2008). What an input does is kept as what one deviation of it
does to the load: it shifts the mean by a share of the limit and lets the fluctuation about the mean grow by a factor.
So under x the limit is passed as often as, with all inputs right, the load mean + (limit - mean - shift x) exp(-growth
x). All inputs are taken as normal, with their own deviations; their sums are then normal in two directions, one along
the load and one beside it, and the mean over both is a sum on an even grid, exact to 1e-6 for the smooth curves met
here.

The interval around these odds is that of sampling alone: more simulated hours shrink it.
"""

from typing import NamedTuple

import numpy as np

ALONG, BESIDE = np.linspace(-6.0, 6.0, 61), np.linspace(-4.0, 4.0, 9)  # deviations
KNOWN = np.linspace(-4.0, 4.0, 41)  # deviations at which an input may turn out to be
KNOWN_SHARES = (0.05, 0.95)
HIGHEST_SHARE, HALVINGS = 4.0, 50  # [share of the limit] and steps, of the search for the worst load
ENDS = ("middle", "low", "high")


class Lean(NamedTuple):
    """What one deviation of each uncertain input does to the load of one side, and the mean load it starts from."""

    mean: float  # [share of the limit]
    shifts: np.ndarray  # (names,) [share of the limit]
    growths: np.ndarray  # (names,) [-] of ln(fluctuation about the mean)


def normal_weights(points):
    """Weights (n,) of even `points` (n,) [deviations] by the normal law, sum 1 (trapezoidal sum)."""
    weights = np.exp(-0.5 * points**2)
    return weights / weights.sum()


def spread_nodes(lean):
    """(shift of the mean (n,), ln of the growth (n,), weights (n,)) of all inputs of a `Lean` together.

    The sums A = shifts x and B = growths x are normal; along the one that moves the load most, and beside it.
    """
    shifts, growths = np.asarray(lean.shifts, dtype=float), np.asarray(lean.growths, dtype=float)
    moved = shifts + growths * (1.0 - lean.mean)
    size = float(np.sqrt(np.sum(moved**2)))
    if size == 0.0 and not growths.any():
        return np.zeros(1), np.zeros(1), np.ones(1)
    along = moved / size if size > 0.0 else growths / np.sqrt(np.sum(growths**2))
    grows = float(growths @ along)
    beside = float(np.sqrt(max(growths @ growths - grows**2, 0.0)))
    u, v = (axis.ravel() for axis in np.meshgrid(ALONG, BESIDE, indexing="ij"))
    growth = grows * u + beside * v
    weights = np.outer(normal_weights(ALONG), normal_weights(BESIDE)).ravel()
    return size * u - (1.0 - lean.mean) * growth, growth, weights


def level_under(lean, shift, growth, level):
    """Load of the setting with all inputs right that comes as often as `level` does under a `shift` of the mean and a
    `growth` of the fluctuation, all [share of the limit] but the growth, ln [-].
    """
    return lean.mean + (level - lean.mean - shift) * np.exp(-growth)


def odds_of(curve, which, levels, exposure):
    """Odds of passing each of the `levels` [share of the limit] in `exposure` [s] by an end of a `RateCurve`."""
    with np.errstate(over="ignore"):
        return -np.expm1(-np.exp(curve.ln_rate(levels, which)) * exposure)


def odds_all_told(curve, lean, exposure, level=1.0):
    """(odds, low, high) [-] of at least one event past `level` of the limit in `exposure` [s], all told.

    `curve` a `RateCurve`, `lean` a `Lean`; low and high are the ends of the 90 % interval of sampling.
    """
    shift, growth, weights = spread_nodes(lean)
    levels = level_under(lean, shift, growth, level)
    return tuple(float(weights @ odds_of(curve, which, levels, exposure)) for which in ENDS)


def odds_bound(curve, lean, exposure, confidence, level=1.0):
    """(odds, low, high) [-]: the odds if all is right, and those that the truth is under and over at `confidence` [-].

    The bounds are one-sided quantiles over the inputs, at the same end of the sampling interval.
    """
    shift, growth, weights = spread_nodes(lean)
    levels = level_under(lean, shift, growth, level)
    middle = float(odds_of(curve, "middle", np.array([level]), exposure)[0])
    low, high = (odds_of(curve, which, levels, exposure) for which in ("low", "high"))
    found = weighted_quantile(low, weights, 1.0 - confidence), weighted_quantile(high, weights, confidence)
    return middle, min(found[0], middle), max(found[1], middle)


def weighted_quantile(values, weights, share):
    """Value under which a `share` [-] of the `weights` (n,), sum 1, of `values` (n,) lies: linear between them."""
    order = np.argsort(values, kind="stable")
    middles = np.cumsum(weights[order]) - 0.5 * weights[order]
    return float(np.interp(share, middles, values[order]))


def odds_once_known(curve, lean, exposure, number):
    """(odds (41,), weights (41,)) all told once input `number` is known to lie at each of the KNOWN deviations.

    Their weighted mean is the odds all told (law of total expectation).
    """
    others = np.arange(len(lean.shifts)) != number
    rest = Lean(lean.mean, np.asarray(lean.shifts)[others], np.asarray(lean.growths)[others])
    shift, growth, weights = spread_nodes(rest)
    shift = shift[:, None] + lean.shifts[number] * KNOWN
    growth = growth[:, None] + lean.growths[number] * KNOWN
    odds = odds_of(curve, "middle", level_under(lean, shift, growth, 1.0), exposure)
    return weights @ odds, normal_weights(KNOWN)


def known_range(curve, lean, exposure, number):
    """(low, high) [-]: where nine in ten of the odds lie that would be told once input `number` is known."""
    odds, weights = odds_once_known(curve, lean, exposure, number)
    return tuple(weighted_quantile(odds, weights, share) for share in KNOWN_SHARES)


def worst_share(curve, lean, exposure, odds, which="middle"):
    """Share of the limit [-] that the worst load of an `exposure` [s] passes with the given `odds` [-], all told.

    By halving: the odds fall as the share rises. `which` end of the `RateCurve`.
    """
    shift, growth, weights = spread_nodes(lean)
    low, high = float(curve.levels[0]), HIGHEST_SHARE
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        found = weights @ odds_of(curve, which, level_under(lean, shift, growth, middle), exposure)
        low, high = (middle, high) if found > odds else (low, middle)
    return 0.5 * (low + high)
