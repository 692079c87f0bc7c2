"""What the doubt about each input does to the rates: a small designed ensemble for each sea, and the
shares of the spread.

Twelve runs of one setting over the same waves, every uncertain input of the march one deviation up or
down in a Plackett-Burman design (1946): each effect is the mean of six runs less the mean of the other
six, so every run serves every input. Crests act as the height of the waves does; a doubt about a limit is
read off the tail without a march.

The doubt is kept as a doubt about the load at a given rarity, in shares of the limit. How much it widens a rate
is a matter of each setting's own tail: its upper bound is read at a limit lower by 1.645 deviations. A spread
of ln(rate) found at one setting and drawn out over five powers of ten said "almost certain" of settings that
never came near.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from seaload.risk.combine import MEDIAN_OF_NONE
from seaload.studies.log_rate import level_effect, log_rates, tail_loads
from seaload.studies.rate_intervals import common_place, tail_of_places
from seaload.studies.sail_cases import sail_together
from seaload.studies.verdict import DEVIATE

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
    shares: dict  # {side: (names,) share of the squared load spread}
    loads: dict  # {side: (names,) load per deviation [share of the limit] at a given rarity}

    def load_spread(self, side):
        """Standard deviation of the load at a given rarity [share of the limit]."""
        return float(np.sqrt(np.sum(np.square(self.loads[side])))) if len(self.names) else 0.0

    def widening(self, records, sampled):
        """{side: standard deviation of ln(rate) that it comes to for a setting}, from finished cases and their rates.

        Chosen so that the combined upper bound is the sampling bound at a limit lower by DEVIATE load spreads.
        """
        rates, nearer = sampled.rates, {side: DEVIATE * self.load_spread(side) for side in SIDES}
        return {side: log_widening(records, side, rates[side], nearer[side]) for side in SIDES}

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
        loads = {side: self.load_effects(side, records) for side in SIDES}
        squared = {side: loads[side] ** 2 for side in SIDES}
        shares = {side: squared[side] / max(float(np.sum(squared[side])), 1e-300) for side in SIDES}
        return Doubt(names, effects, spread, shares, loads)

    def load_effects(self, side, records):
        """Load per deviation of every input [share of the limit], (names,); zero where there is no tail to read."""
        try:
            levels = tail_loads(common_place(records, side))
        except ValueError:
            return np.array([deviation(e) if LIMITS.get(e.name) == side else 0.0 for e in self.entries + self.others])
        marched = self.signs.T @ levels / len(levels)
        names = [entry.name for entry in self.entries]
        more = []
        for entry in self.others:
            if LIMITS.get(entry.name) == side:
                more.append(deviation(entry))
            elif entry.name == "second_order_crests" and "forecast_hs" in names:
                height = names.index("forecast_hs")
                more.append(marched[height] * deviation(entry) / deviation(self.entries[height]))
            else:
                more.append(0.0)
        return np.concatenate([marched, more])

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
    return Doubt(names, nothing, dict.fromkeys(SIDES, 0.0), nothing, nothing)


def log_widening(records, side, rates, nearer):
    """Standard deviation of ln(rate) that puts the combined upper bound where sampling puts it at a limit `nearer`.

    rates : (rate, low, high) by sampling at the limit itself [1/s]; nearer [share of the limit] >= 0.
    """
    if nearer <= 0.0 or not rates[2] > 0.0 or not np.isfinite(rates[2]):
        return 0.0
    high = max(tail_of_places(records, side, 1.0 - nearer).high, rates[2])
    base = rates[0] if rates[0] > 0.0 else rates[2] * MEDIAN_OF_NONE / -np.log(0.05)
    own, whole = np.log(max(rates[2] / base, 1.0)), np.log(high / base)
    return float(np.sqrt(max(whole**2 - own**2, 0.0)) / DEVIATE)


def sail_ensembles(sailer, pivots):
    """{sea: Doubt} from the ensembles of one setting in each sea; `pivots` is {sea: (setting, sea)}."""
    ensembles = {sea: Ensemble(sailer, pair) for sea, pair in pivots.items()}
    sail_together([job for ensemble in ensembles.values() for job in ensemble.jobs()])
    return {sea: ensemble.doubt() for sea, ensemble in ensembles.items()}
