"""Wave directions seen from the boat: from compass directions and heading to mu, and back.

mu: 0 = following, pi = head sea, waves travel along (cos mu, sin mu) with x forward and y to leeward. The
model always sails with the working foil to leeward, so compass angles are mirrored on one of the tacks:
waves that come from windward travel to +y on both.
"""

import numpy as np

TACK_SIGN = {"starboard": -1.0, "port": 1.0}  # leeward is port, anticlockwise, on starboard tack


def wrapped(angle):
    """The same `angle` [rad] within -pi..pi (definition)."""
    return np.mod(np.asarray(angle, dtype=float) + np.pi, 2.0 * np.pi)[()] - np.pi


def direction_in_boat(from_direction, heading, tack):
    """Wave direction mu [rad] in boat axes, -pi..pi, + = travels to leeward.

    from_direction (any shape) [rad], compass, where the waves come FROM; heading [rad], compass; tack
    "starboard" or "port" (the side the wind comes from). mu = from + pi - heading on port tack, its mirror
    on starboard tack. Raises ValueError for another word.
    """
    if tack not in TACK_SIGN:
        raise ValueError(f'tack must be "starboard" or "port", got {tack!r}')
    return wrapped(TACK_SIGN[tack] * (np.asarray(from_direction, dtype=float) + np.pi - heading))
