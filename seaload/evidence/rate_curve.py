"""How often each share of a limit is passed at any place: rate against level, count and tail joined.

The union of places: the highest share of the limit at any material outside the hull in each block of ten seconds. At
the tip every moment is nothing, so where loads hardly ever reverse that is never below zero and has no tail to be read;
then every place is measured by how far it stays from its limit in its own scale, and the nearest one counts.
"""

from typing import NamedTuple

import numpy as np

from seaload.evidence.places import block_extremes, place_extremes
from seaload.risk.extremes import declustered_peaks, starts_above
from seaload.risk.joined_rate import (
    FEWEST_PEAKS,
    SHAPE_PRIOR,
    counted_rates,
    joined_rates,
    measured_tau,
    tail_of_peaks,
)
from seaload.risk.poisson import dispersion

PEAK_BLOCKS = 150  # aimed at over the threshold, as more sea goes farther out into the tail
SHARES = (0.02, 0.10)  # of all blocks, that share is kept within
MEASURED_AT = (0.6, 0.7, 0.8, 0.9)  # of the limit: tail and count are compared here
HIGHEST, POINTS = 1.5, 25  # [share of the limit] where the curve ends, and its points
LOADED = 0.1  # [share of the limit]: under it the highest of all places says nothing about which is the worst
EVENTS = {"reverse": "events_full", "normal": "normal_events"}
ASSUMED, EXPECTED = 4.0, 2.0  # realisations' worth of a variance over mean taken as usual: our own choice
LEAST = 1e-300  # [1/s]
ALIKE = 10.0  # events: so many speak before events and runs of blocks are told apart


class RateCurve(NamedTuple):
    """Rate of events past each level of a limit at any place; ln of [1/s]."""

    levels: np.ndarray  # (l,) [share of the limit], rising
    middle: np.ndarray  # (l,)
    low: np.ndarray  # (l,) ends of the 90 % interval of sampling
    high: np.ndarray  # (l,)

    def ln_rate(self, level, which="middle"):
        """ln(rate) [ln 1/s] past `level` (any shape) [share of the limit]; beyond the ends as the last step goes on."""
        values, at, level = getattr(self, which), self.levels, np.asarray(level)
        slope = (values[-1] - values[-2]) / (at[-1] - at[-2])
        return np.interp(level, at, values) + slope * np.maximum(level - at[-1], 0.0)


def union_blocks(records, side):
    """Highest share of the limit of one side at any place in each block, (n, blocks) [-], nan where nothing was
    sailed.
    """
    together = block_extremes(records, f"block_worst_{side}")
    known = together[np.isfinite(together)]
    if len(known) == 0 or np.quantile(known, 1.0 - SHARES[1]) > LOADED:
        return together
    places = place_extremes(records, side)
    widths = [max(float(np.subtract(*np.nanquantile(place, [0.98, 0.8]))), 1e-9) for place in places]
    nearest = [1.0 - (1.0 - place) * widths[0] / width for place, width in zip(places, widths, strict=True)]
    return np.fmax.reduce(nearest)


def joined_at(records, side, levels, prior=SHAPE_PRIOR):
    """(rate, low, high) of events past each of the `levels` (l,) [share of the limit] at any place, (l, 3) [1/s].

    `prior` (mean, deviation) [-] of the tail's shape. At the limit itself its events are counted. Past other levels
    groups of blocks stand for events; how many events a group holds is what it holds at the limit.
    """
    events = np.array([getattr(record, EVENTS[side]) for record in records], dtype=float)
    return joined_of_blocks(union_blocks(records, side), records[0].block_time, events, levels, prior)


def joined_of_blocks(blocks, block_time, events, levels, prior=SHAPE_PRIOR):
    """The same from `blocks` (n, b) [share of the limit] of `block_time` [s] and the `events` (n,) past the limit in
    each realisation, (l, 3) [1/s].
    """
    levels = np.asarray(levels, dtype=float)
    found = rates_of_blocks(blocks, block_time, levels, at_limit=events, prior=prior)
    held = (events.sum() + ALIKE) / (counts_past(blocks, 1.0).sum() + ALIKE)
    return found * np.where(levels == 1.0, 1.0, held)[:, None]


def rate_curve(records, side, prior=SHAPE_PRIOR):
    """(`RateCurve` of finished cases, (rate, low, high) [1/s] past the limit itself); (None, nothing known) if not
    sailed. `prior` (mean, deviation) [-] of the tail's shape.
    """
    blocks = union_blocks(records, side)
    known = blocks[np.isfinite(blocks)]
    if len(known) == 0:
        return None, (np.nan, 0.0, np.inf)
    levels = np.linspace(min(float(np.median(known)), 1.0), HIGHEST, POINTS)
    found = joined_at(records, side, np.append(levels, 1.0), prior)
    rates = np.log(np.maximum(found[:-1], LEAST))
    return RateCurve(levels, *np.minimum.accumulate(rates, axis=0).T), tuple(map(float, found[-1]))


def counts_past(blocks, level):
    """Separate groups of blocks past `level` [-] in each realisation, (n,); `blocks` (n, b) [-]."""
    return starts_above(blocks, np.nextafter(level, -np.inf)).sum(axis=1)


def union_tail(blocks, exposure, prior=SHAPE_PRIOR):
    """`Tail` of `blocks` (n, b) [-] in an `exposure` [s]; None with too few peaks to show one.

    `prior` (mean, deviation) [-] of its shape.
    """
    values = blocks[np.isfinite(blocks)]
    if len(values) == 0:
        return None
    share = min(max(PEAK_BLOCKS / len(values), SHARES[0]), SHARES[1])
    threshold = float(np.quantile(values, 1.0 - share))
    peaks = declustered_peaks(blocks, threshold)
    together = np.concatenate(peaks)
    if len(together) < FEWEST_PEAKS or not np.mean(together - threshold) > 1e-6:
        return None
    return tail_of_peaks(together - threshold, threshold, exposure, grouping([len(own) for own in peaks]), prior)


def grouping(counts):
    """Variance over mean of counts (n,) of whole realisations [-], at least 1.

    Few realisations cannot tell it: EXPECTED weighs as much as ASSUMED of them.
    """
    seen = max(len(counts) - 1, 0)
    return max((seen * dispersion(counts) + ASSUMED * EXPECTED) / (seen + ASSUMED), 1.0)


def rates_of_blocks(blocks, block_time, levels, at_limit=None, prior=SHAPE_PRIOR):
    """(rate, low, high) of passing each of the `levels` (l,), (l, 3) [1/s], from `blocks` (n, b) [-] of `block_time`
    [s].

    At and below the tail's threshold the count speaks alone. `at_limit` (n,) events of each realisation past the level
    1, where they have been counted better than by groups of blocks. `prior` (mean, deviation) [-] of the tail's shape.
    """
    blocks = np.atleast_2d(np.asarray(blocks, dtype=float))
    exposure = np.count_nonzero(np.isfinite(blocks)) * block_time
    levels = np.asarray(levels, dtype=float)
    if not exposure > 0.0:
        return np.tile([np.nan, 0.0, np.inf], (len(levels), 1))
    known = at_limit is not None
    each = [at_limit if known and level == 1.0 else counts_past(blocks, level) for level in levels]
    counts, groups = np.array([n.sum() for n in each]), np.array([grouping(n) for n in each])
    found = counted_rates(counts, exposure, groups)
    tail = union_tail(blocks, exposure, prior)
    if tail is None:
        return found
    told = [counts_past(blocks, level) for level in MEASURED_AT]
    tau = measured_tau(tail, MEASURED_AT, [n.sum() for n in told], [grouping(n) for n in told])
    beyond = levels > tail.threshold
    if beyond.any():
        found[beyond] = joined_rates(tail, levels[beyond], counts[beyond], tau, groups[beyond])
    return found
