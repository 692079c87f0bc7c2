"""A sailer without a sea: block extremes of every setting are drawn from a Gumbel distribution that is known.

What moves them moves the mean load by as much, so a change shifts the load and leaves its fluctuation alone.
"""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np

from seaload.basis.records import STATUS_NOT_FINITE
from seaload.sailing.sail_cases import Account

BLOCKS = 120
SCALE = 0.06  # [-] of the limit
PLACES = 6
BELOW = 0.3  # [-] of the limit: the mean load below the location of the extremes


def location_for(rate, block_time=10.0):
    """Location of a Gumbel distribution of block extremes whose events past 1 have this rate [1/s]."""
    return 1.0 + SCALE * np.log(-np.log1p(-rate * block_time))


class FakeSailer:
    """Stands in for `CaseSailer`: `severity(setting, model)` gives the location of its block extremes."""

    def __init__(self, study, settings, make, severity, *, seed=0, model=None, invalid=(), blocks=BLOCKS):
        self.study, self.settings, self.make, self.severity = study, settings, make, severity
        self.seed, self.model, self.invalid, self.blocks = seed, model or {}, set(invalid), blocks
        self.records, self.account, self.asked = {}, Account(), []
        self.crew = SimpleNamespace(submit=lambda task: None)

    def variant(self, settings=None, **changes):
        return type(self)(
            self.study, settings or self.settings, self.make, self.severity,
            seed=self.seed, model={**self.model, **changes}, invalid=(), blocks=self.blocks,
        )  # fmt: skip

    def of_length(self, time):
        share = time / self.study.sampling.realisation_time
        return type(self)(
            replace(self.study, sampling=replace(self.study.sampling, realisation_time=time)), self.settings,
            self.make, self.severity, seed=self.seed, model=self.model, blocks=int(round(share * self.blocks)),
        )  # fmt: skip

    def submit(self, wanted, held=None):
        for case in wanted:
            if case not in self.records:
                self.asked.append(case)
                self.records[case] = self.draw(*case)
        return {}

    def sail(self, wanted):
        self.submit(wanted)

    def draw(self, i, j, r):
        """The same waves for every setting: the draw depends on sea and realisation alone."""
        generator = np.random.default_rng([self.seed, j, r])
        location = self.severity(self.settings[i, j], self.model)
        reverse = location + SCALE * generator.gumbel(size=self.blocks)
        normal = np.full(self.blocks, 0.3) + 0.02 * generator.gumbel(size=self.blocks)
        events = int(np.sum(reverse > 1.0))
        status = STATUS_NOT_FINITE if (i, j, r) in self.invalid else 0
        return self.make(
            duration=10.0 * self.blocks, block_worst_reverse=reverse, block_worst_normal=normal, events_full=events,
            place_block_reverse=np.tile(reverse, (PLACES, 1)), place_block_normal=np.tile(normal, (PLACES, 1)),
            moment_mean=np.full(PLACES, BELOW - location), reverse_limit=np.ones(PLACES),
            normal_limit=np.full(PLACES, 1e30), status=status, speed_mean=self.settings[i, j].speed,
        )  # fmt: skip
