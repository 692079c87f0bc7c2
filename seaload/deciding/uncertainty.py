"""What the doubt about each input does to the rates: a small designed ensemble for each sea, and the
shares of the spread.

Twelve runs of one setting over the same waves, every uncertain input of the march one deviation up or
down in a Plackett-Burman design (1946): each effect is the mean of six runs less the mean of the other
six, so every run serves every input. Crests act as the height of the waves does; a doubt about a limit is
read off the tail without a march.

The doubt is kept as a doubt about the load: what one deviation does to its mean, and by how much its fluctuation
about the mean grows. How much it widens a rate is a matter of each setting's own mean and tail: its upper bound is
read at a limit lower by 1.645 deviations. A spread of ln(rate) found at one setting and drawn out over five powers
of ten said "almost certain" of settings that never came near.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from seaload.evidence.load_change import common_loads
from seaload.evidence.rate_intervals import common_place, mean_share, rates_at, tail_of_places
from seaload.evidence.verdict import DEVIATE, WEAR
from seaload.risk.combine import MEDIAN_OF_NONE, combined_interval
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

    def widening(self, records, sampled):
        """{side: standard deviation of ln(rate) that it comes to for a setting}, from finished cases and their rates.

        Chosen so that the combined upper bound is the sampling bound at a limit lower by DEVIATE load spreads.
        """
        found = {WEAR: self.wear}
        for side in SIDES:
            nearer = DEVIATE * self.load_spread(side, worst_mean(records, side))
            found[side] = log_widening(records, side, sampled.rates[side], nearer)
        return found

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
            return (deviation(entry) if LIMITS[entry.name] == side else 0.0), 0.0
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


def worst_mean(records, side):
    """Mean load of a setting at the place likeliest to pass its limit [share of the limit]."""
    return mean_share(records, side, common_place([records], side)[0])


def log_widening(records, side, rates, nearer, level=1.0):
    """Standard deviation of ln(rate) that puts the combined upper bound where sampling puts it at a limit `nearer`.

    rates : (rate, low, high) by sampling at `level` of the limit [1/s]; nearer [share of the limit] >= 0.
    """
    if nearer <= 0.0 or not rates[2] > 0.0 or not np.isfinite(rates[2]):
        return 0.0
    high = max(tail_of_places(records, side, level - nearer).high, rates[2])
    base = rates[0] if rates[0] > 0.0 else rates[2] * MEDIAN_OF_NONE / -np.log(0.05)
    own, whole = np.log(max(rates[2] / base, 1.0)), np.log(high / base)
    return float(np.sqrt(max(whole**2 - own**2, 0.0)) / DEVIATE)


def changed_rates(records, side, level, error, doubt):
    """(rate, low, high) [1/s] with everything uncertain, of a setting after a change.

    records : finished cases of the setting as it is; level, error : load that comes as often as the limit after the
    change, and its standard error [share of the limit], see `load_change`. The error counts as one more doubt.
    """
    rates = rates_at(records, side, level)
    spread = np.hypot(doubt.load_spread(side, worst_mean(records, side)), error)
    return rates[0], *combined_interval(*rates, log_widening(records, side, rates, DEVIATE * spread, level))


def sail_ensembles(sailer, pivots):
    """{sea: Doubt} from the ensembles of one setting in each sea; `pivots` is {sea: (setting, sea)}."""
    ensembles = {sea: Ensemble(sailer, pair) for sea, pair in pivots.items()}
    sail_together([job for ensemble in ensembles.values() for job in ensemble.jobs()])
    return {sea: ensemble.doubt() for sea, ensemble in ensembles.items()}
