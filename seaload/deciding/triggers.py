"""What the boat's own display shows in a sea at the suggested setting, and the reading that says: worse
than assumed.

A reading is the bending moment in the display's scale, averaged as the display does, taken at its rate,
with noise and a zero that may have drifted. The crew looks at the lowest and the highest reading of a few
minutes. The trigger is the rule that soonest tells the assumed sea from one so much higher that the setting
falls outside the levels.
"""

from dataclasses import dataclass
from math import isfinite

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.deciding.display import averaged, shown, zero_moment
from seaload.deciding.variants import FRESH
from seaload.evidence.rate_intervals import SIDES, rates_at
from seaload.evidence.trigger_rule import BLOCK, Rule, best_rule, passed_by
from seaload.sailing.sail_cases import blocks_of
from seaload.simulation.block import MOMENTS
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of

WINDOW = 300.0  # [s] whose lowest and highest reading are told
REALISATIONS = 32  # twice as many as fit side by side
DRIFT_DRAWS = 8
WORSE = 1.25  # [-] on Hs where the height that the setting bears is not known
LEAST_WORSE = 1.1
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


def extremes_of_waves(values, step, pick):
    """Lowest or highest reading of each block of waves, (blocks, places)."""
    length = max(int(round(BLOCK / step)), 1)
    count = max(len(values) // length, 1)
    return np.array([pick(values[i * length : (i + 1) * length], axis=0) for i in range(count)])


class Watch:
    """The marches that the readings of one sea come from: so many realisations as assumed, and as many worse."""

    def __init__(self, sailer, answer, realisations=REALISATIONS):
        self.sailer, self.answer = sailer, answer
        self.pair = (answer.setting, answer.sea)
        bears = answer.hs_most
        self.worse = max(bears, LEAST_WORSE) if isfinite(bears) else WORSE
        runs = (sailer, sailer.variant(hs_factor=self.worse))
        cases = [(*self.pair, FRESH + r) for r in range(realisations)]
        self.futures = [
            [sailer.crew.submit(run.task(block, keep=MOMENTS)) for block in blocks_of(cases)] for run in runs
        ]

    def readings(self):
        """`Readings` of the finished marches."""
        study, setting = self.sailer.study, self.sailer.settings[self.pair]
        foil, sensors = study.boat.foils[study.foil_side], study.boat.sensors
        g = geometry_of(foil, setting.extension, model_factors(self.sailer.model))
        places = 1 + len(foil.stations)
        normal, reverse = g.normal_limit[:places], g.reverse_limit[:places]
        step = study.sampling.step
        noise = random_stream(study.sampling.seed, study.seas[self.pair[1]].name, 0, "display")
        zero = zero_moment(study.boat, foil, setting.extension, g.channel_s[:places], sensors)
        seen = []
        for blocks in self.futures:
            records = [record for found, _ in self.sailer.blocks.results(blocks) for record in found]
            true = [
                shown(record.series["bending_moment"] - zero, normal, reverse, sensors, foil.strain_normal)
                for record in records
            ]
            seen.append([(values, averaged(values, step, sensors)) for values in true])
        full = shown(normal, normal, reverse, sensors, foil.strain_normal)
        past = tuple(map(sum, zip(*(rates_at(records, side, 1.0) for side in SIDES), strict=True)))  # of the worse sea
        return read_off(seen, sensors, full, noise, past, self.worse)


def read_off(seen, sensors, full, noise, past, worse):
    """`Readings` from (true, displayed) series of the assumed sea and of the worse one.

    full : (places,) or a number, what the display shows at the normal limit; noise : Generator; past, worse as in
    `Readings`.
    """
    true, displayed = zip(*seen[0], strict=True)
    mean = np.mean([values.mean(axis=0) for values in displayed], axis=0)
    true_low = np.min([values.min(axis=0) for values in true], axis=0)
    shown_low = np.min([values.min(axis=0) for values in displayed], axis=0)
    spread = np.max([values.max(axis=0) - values.min(axis=0) for values in displayed], axis=0)
    pulse = np.clip(shown_low / np.minimum(true_low, -1e-12 * full), 0.0, 1.0)
    attenuation = np.where(true_low < -SILENT * full, pulse, np.nan)
    silent = np.maximum(spread, np.abs(mean)) < SILENT * full
    assumed, later = ({side: drifted(rows, pick, sensors, full, noise) for side, pick in ((-1, np.min), (1, np.max))}
                      for rows in seen)  # fmt: skip
    hidden = np.nan_to_num(attenuation, nan=1.0) < TOO_SHORT
    rule = best_rule(assumed, later, {-1: ~silent & ~hidden, 1: ~silent})
    lowest, highest = (
        np.quantile(side * passed_by(side * assumed[side], 1, WINDOW), [0.05, 0.5, 0.95], axis=(0, 1, 2))
        for side in (-1, 1)
    )
    return Readings(mean, lowest, highest, attenuation, silent, rule, past, worse)


def drifted(rows, pick, sensors, full, noise):
    """Block extremes of all realisations with noise and drawn zero drifts, (draws, realisations, blocks, places)."""
    found = []
    for _, values in rows:
        noisy = values + full * noise.normal(0.0, sensors.noise, values.shape)
        found.append(extremes_of_waves(noisy, 1.0 / sensors.rate, pick))
    extremes = np.array(found)
    shape = (DRIFT_DRAWS, len(found), 1, extremes.shape[-1])
    return extremes[None] + noise.uniform(-1.0, 1.0, shape) * sensors.zero_drift * full


def watch_all(sailer, choices):
    """{sea: Watch} of every sea with a setting, marches begun; empty when the boat file has no sensors."""
    if sailer.study.boat.sensors is None:
        return {}
    return {sea: Watch(sailer, answer) for sea, answer in choices.items() if answer.setting >= 0}
