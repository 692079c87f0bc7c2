"""The boat's own display: a bending moment in its scale, from its zero, averaged and taken as it does."""

import numpy as np

from seaload.boat.hydrostatics import flotation
from seaload.foil.geometry import own_weight_moments


def zero_moment(boat, foil, extension, places, sensors):
    """Bending moment at which the display shows nothing [N m], (places,): the load when its zero was taken.

    "retracted": the foil's own weight, drawn in as far as it goes, dry; so its weight when out shows. "alongside": its
    weight less its buoyancy at this `extension` [-], the boat upright in still water. "never": none, the material
    unloaded. `places` [m] in the material.
    """
    if sensors.zero_taken == "never":
        return np.zeros(len(places))
    if sensors.zero_taken == "retracted":
        return own_weight_moments(foil, foil.least_extension, places)
    draught = flotation(boat.hull, boat.mass, 0.0).draught
    return own_weight_moments(foil, extension, places, draught - foil.exit_z)


def shown(moment, normal, reverse, sensors, strain_normal):
    """Moments (..., places) [N m] in the scale of the display: shares of a limit or strain [-], or force [N].

    `normal`, `reverse` (places,) [N m] limits; `strain_normal` [-] at the normal limit. A force is the bending moment
    over the display's lever: what would have to pull so far outboard of the gauge to bend it as much.
    """
    share = moment / normal
    if sensors.display == "percent_of_own_limit":
        return np.where(moment >= 0.0, share, moment / reverse)
    if sensors.display == "tonne_force":
        return moment / sensors.lever
    return share * strain_normal if sensors.display == "microstrain" else share


def averaged(values, step, sensors):
    """Running mean of the display, taken at its rate; `values` (time, places) `step` [s] apart."""
    width = max(int(round(sensors.running_mean / step)), 1)
    total = np.cumsum(np.vstack([np.zeros(values.shape[1]), values]), axis=0)
    smooth = (total[width:] - total[:-width]) / width
    return smooth[:: max(int(round(1.0 / (sensors.rate * step))), 1)]
