"""One tail shape for all settings of a sea: what each may take from the others, beside its own few peaks.

The shape of a tail is what few peaks tell least, and neighbours on the same foil and sea are alike in it: it is pooled
as in regional frequency analysis (Hosking & Wallis 1997), as a prior for each setting's own fit. All settings meet the
same waves, so their errors are alike too and a mean over many settings is hardly better known than one: the error of
the mean, and that of the differences, is told by leaving out groups of realisations (jackknife: Quenouille 1956, Tukey
1958). The prior a setting gets is only as narrow as what the others add to its own peaks (normal law with a common and
an own error: own derivation). How well the others foretell a setting left out is told beside it.
"""

from typing import NamedTuple

import numpy as np

from seaload.evidence.rate_curve import SHARES, union_blocks, union_tail
from seaload.risk.joined_rate import SHAPE_PRIOR

FEWEST_SETTINGS, FEWEST_REALISATIONS, GROUPS = 5, 3, 10
FREEDOM = 4.0  # weight of the common share of the squared error that the peaks suggest: our own choice
IN_COMMON = 3  # power of the peaks' correlation that the errors of their shapes correlate by: by trial, see tests
LEAST_SPREAD = 0.03  # [-] deviation of true shapes between settings: our own choice
FLAT = (0.0, 10.0)  # mean and deviation [-] of a prior that says nothing


class CommonShape(NamedTuple):
    """The tail shape of the settings of a sea on one side [-]."""

    priors: list  # of (mean, deviation) a setting, from the others; SHAPE_PRIOR where they add nothing
    mean: float  # over all settings; nan where nothing is pooled
    missed: float  # root mean square of own shapes less those that the others foretell
    expected: float  # what the waves alone make of that


def nothing_pooled(count):
    """`CommonShape` of `count` settings that take nothing from one another."""
    return CommonShape([SHAPE_PRIOR] * count, np.nan, np.nan, np.nan)


def own_shape(blocks, block_time):
    """(mean, variance) [-] of the shape that block worsts (n, b) [-] of `block_time` [s] show alone; nan without a
    tail.
    """
    tail = union_tail(blocks, np.count_nonzero(np.isfinite(blocks)) * block_time, FLAT)
    if tail is None:
        return np.nan, np.nan
    mean = float(tail.weight @ tail.shape)
    return mean, float(tail.weight @ (tail.shape - mean) ** 2)


def jackknife_variance(values):
    """Variance of an estimate from `values` (g, ...) of it with one of g groups left out (Tukey 1958)."""
    return (len(values) - 1) / len(values) * np.sum((values - values.mean(axis=0)) ** 2, axis=0)


def alikeness(blocks):
    """Mean correlation [-] of what block worsts (k, n, b) [-] of k settings have over each's highest tenth."""
    rows = np.reshape(blocks, (len(blocks), -1))
    rows = rows[:, np.isfinite(rows).all(axis=0)]
    over = np.maximum(rows - np.quantile(rows, 1.0 - SHARES[1], axis=1, keepdims=True), 0.0)
    over = (over - over.mean(axis=1, keepdims=True)) / over.std(axis=1, keepdims=True)
    count = len(over)
    return float(np.clip((np.mean(over.sum(axis=0) ** 2) / count - 1.0) / (count - 1.0), 0.0, 1.0))


def common_shape(runs, side):
    """`CommonShape` of several settings on one side; runs : [finished cases of each] over the same realisations."""
    count = min(map(len, runs), default=0)
    if len(runs) < FEWEST_SETTINGS or count < FEWEST_REALISATIONS:
        return nothing_pooled(len(runs))
    return pooled_shape([union_blocks(records[:count], side) for records in runs], runs[0][0].block_time)


def pooled_shape(blocks, block_time):
    """`CommonShape` of block worsts, a list of (n, b) [-] arrays of the same n realisations; `block_time` [s]."""
    count = len(blocks[0])
    group = np.arange(count) % min(GROUPS, count)
    own, variance = np.array([own_shape(each, block_time) for each in blocks]).T
    parts = [group != left for left in range(group.max() + 1)]
    without = np.array([[own_shape(each[kept], block_time)[0] for each in blocks] for kept in parts])
    used = np.isfinite(own) & np.isfinite(without).all(axis=0)
    if used.sum() < FEWEST_SETTINGS:
        return nothing_pooled(len(blocks))
    own, variance, without = own[used], variance[used], without[:, used]
    others = np.sum(used) / (np.sum(used) - 1.0) * (own.mean() - own / np.sum(used))  # mean of all but each
    alike = alikeness(np.array(blocks)[used]) ** IN_COMMON
    found = pooled_priors(own, variance, without, others, alike)
    priors = [SHAPE_PRIOR] * len(blocks)
    for number, prior in zip(np.flatnonzero(used), found[0], strict=True):
        priors[number] = prior
    return CommonShape(priors, float(own.mean()), float(np.sqrt(np.mean((own - others) ** 2))), found[1])


def pooled_priors(own, variance, without, others, alike):
    """([(mean, deviation) of the prior of each setting], deviation of own from foretold shapes by the waves alone) [-].

    own, variance : (k,) shape of each setting by itself and its squared error; without : (g, k) the same shapes with a
    group of realisations left out; others : (k,) mean shape of the others; alike : share of their squared errors in
    common that the peaks suggest, as a few groups tell little.
    """
    groups = len(without) - 1.0
    common = jackknife_variance(without.mean(axis=1))
    common = (groups * common + FREEDOM * alike * variance.mean()) / (groups + FREEDOM)
    apart = float(np.mean(jackknife_variance(without - without.mean(axis=1, keepdims=True))))
    true = max(float(np.mean((own - own.mean()) ** 2)) - apart, LEAST_SPREAD**2)
    mean_error = common + true / (len(own) - 1.0)
    known = 1.0 / (1.0 / mean_error + 1.0 / SHAPE_PRIOR[1] ** 2)  # squared error of the mean, the weak prior in it
    reached = known + true * apart / (true + apart)  # squared error of a setting's shape from own and others together
    means = known * (others / mean_error + SHAPE_PRIOR[0] / SHAPE_PRIOR[1] ** 2)
    adds = np.maximum(1.0 / reached - 1.0 / variance, 1.0 / SHAPE_PRIOR[1] ** 2)
    return [(float(m), float(a**-0.5)) for m, a in zip(means, adds, strict=True)], float(np.sqrt(apart))
