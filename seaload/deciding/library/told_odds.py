"""Odds all told of a setting in a sea by the library alone: its rates, with what is uncertain as it tells it, through
the rule of `evidence.all_told`; the worst load to expect, and the sea that the setting bears.
"""

from math import exp
from typing import NamedTuple

import numpy as np

from seaload.deciding.bearing import ASSUMED, INPUTS, ROW, Borne, stretch
from seaload.deciding.designed_runs import deviation
from seaload.deciding.doubt import Doubt
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD
from seaload.deciding.library.doubt_there import doubt_at
from seaload.deciding.library.rates import plain_values, rates_of
from seaload.evidence.verdict import DEVIATE, SIDES, WEAR, Sampled, Verdict, judge, rates_of_odds
from seaload.risk.poisson import odds_in_exposure

ENDS = ("middle", "low", "high")
ENDS_OF_BORNE = {  # number of the model: names in `Borne` of the least and the most of it
    "hs_factor": ("hs_least", "hs_most"), "tp_factor": ("tp_least", "tp_most"),
    "heading_shift": ("turn_least", "turn_most"),
}  # fmt: skip


class Told(NamedTuple):
    """What a library tells of a setting in a sea over an exposure; {side: (value, low, high)} unless said."""

    odds: dict  # [-] all told, with the interval of what the library does not know
    if_right: dict  # [-] if forecast and model are right
    worst: dict  # {side: {"median" and "one_in_twenty": (share of the limit, low, high)}}
    verdict: Verdict
    borne: Borne
    edges: tuple  # names in `Borne` of ends where the library ends and not the setting's levels
    doubt: Doubt


def told_odds(emulator, question, inputs, risk):
    """`Told` of an `Emulator` at a `question` (names,) [SI]; None where it lies outside the points or the thrust cannot
    hold it.

    inputs : `Inputs`; risk : the crew's levels, with the exposure.
    """
    question = np.asarray(question, dtype=float)
    rates = rates_of(emulator, question)
    if not rates.told[0]:
        return None
    (sampled,) = sampled_at(emulator, question[None], risk, rates.at_least)
    doubt = doubt_at(emulator, question, inputs)
    verdict = judge(sampled, doubt.told(sampled, risk), risk)
    odds = {side: unless_ended(doubt.all_told(side, sampled, risk), sampled) for side in SIDES}
    right = {
        side: tuple(float(odds_in_exposure(rate, risk.exposure)) for rate in sampled.rates[side]) for side in SIDES
    }  # fmt: skip
    worst = {side: doubt.worst(side, sampled, risk) for side in SIDES}
    borne, edges = borne_there(emulator, question, inputs, risk, (doubt, verdict))
    return Told(odds, right, worst, verdict, borne, edges, doubt)


def unless_ended(odds, sampled):
    """`odds` (best, low, high) [-]; up to certain where cases ended or left the validity."""
    return (*odds[:2], 1.0) if sampled.not_shown else odds


def sampled_at(emulator, rows, risk, at_least):
    """[`Sampled`] of an `Emulator` at `rows` (n, names) [SI] that it tells: rates given the inputs, their intervals of
    the waves marched and of what lies between points; `at_least` (n,) bool where cases ended or left the validity.
    """
    sides = {side: emulator.side_answers(rows, side) for side in SIDES}
    wears, errors = plain_values(emulator, "log_wear", rows, error=True)
    found = []
    for n in range(len(rows)):
        curves = {side: answers[n].curve for side, answers in sides.items()}
        rates = {
            side: tuple(exp(min(float(curve.ln_rate(1.0, end)), 0.0)) for end in ENDS) for side, curve in curves.items()
        }  # fmt: skip
        wear = tuple(exp(wears[n] + sign * DEVIATE * errors[n]) for sign in (0.0, -1.0, 1.0))
        means = {side: float(np.nan_to_num(answers[n].mean)) for side, answers in sides.items()}
        places = dict.fromkeys(SIDES, -1)
        found.append(Sampled({**rates, WEAR: wear}, curves, means, places, 1.0, bool(at_least[n])))
    return found


def borne_there(emulator, question, inputs, risk, judged):
    """(`Borne`, names of the ends where the library ends) at a `question` (names,) [SI]; judged : its `Doubt` and
    `Verdict`.

    As `deciding.bearing.borne_sea`, but that every sea on the way is one that the library tells.
    """
    spreads = {entry.name: deviation(entry) for entry in inputs.entries}
    found, edges = {}, []
    for name, ends in ENDS_OF_BORNE.items():
        step = spreads.get(INPUTS[name], 0.0) or ASSUMED[name]
        row = Row(emulator, turned(question, name, step), risk, judged)
        for end, off in zip(ends, stretch(row.inside()), strict=True):
            found[end] = off * step if name == "heading_shift" else exp(off * step)
            if row.ends_at(off, end.endswith("most")):
                edges.append(end)
    least = found.pop("hs_least")  # a lower sea is always borne
    return Borne(**found), tuple(edge for edge in edges if edge != "hs_least" or least != least)


def turned(question, name, step):
    """(n, names) [SI]: the `question` with a number of the model at each of ROW, in deviations of `step` [its unit].

    Waves that turn + come from further ahead.
    """
    rows = np.tile(question, (len(ROW), 1))
    if name == "heading_shift":
        rows[:, ANGLE] -= ROW * step
    else:
        rows[:, {"hs_factor": HEIGHT, "tp_factor": PERIOD}[name]] *= np.exp(ROW * step)
    return rows


class Row:
    """Seas on one line through a question, each judged when it is first asked for."""

    def __init__(self, emulator, rows, risk, judged):
        rates = rates_of(emulator, rows)
        self.told, self.risk, (self.doubt, self.verdict) = rates.told, risk, judged
        numbers = np.flatnonzero(self.told)
        some = sampled_at(emulator, rows[numbers], risk, rates.at_least[numbers]) if len(numbers) else []
        self.sampled, self.known = dict(zip(numbers, some, strict=True)), {}

    def within(self, number):
        """Whether the setting is within all levels in the sea of this number."""
        if number not in self.known:
            known = number in self.sampled and not self.doubt.blind
            self.known[number] = known and self.judged(self.sampled[number])
        return self.known[number]

    def judged(self, sampled):
        """The same of a `Sampled`."""
        limits, told = self.verdict.limits, {}
        if sampled.not_shown:
            return False
        for side in SIDES:
            told[side] = rates_of_odds(self.doubt.odds(side, sampled, self.risk), self.risk.exposure)[2]
        told[WEAR] = sampled.rates[WEAR][2]
        return all(told[name] < limit for name, limit in limits.items())

    def inside(self):
        """Which seas are within all levels, (n,) bool, of the stretch nearest to the middle; none while blind."""
        found, nearest_first = np.zeros(len(ROW), dtype=bool), np.argsort(np.abs(ROW), kind="stable")
        first = next((number for number in nearest_first if self.within(number)), None)
        if first is None:
            return found
        for way in (-1, 1):
            number = first
            while 0 <= number < len(ROW) and self.within(number):
                found[number] = True
                number += way
        return found

    def ends_at(self, off, most):
        """Whether the sea beyond `off` [deviations], upward for the `most`, is one that the library does not tell."""
        if not np.isfinite(off):
            return False
        beyond = int(np.argmin(np.abs(ROW - off))) + (1 if most else -1)
        return 0 <= beyond < len(ROW) and not self.told[beyond]
