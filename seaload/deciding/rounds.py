"""Sampling with a purpose: rounds of realisations, each decided from complete rounds before it, in case
order.

A setting gets more sea only while that can still change its answer: not once it is decided, not when what is left of
the budget will hardly decide it, and not where what is uncertain is not known and it is hardly outside. The map answers
for every setting, so a faster one that is within ends nothing; only the usual hours of a setting that is itself within
are left out where enough others are.

An interval that is looked at round after round falls below the limit by luck more often than one look
says. Measured on known tails just above the limit, 9 to 120 realisations: never with an exponential tail,
17 % of trials with a heavier one (Pareto, shape 0.1). So the suggestion is tested once more, on waves
that no round has seen.
"""

from dataclasses import dataclass, field
from math import ceil, floor, isnan

from seaload.basis.units import KNOT
from seaload.deciding.uncertainty import no_doubt, sail_ensembles
from seaload.evidence.common_shape import common_shape
from seaload.evidence.verdict import SIDES, UNDECIDED, WITHIN, judge, sampled_rates

FIRST = 5  # realisations of the first round, the fewest that a tail is fitted to
GROWTH = 1.5  # of the number of realisations from round to round
RIVALS = 4  # settings within, none of them slower: as many as a suggestion is looked for among
NEAREST = 3  # extensions a sea that may decide: what is uncertain is sailed at the shortest and the longest of them
HOPELESS = 0.2  # [-] chance that the whole budget decides it: below, a setting gets no more sea


@dataclass
class State:
    """Where the study stands after a round."""

    counts: dict  # {pair: realisations}
    doubts: dict = field(default_factory=dict)  # {sea: Doubt, or ByExtension}
    extensions: dict = field(default_factory=dict)  # {pair: extension [-]}
    verdicts: dict = field(default_factory=dict)  # {pair: Verdict}
    sampled: dict = field(default_factory=dict)  # {(pair, realisations): Sampled}
    stopped: dict = field(default_factory=dict)  # {pair: why no more sea}
    shapes: dict = field(default_factory=dict)  # {(sea, side): CommonShape}
    worsts: dict = field(default_factory=dict)  # {(pair, realisations): {side: worst loads to expect}}
    priors: dict = field(default_factory=dict)  # {pair: {side: prior of its tail's shape from the other settings}}

    def sample(self, pair, records, risk):
        """`Sampled` of finished cases of a pair, whatever waves they met, with what the others tell of its tail."""
        return sampled_rates(records, risk, self.priors.get(pair))

    def worst(self, pair, risk):
        """{side: what `Doubt.worst` tells} of a pair, from all cases that it was judged on; worked out once."""
        known = pair, self.counts[pair]
        if known not in self.worsts:
            sampled, doubt = self.sampled[known], self.doubt(pair)
            self.worsts[known] = {side: doubt.worst(side, sampled, risk) for side in SIDES}
        return self.worsts[known]

    def share_shapes(self, sailer, pairs, count):
        """Have the settings of each sea share what their first `count` realisations tell of their tails' shape."""
        for sea in sorted({j for _, j in pairs}):
            mine = [pair for pair in pairs if pair[1] == sea]
            runs = [[sailer.records[*pair, r] for r in range(count)] for pair in mine]
            for side in SIDES:
                found = self.shapes[sea, side] = common_shape(runs, side)
                for pair, prior in zip(mine, found.priors, strict=True):
                    self.priors.setdefault(pair, {})[side] = prior

    def doubt(self, pair):
        """`Doubt` of one setting in one sea."""
        return self.doubts[pair[1]].at(self.extensions.get(pair))


def speed_rank(study, settings, speeds, pair):
    """What is faster: the speed set, then the whole knots the setting could hold. Higher is faster.

    Of settings alike in both, less risk goes before a tenth of a knot in hand.
    """
    attainable = speeds[pair]
    return round(settings[pair].speed, 6), -1.0 if isnan(attainable) else floor(attainable / KNOT + 1e-6)


def pivots_of(verdicts, extensions, sea):
    """The settings of a sea to sail what is uncertain with: of each extension the one whose upper bound is nearest to
    the accepted rate, of those the nearest few, and of these the shortest and the longest extension. The others decide
    nothing, or lie between: a straight line there moves ln(odds) by 0.06 to 0.3 (root mean square over the settings of
    a map's seas and sides; 1.7 in one of six, where half of the realisations in the middle move them as much).

    verdicts : {pair: Verdict}, extensions : {pair: extension [-]}.
    """
    mine = sorted(pair for pair in verdicts if pair[1] == sea)
    nearest = {}
    for pair in sorted(mine, key=lambda pair: nearness(verdicts[pair])):
        nearest.setdefault(extensions[pair], pair)
    few = sorted(list(nearest)[:NEAREST])
    return sorted({nearest[few[0]], nearest[few[-1]]}) if few else []


def nearness(verdict):
    """How far the estimate with its bound lies from the accepted rate, either way, as a factor >= 1."""
    excess = verdict.excess()
    return max(excess, 1.0 / excess) if excess > 0.0 else float("inf")


def most_realisations(sampling):
    """The budget of one setting in one sea."""
    return max(sampling.realisations, sampling.most_realisations)


def first_round(sampling):
    """Realisations that every setting is sailed for before anything is decided."""
    return min(FIRST, sampling.realisations) if sampling.precision > 0.0 else sampling.realisations


def whole(study, states):
    """One `State` of those of single seas."""
    found = State({}, {sea: no_doubt(study) for sea in range(len(study.seas))})
    for state in states:
        for name, part in vars(state).items():
            of = getattr(found, name)
            of.update(part if name != "doubts" else {sea: part[sea] for _, sea in state.counts})
    return found


def sail_rounds(sailer, pairs, rank):
    """`State` after all rounds. pairs : (setting, sea) that can be sailed; rank : {pair: sortable speed}."""
    study = sailer.study
    base, most = study.sampling.realisations, most_realisations(study.sampling)
    first = first_round(study.sampling)
    state = State({pair: first for pair in pairs})
    state.extensions = {pair: sailer.settings[pair].extension for pair in pairs}
    sailer.sail([(*pair, r) for pair in pairs for r in range(first)])
    state.share_shapes(sailer, pairs, first)
    state.doubts = {sea: no_doubt(study) for sea in range(len(study.seas))}
    judge_all(sailer, state, pairs)
    pivots = {sea: pivots_of(state.verdicts, state.extensions, sea) for sea in sorted({j for _, j in pairs})}
    state.doubts.update(sail_ensembles(sailer, pivots))
    judge_all(sailer, state, pairs)
    while most > first or study.sampling.precision > 0.0:
        wanted = next_round(state, pairs, rank, base, most, study.sampling)
        if not wanted:
            break
        sailer.sail([(*pair, r) for pair, count in wanted.items() for r in range(count)])
        state.counts.update(wanted)
        judge_all(sailer, state, list(wanted))
    return state


def judge_all(sailer, state, pairs):
    """Judge every pair on all its cases."""
    for pair in pairs:
        known = pair, state.counts[pair]
        if known not in state.sampled:
            records = [sailer.records[*pair, r] for r in range(state.counts[pair])]
            state.sampled[known] = state.sample(pair, records, sailer.study.risk)
        sampled = state.sampled[known]
        state.verdicts[pair] = judge(sampled, state.doubt(pair).told(sampled, sailer.study.risk), sailer.study.risk)


def next_round(state, pairs, rank, base, most, sampling):
    """{pair: realisations} for the next round, in case order; empty when no more sea helps."""
    wanted, state.stopped = {}, {}
    for pair in sorted(pairs):
        why = why_no_more(state, pair, rank, base, most, sampling)
        if why:
            state.stopped[pair] = why
        else:
            count = state.counts[pair]
            wanted[pair] = min(most, max(base if count < base else 0, ceil(GROWTH * count)))
    return wanted


def why_no_more(state, pair, rank, base, most, sampling):
    """Why a setting gets no more sea, or an empty text."""
    verdict, count = state.verdicts[pair], state.counts[pair]
    if verdict.decision == WITHIN and count < base and not enough_within(state, pair, rank):
        return ""
    if verdict.decision != UNDECIDED:
        return "decided"
    if count >= most:
        return "budget spent"
    if count < base:
        return ""
    rate, low, high = verdict.sampling_rates["reverse"]
    if sampling.precision > 0.0 and rate > 0.0 and 0.5 * (high - low) <= sampling.precision * rate:
        return "precision reached"
    budget = most * sampling.realisation_time
    if state.doubt(pair).blind and verdict.chance_outside(budget) < HOPELESS:
        return "what is uncertain is not known"
    if verdict.chance(budget) < HOPELESS:
        return "too close for the budget"
    return ""


def enough_within(state, pair, rank):
    """Whether as many other settings of the sea as a suggestion is looked for among are within and none slower."""
    rivals = [p for p in rank if p[1] == pair[1] and p != pair and rank[p] >= rank[pair]]
    return sum(state.verdicts[p].decision == WITHIN for p in rivals) >= RIVALS
