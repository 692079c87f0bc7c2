"""The tail behind the odds of a setting in a sea: the worst of each block, the peaks over the threshold, the fit with
its interval, worked out from the saved block extremes by the same functions that made the result.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.units import HOUR
from seaload.evidence.rate_curve import LOADED, SHARES, joined_of_blocks, union_tail
from seaload.report.shared.named_values import RATES, Names
from seaload.risk.extremes import declustered_peaks

FARTHEST, POINTS = 1.3, 60  # [share of the limit] where the fit ends, and its points


class TailRead(NamedTuple):
    """One side; shares of the limit [-], rates [1/h]."""

    blocks: np.ndarray  # (k,) worst of each block that was simulated
    block_seconds: float
    hours: float  # simulated
    threshold: float | None  # None where no tail was fitted
    peaks: np.ndarray  # (p,) over the threshold, groups of blocks told once
    levels: np.ndarray  # (l,) from the threshold outward
    rates: np.ndarray  # (l, 3) rate, low, high of events past each level: count and tail joined
    at_limit: tuple  # (rate, low, high) that the result holds at the limit itself
    events: int  # counted past the limit


def tail_of(dataset, setting, sea, side):
    """`TailRead` of a setting in a sea; None where the result holds no block extremes of it."""
    if f"block_worst_{side}" not in dataset or dataset.sizes.get("block", 0) < 2:
        return None
    at = {"setting": setting, "sea": sea}
    blocks = dataset[f"block_worst_{side}"].isel(at).transpose("realisation", "block").values.astype(float)
    events = dataset[f"{side}_events"].isel(at).values.astype(float)
    kept = np.isfinite(blocks).any(axis=1)
    if not kept.any():
        return None
    blocks, events = blocks[kept], np.nan_to_num(events[kept])
    known, starts = blocks[np.isfinite(blocks)], dataset["block"].values
    seconds = float(starts[1] - starts[0])
    exposure = len(known) * seconds
    rate = Names(dataset).first_bounds(RATES[side], **at)
    at_limit = tuple(HOUR * value for value in (rate.best, rate.low, rate.high)) if rate else (np.nan,) * 3
    same = (known, seconds, exposure / HOUR)
    told = np.quantile(known, 1.0 - SHARES[1]) > LOADED  # else each place counts in its own scale, which is not kept
    tail = union_tail(blocks, exposure) if told else None
    if tail is None:
        return TailRead(*same, None, np.array([]), np.array([]), np.empty((0, 3)), at_limit, int(events.sum()))
    levels = np.linspace(tail.threshold, max(FARTHEST, 1.1 * tail.threshold), POINTS)
    levels = np.unique(np.append(levels, 1.0)) if tail.threshold < 1.0 else levels
    rates = joined_of_blocks(blocks, seconds, events, levels) * HOUR
    peaks = np.concatenate(declustered_peaks(blocks, tail.threshold))
    return TailRead(*same, tail.threshold, peaks, levels, rates, at_limit, int(events.sum()))
