"""What the sails carried in a wind allow: the heel that she is sailed at with them, the speeds their thrust holds."""

import numpy as np

from seaload.deciding.known_wind import SPARE
from seaload.deciding.library.coordinates import SETTING

HEEL, SPEED = SETTING.index("heel"), SETTING.index("speed_set")
NEAR = 1e-9  # [rad]


def rows_in(ladder, wind):
    """Number of the row of a `ladder` (of `Sails`, the first from no wind on) that holds in a `wind` (any shape) [m/s].
    """
    return np.searchsorted([sails.wind_from for sails in ladder], wind, side="right") - 1


def carried(ladder, settings, wind, most, shares):
    """(n, q, j) bool: which `settings` (j, SETTING names) [SI] the sails carried in the `wind` (n, q) [m/s] allow.

    most : (n, q, j) [m/s] that the whole thrust holds in the sea; shares : (rows, j) [-] of that speed that the thrust
    of each row holds.
    """
    row = rows_in(ladder, wind)
    heel = np.array([sails.heel for sails in ladder])[row][..., None]
    held = most * np.asarray(shares)[row]
    return (settings[:, HEEL] <= heel + NEAR) & (settings[:, SPEED] <= (1.0 + SPARE) * held)
