"""What every setting takes and spends on every piece of a leg, by the moment at which the piece is begun."""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.network import Network, told_at, weighed
from seaload.deciding.leg.whole_odds import odds_of
from seaload.evidence.verdict import SIDES

FOILS = ("port", "starboard")


class Spending(NamedTuple):
    """Tables of n pieces, q moments from `first` on, j settings, k cases of forecast and doubt."""

    first: np.ndarray  # (n,) [s] after the start of the leg
    step: float  # [s]
    duration: np.ndarray  # (n, q, j) [s]; infinite where the setting is not open
    events: dict  # {side: (n, q, j, k) [-] expected past the limit while the piece is passed}
    weights: np.ndarray  # (k,) of the cases
    wear: np.ndarray  # (n, q, j, foils) [-] damage of each of FOILS
    change: np.ndarray  # (n,) bool
    least_between: float  # [s]

    def network(self, prices, start):
        """`Network` whose costs are the events of each side at `prices` {side: (k,)}, and the wear of each foil."""
        costs = [self.events[side] @ prices[side] for side in SIDES]
        costs = np.concatenate([np.stack(costs, axis=-1), self.wear], axis=-1)
        costs = np.where(np.isfinite(self.duration)[..., None], costs, 0.0)
        return Network(self.first, self.step, self.duration, costs, self.change, self.least_between, start)

    def along(self, settings, moments):
        """`Along` of `settings` (n,) numbers begun at `moments` (n,) [s]."""
        rows = {side: [] for side in SIDES}
        wear = []
        for piece, (setting, moment) in enumerate(zip(settings, moments, strict=False)):
            place = weighed(self.first[piece], self.step, self.duration.shape[1], np.array([moment]))
            one = np.array([setting])
            for side in SIDES:
                rows[side].append(told_at(self.events[side][piece], place, one)[0])
            wear.append(told_at(self.wear[piece], place, one)[0])
        return Along({side: np.array(found) for side, found in rows.items()}, np.array(wear), self.weights)


class Along(NamedTuple):
    """What a plan spends on each piece."""

    events: dict  # {side: (n, k) [-]}
    wear: np.ndarray  # (n, foils) [-]
    weights: np.ndarray  # (k,)

    def odds(self, side):
        """Odds [-] of the whole leg."""
        return float(odds_of(self.events[side].sum(axis=0), self.weights))

    def shares(self, side):
        """(n,) [-] of the odds of the whole leg, by the tangent at the plan: they add up to 1."""
        prices = self.weights * np.exp(-self.events[side].sum(axis=0))
        found = self.events[side] @ prices
        return found / found.sum() if found.sum() > 0.0 else found

    def mean_events(self, side):
        """(n,) [-] expected events on each piece, the mean over the cases."""
        return self.events[side] @ self.weights
