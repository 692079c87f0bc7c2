"""What the boat's own display shows in a sea at the suggested setting, and the reading that says: worse
than assumed.

A reading is the bending moment in the display's scale, averaged as the display does, taken at its rate,
with noise and a zero that may have drifted. The crew looks at the lowest and the highest reading of a few
minutes. The trigger is the reading that best tells the assumed sea from one so much higher that the
setting falls outside the levels.
"""

from dataclasses import dataclass
from math import isfinite, isnan

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import foil_geometry
from seaload.studies.variants import FRESH

WINDOW = 300.0  # [s] that a crew looks back over
REALISATIONS = 2
FALSE_ALARM = 0.05  # odds a window that the trigger is set to
DRIFT_DRAWS = 20
WORSE = 1.25  # [-] on Hs where the height that the setting bears is not known
LEAST_WORSE = 1.1
TOO_SHORT = 0.7  # [-] of the true reverse pulse: less on the display and the crew does not see it
SILENT = 0.02  # [-] of the normal limit: a station that never moves more reads nothing


@dataclass(frozen=True)
class Readings:
    """What the stations show; arrays (places,) unless said, in the display's scale as a plain share or
    strain.
    """

    mean: np.ndarray
    lowest: np.ndarray  # (3, places) 5 %, 50 % and 95 % of the lowest reading in a window
    highest: np.ndarray  # (3, places)
    attenuation: np.ndarray  # displayed over true reverse pulse
    silent: np.ndarray  # bool
    place: int  # of the trigger
    side: int  # -1 = lowest reading, +1 = highest
    threshold: float
    false_alarm: float
    missed_alarm: float
    warning: float  # [s] from the trigger to the next reverse event in the worse sea, on average
    worse: float  # [-] factor on Hs of the worse sea


def shown(moment, normal, reverse, sensors, strain_normal):
    """Moments (time, places) [N m] in the scale of the display: shares of a limit, or strain [-]."""
    share = moment / normal
    if sensors.display == "percent_of_own_limit":
        return np.where(moment >= 0.0, share, moment / reverse)
    return share * strain_normal if sensors.display == "microstrain" else share


def averaged(values, step, sensors):
    """Running mean of the display, taken at its rate."""
    width = max(int(round(sensors.running_mean / step)), 1)
    total = np.cumsum(np.vstack([np.zeros(values.shape[1]), values]), axis=0)
    smooth = (total[width:] - total[:-width]) / width
    return smooth[:: max(int(round(1.0 / (sensors.rate * step))), 1)]


def window_extremes(values, step, pick):
    """Lowest or highest value of each window, (windows, places)."""
    length = max(int(round(WINDOW / step)), 1)
    count = max(len(values) // length, 1)
    return np.array([pick(values[i * length : (i + 1) * length], axis=0) for i in range(count)])


class Watch:
    """The marches that the readings of one sea come from: as assumed, and worse."""

    def __init__(self, sailer, answer):
        self.sailer, self.answer = sailer, answer
        self.pair = (answer.setting, answer.sea)
        bears = answer.hs_most
        self.worse = max(bears, LEAST_WORSE) if isfinite(bears) else WORSE
        runs = (sailer, sailer.variant(hs_factor=self.worse))
        self.futures = [
            [
                sailer.crew.submit(run.task([(*self.pair, FRESH + r)], keep=0))
                for r in range(REALISATIONS)
            ]
            for run in runs
        ]

    def readings(self, event_rate):
        """`Readings`; `event_rate` [1/s] of reverse events at the setting in the worse sea."""
        study, setting = self.sailer.study, self.sailer.settings[self.pair]
        foil, sensors = study.boat.foils[study.foil_side], study.boat.sensors
        g = foil_geometry(foil, setting.extension, model_factors(self.sailer.model))
        places = 1 + len(foil.stations)
        normal, reverse = g.normal_limit[:places], g.reverse_limit[:places]
        step = study.sampling.step
        noise = random_stream(study.sampling.seed, study.seas[self.pair[1]].name, 0, "display")
        seen = []
        for group in self.futures:
            rows = []
            for future in group:
                moment = future.result()[0][0].series["bending_moment"]
                true = shown(moment, normal, reverse, sensors, foil.strain_normal)
                rows.append((true, averaged(true, step, sensors)))
            seen.append(rows)
        unit = foil.strain_normal if sensors.display == "microstrain" else 1.0
        return read_off(seen, step, sensors, unit, noise, event_rate, self.worse)


def read_off(seen, step, sensors, unit, noise, event_rate, worse):
    """`Readings` from (true, displayed) series of the assumed sea and of the worse one."""
    slow = 1.0 / sensors.rate
    displayed = [[shown_ for _, shown_ in rows] for rows in seen]
    mean = np.mean([values.mean(axis=0) for values in displayed[0]], axis=0)
    true_low = np.min([true.min(axis=0) for true, _ in seen[0]], axis=0)
    shown_low = np.min([values.min(axis=0) for values in displayed[0]], axis=0)
    spread = np.max([values.max(axis=0) - values.min(axis=0) for values in displayed[0]], axis=0)
    pulse = np.clip(shown_low / np.minimum(true_low, -1e-12), 0.0, 1.0)
    attenuation = np.where(true_low < -SILENT * unit, pulse, np.nan)
    extremes = {side: [drifted(rows, slow, pick, sensors, unit, noise) for rows in displayed]
                for side, pick in ((-1, np.min), (1, np.max))}  # fmt: skip
    silent = np.maximum(spread, np.abs(mean)) < SILENT * unit
    place, side, threshold, false_alarm, missed = best_trigger(extremes, silent, attenuation)
    caught = WINDOW / max(1.0 - missed, 1e-6)
    warning = 1.0 / event_rate - caught if event_rate > 0.0 else np.inf
    levels = [0.05, 0.5, 0.95]
    return Readings(
        mean, np.quantile(extremes[-1][0], levels, axis=0), np.quantile(extremes[1][0], levels, axis=0),
        attenuation, silent, place, side, threshold, false_alarm, missed, float(warning), worse,
    )  # fmt: skip


def drifted(rows, step, pick, sensors, unit, noise):
    """Window extremes of all realisations with noise and drawn zero drifts, (many, places)."""
    found = []
    for values in rows:
        noisy = values + noise.normal(0.0, sensors.noise * unit, values.shape)
        extremes = window_extremes(noisy, step, pick)
        offsets = noise.uniform(-1.0, 1.0, (DRIFT_DRAWS, 1, values.shape[1])) * sensors.zero_drift * unit
        found.append((extremes[None] + offsets).reshape(-1, values.shape[1]))
    return np.concatenate(found)


def best_trigger(extremes, silent, attenuation):
    """(place, side, threshold, false alarm, missed alarm): the reading that misses the worse sea least often.

    Lowest readings count only where the display shows reverse pulses at (nearly) their true size, and the
    bearing (place 0) has no sensor.
    """
    best = (1, 1, np.nan, np.nan, 1.0)
    for side in (-1, 1):
        assumed, worse = extremes[side]
        for place in range(1, assumed.shape[1]):
            hidden = side == -1 and not isnan(attenuation[place]) and attenuation[place] < TOO_SHORT
            if silent[place] or hidden:
                continue
            threshold = float(np.quantile(side * assumed[:, place], 1.0 - FALSE_ALARM)) * side
            alarm = lambda values, p=place, s=side, t=threshold: float(np.mean(s * values[:, p] > s * t))  # noqa: E731
            missed = 1.0 - alarm(worse)
            if missed < best[4]:
                best = (place, side, threshold, alarm(assumed), missed)
    return best


def watch_all(sailer, choices):
    """{sea: Watch} of every sea with a setting, marches begun; empty when the boat file has no sensors."""
    if sailer.study.boat.sensors is None:
        return {}
    return {sea: Watch(sailer, answer) for sea, answer in choices.items() if answer.setting >= 0}
