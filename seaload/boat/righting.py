"""Righting: centre of gravity with the keel canted, righting arm, and its line at the mean heel."""

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.boat.heeling import heeled
from seaload.boat.hydrostatics import afloat, flotation, heeled_hull

HEEL_STEP = np.radians(0.5)  # [rad] of the central difference


def centre_of_gravity(cg_height, mass, bulb_mass, fin_span, cant):
    """Centre of gravity (y to leeward, z above the keel point) [m] in boat axes, keel canted to windward +.

    `cg_height` [m] is that of the whole boat of `mass` [kg] with the keel upright; the bulb of `bulb_mass` [kg] at the
    end of a fin of `fin_span` [m] swings through `cant` [rad] about the fin's root. The fin's own mass is left out (the
    bulb may be given a little heavier to hold it). Statics, in any text.
    """
    share = bulb_mass / mass
    return -share * fin_span * np.sin(cant), cg_height + share * fin_span * (1.0 - np.cos(cant))


def righting_arm(form, mass, heel, cg_y, cg_z, density=SEA_WATER_DENSITY):
    """Righting arm GZ [m] at a `heel` [rad], + when the hull wants to come upright.

    `form` a hull, SI, that carries `mass` [kg] in water of `density` [kg/m3]. Buoyancy acts GZ to leeward of the centre
    of gravity (`cg_y`, `cg_z` in boat axes [m]); the moment is mass g GZ. Level trim (the small trim that heel brings
    is left out). Statics, in any text.
    """
    floating = flotation(form, mass, heel, density=density)
    return floating.centre_y - heeled(cg_y, cg_z, heel)[0]


def righting_line(form, mass, heel, cg_y, cg_z, density=SEA_WATER_DENSITY):
    """Righting arm at the mean heel [m] and its slope [m/rad]: (gz0, gz1).

    Arguments as in `righting_arm`: `form`, `mass` [kg], `heel` [rad], `cg_y`, `cg_z` [m], `density` [kg/m3]. The march
    takes the restoring roll moment as -mass g (gz0 + gz1 (roll - mean heel)); gz1 below zero means the hull alone would
    not hold that heel.
    """
    return righting_lines(form, [mass], heel, cg_y, cg_z, density)[0]


def righting_lines(form, masses, heel, cg_y, cg_z, density=SEA_WATER_DENSITY):
    """`righting_line` of each of several carried `masses` [kg]: a list of (arm [m], slope [m/rad]).

    `form`, `heel` [rad], `cg_y`, `cg_z` [m], `density` [kg/m3] and source as there; the sections are turned once for
    all.
    """
    arms = []
    for turned in (heel - HEEL_STEP, heel, heel + HEEL_STEP):
        hull, gravity_y = heeled_hull(form, turned), heeled(cg_y, cg_z, turned)[0]
        arms.append([afloat(hull, mass, density).centre_y - gravity_y for mass in masses])
    return [(here, (ahead - behind) / (2.0 * HEEL_STEP)) for behind, here, ahead in zip(*arms, strict=True)]
