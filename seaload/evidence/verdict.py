"""Whether a setting is within the crew's levels in a sea: by sampling alone, and by everything uncertain
together.
"""

from dataclasses import dataclass
from math import inf, isfinite, log, nan

import numpy as np

from seaload.evidence.pool_records import time_weights
from seaload.evidence.rate_intervals import at_least, event_rates, worst_wear_rate
from seaload.risk.combine import combined_interval, sampling_share
from seaload.risk.poisson import odds_in_exposure, rate_for_odds

UNDECIDED, WITHIN, OUTSIDE, NOT_SHOWN, UNREACHABLE = range(5)
DECISION_NAMES = ("undecided", "within", "outside", "not_shown", "unreachable")
SIDES = ("reverse", "normal")
WEAR = "wear"  # judged like a side where the crew names a level of it
DEVIATE = 1.6448536269514722  # of the normal distribution at 90 % two-sided, the confidence of `risk`
ENOUGH = 1.0 / 9.0  # of the squared half-width: sampling is then under a third of the whole


@dataclass(frozen=True)
class Verdict:
    """Decision on one setting in one sea. Rates in [1/s]."""

    decision: int  # sampling, forecast and model together
    decision_sampling: int
    rates: dict  # {side: (rate, low, high)} that hold everything; of WEAR too, where the crew names a level
    sampling_rates: dict  # the same without forecast and model
    limits: dict  # {side: highest rate the crew accepts}
    share: float  # [-] of the squared upper half-width that is sampling, the larger of both sides
    sea_to_decide: float  # [s] of sea in all that a decision would take; infinite when more sea does not help
    sailed: float  # [s]

    def excess(self):
        """Upper bound over accepted rate [-], the worst of sides and of wear if that has a level; under 1 is within."""
        return max(self.rates[side][2] / limit for side, limit in self.limits.items())

    def odds(self, side, exposure):
        """(odds, low, high) in `exposure` [s] that hold everything."""
        return tuple(float(odds_in_exposure(rate, exposure)) for rate in self.rates[side])


def accepted_rates(risk):
    """{side: highest event rate [1/s] whose odds in the exposure are accepted}, and of WEAR if a level is named."""
    levels = {side: rate_for_odds(getattr(risk, f"{side}_odds"), risk.exposure) for side in SIDES}
    return levels | ({WEAR: risk.wear} if isfinite(risk.wear) else {})


def decided(rates, limits):
    """Decision code from {side: (rate, low, high)}."""
    if all(rates[side][2] < limit for side, limit in limits.items()):
        return WITHIN
    if any(rates[side][1] > limit for side, limit in limits.items()):
        return OUTSIDE
    return UNDECIDED


@dataclass(frozen=True)
class Sampled:
    """What the finished cases of a setting in a sea say, before any doubt about forecast and model."""

    rates: dict  # {side: (rate, low, high)} [1/s]
    tails: dict  # {side: the same of the tail, or nan}
    total: float  # [s] sailed
    not_shown: bool  # a case ended early or left the validity


def sampled_rates(records, risk):
    """`Sampled` of finished cases."""
    total = time_weights(records)[1]
    found = event_rates(records, total, risk.exposure)
    ends = ("", "_low", "_high")
    rates = {s: tuple(found[f"{s}_event_rate_deciding{end}"] for end in ends) for s in SIDES}
    tails = {s: tuple(found[f"{s}_event_rate_tail{end}"] for end in ends) for s in SIDES}
    if isfinite(risk.wear):
        rates[WEAR], tails[WEAR] = worst_wear_rate(records, total), (nan, nan, nan)
    return Sampled(rates, tails, total, at_least(records))


def judge(sampled, spread, risk):
    """`Verdict` on one setting in one sea; spread : {side: standard deviation of ln(rate)}."""
    limits = accepted_rates(risk)
    return verdict_of(sampled.rates, sampled.tails, spread, limits, sampled.total, not_shown=sampled.not_shown)


def verdict_of(sampling, tails, spread, limits, total, *, not_shown=False):
    """`Verdict` from sampling intervals {side: (rate, low, high)} and tails {side: the same, or nan}."""
    if not_shown:
        lowest = {side: (rate[0], rate[1], inf) for side, rate in sampling.items()}
        outside = decided(lowest, limits) == OUTSIDE
        code = OUTSIDE if outside else NOT_SHOWN
        return Verdict(code, code, lowest, lowest, limits, nan, inf, total)
    rates = {side: (sampling[side][0], *combined_interval(*sampling[side], spread[side])) for side in limits}
    code = decided(rates, limits)
    open_sides = [side for side in limits if rates[side][2] >= limits[side]] or list(limits)
    share = max(sampling_share(*sampling[side], spread[side]) for side in open_sides)
    needed = total
    if code == UNDECIDED:
        needed = max(sea_needed(sampling[s], rates[s], tails[s], spread[s], limits[s], total) for s in open_sides)
    return Verdict(code, decided(sampling, limits), rates, sampling, limits, share, needed, total)


def sea_needed(sampling, rates, tail, spread, limit, total):
    """Sea in all [s] after which this side would be decided, were the estimate true; infinite when it
    never is.

    With nothing counted the bound falls as one over the time sailed. A tail's half-width falls as one
    over its root, and what forecast and model leave open stays.
    """
    quiet = total * rates[2] / limit if sampling[0] <= 0.0 else inf
    estimate, low, high = tail if tail[0] > 0.0 else sampling
    end = high if estimate < limit else low
    if not (estimate > 0.0 and end > 0.0 and np.isfinite(end)):
        return quiet
    distance, own = abs(log(limit / estimate)), abs(log(end / estimate))
    wide = DEVIATE * spread
    if distance <= wide:
        return quiet
    return min(quiet, total * own**2 / (distance**2 - wide**2))
