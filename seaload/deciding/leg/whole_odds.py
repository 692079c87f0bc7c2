"""Odds of a whole leg from what is added up along it, and the straight bound by which a plan is sought.

P = sum_k w_k [1 - exp(-H_k)] over what the forecast's members and the doubt may turn out to be, H_k the sum of the
expected events of all pieces in case k: what is uncertain is drawn once a leg, so odds are averaged over cases, not
multiplied over pieces. P bends downwards in every H_k, so its tangent at any plan lies above it everywhere: a plan
within the tangent is within the odds (definition of a concave function).
"""

from typing import NamedTuple

import numpy as np


def odds_of(events, weights):
    """Odds [-] of one event or more, of `events` (..., k) expected in each case of `weights` (k,)."""
    return -np.expm1(-np.asarray(events)) @ weights


class Tangent(NamedTuple):
    """The straight bound at one plan: prices x events <= room keeps the odds."""

    prices: np.ndarray  # (k,) [-] of an expected event in each case
    room: float  # [-]


def tangent_at(events, weights, odds):
    """`Tangent` of `odds` [-] at the `events` (k,) of a plan."""
    prices = weights * np.exp(-events)
    return Tangent(prices, odds - float(odds_of(events, weights)) + float(prices @ events))


def doubt_cases(count):
    """(deviations (d,), weights (d,)) of one normal doubt in `count` cases that keep its moments (Gauss-Hermite; any
    text on numerical quadrature).
    """
    nodes, weights = np.polynomial.hermite_e.hermegauss(count)
    return nodes, weights / weights.sum()
