"""Axes of an inclined strip: normal and tangent in the y-z plane, and the incidence that a rake gives it.

Slope angle chi of the strip in the heeled plane (dihedral less heel), tangent (cos chi, sin chi) outward,
normal (-sin chi, cos chi) on the design-lift side; y to leeward, z up.
"""

from math import asin, sin

import numpy as np

from seaload.basis.compile import compiled


def strip_normal(chi):
    """Unit normal of a strip (y to leeward, z up) [-]: (-sin chi, cos chi), each like `chi` [rad]. Geometry."""
    return -np.sin(chi), np.cos(chi)


@compiled
def along_normal(y, z, cosine, sine):
    """Part of a y-z vector along the strip's normal, in the vector's unit; `cosine`, `sine` [-] of chi.

    For water that moves past the foil with (u - v): + is towards more design lift. So heave up gives
    -cos chi, sway to leeward +sin chi, rising water +cos chi.
    """
    return cosine * z - sine * y


@compiled
def along_tangent(y, z, cosine, sine):
    """Part of a y-z vector along the strip, outward +, in the vector's unit; `cosine`, `sine` [-] of chi."""
    return cosine * y + sine * z


@compiled
def rolled_normal(ny, nz, roll):
    """Normal of a strip after a small roll: (y to leeward, z up) [-], first order in it.

    `ny`, `nz` [-] of the unit normal at the mean heel, `roll` [rad] from it, leeward side down +.
    """
    return ny + nz * roll, nz - ny * roll


@compiled
def rolled_place(y, z, roll):
    """Place to leeward of a point after a small roll [m], first order in it: what hangs under swings to windward.

    `y`, `z` [m] to leeward and up at the mean heel, `roll` [rad] from it, leeward side down +. Geometry.
    """
    return y + z * roll


@compiled
def upward(roll):
    """The direction up, in the boat's own axes after a small roll: (y to leeward, z up) [-], first order in it.

    `roll` [rad], leeward side down +. Geometry: the boat turns under it.
    """
    return -roll, 1.0


@compiled
def set_angle(incidence, pitch, nz):
    """Angle of a strip's section to the level heading of the boat [rad], + = more design lift.

    `incidence` [rad] built in, by rake or by a rudder, `pitch` [rad] bow up +, `nz` [-] of the strip's normal, up.
    First order in both angles (derived here from the axes above). Leeway is a velocity of the strip, not an angle.
    """
    return incidence + pitch * nz


@compiled
def rake_incidence(rake, dihedral_cosine):
    """Incidence of a strip from a rake about the transverse axis [rad]: sin a = sin rake cos dihedral.

    `rake` [rad] nose up +; `dihedral_cosine` [-] of the strip in the upright boat. Geometry.
    """
    return asin(sin(rake) * dihedral_cosine)
