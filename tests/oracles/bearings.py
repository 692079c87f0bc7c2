"""Statics of a foil in two bearings and of the line that holds it."""

from seaload.basis.compile import compiled


@compiled
def bearing_reactions(root_moment, root_shear, bearing_distance):
    """Reactions (lower, upper) of two bearings across the shaft [N], signed.

    `root_moment` [N m] at the lower one, + = design direction, `root_shear` [N] there, + along the
    shaft's normal (-sin, cos),
    `bearing_distance` [m] > 0. The upper one carries the moment alone (M/d, the load's
    sense), the lower one moment and shear the other way; their sum with the load is zero.
    """
    upper = root_moment / bearing_distance
    return -(root_shear + upper), upper


@compiled
def inclined_line_tension(normal_load, load_lever, line_lever, sine_of_angle):
    """Tension of a line that holds a pivoted foil [N]: F a / (b sin phi).

    `normal_load` F [N] at `load_lever` a [m] from the pivot; line made fast at `line_lever` b [m] under the
    angle phi to the foil. Moment balance about the pivot (REFERENCES section 7).
    """
    return normal_load * load_lever / (line_lever * sine_of_angle)
