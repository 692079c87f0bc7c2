"""What a gauge shows at its highest in ten minutes of a sea, and the reading at which a plan is left.

A library tells three quantiles of the highest load in ten seconds. Past them the odds of a block fall tenfold for every
equal step of load, as between the last two (an exponential tail): the highest of the 60 blocks of ten minutes then
follows a Gumbel law (Gumbel 1958). How far the library is off and how far a display's zero may have drifted scatter it.
The reading to leave by is passed once in twelve hours of the sea as planned: a false alarm. Missed is the odds that ten
minutes of the sea at which the plan is to be left show nothing past it.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.whole_odds import doubt_cases
from seaload.deciding.library.channels import QUANTILES
from seaload.evidence.trigger_rule import BETWEEN_ALARMS

WINDOW, BLOCK = 600.0, 10.0  # [s]
FALSE_ALARM = -np.expm1(-WINDOW / BETWEEN_ALARMS)  # [-] in a window
LAST, BEFORE = 2, 1  # of QUANTILES
NODES = 9  # of the scatter
HALVINGS = 60
LEAST_SCALE = 1e-4  # [share of the limit]
SHOWN = (0.05, 0.5, 0.95)  # [-] low end, ordinary, high end


class Law(NamedTuple):
    """Highest load in a window [share of the limit]: Gumbel, with a normal scatter about it; arrays of one shape."""

    mode: np.ndarray
    scale: np.ndarray
    scatter: np.ndarray

    def under(self, load):
        """Odds [-] that the highest stays under a `load` (as the arrays)."""
        nodes, weights = doubt_cases(NODES)
        off = (np.asarray(load)[..., None] - self.mode[..., None] - self.scatter[..., None] * nodes)
        return np.exp(-np.exp(-np.clip(off / self.scale[..., None], -30.0, 700.0))) @ weights

    def quantile(self, share):
        """Load under which the highest stays with odds `share` [-], by bisection."""
        reach = 8.0 * self.scatter + 40.0 * self.scale
        low, high = self.mode - reach, self.mode + reach
        for _ in range(HALVINGS):
            middle = 0.5 * (low + high)
            under = self.under(middle) < share
            low, high = np.where(under, middle, low), np.where(under, high, middle)
        return 0.5 * (low + high)


def law_of(quantiles, scatter):
    """`Law` of the highest load of a window from QUANTILES (..., 3) [share of the limit] of blocks and a `scatter`."""
    step = np.log((1.0 - QUANTILES[BEFORE]) / (1.0 - QUANTILES[LAST]))
    scale = np.maximum((quantiles[..., LAST] - quantiles[..., BEFORE]) / step, LEAST_SCALE)
    mode = quantiles[..., LAST] + scale * np.log((1.0 - QUANTILES[LAST]) * WINDOW / BLOCK)
    return Law(mode, scale, np.broadcast_to(np.asarray(scatter, dtype=float), mode.shape))


class Told(NamedTuple):
    """Loads [share of a limit] of the highest of a window, on n stretches at p gauges, either side."""

    shown: np.ndarray  # (3, n, p, sides) SHOWN of the sea as planned
    leave: np.ndarray  # (n, p, sides) at which the plan is left
    missed: np.ndarray  # (n, p, sides) [-] odds in a window of the sea to leave in; nan where no such sea is known


def readings(planned, worse):
    """`Told` of the `Law` of the sea as `planned` and of the one to leave in, `worse`, (n, p, sides) each; nan where
    nothing is told.
    """
    leave = planned.quantile(1.0 - FALSE_ALARM)
    missed = np.where(np.isfinite(worse.mode), worse.under(np.nan_to_num(leave)), np.nan)
    return Told(np.array([planned.quantile(share) for share in SHOWN]), leave, missed)


def best_gauge(told):
    """(number of the gauge, side) that is told on most stretches and of those misses least; (-1, 0) where none is."""
    known = np.isfinite(told.shown[1]).sum(axis=0)
    if not known.any():
        return -1, 0
    missed = np.nan_to_num(told.missed, nan=1.0).mean(axis=0)
    highest = np.nan_to_num(np.abs(told.shown[1])).mean(axis=0)
    order = np.lexsort((-highest.ravel(), missed.ravel(), -known.ravel()))
    gauge, side = np.unravel_index(order[0], known.shape)
    return int(gauge), int(side)
