"""Damage sums over counted cycles, and the damage-equivalent load.

S-N curve in load *range* here: N = strength * range^-slope. (Spectral formulas use the amplitude, half of it:
a mix-up costs a factor 2^slope.)
"""

import numpy as np


def miner_damage(ranges, counts, slope, strength):
    """Miner damage sum of counted cycles, range only [-] (Palmgren 1924, Miner 1945).

    ranges : (k,) [load], counts : (k,) [-], slope : float [-], strength : float [load^slope].
    """
    return float(np.sum(counts * np.asarray(ranges, dtype=float) ** slope) / strength)


def damage_equivalent_range(ranges, counts, slope, cycles):
    """Range that does the same damage in `cycles` [-] equal cycles [load]: (sum n S^m / N)^(1/m).

    `ranges`, `counts`, `slope` as in `miner_damage` (definition); the sum is taken relative to the largest range, so
    that it cannot overflow.
    """
    ranges = np.asarray(ranges, dtype=float)
    largest = ranges.max(initial=0.0)
    if largest == 0.0:
        return 0.0
    return float(largest * (np.sum(counts * (ranges / largest) ** slope) / cycles) ** (1.0 / slope))


def equivalent_of_usage(shares, equivalents, slope):
    """Damage-equivalent range of a usage [load]: (sum of w DEL^m)^(1/m) (definition; REFERENCES, sizing).

    `shares` w (k,) [-] of the time in each sea; `equivalents` (k,) or (k, places) [load] the ranges of each sea at the
    same cycles an hour; `slope` m [-]. (places,) where there are several.
    """
    equivalents = np.asarray(equivalents, dtype=float)
    largest = max(float(equivalents.max(initial=0.0)), 1e-300)
    return largest * (np.asarray(shares) @ (equivalents / largest) ** slope) ** (1.0 / slope)
