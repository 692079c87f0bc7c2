"""What an input does that does not act in proportion: told at a few deviations, a smooth line through them."""

from typing import NamedTuple

import numpy as np
from scipy.interpolate import PchipInterpolator

NODES = np.array([-2.0, -1.0, 0.0, 1.0, 2.0])  # deviations
FARTHEST = 8.0  # deviations to which the outermost steps go straight on


class Bend(NamedTuple):
    """What input `number` does to a load at each of the NODES, nothing where it is as expected."""

    number: int  # among the uncertain inputs
    shifts: np.ndarray  # (5,) change of the mean load [share of the limit]
    growths: np.ndarray  # (5,) change of ln(fluctuation about the mean) [-]

    def slope(self, mean):
        """Change of the load that comes as often as the limit by one deviation [share of the limit], from -1 to +1.

        mean : mean load [share of the limit].
        """
        moved = np.asarray(self.shifts) + (1.0 - mean) * np.asarray(self.growths)
        return float(0.5 * (moved[3] - moved[1]))


def bent(values, at):
    """The line through `values` (5,) at the NODES, read `at` any deviations; straight on beyond the last ones.

    Shape-keeping cubics (Fritsch & Carlson 1980): no bump between two nodes, and a straight line stays one.
    """
    values = np.asarray(values, dtype=float)
    if not values.any():
        return np.zeros(np.shape(at))
    beyond = FARTHEST - NODES[-1]
    ends = values[0] - beyond * (values[1] - values[0]), values[-1] + beyond * (values[-1] - values[-2])
    line = PchipInterpolator(np.r_[-FARTHEST, NODES, FARTHEST], np.r_[ends[0], values, ends[1]])
    return line(np.clip(at, -FARTHEST, FARTHEST))


def extended(values, known):
    """`values` (5,) at the NODES with those that are not `known` (5,) bool told by the step before them.

    The step from the middle outward; where even the first is not known, that of the other side; nothing without either.
    """
    filled = np.where(known, values, np.nan)
    filled[2] = 0.0
    for first, second, other in ((3, 4, 1), (1, 0, 3)):
        if np.isnan(filled[first]):
            filled[first] = -filled[other] if np.isfinite(filled[other]) else 0.0
        if np.isnan(filled[second]):
            filled[second] = 2.0 * filled[first]
    return filled
