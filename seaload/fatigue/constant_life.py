"""Damage of one load cycle from its range and mean: the shifted-Goodman constant-life diagram, in moment.

The diagram is a tent over the mean load. Its feet stand at the two ultimate loads of the place
(normal U+ and reverse -U-), its apex half-way between them. Everything is in load at the place, so
no stress is needed.

Both faces of the laminate see every cycle, one of them mirrored: the mean changes sign and the two
ultimates change places. With one pair of ultimates for the place the tent of the mirrored face is
the mirror image and gives the same damage (a test says so), so the marching counter evaluates it
once.
"""

import math
from typing import NamedTuple

from seaload.basis.compile import compiled

REFERENCE_CYCLES = 1.0e6  # [-] cycles 0 -> 100 % of the normal limit that make wear 1


class WearCurve(NamedTuple):
    """What a cycle costs at one place: its diagram and two S-N slopes."""

    normal_ultimate: float  # [load] > 0, see `load_share`
    reverse_ultimate: float  # [load] > 0
    slope: float  # [-] m; 0 or less: no damage wanted
    steep_slope: float  # [-] the alternative
    scale: float  # [-] see `reference_scale`
    steep_scale: float  # [-]


@compiled
def raised(ratio, slope):
    """`ratio` to the power `slope` [-], both >= 0 [-] (definition).

    Whole slopes up to 64 by repeated multiplication (exact scaling, and quicker), others by exp and log.
    """
    whole = int(slope)
    if whole != slope or whole > 64:
        return math.exp(slope * math.log(ratio)) if ratio > 0.0 else 0.0
    power = 1.0
    base = ratio
    while whole > 0:
        if whole & 1:
            power *= base
        base *= base
        whole >>= 1
    return power


@compiled
def load_share(load_range, mean, normal_ultimate, reverse_ultimate):
    """Range of a cycle over the height of the tent at its mean [-]; >= 1 touches an ultimate load.

    `load_range` >= 0, `mean` (+ = normal), `normal_ultimate` > 0, `reverse_ultimate` > 0 share one unit.
    Beyond the feet of the tent the share is huge, never negative or infinite.

    Source: shifted linear Goodman, read in NuMAD shiftedGoodman.m and MFatigue.m, without partial factors:
    N = [(U+ + U- - |2 mean - U+ + U-|) / (2 amplitude)]^m, and 2 amplitude = range.
    """
    tent = normal_ultimate + reverse_ultimate - abs(2.0 * mean - normal_ultimate + reverse_ultimate)
    return load_range / max(tent, 1e-12 * (normal_ultimate + reverse_ultimate))


@compiled
def cycle_damage(load_range, mean, normal_ultimate, reverse_ultimate, slope, scale):
    """Damage of one cycle [-], at most 1.

    `load_range`, `mean`, `normal_ultimate`, `reverse_ultimate` as in `load_share`; `slope` [-] is m; `scale` [-]
    multiplies (1 for the plain diagram, `reference_scale` for wear relative to a reference block). A cycle that
    touches an ultimate load is a static failure: it costs exactly 1, whatever the scale.
    """
    share = load_share(load_range, mean, normal_ultimate, reverse_ultimate)
    if share >= 1.0:
        return 1.0
    return min(scale * raised(share, slope), 1.0)


def reference_damage(normal_limit, normal_ultimate, reverse_ultimate, slope):
    """Damage of 10^6 cycles from 0 to 100 % of the normal limit by the plain diagram [-]; may exceed 1.

    `normal_limit` > 0, `normal_ultimate`, `reverse_ultimate` share one unit; `slope` [-] is m. Raises ValueError when
    such a cycle touches an ultimate load, because no curve can then be normalised by it.
    """
    share = load_share(normal_limit, 0.5 * normal_limit, normal_ultimate, reverse_ultimate)
    if not share < 1.0:
        raise ValueError(
            f"a cycle 0 -> {normal_limit:g} touches the ultimate load {normal_ultimate:g}: "
            "the ultimate must be well above the normal limit"
        )
    return REFERENCE_CYCLES * raised(share, slope)


def reference_scale(normal_limit, normal_ultimate, reverse_ultimate, slope):
    """Factor for `cycle_damage` that makes 10^6 cycles 0 -> 100 % of the normal limit cost 1 [-].

    This is the default S-N curve: the result is wear relative to that block, never life left.
    `normal_limit`, `normal_ultimate`, `reverse_ultimate`, `slope` and error as `reference_damage`.
    """
    return 1.0 / reference_damage(normal_limit, normal_ultimate, reverse_ultimate, slope)
