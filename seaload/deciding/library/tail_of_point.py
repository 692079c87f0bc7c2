"""What finished cases of one point say of the upper tail of its loads, in few numbers that hours of neighbours tell
together: where the tail begins, how often that is passed, how far beyond on the mean, and how unevenly.

All are as smooth over setting and sea as the sea itself, and hardly off on the mean however little sea one point holds;
a load that comes once in many hours, told by one point alone, is neither. Law and pooling: the index-flood method
(Dalrymple 1960; Hosking & Wallis 1997, chapters 1 and 6), with the L-moments of a generalised Pareto law (Hosking &
Wallis 1987).
"""

from math import log, nan, sqrt
from typing import NamedTuple

import numpy as np

from seaload.deciding.library.load_at_rate import blocks_at
from seaload.evidence.places import block_extremes
from seaload.evidence.rate_curve import LOADED, grouping
from seaload.evidence.verdict import SIDES
from seaload.risk.extremes import declustered_peaks

OFTEN = 0.1  # [-] of the blocks pass the load that the tail begins at
FEWEST = 6  # peaks past it
LEAST_ERROR = 1e-4  # [share of the limit], [-]
LEAST_SWING = 0.01  # [share of the limit] of a load over the mean one: below it nothing is told apart
SHAPES = (-0.4, 0.3)  # [-] beyond these a law says more about few peaks than about the sea, see `risk.extremes`
STRAIGHT = 1e-6  # [-] a shape under this is none: the exponential law
PAIRED = 0.5  # [-] of the error of a load: that of its ratio to another one in the same waves; our own choice


class PointTail(NamedTuple):
    """One side of one point; errors are standard errors by the waves sampled. nan where nothing shows.

    The tail is that of all places together where loads come near the limit, else that of the place where the foil is
    bent most on the mean: far from the limit the highest share of all places is that of the tip, which is nothing.
    """

    load_calm: float  # [share of the limit] mean load at the place where the foil is bent most on the mean
    tail_swing: float  # [share of the limit] over that mean, that a tenth of the blocks pass at that place
    tail_swing_error: float
    tail_union: float  # [-] ln of that swing of all places together over that of the one place
    tail_union_error: float
    tail_log_rate: float  # [ln 1/s] of groups of blocks past the load that a tenth of them pass
    tail_log_rate_error: float
    tail_excess: float  # [-] mean of their peaks over it, in swings
    tail_excess_error: float
    tail_l_cv: float  # [-] of those peaks: second L-moment over the mean, 1/2 for the exponential law
    tail_l_cv_error: float


def tail_columns(records):
    """{name: (sides,)} of finished cases: all of `PointTail`."""
    tails = [point_tail(records, side) for side in SIDES]
    return {name: np.array([getattr(tail, name) for tail in tails]) for name in PointTail._fields}


def no_tail():
    """The same of a point that was not simulated."""
    return {name: np.full(len(SIDES), nan) for name in PointTail._fields}


def point_tail(records, side):
    """`PointTail` of finished cases on a side (name)."""
    nothing = PointTail(*[nan] * len(PointTail._fields))
    place, calm = most_bent(records, side)
    if place is None:
        return nothing
    one, time = blocks_at(records, side, place), records[0].block_time
    together = block_extremes(records, f"block_worst_{side}")
    start, start_together = (quantile(blocks, 1.0 - OFTEN) for blocks in (one, together))
    swing, swing_together = (max(load - calm, LEAST_SWING) for load in (start, start_together))
    loaded = start_together > LOADED
    own = tail_of(one, time, swing)
    peaks = tail_of(together, time, swing_together) if loaded else own
    if own is None or peaks is None:
        return nothing
    off = own.alone * own.excess
    union, union_error = (log(swing_together / swing), max(PAIRED * off, LEAST_ERROR)) if loaded else (nan, nan)
    return PointTail(
        calm, swing, max(off * swing, LEAST_ERROR), union, union_error, peaks.log_rate, peaks.alone,
        peaks.excess, peaks.excess * peaks.alone, peaks.l_cv, peaks.alone / sqrt(12.0),
    )  # fmt: skip


class Peaks(NamedTuple):
    """Peaks of groups of blocks past the load that a tenth of the blocks pass."""

    log_rate: float  # [ln 1/s]
    excess: float  # [-] mean over that load, in swings
    l_cv: float  # [-]
    alone: float  # [-] standard error of ln(their number)


def tail_of(blocks, block_time, swing):
    """`Peaks` of block worsts (n, b) [share of the limit] of `block_time` [s], nan where nothing was simulated; swing :
    the load that a tenth pass over the mean one [share of the limit]. None where too few show.

    Errors go by the number of the peaks, which is as uneven as realisations show. Of exponential excesses the error of
    the mean is the mean over the root of their number, that of the L-CV the root of 1/12 over it (Gail & Gastwirth
    1978, from memory); that of a load that comes at a rate is the mean excess times that of ln(rate).
    """
    known = np.count_nonzero(np.isfinite(blocks))
    start = quantile(blocks, 1.0 - OFTEN)
    each = declustered_peaks(blocks, start)
    excesses = np.sort(np.concatenate(each)) - start
    count = len(excesses)
    if count < FEWEST or not np.mean(excesses) > LEAST_ERROR:
        return None
    mean = float(np.mean(excesses))
    second = 2.0 * float(np.sum(np.arange(count) * excesses)) / (count * (count - 1.0)) - mean
    alone = sqrt(grouping([len(peaks) for peaks in each]) / count)
    return Peaks(log(count / (known * block_time)), mean / swing, second / mean, alone)


def quantile(blocks, share):
    """Load [share of the limit] that a `share` of the blocks (n, b) stays under, of those in which was simulated."""
    return float(np.quantile(blocks[np.isfinite(blocks)], share))


def most_bent(records, side):
    """(place, mean load towards the limit of a side [share of it]) where the foil is bent most on the mean, of places
    outside the hull; (None, nan) where there is none.

    It changes smoothly from point to point, the place likeliest to pass its limit does not.
    """
    weights = np.array([record.duration for record in records])
    if any(r.normal_limit is None or r.place_block_normal is None for r in records) or not weights.sum() > 0.0:
        return None, nan
    moments = np.average([record.moment_mean for record in records], axis=0, weights=weights)
    outside = np.all([np.isfinite(record.place_block_normal).any(axis=1) for record in records], axis=0)
    shares = np.where(outside, moments / np.asarray(records[0].normal_limit), -np.inf)
    if not np.isfinite(shares).any():
        return None, nan
    place = int(np.argmax(shares))
    toward = -1.0 if side == "reverse" else 1.0
    return place, float(toward * moments[place] / np.asarray(getattr(records[0], f"{side}_limit"))[place])


def loads_at(rates, tail):
    """Load over that at the start of the tail, in mean excesses, (..., rates) [-], that comes at `rates` [1/s].

    tail : (ln(rate) [ln 1/s] past the start (...), L-CV [-] (...)) of a generalised Pareto law: of mean excess 1, shape
    2 - 1/L-CV and scale 1 - shape (Hosking & Wallis 1987), turned round: scale ((often/rate)^shape - 1)/shape.
    """
    log_rate, l_cv = (np.asarray(part, dtype=float)[..., None] for part in tail)
    shape = np.clip(2.0 - 1.0 / np.maximum(l_cv, 0.1), *SHAPES)
    rarer = np.maximum(log_rate - np.log(rates), 0.0)
    bent = np.where(np.abs(shape) < STRAIGHT, STRAIGHT, shape)
    return (1.0 - shape) * np.expm1(bent * rarer) / bent
