"""The rule that best tells the sea as assumed from a worse one, by what a display can show and a crew remember.

A rule looks back over W minutes, every W minutes, at one station. Its statistic is one of four: the reading passed k
times, each in other ten seconds; the reading passed for a stated share of the time; the swing, the mean of every ten
seconds' highest less lowest reading; the spread, the standard deviation of the reading. A zero that has drifted moves
the first two and leaves the last two alone. The level Y is set so that the sea as assumed gives one false alarm in
twelve hours, whatever W. Alarms are those of a Y set on one half of the realisations and met by the other half, either
way round, so that no rule is flattered by the waves it was set on. The one that is picked is set anew in other waves:
of so many rules the soonest is mostly one whose level came out low. A rule that calm water would call is none.
"""

from dataclasses import dataclass
from math import isnan, nan
from typing import NamedTuple

import numpy as np
from scipy.stats import binomtest
from scipy.stats import t as student

from seaload.risk.poisson import CONFIDENCE

BLOCK = 10.0  # [s] readings closer than this count once: they are of one wave
WINDOWS = (300.0, 600.0, 1200.0)  # [s] looked back over
TIMES = (1, 2, 4, 8)
SHARES = (0.05, 0.2)  # [-] of the time
BETWEEN_ALARMS = 12.0 * 3600.0  # [s] between two false alarms in the sea as assumed
STEADY = 3.0  # [-] times the false alarms allowed in waves that a rule was not set on, and it is not picked
NOTICED = 0.5  # [-] of worse seas: a rule that notices fewer of them in a realisation tells nothing in time
PASSED, SHARE, SWING, SPREAD = range(4)  # kinds of statistic
DRIFTS = np.linspace(-0.9, 0.9, 10)  # [-] of the largest drift, all as likely
LAW_POINTS = (np.arange(200) + 0.5) / 200.0  # [-]
EULER = 0.5772156649015329
LEAST = 1e-12  # [-] spread of a station that never moves


class Statistic(NamedTuple):
    """What is looked at; its score is higher in a worse sea."""

    kind: int
    side: int = 1  # -1 = low readings, +1 = high ones and all that is no reading
    times: int = 1  # of PASSED
    share: float = nan  # [-] of the time, of SHARE

    @property
    def drifts(self):
        """Whether a drifted zero moves it."""
        return self.kind in (PASSED, SHARE)


STATISTICS = (
    *(Statistic(PASSED, side, times) for side in (-1, 1) for times in TIMES),
    *(Statistic(SHARE, side, 1, share) for side in (-1, 1) for share in SHARES),
    Statistic(SWING),
    Statistic(SPREAD),
)


@dataclass(frozen=True)
class Rule:
    """One rule with its odds."""

    place: int = 1
    kind: int = PASSED
    side: int = 1  # -1 = low readings, +1 = high ones
    times: int = 1  # passed so often in the window
    share: float = nan  # [-] of the window, of a rule of that kind
    window: float = WINDOWS[0]  # [s]
    threshold: float = nan  # in the display's scale
    false_alarm: float = nan  # odds a realisation of the sea as assumed
    missed_alarm: float = 1.0  # odds a realisation of the worse sea
    span: float = WINDOWS[-1]  # [s] of a realisation
    realisations: int = 0  # of each sea, that the odds are told from

    def bounds(self, name):
        """(low, high) at 90 % of the odds `name` [-], as so many of the realisations (Clopper & Pearson 1934)."""
        return bounds_of(getattr(self, name), self.realisations)

    @property
    def delay(self):
        """Time until the worse sea is noticed, on average, were every window like every other [s]."""
        return delay_of(self.missed_alarm, self.window, self.span)

    @property
    def statistic(self):
        """The `Statistic` that is looked at."""
        return Statistic(self.kind, self.side, self.times, self.share)

    @property
    def score(self):
        """Score at the threshold."""
        return self.side * self.threshold if self.statistic.drifts else float(np.log(self.threshold))


def bounds_of(odds, realisations):
    """(low, high) at 90 % of `odds` [-], as so many of the realisations (Clopper & Pearson 1934); anything where they
    are not known.
    """
    if realisations == 0 or isnan(odds):
        return 0.0, 1.0
    return tuple(binomtest(round(odds * realisations), realisations).proportion_ci(CONFIDENCE))


def delay_of(missed, window, span):
    """Mean time until it is noticed [s], were every window like every other: that of a geometric law."""
    return window / max(1.0 - missed ** (window / span), 1e-6)


class Shown(NamedTuple):
    """Readings of a display in one sea, noise in them, no drift."""

    values: np.ndarray  # (realisations, samples, places) in the display's scale
    rate: float  # [1/s] samples taken

    @property
    def span(self):
        """Length of a realisation [s]."""
        return self.values.shape[1] / self.rate

    def extremes(self, side):
        """Lowest (`side` -1) or highest reading of each ten seconds, (realisations, blocks, places)."""
        realisations, samples, places = self.values.shape
        length = min(max(int(round(BLOCK * self.rate)), 1), samples)
        blocks = samples // length
        cut = self.values[:, : blocks * length].reshape(realisations, blocks, length, places)
        return cut.min(axis=2) if side < 0 else cut.max(axis=2)


def windows_of(rows, window, each):
    """`rows` (realisations, n, places), `each` [s] apart, by windows: (realisations, windows, rows, places).

    A realisation shorter than the window is one window.
    """
    realisations, count, places = rows.shape
    length = min(max(int(round(window / each)), 1), count)
    whole = count // length
    return rows[:, : whole * length].reshape(realisations, whole, length, places)


def passed_by(blocks, times, window):
    """Reading that is passed `times` times in each window, (realisations, windows, places).

    blocks : (realisations, blocks, places) highest reading of each block, the counted side positive.
    """
    rows = windows_of(blocks, window, BLOCK)
    return np.sort(rows, axis=2)[:, :, -min(times, rows.shape[2])]


def called_by(shown, statistic, window):
    """Score in the window where it is highest, (realisations, places)."""
    if statistic.kind == PASSED:
        scores = passed_by(statistic.side * shown.extremes(statistic.side), statistic.times, window)
    elif statistic.kind == SHARE:
        rows = windows_of(statistic.side * shown.values, window, 1.0 / shown.rate)
        scores = np.quantile(rows, 1.0 - statistic.share, axis=2)
    elif statistic.kind == SWING:
        scores = logarithm(windows_of(shown.extremes(1) - shown.extremes(-1), window, BLOCK).mean(axis=2))
    else:
        scores = logarithm(windows_of(shown.values, window, 1.0 / shown.rate).std(axis=2))
    return scores.max(axis=1)


def logarithm(values):
    """Logarithm of values that may be nothing."""
    return np.log(np.maximum(values, LEAST))


def law_of(called, statistic):
    """Scores of LAW_POINTS alike in odds, (points, places), of the law fitted to `called` (realisations, places).

    Mean and deviation of an extreme's Gumbel law, of a share's reading, of a swing's or spread's logarithm in a normal
    one (moments; a variance of many waves is near log-normal): what one more realisation will show after so few, which
    is Student's law (Student 1908).
    """
    count = len(called)
    middle, spread = called.mean(axis=0), called.std(axis=0, ddof=1) if count > 1 else 0.0 * called[0]
    if statistic.kind == PASSED:
        unit = (-np.log(-np.log(LAW_POINTS)) - EULER) * np.sqrt(6.0) / np.pi
    else:
        unit = student.ppf(LAW_POINTS, max(count - 1, 1)) * np.sqrt(1.0 + 1.0 / count)
    return middle + spread * unit[:, None]


def drifted(scores, statistic, drift):
    """Scores (n, places) as drifts of the zero, up to `drift` (places,), leave them: (n drifts, places)."""
    if not statistic.drifts:
        return scores
    return (scores[None] + DRIFTS[:, None, None] * drift).reshape(-1, scores.shape[-1])


def level_of(called, statistic, drift, span):
    """Score of each place, (places,), that the sea as assumed passes once in BETWEEN_ALARMS.

    called : (realisations, places), `span` [s] each; drift : (places,) largest drift of the zero.
    """
    odds = -np.expm1(-span / BETWEEN_ALARMS)
    return np.quantile(drifted(law_of(called, statistic), statistic, drift), 1.0 - odds, axis=0)


def rules_of(assumed, worse, statistic, window, drift):
    """[(`Rule`, missed alarms by the fitted law)] of one statistic and window, a place each.

    assumed, worse : `Shown` of as many realisations; drift : (places,) largest drift of the zero.
    """
    before, later = (called_by(shown, statistic, window) for shown in (assumed, worse))
    count, span = len(before), assumed.span
    halves = slice(0, None, 2), slice(min(1, count - 1), None, 2)
    alarms = []
    for ours, others in (halves, halves[::-1]):
        level = level_of(before[ours], statistic, drift, span)
        met = [drifted(seen[others], statistic, drift) for seen in (before, later)]
        alarms.append([np.mean(seen > level, axis=0) for seen in (*met, drifted(law_of(later[others], statistic),
                                                                                statistic, drift))])  # fmt: skip
    false, noticed, likely = np.mean(alarms, axis=0)
    level = level_of(before, statistic, drift, span)
    threshold = statistic.side * level if statistic.drifts else np.exp(level)
    return [
        (
            Rule(
                place, *statistic, window, float(threshold[place]), float(false[place]), float(1.0 - noticed[place]),
                span, count,
            ),
            float(1.0 - likely[place]),
        )
        for place in range(len(level))
    ]  # fmt: skip


def called_in(rule, shown, drift):
    """Odds [-] that a rule calls in a realisation of what is `shown`; drift : (places,) largest drift of the zero."""
    called = drifted(called_by(shown, rule.statistic, rule.window), rule.statistic, drift)
    return float(np.mean(called[:, rule.place] > rule.score))


def calm_calls(rule, calm, drift):
    """Whether calm water might call a rule: its worst reading there, with the largest drift, is past the threshold.

    calm : `Shown` of some seconds of it; one extreme stands for any number of them.
    """
    once = rule.statistic._replace(times=1)
    score = called_by(calm, once, calm.span)[:, rule.place].max()
    return score + (drift[rule.place] if once.drifts else 0.0) >= rule.score


def best_rule(assumed, worse, calm, drift, usable):
    """The `Rule` that notices the worse sea soonest; without a threshold when none tells it in time.

    assumed, worse : `Shown` of as many realisations, calm : of calm water; drift : (places,) largest drift of the zero;
    usable : {side: (places,) bool}, sides -1 (lowest readings) and +1. Place 0 is the bearing, which has no sensor.
    """
    found = []
    for statistic in STATISTICS:
        for window in WINDOWS:
            for rule, missed in rules_of(assumed, worse, statistic, window, drift):
                if rule.place > 0 and usable[rule.side][rule.place] and not calm_calls(rule, calm, drift):
                    found.append((delay_of(missed, window, rule.span), rule))
    most = STEADY * -np.expm1(-assumed.span / BETWEEN_ALARMS)
    steady = [pair for pair in found if pair[1].false_alarm <= max(most, 1.5 / assumed.values.shape[0])]
    _, rule = min(steady, key=lambda pair: pair[0], default=(nan, Rule()))
    return rule if 1.0 - rule.missed_alarm >= NOTICED else Rule(span=rule.span, realisations=rule.realisations)


def set_anew(rule, assumed, worse, calm, drift):
    """The `rule` with its level and its odds from seas that it was not picked in; without a threshold when it does not
    tell in time there. Arguments as of `best_rule`.
    """
    again, _ = rules_of(assumed, worse, rule.statistic, rule.window, drift)[rule.place]
    told = 1.0 - again.missed_alarm >= NOTICED and not calm_calls(again, calm, drift)
    return again if told else Rule(span=again.span, realisations=again.realisations)
