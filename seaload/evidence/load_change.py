"""How a change moves the load at a place: its mean shifts, and its fluctuation about the mean grows.

Both are read from runs over the same waves, the mean from all of the sea and the growth from the highest tenth of
the block extremes, so they are known far better than a difference of two rare rates. Taken together they say which
load of the setting as it is comes as often as the limit does after the change; its own tail, from all the sea it was
sailed in, then says how often that is. Rarer loads grow alike, measured over five hours of a sea 4 % higher: the load
that becomes the reverse limit is 0.936 +- 0.014 of it by the highest tenth, 0.943 +- 0.036 by loads rarer by e^4.
"""

from dataclasses import dataclass

import numpy as np

from seaload.evidence.log_rate import high_loads
from seaload.evidence.places import common_place, mean_share


@dataclass(frozen=True)
class Loads:
    """Loads of several runs over the same waves at one place [share of the limit]; arrays (runs,)."""

    mean: np.ndarray
    fluctuation: np.ndarray  # of the high load about the mean

    def level(self, run=1, base=0):
        """Load of the run `base` that comes as often as the limit does in `run` [share of the limit]."""
        smaller = self.fluctuation[base] / self.fluctuation[run]
        return float(self.mean[base] + (1.0 - self.mean[run]) * smaller)


def common_loads(groups, side):
    """`Loads` of several groups of finished cases over the same waves; ValueError with too few peaks to tell."""
    place, runs = common_place(groups, side)
    mean = np.array([mean_share(records, side, place) for records in groups])
    fluctuation = high_loads(runs) - mean
    if not np.all(fluctuation > 0.0):
        raise ValueError("high loads are no farther out than the mean")
    return Loads(mean, fluctuation)


@dataclass(frozen=True)
class Paired:
    """`Loads` of cases as they are and after a change over the same waves, and again with each realisation left out.

    What the waves do to both alike drops out; errors are by leaving one out (Tukey's jackknife).
    """

    loads: Loads
    without: tuple  # of Loads

    def jackknife(self, number_of):
        """(value, standard error) of number_of(Loads)."""
        n, left = len(self.without), np.array([number_of(loads) for loads in self.without])
        return number_of(self.loads), float(np.sqrt((n - 1.0) / n * np.sum((left - left.mean()) ** 2)))

    def level(self):
        """(load of the cases as they are that comes as often as the limit after the change, its standard error)."""
        return self.jackknife(lambda loads: loads.level())

    def change_of(self, share):
        """(by how much a high load at `share` of the limit rises with the change, its standard error)."""
        return self.jackknife(
            lambda loads: float(
                loads.mean[1] + (share - loads.mean[0]) * loads.fluctuation[1] / loads.fluctuation[0] - share
            )
        )


def paired_loads(own, changed, side):
    """`Paired` of two groups of finished cases over the same waves; ValueError with too few peaks, also one left out.
    """
    n, without = len(own), []
    for left in range(n):
        kept = [r for r in range(n) if r != left]
        without.append(common_loads([[group[r] for r in kept] for group in (own, changed)], side))
    return Paired(common_loads([own, changed], side), tuple(without))
