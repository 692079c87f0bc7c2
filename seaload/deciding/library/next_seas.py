"""Which seas a library marches next: first what spans the stated range, then where loads near the limits are known
least, and what seas left out missed most. Which settings are marched there goes by the same.
"""

from math import pi, sqrt
from typing import NamedTuple

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD
from seaload.deciding.library.emulator import Emulator, often_ends, recipes_of
from seaload.deciding.library.load_curves import CALM, SWING, names_of
from seaload.deciding.library.surfaces import PLANE, SMOOTH
from seaload.evidence.verdict import SIDES
from seaload.waves.bulk import deep_wavelength

FIRST = 24  # seas before any surface is drawn
AT_ONCE, MORE, MOST_AT_ONCE = 8, 4, 96  # seas of a round: at least, one for so many there are, at most
CANDIDATES = 4  # seas looked at for each that is marched
LOOKED_AT = 4  # settings that a sea is judged by: those that matter most there
REFERENCE = 5  # number in RATES of the load that is looked at: once in 33 hours
NEAR = 0.5  # [-] in features: how far a missed sea casts doubt on its neighbours
OPEN = 0.15  # [share of the limit]: a load so far from the limit is half as interesting as one at it
FAR, ENDS = 0.2, 0.05  # [-] least interest in a load far from the limit, and in one where cases end
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


class Round(NamedTuple):
    """What is marched next."""

    seas: np.ndarray  # (n, 3) height [m], period [s], angle [rad]
    interest: np.ndarray  # (n, settings) [-] > 0 how much each setting matters there


def at_once(known):
    """Seas of the next round where so many are `known`."""
    return min(max(known // MORE, AT_ONCE), MOST_AT_ONCE)


def next_seas(shelf, span, question, settings, count=AT_ONCE):
    """`Round` of `count` seas that a `shelf` needs most of a `Range`.

    question : (names,) [SI] with what all have in common; settings : (k, 6) the settings that may be asked about.
    """
    known = len(np.unique(shelf.coordinates[:, [HEIGHT, PERIOD, ANGLE]], axis=0))
    seas = spread_seas(span, known, CANDIDATES * count)
    emulator = quick_emulator(shelf)
    if emulator is None:
        return Round(seas[:count], np.ones((count, len(settings))))
    questions = questions_of(question, settings, seas)
    near = {side: near_limit(emulator, questions, side) for side in SIDES}
    interest = np.maximum(*near.values())
    best = np.argsort(-interest, axis=1, kind="stable")[:, :LOOKED_AT]
    rows = np.take_along_axis(questions, best[..., None], axis=1)
    looks = [Look(emulator, side, rows, np.take_along_axis(near[side], best, axis=1)) for side in SIDES]
    chosen = []
    for _ in range(count):
        scores = np.sqrt(sum(look.scores() for look in looks))
        scores[chosen] = -1.0
        chosen.append(int(np.argmax(scores)))
        for look in looks:
            look.march(chosen[-1])
    return Round(seas[chosen], interest[chosen])


def quick_emulator(shelf):
    """`Emulator` with smooth surfaces of swings and mean loads, planes of all else, soon drawn; None: too few seas."""
    recipes = {}
    for side in SIDES:
        for name in (*names_of(side), f"load_mean_{side}"):
            kind = SMOOTH if name.rpartition("_")[0] in (CALM, SWING) else PLANE
            recipes |= recipes_of(shelf, [name], (kind,))
    if len(recipes) < len(SIDES) * (len(names_of(SIDES[0])) + 1):
        return None
    recipes |= recipes_of(shelf, ["ended_share"], (PLANE,))
    return Emulator(shelf, recipes)


def near_limit(emulator, questions, side):
    """How near the load once in 33 hours is to the limit of a side, (seas, settings) [-] of `questions` (seas,
    settings, names): 1 at it, little far from it and where most cases end.
    """
    rows = questions.reshape(-1, questions.shape[-1])
    load = emulator.loads(rows, side)[0][:, REFERENCE]
    near = np.maximum(1.0 / (1.0 + ((load - 1.0) / OPEN) ** 2), FAR)
    if emulator.recipe("ended_share") is not None:
        near = np.where(often_ends(emulator.surface("ended_share").value(rows)), ENDS, near)
    return near.reshape(questions.shape[:2])


def questions_of(question, settings, seas):
    """(seas, settings, names) [SI] of every setting in every sea, the rest as in `question` (names,)."""
    found = np.tile(question, (len(seas), len(settings), 1))
    found[:, :, : settings.shape[1]] = settings
    found[:, :, [HEIGHT, PERIOD, ANGLE]] = seas[:, None]
    return found


class Look:
    """How much the swings of one side are in doubt in every candidate sea, as seas are added."""

    def __init__(self, emulator, side, questions, near):
        """`questions` (seas, settings, names) [SI]; `near` (seas, settings) [-] how much each matters."""
        surface, means = emulator.surface(f"{SWING}_{side}"), emulator.surface(f"{CALM}_{side}")
        rows = questions.reshape(-1, questions.shape[-1])
        features, self.shape = surface.features(rows), near.shape
        values, self.spread = surface.process.jointly(features)
        size = np.exp(2.0 * values) * missed_about(surface.process, features)
        self.weights = near**2 * size.reshape(self.shape)
        self.common = near**2 * means.error(rows).reshape(self.shape) ** 2
        told = surface.process.told
        self.noise = (surface.recipe.noise * float(np.median(told.errors))) ** 2

    def scores(self):
        """Doubt (seas,) [share of the limit, squared] as things stand."""
        return np.mean(self.weights * np.diag(self.spread).reshape(self.shape) + self.common, axis=1)

    def march(self, number):
        """Count the sea of this number as marched (Rasmussen & Williams 2006, eq. 2.24, for one block)."""
        block = np.arange(self.shape[1]) + number * self.shape[1]
        own = self.spread[np.ix_(block, block)] + self.noise * np.eye(len(block))
        across = self.spread[block]
        self.spread = self.spread - across.T @ cho_solve(cho_factor(own), across)
        self.common[number] = 0.0


def missed_about(process, features):
    """Mean square of what seas left out missed over what was foreseen, about `features` (n, d); near 1 usually."""
    value, error = process.left_out()
    squared = ((process.told.values - value) / error) ** 2
    away = np.sum(features**2, axis=1)[:, None] + np.sum(process.told.features**2, axis=1)
    weight = np.exp(-0.5 * (away - 2.0 * features @ process.told.features.T) / NEAR**2)
    return (1.0 + weight @ squared) / (1.0 + weight.sum(axis=1))
