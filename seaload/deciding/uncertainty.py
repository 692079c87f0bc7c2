"""What the doubt about each input does to the rates: a small designed ensemble for each sea, and the
shares of the spread.

Twelve runs of one setting over the same waves, every uncertain input of the march one deviation up or
down in a Plackett-Burman design (1946): each effect is the mean of six runs less the mean of the other
six, so every run serves every input. Crests act as the height of the waves does; a doubt about a limit is
read off the tail without a march.

The doubt is kept as a doubt about the load: what one deviation does to its mean, and by how much its fluctuation
about the mean grows. What that does to odds is a matter of each setting's own mean and rates (`evidence.all_told`).
A working limit is a line drawn, not a strength: a doubt about it counts only where the boat file says that it is where
the foil is damaged or breaks.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from seaload.evidence.all_told import Lean, known_range, odds_all_told, odds_bound, worst_share
from seaload.evidence.load_change import common_loads
from seaload.evidence.verdict import WEAR, rates_of_odds
from seaload.sailing.sail_cases import sail_together

ROW = (1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1)  # first row of the 12-run design, Plackett & Burman 1946
REALISATIONS = 16
MARCHED = {
    "lift_slope": "lift_slope_factor",
    "sway_following": "sway_following_factor",
    "yaw_fluctuation": "leeway_shift",
    "cavitation_limit": "cavitation_factor",
    "rake_zero": "rake_zero_shift",
    "roll_inertia": "roll_inertia_factor",
    "forecast_hs": "hs_factor",
    "forecast_tp": "tp_factor",
    "forecast_heading": "heading_shift",
}
LIMITS = {"limit_normal": "normal", "limit_reverse": "reverse"}
SIDES = ("reverse", "normal")
STRENGTHS = ("first damage", "break")  # bases of a limit that make it a strength
WORST_ODDS = {"median": 0.5, "one_in_twenty": 0.05}  # of passing the worst load that is told


@dataclass(frozen=True)
class Doubt:
    """What the uncertain inputs do to the load in one sea, per deviation of each; arrays (names,) of each side."""

    names: tuple
    shifts: dict  # {side: change of the mean load [share of the limit]}
    growths: dict  # {side: change of ln(fluctuation about the mean) [-]}
    pivot_mean: dict  # {side: mean load of the setting the ensemble was sailed with [share of the limit]}
    wear: float = 0.0  # standard deviation of ln(wear)

    def effects(self, side, mean=None):
        """Change of the load that comes as often as the limit [share of the limit], (names,).

        mean : mean load of a setting [share of the limit]; of the ensemble's own setting unless given.
        """
        mean = self.pivot_mean[side] if mean is None else mean
        return np.asarray(self.shifts[side]) + np.asarray(self.growths[side]) * (1.0 - mean)

    def load_spread(self, side, mean=None):
        """Standard deviation of that load [share of the limit]; `mean` as in `effects`."""
        return float(np.sqrt(np.sum(np.square(self.effects(side, mean)))))

    def shares(self, side):
        """Share of each input in the squared spread, (names,) [-]."""
        squared = np.square(self.effects(side))
        return squared / max(float(np.sum(squared)), 1e-300)

    def lean(self, side, mean):
        """`Lean` of a setting whose mean load is `mean` [share of the limit]."""
        return Lean(mean, np.asarray(self.shifts[side], dtype=float), np.asarray(self.growths[side], dtype=float))

    def odds(self, side, sampled, risk, level=1.0):
        """(odds, low, high) to judge a setting by, from its `Sampled`, of passing `level` of the limit in the exposure.

        All told, or the crew's bound where `risk` says so; (1, 0, 1) where nothing was sailed.
        """
        curve = sampled.curves[side]
        if curve is None:
            return 1.0, 0.0, 1.0
        lean = self.lean(side, sampled.means[side])
        if risk.confidence:
            return odds_bound(curve, lean, risk.exposure, risk.confidence, level)
        return odds_all_told(curve, lean, risk.exposure, level)

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
        return odds_all_told(sampled.curves[side], self.lean(side, sampled.means[side]), risk.exposure)

    def worst(self, side, sampled, risk):
        """{name of WORST_ODDS: (share of the limit that the worst load passes with those odds, low, high)}, all told.
        """
        curve, lean = sampled.curves[side], self.lean(side, sampled.means[side])
        if curve is None:
            return {name: (np.nan, np.nan, np.nan) for name in WORST_ODDS}
        return {
            name: tuple(worst_share(curve, lean, risk.exposure, odds, end) for end in ("middle", "low", "high"))
            for name, odds in WORST_ODDS.items()
        }

    def known(self, side, sampled, risk):
        """[(low, high)] of the odds all told once each input is known."""
        curve, lean = sampled.curves[side], self.lean(side, sampled.means[side])
        return [known_range(curve, lean, risk.exposure, i) for i in range(len(self.names))]

    @property
    def measure_first(self):
        """The input, not of the forecast, that holds most of the reverse spread; empty when none does."""
        own = [(share, name) for name, share in zip(self.names, self.shares("reverse"), strict=True)
               if not name.startswith("forecast_")]  # fmt: skip
        return max(own)[1] if own and max(own)[0] > 0.0 else ""


def deviation(entry):
    """Standard deviation of an uncertain input [its unit]; of an even spread, half width over root three."""
    return entry.spread if entry.distribution == "normal" else entry.spread / sqrt(3.0)


def design():
    """The 12 x 11 design of +1 and -1."""
    rows = [np.roll(ROW, shift) for shift in range(11)]
    return np.vstack([rows, -np.ones(11, dtype=int)])


def perturbed(entry, sign):
    """Model number of an input one deviation up or down."""
    change = sign * deviation(entry)
    return 1.0 + change if entry.kind == "factor" else change


class Ensemble:
    """The designed runs of one setting in one sea."""

    def __init__(self, sailer, pair):
        self.pair, self.study = pair, sailer.study
        self.strength = self.study.boat.foils[self.study.foil_side].limit_basis in STRENGTHS
        self.entries = [entry for entry in sailer.study.uncertain if entry.name in MARCHED]
        self.others = [entry for entry in sailer.study.uncertain if entry.name not in MARCHED]
        self.signs = design()[:, : len(self.entries)]
        self.runs = [
            sailer.variant(
                {pair: sailer.settings[pair]},
                **{MARCHED[e.name]: perturbed(e, s) for e, s in zip(self.entries, row, strict=True)},
            )
            for row in self.signs
        ]

    def jobs(self):
        """What has to be sailed, for `sail_together`."""
        return [(run, [(*self.pair, r) for r in range(REALISATIONS)]) for run in self.runs]

    def doubt(self):
        """The finished runs as `Doubt`."""
        records = [[run.records[*self.pair, r] for r in range(REALISATIONS)] for run in self.runs]
        names = tuple(entry.name for entry in [*self.entries, *self.others])
        found = {side: self.effects_on(side, records) for side in SIDES}
        shifts, growths, means = ({side: found[side][i] for side in SIDES} for i in range(3))
        return Doubt(names, shifts, growths, means, self.wear_spread(shifts["normal"], growths["normal"]))

    def wear_spread(self, shifts, growths):
        """Standard deviation of ln(wear): swings grow with the fluctuation, wear with their S-N slope.

        A doubt about the normal limit counts as much, for wear is counted in shares of it.
        """
        study = self.study
        limit = [entry.name == "limit_normal" for entry in [*self.entries, *self.others]]
        swing = np.asarray(growths) + np.where(limit, shifts, 0.0)
        return float(study.boat.foils[study.foil_side].fatigue.slope * np.sqrt(np.sum(swing**2)))

    def effects_on(self, side, records):
        """(shifts (names,), growths (names,), mean load) of one side; no effect where there is no tail to read."""
        try:
            loads = common_loads(records, side)
            mean = float(np.mean(loads.mean))
            shifts = self.signs.T @ loads.mean / len(loads.mean)
            growths = self.signs.T @ np.log(loads.fluctuation) / len(loads.mean)
        except ValueError:
            mean, shifts = 0.0, np.zeros(len(self.entries))
            growths = shifts
        more = np.array([self.other_effect(e, side, shifts, growths) for e in self.others]).reshape(-1, 2)
        return np.concatenate([shifts, more[:, 0]]), np.concatenate([growths, more[:, 1]]), mean

    def other_effect(self, entry, side, shifts, growths):
        """(shift, growth) of an input that needs no run of its own."""
        if entry.name in LIMITS:
            return (deviation(entry) if LIMITS[entry.name] == side and self.strength else 0.0), 0.0
        names = [e.name for e in self.entries]
        if entry.name == "second_order_crests" and "forecast_hs" in names:
            height = names.index("forecast_hs")
            ratio = deviation(entry) / deviation(self.entries[height])
            return ratio * shifts[height], ratio * growths[height]
        return 0.0, 0.0


def no_doubt(study):
    """`Doubt` of inputs taken as exact, before the ensemble has been sailed."""
    names = tuple(entry.name for entry in study.uncertain)
    nothing = {side: np.zeros(len(names)) for side in SIDES}
    return Doubt(names, nothing, nothing, dict.fromkeys(SIDES, 0.0))


def sail_ensembles(sailer, pivots):
    """{sea: Doubt} from the ensembles of one setting in each sea; `pivots` is {sea: (setting, sea)}."""
    ensembles = {sea: Ensemble(sailer, pair) for sea, pair in pivots.items()}
    sail_together([job for ensemble in ensembles.values() for job in ensemble.jobs()])
    return {sea: ensemble.doubt() for sea, ensemble in ensembles.items()}
