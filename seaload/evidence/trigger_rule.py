"""The rule that best tells the sea as assumed from a worse one, by what a crew can see and remember.

A rule is: station X reads past Y, k times or more in W minutes. Y is set so that twenty minutes of the sea as
assumed give a false alarm with the odds allowed, whatever W. The odds of a rule are those of a Y set on one half of
the realisations and met by the other half, either way round, so that no rule is flattered by the waves it was set on.
"""

from dataclasses import dataclass
from math import nan

import numpy as np
from scipy.stats import binomtest

from seaload.risk.poisson import CONFIDENCE

BLOCK = 10.0  # [s] readings closer than this count once: they are of one wave
WINDOWS = (300.0, 600.0, 1200.0)  # [s] looked back over
TIMES = (1, 2, 4, 8)
FALSE_ALARM = 0.05  # odds in one realisation of the sea as assumed
STEADY = 2.0  # [-] times that in waves that a rule was not set on, and it is not picked


@dataclass(frozen=True)
class Rule:
    """One rule with its odds."""

    place: int = 1
    side: int = 1  # -1 = low readings, +1 = high ones
    times: int = 1  # passed so often in the window
    window: float = WINDOWS[0]  # [s]
    threshold: float = nan  # reading, in the display's scale
    false_alarm: float = nan  # odds a realisation of the sea as assumed
    missed_alarm: float = 1.0  # odds a realisation of the worse sea
    span: float = WINDOWS[-1]  # [s] of a realisation
    realisations: int = 0  # of each sea, that the odds are told from

    def bounds(self, name):
        """(low, high) at 90 % of the odds `name` [-], as so many of the realisations (Clopper & Pearson 1934)."""
        if self.realisations == 0:
            return 0.0, 1.0
        called = round(getattr(self, name) * self.realisations)
        return tuple(binomtest(called, self.realisations).proportion_ci(CONFIDENCE))

    @property
    def delay(self):
        """Time until the worse sea is noticed, on average, were every window like every other [s]."""
        return self.window / max(1.0 - self.missed_alarm ** (self.window / self.span), 1e-6)


def passed_by(blocks, times, window):
    """Reading that is passed `times` times in each window, (draws, realisations, windows, places).

    blocks : (draws, realisations, blocks, places) highest reading of each block, the counted side positive. A
    realisation shorter than the window is one window.
    """
    draws, realisations, count, places = blocks.shape
    length = min(max(int(round(window / BLOCK)), 1), count)
    whole = count // length
    windows = blocks[:, :, : whole * length].reshape(draws, realisations, whole, length, places)
    return np.sort(windows, axis=3)[:, :, :, -min(times, length)]


def called_by(blocks, times, window):
    """Reading passed `times` times in the window where it is highest, (draws, realisations, places)."""
    return passed_by(blocks, times, window).max(axis=2)


def level_of(values):
    """Y of each place, (places,), that `values` (draws, realisations, places) pass by the odds allowed."""
    return np.quantile(values.reshape(-1, values.shape[-1]), 1.0 - FALSE_ALARM, axis=0)


def rules_of(assumed, worse, side, usable):
    """Every `Rule` of one side; blocks as in `passed_by`, their own sign."""
    rules, count, span = [], assumed.shape[1], assumed.shape[2] * BLOCK
    halves = slice(0, None, 2), slice(min(1, assumed.shape[1] - 1), None, 2)
    for window in WINDOWS:
        for times in TIMES:
            before, later = (called_by(side * seen, times, window) for seen in (assumed, worse))
            alarms = []
            for ours, others in (halves, halves[::-1]):
                level = level_of(before[:, ours])
                alarms.append([np.mean(seen[:, others] > level, axis=(0, 1)) for seen in (before, later)])
            false, noticed = np.mean(alarms, axis=0)
            level = side * level_of(before)
            rules += [
                Rule(
                    place, side, times, window, float(level[place]),
                    float(false[place]), float(1.0 - noticed[place]), span, count,
                )  # fmt: skip
                for place in range(1, len(level))
                if usable[place]
            ]
    return rules


def best_rule(assumed, worse, usable):
    """The `Rule` that notices the worse sea soonest; without a threshold when no reading can be used.

    assumed, worse : {side: blocks} as in `passed_by`, sides -1 (lowest readings) and +1; usable : {side: (places,)
    bool}. Place 0 is the bearing, which has no sensor.
    """
    rules = [rule for side in (-1, 1) for rule in rules_of(assumed[side], worse[side], side, usable[side])]
    steady = [rule for rule in rules if rule.false_alarm <= STEADY * FALSE_ALARM]
    return min(steady or rules, key=lambda rule: rule.delay, default=Rule())
