"""What the boat's own display shows in a sea at the suggested setting, and the reading that says: worse
than assumed.

A reading is the bending moment in the display's scale, averaged as the display does, taken at its rate,
with noise and a zero that may have drifted. The crew looks at the lowest and the highest reading of a few
minutes. The trigger is the rule that soonest tells the assumed sea from one so much higher that the setting
falls outside the levels; how often it calls in seas of another period or angle is told beside it.
"""

from dataclasses import dataclass, field, replace
from math import isfinite, nan

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.basis.units import DEGREE
from seaload.deciding.display import averaged, shown, zero_moment
from seaload.deciding.variants import FRESH
from seaload.evidence.rate_intervals import SIDES, rates_at
from seaload.evidence.trigger_rule import DRIFTS, Rule, Shown, best_rule, called_in, passed_by, set_anew
from seaload.sailing.gust_event import CALM
from seaload.sailing.sail_cases import blocks_of
from seaload.simulation.block import MOMENTS
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of

WINDOW = 300.0  # [s] whose lowest and highest reading are told
REALISATIONS = 32  # twice as many as fit side by side
AGAIN = FRESH + 1000  # number of the first realisation of the waves in which a rule is set anew
WORSE = 1.25  # [-] on Hs where the height that the setting bears is not known
LEAST_WORSE = 1.1
OTHER_SEAS = (  # (name, number of the model, its value)
    ("period 15 % shorter", "tp_factor", 0.85),
    ("period 20 % longer", "tp_factor", 1.2),
    ("waves 20 degrees nearer the beam", "heading_shift", 20.0 * DEGREE),
)
CALM_TIME, CALM_RUN_IN = 20.0, 40.0  # [s] of calm water
TOO_SHORT = 0.7  # [-] of the true reverse pulse: less on the display and the crew does not see it
SILENT = 0.02  # [-] of the normal limit: a station that never moves more reads nothing


@dataclass(frozen=True)
class Readings:
    """What the stations show; arrays (places,) unless said, in the display's scale: plain share, strain or force."""

    mean: np.ndarray
    lowest: np.ndarray  # (3, places) 5 %, 50 % and 95 % of the lowest reading in a window
    highest: np.ndarray  # (3, places)
    attenuation: np.ndarray  # displayed over true reverse pulse
    silent: np.ndarray  # bool
    rule: Rule  # that calls for backing off
    past: tuple  # (rate, low, high) [1/s] of events past either limit in the worse sea
    worse: float  # [-] factor on Hs of the worse sea
    called: dict = field(default_factory=dict)  # {name of another sea: odds [-] that the rule calls in a realisation}
    others: int = 0  # realisations of each of those


class Watch:
    """The marches that the readings of one sea come from: so many realisations as assumed, some seconds of calm water,
    as many in a higher sea once it is known how high; once a rule is found as many again of both, in other waves, and
    half as many in each of the other seas.
    """

    def __init__(self, sailer, answer, realisations=REALISATIONS):
        self.sailer, self.answer, self.pair = sailer, answer, (answer.setting, answer.sea)
        self.cases = [(*self.pair, FRESH + r) for r in range(realisations)]
        self.again = [(*self.pair, AGAIN + r) for r in range(realisations)]
        self.others = min(LANES, realisations)
        self.assumed, self.higher, self.worse = self._begun(sailer), [], nan
        short = replace(sailer.study.sampling, realisation_time=CALM_TIME, run_in=CALM_RUN_IN)
        calm = sailer.variant(hs_factor=CALM).task(self.cases[:1], sampling=short, keep=MOMENTS)
        self.calm = [sailer.crew.submit(calm)]

    def begin_worse(self):
        """Have the higher sea marched: as high as the answer's setting bears, where that is known."""
        bears = self.answer.hs_most
        self.worse = max(bears, LEAST_WORSE) if isfinite(bears) else WORSE
        self.higher = self._begun(self.sailer.variant(hs_factor=self.worse))

    def _begun(self, run, cases=None):
        """Futures of the blocks of a sailer's `cases`, its own unless given."""
        cases = self.cases if cases is None else cases
        return [self.sailer.crew.submit(run.task(block, keep=MOMENTS)) for block in blocks_of(cases)]

    def _seen(self, futures):
        """(what `displayed` gives, finished cases) of a sea, once marched; its futures, which hold long series, go."""
        study, setting = self.sailer.study, self.sailer.settings[self.pair]
        foil, sensors = study.boat.foils[study.foil_side], study.boat.sensors
        normal, reverse, at = self.limits()
        zero = zero_moment(study.boat, foil, setting.extension, at, sensors)
        records = [record for found, _ in self.sailer.blocks.results(futures) for record in found]
        futures.clear()
        true = [
            shown(record.series["bending_moment"] - zero, normal, reverse, sensors, foil.strain_normal)
            for record in records
        ]
        return displayed(true, study.sampling.step, sensors), records

    def limits(self):
        """(normal, reverse [N m], place in the material [m]) of the bearing and the stations, (places,)."""
        study, setting = self.sailer.study, self.sailer.settings[self.pair]
        foil = study.boat.foils[study.foil_side]
        g, places = geometry_of(foil, setting.extension, model_factors(self.sailer.model)), 1 + len(foil.stations)
        return g.normal_limit[:places], g.reverse_limit[:places], g.channel_s[:places]

    def readings(self):
        """`Readings`, once all has been marched."""
        if not self.higher:
            self.begin_worse()
        study, sensors = self.sailer.study, self.sailer.study.boat.sensors
        noise = random_stream(study.sampling.seed, study.seas[self.pair[1]].name, 0, "display")
        assumed, _ = self._seen(self.assumed)
        higher, records = self._seen(self.higher)
        calm, _ = self._seen(self.calm)
        past = tuple(map(sum, zip(*(rates_at(records, side, 1.0) for side in SIDES), strict=True)))
        del records
        normal, reverse, _ = self.limits()
        full = shown(normal, normal, reverse, sensors, study.boat.foils[study.foil_side].strain_normal)
        found = read_off((assumed, higher, calm), sensors, full, noise, past, self.worse)
        rule = self.set_anew(found.rule, calm[0], full, noise)
        return replace(found, rule=rule, called=self.called(rule, full, noise), others=self.others)

    def set_anew(self, rule, calm, full, noise):
        """The `rule` set anew in other waves, which nothing was picked by; itself where there is none.

        calm : readings in calm water (realisations, samples, places); full, noise as in `read_off`.
        """
        if not isfinite(rule.threshold):
            return rule
        sensors = self.sailer.study.boat.sensors
        begun = [self._begun(run, self.again) for run in (self.sailer, self.sailer.variant(hs_factor=self.worse))]
        seen = [noisy(self._seen(futures)[0][0], sensors, full, noise) for futures in begun]
        drift = np.broadcast_to(sensors.zero_drift * full, calm.shape[-1:])
        return set_anew(rule, *seen, noisy(calm, sensors, full, noise), drift)

    def called(self, rule, full, noise):
        """{name of another sea: odds that the rule calls in a realisation}; nan, and no marches, without a rule."""
        called = dict.fromkeys((name for name, *_ in OTHER_SEAS), nan)
        if not isfinite(rule.threshold):
            return called
        study, sensors = self.sailer.study, self.sailer.study.boat.sensors
        to_the_beam = nearer_the_beam(study.seas[self.pair[1]].systems[0].direction)
        begun = {}
        for name, number, value in OTHER_SEAS:
            changed = value * to_the_beam if number == "heading_shift" else value
            begun[name] = self._begun(self.sailer.variant(**{number: changed}), self.cases[: self.others])
        for name, futures in begun.items():
            (values, _, _), _ = self._seen(futures)
            called[name] = called_in(rule, noisy(values, sensors, full, noise), sensors.zero_drift * full)
        return called


def nearer_the_beam(direction):
    """Sign of a change of wave `direction` mu [rad], 0 = following, that brings it nearer to abeam."""
    return float(np.copysign(1.0, direction)) * (-1.0 if abs(direction) > 0.5 * np.pi else 1.0)


def noisy(values, sensors, full, noise):
    """`Shown` of readings (realisations, samples, places) with the display's noise; full, noise as in `read_off`."""
    return Shown(values + full * noise.normal(0.0, sensors.noise, values.shape), sensors.rate)


def displayed(true, step, sensors):
    """(readings (realisations, samples, places), lowest true value, lowest reading (places,)) of `true` series `step`
    apart, as the display averages and takes them; of ended ones no more than of the shortest.
    """
    rows = [averaged(values, step, sensors) for values in true]
    shortest = min(len(values) for values in rows)
    low = np.min([values.min(axis=0) for values in true], axis=0)
    return np.array([values[:shortest] for values in rows]), low, np.min([row.min(axis=0) for row in rows], axis=0)


def read_off(seen, sensors, full, noise, past, worse):
    """`Readings` from what `displayed` gives of the assumed sea, the higher one and calm water.

    full : (places,) or a number, what the display shows at the normal limit; noise : Generator; past, worse as in
    `Readings`.
    """
    values, true_low, shown_low = seen[0]
    mean = values.mean(axis=(0, 1))
    spread = np.ptp(values, axis=1).max(axis=0)
    pulse = np.clip(shown_low / np.minimum(true_low, -1e-12 * full), 0.0, 1.0)
    attenuation = np.where(true_low < -SILENT * full, pulse, np.nan)
    silent = np.maximum(spread, np.abs(mean)) < SILENT * full
    assumed, later, calm = (noisy(rows, sensors, full, noise) for rows, _, _ in seen)
    hidden = np.nan_to_num(attenuation, nan=1.0) < TOO_SHORT
    drift = np.broadcast_to(sensors.zero_drift * full, values.shape[-1:])
    rule = best_rule(assumed, later, calm, drift, {-1: ~silent & ~hidden, 1: ~silent})
    lowest, highest = (window_readings(assumed, side, drift) for side in (-1, 1))
    return Readings(mean, lowest, highest, attenuation, silent, rule, past, worse)


def window_readings(assumed, side, drift):
    """5 %, 50 % and 95 % of the lowest (`side` -1) or highest reading in a window, (3, places), zeros drifted."""
    found = side * passed_by(side * assumed.extremes(side), 1, WINDOW)
    drifted = found.reshape(-1, found.shape[-1]) + DRIFTS[:, None, None] * drift
    return np.quantile(drifted, [0.05, 0.5, 0.95], axis=(0, 1))


def watch_all(sailer, choices):
    """{sea: Watch} of every sea with a setting, begun; empty when the boat file has no sensors."""
    if sailer.study.boat.sensors is None:
        return {}
    return {sea: Watch(sailer, answer) for sea, answer in choices.items() if answer.setting >= 0}
