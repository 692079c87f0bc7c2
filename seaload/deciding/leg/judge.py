"""Whether a plan that is marched again meets what it was planned by: the rule, and how well it tells.

What is counted past a share of the limit, where events are plenty, is compared with what the library tells for the same
seas. The count is taken as Poisson given the rates, and the rates may be off by the doubt that the plan was made with:
a plan fails when so many events, or more, had odds under ALARM in both together. Fewer than told fails nothing, and is
said. Power is the odds that the rule rejects where every rate is so many times what is told.
"""

from typing import NamedTuple

from scipy.stats import poisson

ALARM = 0.01  # odds of a false rejection, at most; our own choice
LEVELS = (0.5, 0.7)  # [share of the reverse limit] that are judged
TIMES = (2.0, 4.0)  # what every rate is of what is told, where the power is told
MOST_ENDED = 0.05  # [-] of the marches, ended early or beyond the validity


class Verdict(NamedTuple):
    """What was counted past one level, and what was told."""

    level: float  # [share of the limit]
    counted: int
    told: float  # expected count, the mean over the doubt
    odds: float  # [-] of so many or more
    odds_fewer: float  # [-] of so many or fewer
    power: tuple  # [-] for each of TIMES

    @property
    def fails(self):
        """Whether there are more than the doubt allows."""
        return bool(self.odds < ALARM)


def judged(level, counted, expected, weights):
    """`Verdict` on a count, with `expected` (d,) counts in each case of the doubt, of `weights` (d,)."""
    more = lambda count, means: float(poisson.sf(count - 1, means) @ weights)  # noqa: E731
    middle = expected[len(expected) // 2]
    critical = least_rejected(expected, weights)
    power = tuple(float(poisson.sf(critical - 1, times * middle)) for times in TIMES)
    fewer = float(poisson.cdf(counted, expected) @ weights)
    return Verdict(level, int(counted), float(expected @ weights), more(counted, expected), fewer, power)


def least_rejected(expected, weights):
    """The least count that is rejected, by bisection."""
    low, high = 0, 1
    while poisson.sf(high - 1, expected) @ weights >= ALARM:
        high *= 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if poisson.sf(middle - 1, expected) @ weights >= ALARM else (low, middle)
    return high
