"""The speed that a setting can hold in a sea: a few runs with the speed free, over waves that all settings share.

Each starts at the speed that the thrust holds in calm water, with the thrust it has there; what the waves ask slows it
until thrust and resistance meet again. The runs go through the ordinary sailer and store, so they are kept and reused.
"""

from dataclasses import replace
from math import isnan, nan

import numpy as np

from seaload.basis.records import ENDED_EARLY
from seaload.basis.units import KNOT
from seaload.deciding.known_wind import SPARE
from seaload.evidence.rate_intervals import with_bounds
from seaload.risk.resample import paired_difference_interval
from seaload.sailing.sail_cases import sail_together
from seaload.simulation.layout import LANES
from seaload.studies.attainable import NO_SPEED

REALISATIONS = 3
NAME = "speed_attainable_in_sea"


class FreeRuns:
    """Runs with free speed of the settings of a study that calm water lets sail and whose wind is known.

    Settings that differ in the speed asked for alone share theirs; with surge fixed there are none.
    """

    def __init__(self, sailer):
        """`sailer` a `CaseSailer` of the study."""
        self.sailer, self.none = sailer.variant({}, speed="free"), sailer.model.get("surge") == "fixed"
        self.sailed_as, self._first, self._waiting = {}, {}, {}  # pair: pair, (base, sea): pair, sea: pairs

    def reached(self, pair, setting, calm):
        """A setting can be sailed at the attainable speed `calm` [m/s]; as many as fill a block are begun at once."""
        if self.none or isnan(calm) or pair in self.sailed_as:
            return
        base = replace(setting, speed=float(calm), attainable=False)
        self.sailed_as[pair] = self._first.setdefault((base, pair[1]), pair)
        if self.sailed_as[pair] == pair:
            self.sailer.settings[pair] = base
            some = self._waiting.setdefault(pair[1], [])
            some.append(pair)
            if len(some) == LANES:
                self.sailer.submit(cases_of(self._waiting.pop(pair[1])))

    def jobs(self, settled, parts):
        """What has to be sailed, for `sail_together`.

        `settled` {(setting, sea): Setting} and `parts` as `settle_all` gives them; those reached before count once.
        """
        for pair in sorted(settled):
            if parts["reachable"][1][pair]:
                self.reached(pair, settled[pair], float(parts["speed_attainable"][1][pair]))
        pairs = sorted(self.sailer.settings)
        return [(self.sailer, cases_of(pairs))] if pairs else []

    def speed(self, pair):
        """(speed [m/s], low, high) at 90 % once sailed; nan where a run ended early."""
        records = [self.sailer.records[*self.sailed_as[pair], r] for r in range(REALISATIONS)]
        return held_speed(records)

    def earned(self, settled, parts):
        """(settled, parts) once sailed: attainable speeds are those in the sea, what thrust cannot hold is unreachable.

        Arguments as in `jobs`. A stated speed counts as held up to the upper end of the interval and the usual spare.
        """
        settled, why = dict(settled), parts["unreachable_reason"][1].copy()
        found = with_bounds(NAME, *(np.full(why.shape, nan) for _ in range(3)))
        for pair in self.sailed_as:
            speed, low, high = self.speed(pair)
            for name, value in with_bounds(NAME, speed, low, high).items():
                found[name][pair] = value
            if settled[pair].attainable:
                settled[pair] = replace(settled[pair], speed=speed)
                why[pair] = NO_SPEED if isnan(speed) else why[pair]
            elif settled[pair].speed > high * (1.0 + SPARE):
                why[pair] = f"thrust holds {speed / KNOT:.1f} kn in this sea"
        told = {"reachable": (why == "").astype(np.int8), "unreachable_reason": why, **found}
        return settled, {**parts, **{name: (("setting", "sea"), values) for name, values in told.items()}}


def held_speed(records):
    """(speed [m/s], low, high) at 90 % of runs with free speed; nan where one ended early."""
    if any(record.status in ENDED_EARLY for record in records):
        return nan, nan, nan
    means = np.array([record.speed_mean for record in records])
    return paired_difference_interval(means, np.zeros(len(means)))


def cases_of(pairs):
    """(setting, sea, realisation) numbers of the runs of some pairs."""
    return [(*pair, r) for pair in pairs for r in range(REALISATIONS)]


def earn_speeds(free, settled, parts):
    """(settled, parts) with what the sea leaves of every speed, sailed here; `free` `FreeRuns`, the rest as there."""
    sail_together(free.jobs(settled, parts))
    return free.earned(settled, parts)


def usable_speed(parts, pair):
    """Speed that a pair can hold [m/s], to compare settings by: in the sea, or in calm water where no setting's speed
    in that sea is known; nan where it is not.
    """
    known = np.isfinite(parts[NAME][1][:, pair[1]]).any()
    return float(parts[NAME if known else "speed_attainable"][1][pair])
