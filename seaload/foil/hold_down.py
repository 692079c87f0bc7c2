"""Load of the line that holds the foil down: the axial force along the shaft at the bearing, less friction.

The foil slides along its straight shaft. Lift with a component up the shaft pushes the foil up through its
bearings and the line holds it out; when the axial force turns round, the line is slack and the foil pulls
on its up-stop. Friction in the bearings helps the line (it holds what would slide).
"""

from seaload.basis.compile import compiled


@compiled
def axial_force(force_y, force_z, shaft_y, shaft_z):
    """Force along the shaft that pushes the foil up into the hull [N], + = the line is taut.

    `force_y`, `force_z` [N] sum of all forces on the part outside (weight and inertia included), upright
    boat's axes; `shaft_y`, `shaft_z` [-] unit vector along the shaft outward (cos, sin of its dihedral).
    """
    return -(force_y * shaft_y + force_z * shaft_z)


@compiled
def hold_down_load(axial, root_moment, root_shear, bearing_distance, friction):
    """Tension of the hold-down line [N], never below zero (slack, the foil on its up-stop).

    `axial` [N] as `axial_force`; `root_moment` [N m] and `root_shear` [N] at the lower bearing, the other one
    `bearing_distance` [m] > 0 above it. `friction` [-] times the sizes of both bearing reactions is taken off: the
    upper one carries moment over distance, the lower one that and the shear (statics, in any text).
    """
    upper = abs(root_moment / bearing_distance)
    lower = abs(root_shear + root_moment / bearing_distance)
    return max(axial - friction * (upper + lower), 0.0)
