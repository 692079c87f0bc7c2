"""What finished cases of one point say of a side: the load that comes at each of a row of rates, and how often each
level of the limit is passed, with errors.

A surface is drawn through the load at a rate, not through the rate at a level: in a quiet sea a level is as good as
never passed, and the logarithm of that has no bottom; the load at a rate is as smooth as the sea itself.
"""

from typing import NamedTuple

import numpy as np

from seaload.evidence.places import sailed_blocks
from seaload.evidence.rate_curve import LEAST, joined_at, rates_of_blocks, union_blocks, union_tail
from seaload.evidence.verdict import DEVIATE

HOUR = 3600.0  # [s]
RATES = np.array([10.0, 3.0, 1.0, 0.3, 0.1, 0.03, 0.01, 3e-3, 1e-3, 1e-4, 1e-5]) / HOUR  # [1/s] that loads are told at
LEVELS = np.round(np.arange(0.3, 1.301, 0.1), 1)  # [share of the limit] that rates are told at
REACH, FINE = 4.0, 36  # a curve ends so many times the highest block over the median above that; points of it
LEAST_ERROR = 1e-4  # [share of the limit] of a load


class SideLoads(NamedTuple):
    """One side of one point, at all places together or at one of them."""

    load_at_rate: np.ndarray  # (rates,) [share of the limit] that comes at each of RATES
    load_at_rate_error: np.ndarray  # (rates,) its standard error by sampling
    log_rate: np.ndarray  # (levels,) [ln 1/s] of passing each of LEVELS
    log_rate_error: np.ndarray  # (levels,) [-] its standard error by sampling


def union_loads(records, side):
    """`SideLoads` of finished cases at any place."""
    blocks = union_blocks(records, side)
    return loads_of(blocks, records[0].block_time, lambda levels: joined_at(records, side, levels))


def place_loads(records, side):
    """`SideLoads` of finished cases at each place, in the order of the places."""
    found = []
    for place in range(len(records[0].moment_mean)):
        blocks = blocks_at(records, side, place)
        told = lambda levels, blocks=blocks: rates_of_blocks(blocks, records[0].block_time, levels)  # noqa: E731
        found.append(loads_of(blocks, records[0].block_time, told, at=LEVELS[:0]))
    return found


def blocks_at(records, side, place):
    """Highest share of the limit of one side at a `place` in each block, (n, b) [-]; nan where it is inside the hull or
    nothing was simulated.
    """
    rows = np.array([getattr(record, f"place_block_{side}")[place] for record in records], dtype=float)
    for row, record in zip(rows, records, strict=True):
        row[sailed_blocks(record) :] = np.nan
    return rows


def loads_of(blocks, block_time, rates_at, at=LEVELS):
    """`SideLoads` from block worsts (n, b) [share of the limit] of `block_time` [s], nan where nothing was simulated,
    and a function giving (rate, low, high) [1/s] of passing levels (l,), (l, 3); rates are told `at` those levels.

    Where there is no tail to be read, loads rarer than once in the sea simulated are not known.
    """
    known = blocks[np.isfinite(blocks)]
    if len(known) == 0:
        return SideLoads(*(np.full(len(row), np.nan) for row in (RATES, RATES, at, at)))
    start, top = float(np.median(known)), float(known.max())
    fine = start + (top - start + LEAST_ERROR) * np.linspace(0.0, REACH, FINE)
    rows = np.log(np.maximum(rates_at(np.concatenate([fine, at])), LEAST))
    curves = np.minimum.accumulate(rows[:FINE], axis=0).T
    middle, low, high = (loads_on(fine, curve) for curve in curves)
    error = np.maximum((high - low) / (2.0 * DEVIATE), LEAST_ERROR)
    exposure = len(known) * block_time
    if union_tail(blocks, exposure) is None:
        middle = np.where(RATES * exposure < 1.0, np.nan, middle)
    ln, ln_low, ln_high = np.minimum(rows[FINE:], curves[:, 0]).T
    return SideLoads(middle, error, ln, (ln_high - ln_low) / (2.0 * DEVIATE))


def loads_on(levels, log_rates):
    """Load (rates,) at each of RATES on a falling curve of `log_rates` (l,) [ln 1/s] over rising `levels` (l,).

    Beyond the last level as the last step goes on, as far again as the curve reaches at most.
    """
    falling = log_rates - 1e-9 * np.arange(len(levels))  # a level stretch has one way through
    step = max((falling[-2] - falling[-1]) / (levels[-1] - levels[-2]), 1e-9)
    beyond = np.maximum(falling[-1] - np.log(RATES), 0.0) / step
    return np.interp(-np.log(RATES), -falling, levels) + np.minimum(beyond, levels[-1] - levels[0])
