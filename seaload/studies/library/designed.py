"""Further runs of some seas of a library, over the waves that their points met: what is uncertain, run by run of a
design, and the speed free, which tells what the thrust holds in that sea. Both change so smoothly with setting and sea
that a few seas tell them.
"""

from dataclasses import replace
from math import isnan, nan

from seaload.deciding.library.effects import effects_of, plan_of
from seaload.deciding.library.point import with_runs
from seaload.simulation.layout import LANES
from seaload.studies.attainable_in_sea import REALISATIONS, held_speed

SEAS, EVERY = 8, 3  # so many seas have them: every third one from the first on
MOST = 4  # realisations that they are run over, at most: more settings tell more


class DesignedRuns:
    """The further runs of a round of a library's filling."""

    def __init__(self, sailer, pairs, cases, calm):
        """`pairs` (setting, sea) that have them; `cases` {pair: realisations}; `calm` {pair: speed [m/s] held in calm
        water}.
        """
        self.pairs, self.sailer = list(pairs), sailer
        self.cases = {pair: cases[pair][:MOST] for pair in self.pairs}
        study = sailer.study
        self.plan, self.curve = plan_of(study.uncertain), study.boat.foils[study.foil_side].fatigue
        settings = {pair: sailer.settings[pair] for pair in self.pairs}
        self.runs = [sailer.variant(settings, **changes) for changes in self.plan.changes]
        bases = {pair: replace(setting, speed=float(calm[pair])) for pair, setting in settings.items()
                 if sailer.model.get("surge") != "fixed" and not isnan(calm[pair])}  # fmt: skip
        self.free = sailer.variant(bases, speed="free")

    def jobs(self):
        """What has to be sailed, for `sail_together`."""
        wanted = [(*pair, r) for pair in self.pairs for r in self.cases[pair]]
        free = [(*pair, r) for pair in self.free.settings for r in self.speeds_of(pair)]
        return [*((run, wanted) for run in self.runs), (self.free, free)] if wanted else []

    def speeds_of(self, pair):
        """Realisations with free speed of a pair."""
        first = self.cases[pair][0]
        return range(first, first + REALISATIONS)

    def told(self, pair, point):
        """The `point` of a pair with what its further runs tell, once sailed; as it is where it has none."""
        if pair not in self.pairs:
            return point
        own, *runs = ([each.records[*pair, r] for r in self.cases[pair]] for each in (self.sailer, *self.runs))
        speed = (nan, nan, nan)
        if pair in self.free.settings:
            speed = held_speed([self.free.records[*pair, r] for r in self.speeds_of(pair)])
        return with_runs(point, effects_of(own, runs, self.plan, self.curve), speed)


def settings_at_once(realisations):
    """Settings that fill a block with the runs of a sea of so many `realisations`."""
    return LANES // min(realisations, MOST)


def is_designed(number):
    """Whether the sea of this `number` of a library has further runs."""
    return number % EVERY == 0 and number < SEAS * EVERY
