"""Odds with everything uncertain told in one number: P = E_x[1 - exp(-lambda(x) T)].

The inputs x (forecast, model, strengths) are drawn once an exposure, so probabilities are averaged, not rates and not
bounds (predictive failure probability; Der Kiureghian 2008). What an input does is kept as what one deviation of it
does to the load: it shifts the mean by a share of the limit and lets the fluctuation about the mean grow by a factor.
So under x the limit is passed as often as, with all inputs right, the load mean + (limit - mean - shift x) exp(-growth
x). All inputs are taken as normal, with their own deviations; their sums are then normal in two directions, one along
the load and one beside it, and the mean over both is a sum on an even grid, exact to 1e-6 for the smooth curves met
here. Height and period of the sea act by a bent line (`Bend`): they have an axis each of that grid, which is turned so
that the first axis is the one along which the load moves most; the sum is then right within 2 % of the odds (tests).
Other inputs that act by a bent line are added one after the other: the law of a sum is that of its parts, folded, and
points of it that lie close are taken as one.

The interval around these odds is that of sampling alone: more simulated hours shrink it.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq

from seaload.evidence.bend import Bend, bent

ALONG, BESIDE = np.linspace(-6.0, 6.0, 61), np.linspace(-4.0, 4.0, 9)  # deviations
KNOWN = np.linspace(-4.0, 4.0, 41)  # deviations at which an input may turn out to be
KNOWN_SHARES = (0.05, 0.95)
APART = np.linspace(-5.0, 5.0, 21)  # deviations of an input that is folded with the others
CELL = 0.02  # [share of the limit], [-] of ln(growth): nodes nearer to each other than that are one
ACROSS, ACROSS_REACH = 1.0, 4.2  # deviations: step and reach of the grid's other axes, of bent lines
HIGHEST_SHARE, NEAR = 4.0, 1e-9  # [share of the limit] highest, and how near, of the search for the worst load
ENDS = ("middle", "low", "high")
LEAST_ODDS = 1e-300


class Lean(NamedTuple):
    """What one deviation of each uncertain input does to the load of one side, and the mean load it starts from."""

    mean: float  # [share of the limit]
    shifts: np.ndarray  # (names,) [share of the limit]; nothing for an input with a bend
    growths: np.ndarray  # (names,) [-] of ln(fluctuation about the mean); nothing for an input with a bend
    bends: tuple = ()  # of Bend, two at most
    correlation: float = 0.0  # [-] of those two
    alone: tuple = ()  # of Bend, each independent of all else; nothing in shifts and growths for them either


def normal_weights(points):
    """Weights (n,) of even `points` (n,) [deviations] by the normal law, sum 1 (trapezoidal sum)."""
    weights = np.exp(-0.5 * points**2)
    return weights / weights.sum()


def nodes_of(lean):
    """`spread_nodes` of a `Lean`, remembered: its odds are asked for at many levels. Never written to."""
    row = lambda values: tuple(np.asarray(values, dtype=float).tolist())  # noqa: E731
    bends, alone = (
        tuple((bend.number, row(bend.shifts), row(bend.growths)) for bend in some) for some in (lean.bends, lean.alone)
    )
    return known_nodes(float(lean.mean), row(lean.shifts), row(lean.growths), bends, float(lean.correlation), alone)


@lru_cache(maxsize=32)
def known_nodes(mean, shifts, growths, bends, correlation, alone):
    """`nodes_of` a `Lean` of these entries, as numbers in tuples [units as there]."""
    lines, others = (
        tuple(Bend(number, np.array(moved), np.array(grown)) for number, moved, grown in some)
        for some in (bends, alone)
    )
    return spread_nodes(Lean(mean, np.array(shifts), np.array(growths), lines, correlation, others))


def spread_nodes(lean, known=None):
    """(shift of the mean (n,), ln of the growth (n,), weights (n,)) of all inputs of a `Lean` together.

    known : (number, deviations) of an input with a bend that is known.
    """
    nodes = turned_nodes(lean, known)
    for bend in lean.alone:
        if known is not None and bend.number == known[0]:
            nodes = nodes[0] + bent(bend.shifts, known[1]), nodes[1] + bent(bend.growths, known[1]), nodes[2]
        else:
            nodes = folded(nodes, bend)
    return nodes


def folded(nodes, bend):
    """`nodes` as `spread_nodes` gives them with those of one more input, of a `Bend`."""
    shift, growth, weights = taken_together(*nodes)
    more = (bent(values, APART) for values in (bend.shifts, bend.growths))
    rows = [(part[:, None] + each).ravel() for part, each in zip((shift, growth), more, strict=True)]
    return taken_together(*rows, (weights[:, None] * normal_weights(APART)).ravel())


def taken_together(shift, growth, weights):
    """The same nodes, those that lie within one cell of a fine grid as one at their mean."""
    cells = [np.floor(values / CELL).astype(np.int64) for values in (shift, growth)]
    down, across = (each - each.min() for each in cells)
    number = down * (across.max() + 1) + across
    _, number = np.unique(number, return_inverse=True)
    total = np.bincount(number, weights)
    kept = total > LEAST_ODDS
    of = lambda values: np.bincount(number, weights * values)[kept] / total[kept]  # noqa: E731
    return of(shift), of(growth), total[kept]


def turned_nodes(lean, known=None):
    """`spread_nodes` of all inputs but those alone.

    The sums A = shifts x and B = growths x are normal; along the one that moves the load most, and beside it. Every
    bend has an axis of its own. known : (number, deviations) of an input with a bend that is known.
    """
    columns = straight_columns(lean)
    starts, draws = bend_draws(lean, known)
    size = len(columns) + draws.shape[1]
    if size == 0 and not lean.bends:
        return np.zeros(1), np.zeros(1), np.ones(1)
    slopes = np.array([bend.slope(lean.mean) for bend in lean.bends])
    steepest = np.concatenate([columns[:, 0] + (1.0 - lean.mean) * columns[:, 1], slopes @ draws])
    points, weights = grid_of(size, bool(lean.bends))
    points = points @ turn_to(steepest)
    shift, growth = (points[:, : len(columns)] @ columns).T
    places = starts + points[:, len(columns) :] @ draws.T
    for bend, at in zip(lean.bends, places.T, strict=True):
        shift, growth = shift + bent(bend.shifts, at), growth + bent(bend.growths, at)
    return shift, growth, weights


def straight_columns(lean):
    """(shift, growth) by one deviation of each of the normal sums of all inputs without a bend, (0 to 2, 2)."""
    shifts, growths = np.asarray(lean.shifts, dtype=float), np.asarray(lean.growths, dtype=float)
    moved = shifts + growths * (1.0 - lean.mean)
    size = float(np.sqrt(np.sum(moved**2)))
    if size == 0.0 and not growths.any():
        return np.zeros((0, 2))
    along = moved / size if size > 0.0 else growths / np.sqrt(np.sum(growths**2))
    grows = float(growths @ along)
    beside = float(np.sqrt(max(growths @ growths - grows**2, 0.0)))
    return np.array([[size - (1.0 - lean.mean) * grows, grows], [-(1.0 - lean.mean) * beside, beside]])


def bend_draws(lean, known):
    """(starts (bends,), draws (bends, m)): deviations of the bent inputs are starts + draws z, z (m,) independent.

    The second is drawn with its correlation to the first; one that is `known` is where it is, and the other given it.
    """
    count, tied = len(lean.bends), lean.correlation
    free = np.sqrt(1.0 - tied**2)
    numbers = [bend.number for bend in lean.bends]
    if known is None or known[0] not in numbers:
        return np.zeros(count), np.array([[1.0, 0.0], [tied, free]])[:count, :count]
    at = numbers.index(known[0])
    starts, draws = np.full(count, tied * known[1]), np.full((count, count - 1), free)
    starts[at], draws[at] = known[1], 0.0
    return starts, draws


def turn_to(steepest):
    """Matrix (d, d) of a reflection that brings the first axis along `steepest` (d,) (Householder 1958)."""
    size = len(steepest)
    length = float(np.sqrt(steepest @ steepest))
    if length == 0.0:
        return np.eye(size)
    normal = steepest / length
    normal[0] -= 1.0
    squared = float(normal @ normal)
    return np.eye(size) - 2.0 * np.outer(normal, normal) / squared if squared > 1e-24 else np.eye(size)


@lru_cache(maxsize=16)
def grid_of(axes, bends):
    """(points (n, axes), weights (n,)) of an even grid by the normal law, sum 1, the first axis the finest.

    `bends` (bool): coarser across, and round, for there are up to three axes across. Never written to.
    """
    step, reach = (ACROSS, ACROSS_REACH) if bends else (BESIDE[1] - BESIDE[0], BESIDE[-1])
    across = step * np.arange(-int(reach / step), int(reach / step) + 1)
    lines = np.meshgrid(*[ALONG, *[across] * (axes - 1)][:axes], indexing="ij")
    points = np.stack([line.ravel() for line in lines], axis=-1) if axes else np.zeros((1, 0))
    points = points[np.sum(points[:, 1:] ** 2, axis=1) <= reach**2 + 1e-9]
    weights = np.exp(-0.5 * np.sum(points**2, axis=1))
    return points, weights / weights.sum()


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
    shift, growth, weights = nodes_of(lean)
    levels = level_under(lean, shift, growth, level)
    return tuple(float(weights @ odds_of(curve, which, levels, exposure)) for which in ENDS)


def odds_bound(curve, lean, exposure, confidence, level=1.0):
    """(odds, low, high) [-]: the odds if all is right, and those that the truth is under and over at `confidence` [-].

    The bounds are one-sided quantiles over the inputs, at the same end of the sampling interval.
    """
    shift, growth, weights = nodes_of(lean)
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
    weights = normal_weights(KNOWN)
    if number in [bend.number for bend in (*lean.bends, *lean.alone)]:
        return np.array([once_known(curve, lean, exposure, spread_nodes(lean, (number, at))) for at in KNOWN]), weights
    own, shifts, growths = (lean.shifts[number], lean.growths[number]), np.array(lean.shifts), np.array(lean.growths)
    shifts[number] = growths[number] = 0.0
    shift, growth, each = spread_nodes(lean._replace(shifts=shifts, growths=growths))
    odds = [once_known(curve, lean, exposure, (shift + own[0] * at, growth + own[1] * at, each)) for at in KNOWN]
    return np.array(odds), weights


def once_known(curve, lean, exposure, nodes):
    """Odds [-] over `nodes` as `spread_nodes` gives them."""
    shift, growth, weights = nodes
    return float(weights @ odds_of(curve, "middle", level_under(lean, shift, growth, 1.0), exposure))


def known_range(curve, lean, exposure, number):
    """(low, high) [-]: where nine in ten of the odds lie that would be told once input `number` is known."""
    odds, weights = odds_once_known(curve, lean, exposure, number)
    return tuple(weighted_quantile(odds, weights, share) for share in KNOWN_SHARES)


def worst_share(curve, lean, exposure, odds, which="middle"):
    """Share of the limit [-] that the worst load of an `exposure` [s] passes with the given `odds` [-], all told.

    Brent's (1973) search: the odds fall as the share rises. `which` end of the `RateCurve`.
    """
    shift, growth, weights = nodes_of(lean)
    at_none, by_share = level_under(lean, shift, growth, 0.0), np.exp(-growth)

    def past(share):
        """ln of the odds found over those asked for."""
        found = weights @ odds_of(curve, which, at_none + share * by_share, exposure)
        return float(np.log(max(found, LEAST_ODDS) / odds))

    low = float(curve.levels[0])
    if past(low) <= 0.0:
        return low
    if past(HIGHEST_SHARE) >= 0.0:
        return HIGHEST_SHARE
    return float(brentq(past, low, HIGHEST_SHARE, xtol=NEAR))
