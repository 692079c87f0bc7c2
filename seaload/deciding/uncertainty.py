"""What the doubt about each input does to the loads: a small designed ensemble for each sea and extension.

Every uncertain input of the march is one deviation up or down in the runs of a Plackett-Burman design (1946), all over
the same waves: each effect is the mean of half of the runs less the mean of the other half, so every run serves every
input. Height and period of the sea act by a bent line, and the odds hang on its outer part: they have runs of their
own, one and two deviations either way, with all else as it is. A sea steeper than the stated limit of validity, or one
in which a case came to its end, tells nothing: what it would do is told by the step before it, and said. Crests act as
the height of the waves does; a doubt about a limit needs no run.

How the hull is damped and how the waves push it decide how she goes with a wave, and one way off can move the foil far
more than the other. A design sees half the difference of the two ways, and would miss what both have in common: both
inputs have runs one deviation either way as well, and straight on beyond.

A working limit is a line drawn, not a strength: a doubt about it counts only where the boat file says that it is where
the foil is damaged or breaks.
"""

from itertools import chain
from math import exp

import numpy as np

from seaload.basis.records import ENDED_EARLY
from seaload.deciding.designed_runs import MARCHED, ULTIMATES, design, deviation, perturbed, ultimate_effect
from seaload.deciding.doubt import SIDES, ByExtension, Doubt
from seaload.evidence.bend import NODES, Bend, extended
from seaload.evidence.load_change import common_loads
from seaload.evidence.rate_intervals import worst_wear
from seaload.sailing.sail_cases import sail_together
from seaload.simulation.layout import LANES
from seaload.waves.bulk import deep_wavelength

REALISATIONS = 8  # of two settings as many as fit side by side
HALVED = 2  # shorter realisations in place of one where those of a single setting would fill half a block
BENT = {"forecast_hs": "hs_factor", "forecast_tp": "tp_factor"}
STEPPED = ("hull_damping", "hull_wave_force")  # inputs that have runs of their own beside the design
STEPS = (1, 3)  # of the NODES
LIMITS = {"limit_normal": "normal", "limit_reverse": "reverse"}
STRENGTHS = ("first damage", "break")  # bases of a limit that make it a strength


def inputs_of(study, sea):
    """The uncertain inputs of a `study` in one `sea` (record): its own lead time tells how far off its forecast is."""
    own = {entry.name: entry for entry in sea.forecast}
    return tuple(own.get(entry.name, entry) for entry in study.uncertain)


def sorted_inputs(inputs):
    """(inputs of the designed runs, those with runs of their own, those without a run), each a list."""
    return (
        [entry for entry in inputs if entry.name in MARCHED],
        [entry for name in BENT for entry in inputs if entry.name == name],
        [entry for entry in inputs if entry.name not in MARCHED and entry.name not in BENT],
    )


def of_forecast(entry, deviations):
    """Factor on the forecast's height or period so many `deviations` off [-]: log-normal, so never below nothing."""
    return exp(deviations * deviation(entry))

LEAST_COMPLETE = 0.75  # [-] of the realisations, that each run of a design has to sail to their end
LEAST_STEP = 0.5  # [-] the same of a step: it stands for itself alone, a row of the design for every input
BLIND = "cases ended early among those that tell what is uncertain: no odds are sure"
NO_TAIL = "too few peaks to tell by what the inputs do: counted as nothing, so the odds are of the waves alone"


class Ensemble:
    """The designed runs of one setting in one sea, over `count` realisations; `stepped` inputs have more runs."""

    def __init__(self, sailer, pair, count=None, stepped=STEPPED):
        self.sailer, self.pair, self.study = sailer, pair, sailer.study
        self.count = REALISATIONS if count is None else count
        self.sea = self.study.seas[pair[1]]
        self.foil = self.study.boat.foils[self.study.foil_side]
        self.entries, self.bent, self.others = sorted_inputs(inputs_of(self.study, self.sea))
        self.as_it_is = self.variant({})  # of its own: more realisations than the rounds judge it by
        self.signs = design(len(self.entries)) if self.entries else np.zeros((0, 0))
        self.runs = [
            self.variant({MARCHED[e.name]: perturbed(e, s) for e, s in zip(self.entries, row, strict=True)})
            for row in self.signs
        ]
        self.nodes = {
            (entry.name, node): self.variant({BENT[entry.name]: of_forecast(entry, NODES[node])})
            for entry in self.bent for node in (0, 1, 3, 4) if not self.too_steep(entry, node)
        }  # fmt: skip
        self.stepped = tuple(e for e in self.entries if e.name in stepped and deviation(e) > 0.0)
        self.steps = {
            (entry.name, node): self.variant({MARCHED[entry.name]: perturbed(entry, NODES[node])})
            for entry in self.stepped for node in STEPS
        }  # fmt: skip

    def variant(self, changes):
        """A sailer of the setting with those numbers of the model."""
        return self.sailer.variant({self.pair: self.sailer.settings[self.pair]}, **changes)

    def too_steep(self, entry, node):
        """Whether the sea at a node is steeper than the limit of validity, and than the sea as it is."""
        factors = {name: of_forecast(entry, NODES[node]) if entry.name == name else 1.0 for name in BENT}
        steepness = self.sea.hs / deep_wavelength(self.sea.tp)
        limit = max(self.study.boat.limits_of_validity.steepness, steepness)
        return steepness * factors["forecast_hs"] / factors["forecast_tp"] ** 2 > limit * (1.0 + 1e-9)

    @property
    def extension(self):
        """Extension of the setting [-]."""
        return self.sailer.settings[self.pair].extension

    def jobs(self):
        """What has to be sailed, for `sail_together`."""
        wanted = [(*self.pair, r) for r in range(self.count)]
        return [(each, wanted) for each in (self.as_it_is, *self.runs, *self.nodes.values(), *self.steps.values())]

    def records_of(self, sailer, realisations=None):
        """The finished cases of one run, of some `realisations` (all unless said)."""
        return [sailer.records[*self.pair, r] for r in (range(self.count) if realisations is None else realisations)]

    def run_of(self, key):
        """The run of a `key`: the number of a row of the design, or (name, node)."""
        return (self.nodes | self.steps)[key] if isinstance(key, tuple) else self.runs[key]

    def complete(self, *sailers):
        """Realisations that the setting as it is and these runs sailed to their end."""
        sailed = [self.records_of(each) for each in (self.as_it_is, *sailers)]
        return tuple(r for r in range(self.count) if not any(records[r].status in ENDED_EARLY for records in sailed))

    def through(self):
        """({run: realisations that tell it}, blind): each run by those that it and the setting as it is sailed to their
        end, a node of height or period by all or not at all; blind where a run of the design or a step has too few.
        """
        own, every = self.complete(), tuple(range(self.count))
        found = {key: self.complete(run) for key, run in [*enumerate(self.runs), *self.steps.items()]}
        rows = [len(own), *(len(found[row]) for row in range(len(self.runs)))]
        steps = [len(found[key]) for key in self.steps]
        blind = min(rows) < LEAST_COMPLETE * self.count or min(steps, default=self.count) < LEAST_STEP * self.count
        if blind:
            own, found = every, dict.fromkeys(found, every)
        ended = lambda run: any(record.status in ENDED_EARLY for record in self.records_of(run, own))  # noqa: E731
        return found | {key: own for key, run in self.nodes.items() if not ended(run)}, blind

    def doubt(self):
        """The finished runs as `Doubt`: each run against the setting as it is over the realisations that both sailed to
        their end. Where those are too few, what is uncertain is not known.
        """
        told, blind = self.through()
        names = tuple(entry.name for entry in [*self.entries, *self.bent, *self.others])
        read = {side: self.loads_on(side, told) for side in SIDES}
        untailed = not all(tail for *_, tail in read.values())
        shifts, growths = ({side: self.column(read[side][kind]) for side in SIDES} for kind in (0, 1))
        for side in SIDES:
            shifts[side] = np.append(shifts[side], [self.own_shift(entry, side) for entry in self.others])
            growths[side] = np.append(growths[side], np.zeros(len(self.others)))
        bends = {side: self.bends_of(*read[side][:2]) for side in SIDES}
        steps = {side: self.steps_of(*read[side][:2]) for side in SIDES}
        wears = self.column(self.wears_of(told))
        own = self.records_of(self.as_it_is, self.complete() or None)
        wears = np.append(wears, [self.own_wear(entry, own, shifts) for entry in self.others])
        for column in (*shifts.values(), *growths.values(), wears):
            crests_as_height(names, column, [*self.bent, *self.others])
        means = {side: read[side][2] for side in SIDES}
        read_alone = [*range(len(self.runs)), *self.steps]
        left_out = sum(self.count - len(told[key]) for key in read_alone)
        return Doubt(
            names, shifts, growths, means, bends, self.study.hs_tp_correlation, tuple(wears),
            self.untold(told) + ((BLIND,) if blind else fewer(left_out, self.count * len(read_alone)))
            + untailed * (NO_TAIL,), blind, steps,
        )  # fmt: skip

    def side_by_side(self, told):
        """[(runs, [finished cases of the setting as it is, of each of them])] of runs that the same realisations tell,
        the most first.
        """
        together = {}
        for key, realisations in told.items():
            together.setdefault(realisations, []).append(key)
        return [
            (keys, [self.records_of(each, known) for each in (self.as_it_is, *map(self.run_of, keys))])
            for known, keys in sorted(together.items(), key=lambda row: -len(row[0]))
        ]

    def loads_on(self, side, told):
        """(means, ln(fluctuations), mean as it is, whether that is known) of one side: {run: number less that of the
        setting as it is}, runs as in `told`. Nothing is known where no tail can be read.
        """
        means, growths, own = dict.fromkeys(told, 0.0), dict.fromkeys(told, 0.0), None
        for keys, groups in self.side_by_side(told):
            try:
                loads = common_loads(groups, side)
            except ValueError:
                return dict.fromkeys(told, 0.0), dict.fromkeys(told, 0.0), 0.0, False
            fluctuation = np.log(loads.fluctuation)
            means.update(zip(keys, loads.mean[1:] - loads.mean[0], strict=True))
            growths.update(zip(keys, fluctuation[1:] - fluctuation[0], strict=True))
            own = float(loads.mean[0]) if own is None else own
        return means, growths, own or 0.0, True

    def wears_of(self, told):
        """{run: ln(wear at the worst place) less that of the setting as it is}; nothing where any run wears nothing."""
        found = {}
        for keys, groups in self.side_by_side(told):
            wears = np.array([np.sum(worst_wear(records)) for records in groups])
            if not np.all(wears > 0.0):
                return dict.fromkeys(told, 0.0)
            found.update(zip(keys, np.log(wears[1:] / wears[0]), strict=True))
        return found

    def column(self, changes):
        """Change by one deviation of each input that has runs, (names,), from {run: change}."""
        rows = np.array([changes[row] for row in range(len(self.runs))])
        marched = self.signs.T @ rows / max(len(rows), 1)
        slope = lambda entry: 0.5 * float(np.diff(self.table(entry, changes)[[1, 3]])[0])  # noqa: E731
        return np.array([*marched, *map(slope, self.bent)])

    def table(self, entry, changes):
        """Change at each of the NODES, (5,), of an input with runs of its own; what was not run as the step before."""
        found = np.array([changes.get((entry.name, node), np.nan) for node in range(len(NODES))])
        return extended(found, np.isfinite(found))

    def bends_of(self, shifts, growths):
        """`Bend`s of height and period from {run: change} of mean and ln(fluctuation)."""
        first = len(self.entries)
        return tuple(
            Bend(first + i, self.table(entry, shifts), self.table(entry, growths)) for i, entry in enumerate(self.bent)
        )

    def steps_of(self, shifts, growths):
        """`Bend`s of the inputs with steps, as `bends_of` gives them."""
        return tuple(
            Bend(self.entries.index(entry), self.table(entry, shifts), self.table(entry, growths))
            for entry in self.stepped
        )

    def own_shift(self, entry, side):
        """Change of the load by one deviation of an input without a run: of a limit that is a strength, itself."""
        return deviation(entry) if LIMITS.get(entry.name) == side and self.foil.limit_basis in STRENGTHS else 0.0

    def own_wear(self, entry, records, shifts):
        """Change of ln(wear) by one deviation of an input without a run [-]; wear is counted in shares of the normal
        limit.
        """
        if entry.name == "limit_normal":
            return self.foil.fatigue.slope * self.own_shift(entry, "normal")
        if entry.name in ULTIMATES:
            return ultimate_effect(records, self.foil.fatigue, ULTIMATES[entry.name], deviation(entry))
        return 0.0

    def untold(self, told):
        """Plain words on the seas that tell nothing."""
        steep, ended = [], []
        for entry in self.bent:
            for node in (0, 1, 3, 4):
                if (entry.name, node) not in told:
                    words = f"{'Hs' if entry.name == 'forecast_hs' else 'Tp'} {NODES[node]:+.0f}"
                    (ended if (entry.name, node) in self.nodes else steep).append(words)
        limit = self.study.boat.limits_of_validity.steepness
        found = []
        if steep:
            found.append(f"steeper than 1/{1.0 / limit:.0f}, not simulated: {', '.join(steep)} deviations")
        if ended:
            found.append(f"cases ended early: {', '.join(ended)} deviations")
        return tuple(found)


def crests_as_height(names, column, entries):
    """Fill in what `second_order_crests` changes in a `column` (names,): as the height does, in proportion to their
    deviations; `entries` of them `UncertainInput`s.
    """
    if {"second_order_crests", "forecast_hs"} <= set(names):
        crests, height = names.index("second_order_crests"), names.index("forecast_hs")
        spreads = {entry.name: deviation(entry) for entry in entries}
        if spreads["forecast_hs"] > 0.0:
            column[crests] = column[height] * spreads["second_order_crests"] / spreads["forecast_hs"]


def fewer(left_out, count):
    """Plain words, in a tuple, where so many of `count` cases that tell what is uncertain ended early; else nothing."""
    return (f"{left_out} of {count} cases that tell what is uncertain ended early: left out",) if left_out else ()


def sail_ensembles(sailer, pivots):
    """{sea: `Doubt`, or `ByExtension`} from the ensembles of one setting at each extension; `pivots` is
    {sea: [(setting, sea)]}.
    """
    ensembles = ensembles_of(sailer, pivots)
    sail_together(jobs_of(ensembles))
    return doubts_of(ensembles)


def ensembles_of(sailer, pivots):
    """{sea: [Ensemble of each of its `pivots`, as in `sail_ensembles`]}, yet to be sailed."""
    found = {}
    for sea, pairs in pivots.items():
        own, count = filling(sailer, REALISATIONS) if len(pairs) == 1 else (sailer, REALISATIONS)
        found[sea] = [Ensemble(own, pair, count) for pair in pairs]
    return found


def filling(sailer, count):
    """(sailer, count) of shorter realisations in place of the `count` of one setting, as much sea in less time.

    A block takes as long with half of its lanes; shorter realisations side by side fill it. As they are where even the
    shorter ones would not fit.
    """
    if count * HALVED > LANES:
        return sailer, count
    return sailer.of_length(sailer.study.sampling.realisation_time / HALVED), count * HALVED


def jobs_of(ensembles):
    """What has to be sailed, for `sail_together`; `ensembles` {sea: [Ensemble]}."""
    return [job for mine in ensembles.values() for ensemble in mine for job in ensemble.jobs()]


def doubts_of(ensembles):
    """{sea: `Doubt`, or `ByExtension`} of sailed `ensembles` {sea: [Ensemble]}."""
    found = {}
    for sea, mine in ensembles.items():
        told = sorted(((each.extension, each.doubt()) for each in mine), key=lambda pair: pair[0])
        found[sea] = told[0][1] if len(told) == 1 else ByExtension(*zip(*told, strict=True))
    return found


def no_doubt(study):
    """`Doubt` of inputs taken as exact, before the ensembles have been sailed; in the order of theirs."""
    names = tuple(entry.name for entry in chain(*sorted_inputs(study.uncertain)))
    nothing = {side: np.zeros(len(names)) for side in SIDES}
    return Doubt(names, nothing, nothing, dict.fromkeys(SIDES, 0.0))
