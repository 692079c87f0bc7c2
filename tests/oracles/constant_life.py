"""The constant-life diagram read the other way: cycles to failure, and both faces of a section together."""

import math

from seaload.basis.compile import compiled
from seaload.fatigue.constant_life import cycle_damage, load_share, raised


@compiled
def cycles_to_failure(load_range, mean, normal_ultimate, reverse_ultimate, slope):
    """Cycles of this range and mean until failure [-]; below 1 = static failure, infinity for no range.

    Arguments as in `load_share`; `slope` [-] is m of the S-N curve.
    """
    share = load_share(load_range, mean, normal_ultimate, reverse_ultimate)
    power = raised(share, slope)
    return 1.0 / power if power > 0.0 else math.inf


@compiled
def two_face_damage(load_range, mean, face_ultimates, other_ultimates, slope, scale):
    """Damage of one cycle [-], the worse of two faces that have ultimates of their own.

    `face_ultimates` = (normal, reverse) moments at which this face fails, `other_ultimates` the same for
    the opposite face; all in moment with + = normal, so the mirror is already in the numbers:
    the normal ultimate of one face is in tension where that of the other is in compression.
    """
    here = cycle_damage(load_range, mean, face_ultimates[0], face_ultimates[1], slope, scale)
    there = cycle_damage(load_range, mean, other_ultimates[0], other_ultimates[1], slope, scale)
    return max(here, there)
