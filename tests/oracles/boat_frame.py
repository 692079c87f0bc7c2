"""Directions taken back from the boat's frame to the edge."""

import numpy as np

from seaload.waves.boat_frame import TACK_SIGN, wrapped


def waves_from_bow(direction):
    """Angle from the bow to where the waves come from [rad], + from windward, for mu [rad]: pi - mu."""
    return wrapped(np.pi - np.asarray(direction, dtype=float))


def leeward_side(tack):
    """Name of the leeward side, "port" on starboard tack and the other way round: the working foil's name."""
    if tack not in TACK_SIGN:
        raise ValueError(f'tack must be "starboard" or "port", got {tack!r}')
    return "port" if tack == "starboard" else "starboard"
