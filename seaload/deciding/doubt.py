"""What the uncertain inputs do to the load of a sea's settings, per deviation of each: kept as a doubt about the load,
and told as odds for each setting's own mean and rates (`evidence.all_told`).
"""

from dataclasses import dataclass, field, replace

import numpy as np

from seaload.evidence.all_told import (
    Lean,
    known_range,
    normal_weights,
    odds_all_told,
    odds_bound,
    worst_share,
)
from seaload.evidence.bend import NODES, Bend, bent
from seaload.evidence.verdict import WEAR, rates_of_odds

SIDES = ("reverse", "normal")
WORST_ODDS = {"median": 0.5, "one_in_twenty": 0.05}  # of passing the worst load that is told
DRAWN = np.linspace(-4.0, 4.0, 41)  # deviations over which the spread of a bent line is told
OF_THE_SEA = ("tail_level", "wind_sea_share", "second_order_crests")  # what no boat can measure of herself


@dataclass(frozen=True)
class Doubt:
    """What the uncertain inputs do to the load in one sea at one extension, per deviation of each.

    Arrays (names,) of each side; of an input with a bend, half of what one deviation up changes against one down.
    """

    names: tuple
    shifts: dict  # {side: change of the mean load [share of the limit]}
    growths: dict  # {side: change of ln(fluctuation about the mean) [-]}
    pivot_mean: dict  # {side: mean load of the setting the ensemble was sailed with [share of the limit]}
    bends: dict = field(default_factory=dict)  # {side: Bends}, of height and period of the sea
    correlation: float = 0.0  # [-] of the errors of those two
    wears: tuple = ()  # (names,) change of ln(wear) [-]
    untold: tuple = ()  # plain words on seas that were not simulated
    blind: bool = False  # runs that were to tell it ended early: what is uncertain is not known, and no odds are sure
    steps: dict = field(default_factory=dict)  # {side: Bends} of inputs of the boat that have runs either way off

    def at(self, extension):
        """The `Doubt` of settings with this `extension` [-]: of any alike."""
        return self

    def effects(self, side, mean=None):
        """Change of the load that comes as often as the limit [share of the limit], (names,).

        mean : mean load of a setting [share of the limit]; of the ensemble's own setting unless given.
        """
        mean = self.pivot_mean[side] if mean is None else mean
        return np.asarray(self.shifts[side]) + np.asarray(self.growths[side]) * (1.0 - mean)

    def spreads(self, side, mean=None):
        """Standard deviation of that load by each input alone [share of the limit], (names,); `mean` as in `effects`.
        """
        mean = self.pivot_mean[side] if mean is None else mean
        found, weights = np.abs(self.effects(side, mean)), normal_weights(DRAWN)
        for bend in (*self.bends.get(side, ()), *self.steps.get(side, ())):
            moved = bent(bend.shifts, DRAWN) + (1.0 - mean) * bent(bend.growths, DRAWN)
            found[bend.number] = np.sqrt(weights @ (moved - weights @ moved) ** 2)
        return found

    def load_spread(self, side, mean=None):
        """Standard deviation of that load by all inputs [share of the limit]; `mean` as in `effects`.

        What the errors of height and period have in common is counted by their slopes.
        """
        squared = float(np.sum(self.spreads(side, mean) ** 2)) + self.in_common(self.effects(side, mean))
        return float(np.sqrt(max(squared, 0.0)))

    def in_common(self, effects):
        """Twice the covariance of height's and period's part in `effects` (names,)."""
        numbers = [bend.number for bend in self.bends.get("reverse", ())]
        return 2.0 * self.correlation * float(np.prod(effects[numbers])) if len(numbers) == 2 else 0.0

    def shares(self, side):
        """Share of each input in the squared spreads, (names,) [-]."""
        squared = np.square(self.spreads(side))
        return squared / max(float(np.sum(squared)), 1e-300)

    @property
    def wear(self):
        """Standard deviation of ln(wear) by all inputs [-]."""
        wears = np.asarray(self.wears, dtype=float)
        if len(wears) == 0:
            return 0.0
        return float(np.sqrt(max(np.sum(wears**2) + self.in_common(wears), 0.0)))

    def lean(self, side, mean):
        """`Lean` of a setting whose mean load is `mean` [share of the limit]."""
        shifts, growths = (np.array(part[side], dtype=float) for part in (self.shifts, self.growths))
        bends, steps = (tuple(part.get(side, ())) for part in (self.bends, self.steps))
        for bend in (*bends, *steps):
            shifts[bend.number] = growths[bend.number] = 0.0
        return Lean(mean, shifts, growths, bends, self.correlation, steps)

    def in_higher_sea(self, deviations):
        """The `Doubt` in a sea so many `deviations` of its forecast higher than it is; itself where height is sure."""
        if "forecast_hs" not in self.names:
            return self
        number = self.names.index("forecast_hs")
        moved = lambda values: bent(values, NODES + deviations)  # noqa: E731
        bends = {
            side: tuple(
                Bend(number, moved(b.shifts), moved(b.growths)) if b.number == number else b for b in self.bends[side]
            )
            for side in self.bends
        }
        return replace(self, bends=bends)

    def odds(self, side, sampled, risk, level=1.0):
        """(odds, low, high) to judge a setting by, from its `Sampled`, of passing `level` of the limit in the exposure.

        All told, or the crew's bound where `risk` says so; (1, 0, 1) where nothing was sailed.
        """
        curve = sampled.curves[side]
        if curve is None:
            return 1.0, 0.0, 1.0
        lean = self.lean(side, sampled.means[side])
        if risk.confidence:
            return self.unless_blind(odds_bound(curve, lean, risk.exposure, risk.confidence, level))
        return self.unless_blind(odds_all_told(curve, lean, risk.exposure, level))

    def unless_blind(self, odds):
        """`odds` (best, low, high) [-]; up to certain where what is uncertain is not known."""
        return (*odds[:2], 1.0) if self.blind else odds

    def told(self, sampled, risk):
        """What `evidence.verdict.judge` takes: {side: rates that have those odds}, and the spread of ln(wear)."""
        return {
            WEAR: self.wear,
            **{side: rates_of_odds(self.odds(side, sampled, risk), risk.exposure) for side in SIDES},
        }

    def all_told(self, side, sampled, risk):
        """(odds, low, high) all told of passing the limit in the exposure, whatever they are judged by."""
        if sampled.curves[side] is None:
            return 1.0, 0.0, 1.0
        lean = self.lean(side, sampled.means[side])
        return self.unless_blind(odds_all_told(sampled.curves[side], lean, risk.exposure))

    def worst(self, side, sampled, risk):
        """{name of WORST_ODDS: (share of the limit that the worst load passes with those odds, low, high)}, all told.

        nan where nothing was sailed, and where what is uncertain is not known.
        """
        curve, lean = sampled.curves[side], self.lean(side, sampled.means[side])
        if curve is None or self.blind:
            return {name: (np.nan, np.nan, np.nan) for name in WORST_ODDS}
        return {
            name: tuple(worst_share(curve, lean, risk.exposure, odds, end) for end in ("middle", "low", "high"))
            for name, odds in WORST_ODDS.items()
        }

    def known(self, side, sampled, risk):
        """[(low, high)] of the odds all told once each input is known; nan where what is uncertain is not."""
        if self.blind:
            return [(np.nan, np.nan)] * len(self.names)
        curve, lean = sampled.curves[side], self.lean(side, sampled.means[side])
        return [known_range(curve, lean, risk.exposure, i) for i in range(len(self.names))]

    @property
    def measure_first(self):
        """The input of the boat that holds most of the reverse spread; empty when none does."""
        own = [(share, name) for name, share in zip(self.names, self.shares("reverse"), strict=True)
               if not name.startswith("forecast_") and name not in OF_THE_SEA]  # fmt: skip
        return max(own)[1] if own and max(own)[0] > 0.0 else ""


@dataclass(frozen=True)
class ByExtension:
    """The `Doubt` of each extension that an ensemble was sailed at, for all extensions.

    Between two of them everything is told by a straight line in the extension, beyond the last by the last: a longer
    foil leans on yaw and side slip more and more, with nothing in between that turns.
    """

    extensions: tuple  # [-] rising
    doubts: tuple  # of Doubt

    def at(self, extension):
        """The `Doubt` of settings with this `extension` [-]; of the shortest sailed where it is None."""
        if extension is None or extension <= self.extensions[0]:
            return self.doubts[0]
        if extension >= self.extensions[-1]:
            return self.doubts[-1]
        after = int(np.searchsorted(self.extensions, extension))
        low, high = self.extensions[after - 1], self.extensions[after]
        return between(self.doubts[after - 1], self.doubts[after], (extension - low) / (high - low))


def between(one, other, share):
    """The `Doubt` a `share` [-] of the way from `one` to `other`, of the same inputs."""
    mixed = lambda a, b: (1.0 - share) * np.asarray(a, dtype=float) + share * np.asarray(b, dtype=float)  # noqa: E731
    rows = lambda name: {s: mixed(getattr(one, name)[s], getattr(other, name)[s]) for s in SIDES}  # noqa: E731
    bends, steps = (
        {
            side: tuple(
                Bend(a.number, mixed(a.shifts, b.shifts), mixed(a.growths, b.growths))
                for a, b in zip(getattr(one, kind)[side], getattr(other, kind)[side], strict=True)
            )
            for side in getattr(one, kind)
        }
        for kind in ("bends", "steps")
    )
    means = {side: float(mean) for side, mean in rows("pivot_mean").items()}
    return Doubt(
        one.names, rows("shifts"), rows("growths"), means, bends, one.correlation, tuple(mixed(one.wears, other.wears)),
        tuple(dict.fromkeys((*one.untold, *other.untold))), one.blind or other.blind, steps,
    )  # fmt: skip
