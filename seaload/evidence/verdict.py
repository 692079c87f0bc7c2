"""Whether a setting is within the crew's levels in a sea: by the odds all told, whose interval is that of sampling."""

from dataclasses import dataclass
from math import erf, inf, isfinite, log, sqrt

from seaload.evidence.places import common_place, mean_share
from seaload.evidence.pool_records import time_weights
from seaload.evidence.rate_curve import rate_curve
from seaload.evidence.rate_intervals import at_least, worst_wear_rate
from seaload.risk.combine import combined_interval
from seaload.risk.poisson import odds_in_exposure, rate_for_odds

UNDECIDED, WITHIN, OUTSIDE, NOT_SHOWN, UNREACHABLE = range(5)
DECISION_NAMES = ("undecided", "within", "outside", "not_shown", "unreachable")
SIDES = ("reverse", "normal")
WEAR = "wear"  # judged like a side where the crew names a level of it
DEVIATE = 1.6448536269514722  # of the normal distribution at 90 % two-sided, the confidence of `risk`
SURE = 1.0 - 1e-12  # [-] odds above this are told as this


@dataclass(frozen=True)
class Verdict:
    """Decision on one setting in one sea. Rates in [1/s]."""

    decision: int  # by the odds all told
    decision_sampling: int  # were forecast and model right
    rates: dict  # {side: (rate, low, high)}: rates that have the odds all told in the exposure; of WEAR too, if judged
    sampling_rates: dict  # the same were forecast and model right
    limits: dict  # {side: highest rate the crew accepts}
    sea_to_decide: float  # [s] of sea in all that a decision would take; infinite when it cannot be foretold
    sailed: float  # [s]

    def excess(self):
        """Upper bound over accepted rate [-], the worst of sides and of wear if that has a level; under 1 is within."""
        return max(self.rates[side][2] / limit for side, limit in self.limits.items())

    def chance(self, most):
        """Chance [-] that `most` [s] of sea in all decide what is undecided: the least of all that is still open."""
        more, open_sides = most / self.sailed, open_of(self.rates, self.limits)
        return min((chance_to_decide(self.rates[side], self.limits[side], more) for side in open_sides), default=1.0)

    def chance_outside(self, most):
        """Chance [-] that `most` [s] of sea in all show it to be outside: the largest of all that is still open."""
        more, open_sides = most / self.sailed, open_of(self.rates, self.limits)
        return max((chance_to_exceed(self.rates[side], self.limits[side], more) for side in open_sides), default=0.0)

    def odds(self, side, exposure):
        """(odds, low, high) all told in `exposure` [s]."""
        return tuple(float(odds_in_exposure(rate, exposure)) for rate in self.rates[side])


def accepted_rates(risk):
    """{side: highest event rate [1/s] whose odds in the exposure are accepted}, and of WEAR if a level is named."""
    levels = {side: rate_for_odds(getattr(risk, f"{side}_odds"), risk.exposure) for side in SIDES}
    return levels | ({WEAR: risk.wear} if isfinite(risk.wear) else {})


def rates_of_odds(odds, exposure):
    """Rates [1/s] that have these `odds` (any number of them) in `exposure` [s]."""
    return tuple(rate_for_odds(min(value, SURE), exposure) for value in odds)


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

    rates: dict  # {side: (rate, low, high)} [1/s], of WEAR too where the crew names a level
    curves: dict  # {side: RateCurve}; None where nothing was sailed
    means: dict  # {side: mean load at the place likeliest to pass its limit [share of the limit]}
    places: dict  # {side: number of that place, -1 = not known}
    total: float  # [s] sailed
    not_shown: bool  # a case ended early or left the validity


def sampled_rates(records, risk, shapes=None):
    """`Sampled` of finished cases; shapes : {side: (mean, deviation) of the tail's shape before any peak is seen}."""
    total, open_ended = time_weights(records)[1], at_least(records)
    rates, curves, places = {}, {}, dict.fromkeys(SIDES, -1)
    for side in SIDES:
        curves[side], found = rate_curve(records, side, *([shapes[side]] if shapes else []))
        rates[side] = (*found[:2], inf if open_ended else found[2])
        if total > 0.0:
            places[side] = common_place([records], side)[0]
    if isfinite(risk.wear):
        rates[WEAR] = worst_wear_rate(records, total)
    means = {side: mean_share(records, side, places[side]) for side in SIDES}
    return Sampled(rates, curves, means, places, total, open_ended)


def judge(sampled, told, risk):
    """`Verdict` on one setting in one sea.

    told : {side: (rate, low, high)} that have the odds all told [1/s]; of WEAR the standard deviation of ln(rate).
    """
    limits = accepted_rates(risk)
    rates = {side: told[side] for side in SIDES}
    if WEAR in limits:
        rates[WEAR] = (sampled.rates[WEAR][0], *combined_interval(*sampled.rates[WEAR], told[WEAR]))
    return verdict_of(sampled.rates, rates, limits, sampled.total, not_shown=sampled.not_shown)


def verdict_of(sampling, rates, limits, total, *, not_shown=False):
    """`Verdict` from intervals {side: (rate, low, high)} were all right, and all told."""
    if not_shown:
        lowest = {side: (rate[0], rate[1], inf) for side, rate in rates.items()}
        code = OUTSIDE if decided(lowest, limits) == OUTSIDE else NOT_SHOWN
        return Verdict(code, code, lowest, lowest, limits, inf, total)
    code, needed = decided(rates, limits), total
    if code == UNDECIDED:
        needed = max(sea_needed(rates[side], limits[side], total) for side in open_of(rates, limits))
    return Verdict(code, decided(sampling, limits), rates, sampling, limits, needed, total)


def open_of(rates, limits):
    """Sides, and wear, whose upper bound is not below their limit; {name: (rate, low, high)}, {name: limit} [1/s]."""
    return [name for name, limit in limits.items() if rates[name][2] >= limit]


def chance_to_decide(rates, limit, more):
    """Chance [-] that an interval stands on one side of `limit` [1/s] once `more` times the sea has been sailed.

    `rates` (rate, low, high) [1/s]. ln(rate) moves by a normal law whose variance is what the interval loses, own^2
    (1 - 1/more), and the half-width own falls as one over the root of the sea (preposterior analysis: Raiffa &
    Schlaifer 1961). Where nothing is known but an upper bound, by `sea_needed`.
    """
    estimate, low, high = rates
    if estimate <= 0.0 or low <= 0.0 or not high < inf:
        return float(sea_needed(rates, limit, 1.0) <= more)
    if not more > 1.0:
        return 0.0
    off = log(estimate / limit)
    own = log(high / estimate) if off < 0.0 else log(estimate / low)
    left, moves = own / sqrt(more), own / DEVIATE * sqrt(1.0 - 1.0 / more)
    if not moves > 0.0:
        return 1.0
    return sum(0.5 + 0.5 * erf((way * off - left) / moves / sqrt(2.0)) for way in (-1.0, 1.0))


def chance_to_exceed(rates, limit, more):
    """Chance [-] that the lower end of an interval stands above `limit` [1/s] once `more` times the sea is sailed.

    `rates` (rate, low, high) [1/s]. As `chance_to_decide`, for a rate whose upper end no sea can bring down.
    """
    estimate, low, _ = rates
    if estimate <= 0.0 or low <= 0.0 or not more > 1.0:
        return 0.0
    off, own = log(estimate / limit), log(estimate / low)
    left, moves = own / sqrt(more), own / DEVIATE * sqrt(1.0 - 1.0 / more)
    return 0.5 + 0.5 * erf((off - left) / moves / sqrt(2.0)) if moves > 0.0 else float(off > 0.0)


def sea_needed(rates, limit, total):
    """Sea in all [s] after which this side would be decided, were the estimate true; infinite where it lies on the
    limit.

    The half-width of the logarithm falls as one over the root of the time sailed; where nothing is known but an upper
    bound, that falls as one over the time.
    """
    estimate, low, high = rates
    end = high if estimate < limit else low
    if estimate <= 0.0 or low <= 0.0 or not high < inf:
        return total * high / limit if estimate < limit else inf
    distance, own = abs(log(limit / estimate)), abs(log(end / estimate))
    if distance == 0.0:
        return inf
    return total * (own / distance) ** 2
