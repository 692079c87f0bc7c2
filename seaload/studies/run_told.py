"""What a run tells beside its own rates: odds with everything uncertain, the worst load to expect, the sea it bears.

The ensemble and the seas that tell what the setting bears are sailed over the same waves, all at once, and what both
need is marched once: in shorter realisations than those of the run, which fill a block.
"""

from seaload.deciding.bearing import borne_sea, nearer_seas, other_seas
from seaload.deciding.choice import SeaChoice
from seaload.deciding.rounds import State
from seaload.deciding.uncertainty import doubts_of, ensembles_of, filling, jobs_of
from seaload.deciding.variants import REALISATIONS, Comparison, compare
from seaload.evidence.verdict import judge, sampled_rates
from seaload.result.assemble_dataset import table_of
from seaload.result.duration_parts import duration_parts
from seaload.result.sweep_parts import borne_parts, doubt_parts, told_row
from seaload.sailing.sail_cases import CaseSailer, sail_together


class Told:
    """Everything uncertain about one setting in each of its seas; `pairs` as a `CaseSailer` has them."""

    def __init__(self, sailer, pairs):
        self.study, self.pairs = sailer.study, sorted(pairs)
        own = CaseSailer(  # cases that the run itself has not asked for stay out of its records
            sailer.study, sailer.settings, sailer.store, sailer.crew, sailer.account, model=sailer.model,
            deepest=sailer.deepest, blocks=sailer.blocks,
        )  # fmt: skip
        ensembles = ensembles_of(own, {pair[1]: [pair] for pair in self.pairs})
        short, count = filling(own, REALISATIONS)
        seas = [
            Comparison(short, pair, other_seas(own.settings[pair], own.study, own.study.seas[pair[1]]), 0, count)
            for pair in self.pairs
        ]
        sail_together([*jobs_of(ensembles), *(job for sea in seas for job in sea.jobs())])
        self.doubts = doubts_of(ensembles)
        effects = {pair: sea.effects() for pair, sea in zip(self.pairs, seas, strict=True)}
        nearer = compare([
            Comparison(short, pair, nearer_seas(self.study, effects[pair], self.study.seas[pair[1]]), 0, count)
            for pair in self.pairs
        ])  # fmt: skip
        self.effects = {pair: effects[pair] | less_far for pair, less_far in zip(self.pairs, nearer, strict=True)}

    def parts(self, records):
        """{name: (dims, values)} for the result, from the run's own finished cases, {(setting, sea, realisation): ...}.
        """
        study, risk = self.study, self.study.risk
        state, choices, rows = State({}, self.doubts), {}, {}
        for pair in self.pairs:
            mine = [record for case, record in sorted(records.items()) if case[:2] == pair]
            state.counts[pair] = len(mine)
            sampled = state.sampled[pair, len(mine)] = sampled_rates(mine, risk)
            doubt = state.doubt(pair)
            verdict, sea = judge(sampled, doubt.told(sampled, risk), risk), study.seas[pair[1]]
            borne = borne_sea(study, verdict, sampled, doubt, self.effects[pair], sea)
            choices[pair[1]] = SeaChoice(pair[1], least_bad=pair[0], borne=borne)
            rows[pair] = told_row(state, pair, risk)
        return {
            **table_of(study, rows), **doubt_parts(study, state, choices), **borne_parts(study, choices),
            **duration_parts(study, state),
        }  # fmt: skip
