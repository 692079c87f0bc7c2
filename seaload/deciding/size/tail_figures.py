"""Whether the tail that carries a least limit is to be believed: mean excess, stability over thresholds, quantiles.

At the place short of most on a side, of the sea that carries most of its rate; quantiles of all the seas that carry it.
"""

from typing import NamedTuple

import numpy as np

from seaload.risk.extremes import declustered_peaks
from seaload.risk.joined_rate import tail_of_peaks
from seaload.risk.poisson import dispersion
from seaload.risk.pooled_tail import SHARE, mean_excess, pooled_tail, return_level, sea_peaks
from seaload.risk.prediction import largest_quantile

SHARES = np.linspace(0.03, 0.25, 12)  # of the blocks over the threshold
POINTS = 25
FEWEST = 30  # peaks


class TailFigures(NamedTuple):
    """Numbers of three figures; arrays (POINTS,) or (shares,)."""

    point: int
    part: int  # number of the sea among those of the season
    threshold: np.ndarray  # [N m]
    excess: np.ndarray
    error: np.ndarray
    shares: np.ndarray
    shapes: np.ndarray
    levels: np.ndarray  # [N m] once a season
    told: np.ndarray  # [-] excess over the scale, by the tail
    met: np.ndarray
    shape: float
    predicted: tuple  # (median, low, high) [N m] of the largest load of a season in that sea


def weakest(sizing, side):
    """The point whose given limit is least beside the one needed."""
    needed = np.maximum(sizing.needed[side].all_told, 1e-9)
    return int(np.argmin(sizing.season.limits[side] / needed))


def tail_figures(sizing, side):
    """`TailFigures` of a side, or None where no sea has peaks enough."""
    point, season = weakest(sizing, side), sizing.season
    by_sea = sizing.shares(side, point, sizing.needed[side].if_right[point])[1]
    part = max(sorted(by_sea), key=by_sea.get)
    blocks = season.blocks[side][part][:, point]
    known = blocks[np.isfinite(blocks)]
    peaks = np.concatenate(declustered_peaks(blocks, float(np.quantile(known, 0.7))))
    if len(peaks) < FEWEST:
        return None
    each = season.seas[0].records[0].block_time
    shapes, levels = [], []
    for share in SHARES:
        tail = pooled_tail([sea_peaks(blocks, each, share)])
        shapes.append(tail.shape)
        levels.append(return_level(float(tail.threshold[0]), float(tail.scale[0]), tail.shape, float(tail.rate[0]),
                                   season.time))  # fmt: skip
    return TailFigures(
        point, part, *mean_excess(peaks, POINTS), SHARES, np.array(shapes), np.array(levels),
        *quantiles(sizing, side, point, by_sea), predicted(blocks, each, season.time * season.seas[part].share),
    )  # fmt: skip


def predicted(blocks, block_time, exposure):
    """(median, low, high) [N m] of the largest load in `exposure` [s] of a sea with these `blocks` (n, b) [N m]."""
    unit = max(float(np.nanmax(np.abs(blocks))), 1e-9)
    share, known = blocks / unit, np.isfinite(blocks)
    threshold = float(np.quantile(share[known], 1.0 - SHARE))
    groups = declustered_peaks(share, threshold)
    spread = max(dispersion([len(each) for each in groups]), 1.0)
    tail = tail_of_peaks(np.concatenate(groups) - threshold, threshold, float(known.sum() * block_time), spread)
    return tuple(unit * largest_quantile(tail, exposure, odds) for odds in (0.5, 0.05, 0.95))


def quantiles(sizing, side, point, by_sea):
    """(told, met, shape): excesses over their sea's scale as the common tail foresees them and as met, rising."""
    season, tail = sizing.season, sizing.load(side, point, factored=False).tail
    main = [n for n, i in enumerate(sizing.used) if by_sea[i] > 0.02] or [0]
    each = {n: np.concatenate(season.peaks[side][sizing.used[n]][point].excesses) for n in main}
    met = np.sort(np.concatenate([each[n] / tail.scale[n] for n in main]))
    odds = 1.0 - (np.arange(len(met)) + 0.5) / len(met)
    told = -np.log(odds) if abs(tail.shape) < 1e-9 else (odds**-tail.shape - 1.0) / tail.shape
    few = np.unique(np.concatenate([np.linspace(0, len(met) - 1, POINTS - 10).astype(int),
                                    np.arange(max(len(met) - 10, 0), len(met))]))  # fmt: skip
    few = few[-POINTS:]
    pad = np.full(POINTS - len(few), np.nan)
    return np.concatenate([told[few], pad]), np.concatenate([met[few], pad]), tail.shape
