"""What follows from a way of backing off by itself: the heel that eased sheets leave, the speed of another heading."""

from dataclasses import replace

import numpy as np

from seaload.deciding.known_wind import reference_speed
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays


def eased_heel(setting, speed, boat, foil, named_model=None):
    """Mean heel [rad] that a boat comes up to when her sheets are eased until she makes `speed` [m/s].

    `setting`, `boat`, `foil` scenario records, `named_model` the choices of the physics. Eased sails lose heeling force
    and thrust alike (assumption: no source); where the calm water's balance then needs less of either, she comes up. At
    most down to the least heel that the waves at the boat are worked out for, never past her own.
    """
    heels = np.linspace(min(boat.heel_window[0], setting.heel), setting.heel, LANES - 1)
    lanes = [*(replace(setting, heel=float(heel), speed=speed) for heel in heels), setting]
    model = model_factors(named_model)
    march, _, _ = march_arrays(boat, foil, lanes, [1.0] * LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, lanes))
    more = (trim.heel_moment / trim.heel_moment[-1] - trim.thrust / trim.thrust[-1])[:-1]
    over = np.flatnonzero(~(more < 0.0) | ~trim.balanced[:-1])  # heels that the eased sails do not hold
    if len(over) == 0:
        return setting.heel
    first = int(over[0])
    if first == 0:
        return float(heels[0])
    share = more[first - 1] / (more[first - 1] - more[first]) if np.isfinite(more[first]) else 0.0
    return float(heels[first - 1] + min(share, 1.0) * (heels[first] - heels[first - 1]))


def turned_speed(setting, turn, boat, sea):
    """Speed [m/s] of a setting when the boat turns away from the wind by `turn` [rad] and keeps trimming for speed.

    It changes as that of the rig's reference setting does in the `sea`'s true wind; unchanged where one of the two is
    not known.
    """
    now, then = (reference_speed(boat, sea.true_wind_speed, sea.true_wind_angle + more) for more in (0.0, turn))
    return setting.speed * then / now if now and then else setting.speed
