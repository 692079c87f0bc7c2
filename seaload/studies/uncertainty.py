"""What the doubt about each input does to the rates: a small designed ensemble for each sea, and the
shares of the spread.

Twelve runs of one setting over the same waves, every uncertain input of the march one deviation up or
down in a Plackett-Burman design (1946): each effect is the mean of six runs less the mean of the other
six, so every run serves every input. Crests act as the height of the waves does; a doubt about a limit is
read off the tail without a march.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from seaload.studies.log_rate import level_effect, log_rates
from seaload.studies.rate_intervals import common_place
from seaload.studies.sail_cases import sail_together

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
MOST = 3.0  # [-] largest spread of ln(rate) that is believed


@dataclass(frozen=True)
class Doubt:
    """What the uncertain inputs do in one sea. ln(rate) per deviation of each input."""

    names: tuple
    effects: dict  # {side: (names,)}
    spread: dict  # {side: standard deviation of ln(rate)}
    shares: dict  # {side: (names,) share of the squared spread}

    @property
    def measure_first(self):
        """The input, not of the forecast, that holds most of the reverse spread; empty when none does."""
        own = [(share, name) for name, share in zip(self.names, self.shares["reverse"], strict=True)
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
        self.pair = pair
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
        effects = {side: self.effects_on(side, records) for side in SIDES}
        spread = {side: min(float(np.sqrt(np.sum(effects[side] ** 2))), MOST) for side in SIDES}
        squared = {side: effects[side] ** 2 for side in SIDES}
        shares = {side: squared[side] / max(float(np.sum(squared[side])), 1e-300) for side in SIDES}
        return Doubt(names, effects, spread, shares)

    def effects_on(self, side, records):
        """ln(rate) per deviation of every input, (names,); zero where there is no tail to read."""
        runs = common_place(records, side)
        time = records[0][0].block_time
        try:
            logs = log_rates(runs, time)
            marched = self.signs.T @ logs / len(logs)
            return np.concatenate([marched, [self.other_effect(e, side, runs, time, marched) for e in self.others]])
        except ValueError:
            return np.zeros(len(self.entries) + len(self.others))

    def other_effect(self, entry, side, runs, time, marched):
        """ln(rate) per deviation of an input that needs no run of its own."""
        if entry.name in LIMITS:
            if LIMITS[entry.name] != side:
                return 0.0
            return level_effect(runs, time, deviation(entry))
        names = [e.name for e in self.entries]
        if entry.name == "second_order_crests" and "forecast_hs" in names:
            height = names.index("forecast_hs")
            return marched[height] * deviation(entry) / deviation(self.entries[height])
        return 0.0


def no_doubt(study):
    """`Doubt` of inputs taken as exact, before the ensemble has been sailed."""
    names = tuple(entry.name for entry in study.uncertain)
    nothing = {side: np.zeros(len(names)) for side in SIDES}
    return Doubt(names, nothing, dict.fromkeys(SIDES, 0.0), nothing)


def sail_ensembles(sailer, pivots):
    """{sea: Doubt} from the ensembles of one setting in each sea; `pivots` is {sea: (setting, sea)}."""
    ensembles = {sea: Ensemble(sailer, pair) for sea, pair in pivots.items()}
    sail_together([job for ensemble in ensembles.values() for job in ensemble.jobs()])
    return {sea: ensemble.doubt() for sea, ensemble in ensembles.items()}
