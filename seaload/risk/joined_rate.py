"""One rate from the count and the tail together: the more events were counted, the more it is the count.

N ~ Poisson(lambda T) and ln lambda = ln lambda_tail + delta, delta ~ N(0, tau^2). The tail's rate past a level is that
of the peaks over a threshold times a generalised Pareto tail (Pickands 1975), whose scale and shape are known no better
than the peaks tell: their posterior is summed over a grid, with a prior on the shape (a weak one, as regional frequency
analysis pools it: Hosking & Wallis 1997). tau is what tail and count differ by where both speak, at lower levels of the
same records. The posterior of ln lambda is summed on a grid (Bayes' rule): with many events it is the count's, with
none the tail's, and nowhere is there a switch. Events that come in groups count for fewer: both likelihoods are
tempered by the variance over mean of the counts of whole realisations (quasi-Poisson practice).
"""

from typing import NamedTuple

import numpy as np
from scipy.ndimage import gaussian_filter1d
from scipy.special import gammaincinv

from seaload.risk.poisson import CONFIDENCE, poisson_interval

FEWEST_PEAKS = 15  # below this there is no tail to join
SHAPE_PRIOR = (0.0, 0.10)  # mean and deviation [-] before any peak is seen: our own choice
SHAPES = np.linspace(-0.40, 0.35, 21)
SCALE_POINTS, SCALE_REACH = 15, 5.0  # grid of ln(scale), so many 1 / sqrt(peaks) either way
STEP, BELOW, ABOVE = 0.1, 60.0, 6.0  # grid of ln(rate), about the rate of the peaks
TAU_PRIOR = (0.65, 0.3)  # median [-] of tau and deviation of its logarithm: our own choice
TAUS = np.geomspace(0.1, 2.5, 16)
FINE, NEGLIGIBLE = 401, 25.0  # points of the grid told anew, and e-foldings under its peak that it ends at


class Tail(NamedTuple):
    """Peaks over a threshold with what they leave open."""

    threshold: float  # [-]
    peaks: float  # [-] how many
    exposure: float  # [s] in which they came
    dispersion: float  # [-] variance over mean of their counts, >= 1
    scale: np.ndarray  # (g,) [-] scales looked at
    shape: np.ndarray  # (g,) [-] shapes looked at
    weight: np.ndarray  # (g,) [-] their posterior, sum 1


def tail_of_peaks(excesses, threshold, exposure, dispersion=1.0, prior=SHAPE_PRIOR):
    """`Tail` of the `excesses` (k,) [-] > 0 over a `threshold` [-] in an `exposure` [s].

    `dispersion` [-] >= 1 variance over mean of the peaks' counts; `prior` (mean, deviation) [-] of the shape. Posterior
    on a grid of scale and shape by the likelihood of the generalised Pareto distribution (Coles 2001, chapter 4).
    """
    excesses = np.asarray(excesses, dtype=float)
    k, mean = len(excesses), float(np.mean(excesses))
    reach = min(SCALE_REACH * np.sqrt(dispersion / k), 2.0)
    off = np.linspace(-reach, reach, SCALE_POINTS)
    shape, scale = np.meshgrid(SHAPES, off, indexing="ij")
    shape, scale = shape.ravel(), (mean * (1.0 - shape) * np.exp(scale)).ravel()
    logs = excess_log_likelihood(excesses, scale, shape) / dispersion
    logs = logs - 0.5 * ((shape - prior[0]) / prior[1]) ** 2
    weight = np.exp(logs - logs.max())
    return Tail(threshold, float(k), exposure, dispersion, scale, shape, weight / weight.sum())


def excess_log_likelihood(excesses, scale, shape):
    """Log-likelihood [-] of `excesses` (k,) [-] for each `scale` and `shape` (g,) [-] of the generalised Pareto law.

    -k ln(scale) - (1 + 1/shape) sum ln(1 + shape y/scale) (Coles 2001, eq. 4.10); minus infinity where a peak lies past
    the end.
    """
    steep = np.where(np.abs(shape) < 1e-9, 1e-9, shape)
    inner = 1.0 + np.outer(steep / scale, excesses)
    inside = np.all(inner > 0.0, axis=1)
    logs = np.log(np.where(inner > 0.0, inner, 1.0)).sum(axis=1)
    return np.where(inside, -len(excesses) * np.log(scale) - (1.0 + 1.0 / steep) * logs, -np.inf)


def log_exceedance(excess, scale, shape):
    """ln of the odds [-] that a peak exceeds the threshold by `excess` (l, 1) [-]; minus infinity past an end.

    `scale`, `shape` (g,) [-] of the generalised Pareto law (Pickands 1975); (l, g).
    """
    over = np.maximum(excess, 0.0) / scale
    straight = np.abs(shape) < 1e-9
    inner = np.where(straight, 0.0, shape) * over
    bent = np.log1p(np.where(inner > -1.0, inner, 0.0)) / np.where(straight, 1.0, shape)
    return np.where(inner > -1.0, -np.where(straight, over, bent), -np.inf)


def tail_density(tail, levels):
    """Odds (l, m) that ln(rate) past each of the `levels` (l,) [-] lies at each point of `rate_grid` by a `tail`.

    Scale and shape by their posterior; the number of the peaks is put in by `blurred_tail`.
    """
    grid = rate_grid(tail)
    excess = np.asarray(levels, dtype=float)[:, None] - tail.threshold
    logs = np.log(tail.peaks / tail.exposure) + log_exceedance(excess, tail.scale, tail.shape)
    place = np.clip((logs - grid[0]) / STEP, 0.0, len(grid) - 1.001)
    first = place.astype(int)
    part = place - first
    density = np.zeros((len(excess), len(grid)))
    rows = np.repeat(np.arange(len(excess))[:, None], first.shape[1], axis=1)
    weight = np.broadcast_to(tail.weight, first.shape)
    np.add.at(density, (rows, first), weight * (1.0 - part))
    np.add.at(density, (rows, first + 1), weight * part)
    return density


def rate_grid(tail):
    """ln(rate) [ln 1/s] at which the densities of a `tail` (`Tail`) are kept, (m,)."""
    centre = np.log(tail.peaks / tail.exposure)
    return centre + np.arange(-BELOW, ABOVE + 0.5 * STEP, STEP)


def count_log_likelihood(count, exposure, log_rate, dispersion=1.0):
    """Log-likelihood [-] of a Poisson `count` in an `exposure` [s] at each `log_rate` [ln 1/s], tempered by
    `dispersion`.

    n ln(lambda T) - lambda T, what does not depend on lambda left out (any text on statistics). Where events were
    counted, half a group of them more (Jeffreys's prior), or the upper bound would lie under the exact one.
    """
    groups, expected = count / dispersion, np.exp(log_rate) * exposure
    more = 0.5 * groups / (groups + 1.0)
    return (groups + more) * (log_rate + np.log(exposure)) - expected / dispersion


def blurred_tail(tail, prior, tau):
    """Odds `prior` (l, m) of `tail_density` with the doubt of tail against count, `tau` [-], and that of a `Tail`'s
    number
    of peaks in them, both normal in ln(rate).
    """
    spread = np.hypot(tau, np.sqrt(tail.dispersion / tail.peaks))
    return gaussian_filter1d(prior, max(spread / STEP, 0.5), axis=1, mode="nearest", truncate=7.0)


def posterior_quantiles(grid, prior, count, exposure, dispersion, shares):
    """Values of ln(rate) under which `shares` (q,) [-] of the posterior lie, (q,), by Bayes' rule on a grid.

    `prior` (m,) odds at each point of the rising `grid` (m,) [ln 1/s]; `count` in `exposure` [s], of `dispersion` [-].
    The grid is told anew where the posterior lies, so that many events are resolved as well as none.
    """
    logs = np.log(np.maximum(prior, 1e-300)) + count_log_likelihood(count, exposure, grid, dispersion)
    near = np.flatnonzero(logs > logs.max() - NEGLIGIBLE)
    ends = grid[max(near[0] - 1, 0)], grid[min(near[-1] + 1, len(grid) - 1)]
    fine = np.linspace(*ends, FINE)
    logs = np.interp(fine, grid, np.log(np.maximum(prior, 1e-300)))
    logs = logs + count_log_likelihood(count, exposure, fine, dispersion)
    density = np.exp(logs - logs.max())
    below = np.concatenate([[0.0], np.cumsum(0.5 * (density[1:] + density[:-1]))])
    return np.interp(shares, below / below[-1], fine)


def measured_tau(tail, levels, counts, dispersions):
    """tau [-]: by how much ln(rate) of the tail and of the count differ, from levels where both speak.

    `levels`, `counts`, `dispersions` (l,) as in `joined_rates`. Posterior mean over a log-normal prior about
    TAU_PRIOR. The same events pass several levels, so the levels count together for one.
    """
    logs = -0.5 * (np.log(TAUS / TAU_PRIOR[0]) / TAU_PRIOR[1]) ** 2
    used = [i for i, level in enumerate(levels) if level > tail.threshold]
    if used:
        grid, prior = rate_grid(tail), tail_density(tail, [levels[i] for i in used])
        for n, tau in enumerate(TAUS):
            found = []
            for row, i in zip(blurred_tail(tail, prior, tau), used, strict=True):
                own = count_log_likelihood(counts[i], tail.exposure, grid, dispersions[i])
                found.append(np.log(np.sum(row * np.exp(own - own.max())) + 1e-300))
            logs[n] += np.mean(found)
    weight = np.exp(logs - logs.max())
    return float(np.sum(weight * TAUS) / weight.sum())


def joined_rates(tail, levels, counts, tau, dispersions, *, confidence=CONFIDENCE):
    """(rate, low, high) past each of the `levels` (l,) from tail and count, (l, 3) [1/s]; the rate is the median.

    `counts` (l,) events past each level in the exposure of the `tail`, `dispersions` (l,) [-] >= 1 variance over mean
    of those counts, `tau` [-] doubt of tail against count; `confidence` [-] of the two-sided interval. A bound that the
    grid cannot resolve is the grid's end: exp(-BELOW) of the peaks' rate.
    """
    shares = [0.5, 0.5 - 0.5 * confidence, 0.5 + 0.5 * confidence]
    grid, blurred = rate_grid(tail), blurred_tail(tail, tail_density(tail, levels), tau)
    rows = zip(blurred, counts, dispersions, strict=True)
    return np.exp([posterior_quantiles(grid, row, n, tail.exposure, groups, shares) for row, n, groups in rows])


def counted_rates(counts, exposure, dispersions, *, confidence=CONFIDENCE):
    """(rate, low, high) of `counts` (l,) in an `exposure` [s] where there is no tail to join, (l, 3) [1/s].

    The rate is the median of a gamma law of shape count + 1/2 (Jeffreys's prior: a count of none is not a rate of
    none); the bounds are exact at a `confidence` [-] (Garwood 1936), of so many groups where events come in groups of
    `dispersions` (l,) [-].
    """
    rows = []
    for count, groups in zip(counts, dispersions, strict=True):
        middle = float(gammaincinv(count / groups + 0.5, 0.5))
        low, high = poisson_interval(count / groups, confidence=confidence)
        rows.append(np.array([middle, min(low, middle), max(high, middle)]) * groups / exposure)
    return np.array(rows)
