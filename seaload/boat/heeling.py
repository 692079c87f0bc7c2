"""Heeling: places of the upright boat in the heeled one, and the sails' moment that holds the heel."""

import numpy as np

from seaload.basis.compile import compiled


def heeled(y, z, heel):
    """Places (y, z) [m] after heeling leeward side down: y to leeward, z up, in axes that stay level.

    `y` to leeward and `z` up [m] in the upright boat, floats or arrays (n,), both from the same point, about which
    the boat turns; `heel` [rad] leeward side down +. Rotation in a plane (in any text on mechanics).
    """
    return y * np.cos(heel) + z * np.sin(heel), -y * np.sin(heel) + z * np.cos(heel)


def heeling_moment_fall(heel):
    """Relative fall of the sails' heeling moment per radian of roll at a mean heel [1/rad]: 2 tan(heel).

    `heel` [rad]. The moment falls as the square of the cosine of heel (common practice, no source); this is minus
    the slope of its logarithm.
    """
    return 2.0 * np.tan(heel)


@compiled
def heeling_moment(mean, fall, roll, gust):
    """Heeling moment of the sails [N m], leeward side down +.

    `mean` [N m] at the mean heel, `fall` [1/rad] as `heeling_moment_fall`, `roll` [rad] from the mean heel, leeward
    side down +, `gust` [-] pull of the wind over its mean. First order in roll (common practice, no source).
    """
    return mean * gust * (1.0 - fall * roll)
