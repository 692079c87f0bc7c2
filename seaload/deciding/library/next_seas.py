"""Which seas a library marches next: first what spans the stated range, then where what seas left out missed and what a
decision hangs on are largest.
"""

from math import pi, sqrt
from typing import NamedTuple

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD, cover_of
from seaload.deciding.library.emulator import recipes_of, surface_of
from seaload.deciding.library.gaussian_process import Process
from seaload.evidence.verdict import SIDES
from seaload.waves.bulk import deep_wavelength

FIRST = 24  # seas before any surface is drawn
AT_ONCE = 8  # seas of a round
CANDIDATES = 64  # seas looked at
LOOKED_AT = 8  # settings that a sea is judged by
REFERENCE = 5  # number in RATES of the load that is looked at: once in 33 hours
NEAR = 0.5  # [-] in features: how far a missed sea casts doubt on its neighbours
OPEN = 0.10  # [share of the limit]: a load so far from the limit is half as interesting as one at it
BASES = (2, 3, 5)


class Range(NamedTuple):
    """The seas that a library is to cover."""

    hs: tuple  # (least, most) [m]
    tp: tuple  # (least, most) [s]
    angle: tuple  # (from, to) [rad] the waves come from, 0 = dead ahead, + from windward; a whole turn: all round
    steepness: float  # [-] of height over peak wavelength, the most

    def height_cap(self, tp):
        """Highest sea [m] at a period [s]."""
        return min(self.hs[1], self.steepness * deep_wavelength(tp) * (1.0 - 1e-12))

    @property
    def least_period(self):
        """Shortest period [s] at which the lowest sea is not too steep."""
        return max(self.tp[0], period_of(self.hs[0] * (1.0 + 1e-12), self.steepness))


def period_of(hs, steepness):
    """Peak period [s] of a sea of height `hs` [m] and `steepness` [-] in deep water (Airy: wavelength g T2/2 pi)."""
    return sqrt(2.0 * pi * hs / (STANDARD_GRAVITY * steepness))


def corners(span):
    """[(height [m], period [s])] of a `Range`, steep seas left out."""
    short, long, (low, high) = span.least_period, span.tp[1], span.hs
    found = [(low, short), (low, long), (span.height_cap(long), long), (span.height_cap(short), short)]
    turn = period_of(high * (1.0 + 1e-12), span.steepness)
    if short < turn < long:
        found.append((high, turn))
    return list(dict.fromkeys(found))


def radical_inverse(number, base):
    """Digits of a whole `number` mirrored at the point, in 0..1 (van der Corput 1935)."""
    found, share = 0.0, 1.0 / base
    while number:
        number, digit = divmod(number, base)
        found, share = found + digit * share, share / base
    return found


def spread_seas(span, first, count):
    """(count, 3) seas (height, period, angle) [SI] evenly spread over a `Range` (Halton 1960), from number `first` on;
    the same for the same numbers.
    """
    found, number = [], first
    while len(found) < count:
        number += 1
        u, v, w = (radical_inverse(number, base) for base in BASES)
        tp = span.least_period * (span.tp[1] / span.least_period) ** v
        hs = span.hs[0] + u * (span.hs[1] - span.hs[0])
        if hs <= span.height_cap(tp):
            found.append((hs, tp, span.angle[0] + w * (span.angle[1] - span.angle[0])))
    return np.array(found)


def first_seas(span, count=FIRST):
    """(count, 3) seas that span a `Range`: its corners, the ends of its angles first, then evenly spread."""
    ends = corners(span)
    turns = [0.0, 1.0] + [radical_inverse(n, 2) for n in range(1, len(ends))]
    angles = [span.angle[0] + turn * (span.angle[1] - span.angle[0]) for turn in turns]
    rows = [(*end, angle) for end, angle in zip(ends, angles, strict=False)]
    return np.concatenate([rows, spread_seas(span, 0, max(count - len(rows), 1))])[:count]


def next_seas(shelf, span, question, settings, count=AT_ONCE):
    """(count, 3) seas (height, period, angle) [SI] that a `shelf` needs most of a `Range`.

    question : (names,) [SI] with what all have in common; settings : (k, 6) the settings that may be asked about.
    """
    names = [(f"load_{side}_{REFERENCE}", f"load_mean_{side}") for side in SIDES]
    recipes = recipes_of(shelf, [name for both in names for name in both])
    seas = spread_seas(span, len(np.unique(shelf.coordinates[:, [HEIGHT, PERIOD, ANGLE]], axis=0)), CANDIDATES)
    if not recipes:
        return seas[:count]
    cover = cover_of(shelf.coordinates[shelf.marched])
    some = settings[np.unique(np.linspace(0, len(settings) - 1, LOOKED_AT).round().astype(int))]
    questions = questions_of(question, some, seas)
    looks = [Look([surface_of(shelf, cover, name, recipes[name]) for name in both], questions) for both in names]
    chosen = []
    for _ in range(count):
        scores = np.sqrt(sum(look.scores(chosen) for look in looks))
        scores[chosen] = -1.0
        chosen.append(int(np.argmax(scores)))
    return seas[chosen]


def questions_of(question, settings, seas):
    """(seas, settings, names) [SI] of every setting in every sea, the rest as in `question` (names,)."""
    found = np.tile(question, (len(seas), len(settings), 1))
    found[:, :, : settings.shape[1]] = settings
    found[:, :, [HEIGHT, PERIOD, ANGLE]] = seas[:, None]
    return found


class Look:
    """How much one quantity is in doubt in every candidate sea."""

    def __init__(self, surfaces, questions):
        """`surfaces` of ln(load over its mean) and of the mean; `questions` (seas, settings, names) [SI]."""
        self.surface, means = surfaces
        self.features = [self.surface.features(rows) for rows in questions]
        every = np.concatenate(self.features)
        load = means.value(np.concatenate(questions)) + np.exp(self.surface.process.value(every))
        near = 1.0 / (1.0 + ((load - 1.0) / OPEN) ** 2)
        self.weights = (near * self.missed_about(every)).reshape(len(questions), -1)

    def missed_about(self, features):
        """Mean square of what seas left out missed over what was foreseen, about `features` (n, d); near 1 usually."""
        process = self.surface.process
        value, error = process.left_out()
        squared = ((process.told.values - value) / error) ** 2
        away = features[:, None] - process.told.features
        weight = np.exp(-0.5 * np.sum(away**2, axis=2) / NEAR**2)
        return (1.0 + weight @ squared) / (1.0 + weight.sum(axis=1))

    def scores(self, chosen):
        """Doubt (seas,) [-] once the `chosen` seas (numbers) have been marched too."""
        process = self.surface.process
        if chosen:
            told, more = process.told, np.concatenate([self.features[number] for number in chosen])
            numbers = np.repeat(np.arange(len(chosen)), len(self.features[0])) + told.groups.max() + 1
            usual = np.full(len(more), float(np.median(told.errors)))
            told = told._replace(
                features=np.concatenate([told.features, more]), values=np.append(told.values, np.zeros(len(more))),
                errors=np.append(told.errors, usual), groups=np.append(told.groups, numbers),
            )  # fmt: skip
            process = Process(told, process.scales, (process.middle, process.unit))
        errors = np.array([process.at(rows)[1] for rows in self.features])
        return np.mean(self.weights * errors**2, axis=1)
