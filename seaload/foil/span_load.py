"""Shear and torsion of a foil at a cut across its span, from the forces outside the cut.

Normal and tangent as in `strip_axes`. Lift acts on a straight line along the foil's quarter chords, which lies ahead of
the sections' shear centre; what leans lift and drags acts at each strip's own place beside the cut's tangent.
"""

from seaload.basis.compile import compiled

LIFT_SHARE = 0.25  # [-] of the chord from its leading edge, where lift acts (thin sections, in any text)


@compiled
def along(ny, nz, y, z):
    """Part of a y-z vector (`y`, `z`) along the normal (`ny`, `nz`) [-], in the unit of the vector. Geometry."""
    return ny * y + nz * z


@compiled
def edge_torsion(shear, arm, push_beside):
    """Torsion at a cut [N m], + = leading edge towards the design side.

    `shear` [N] along the normal; `arm` [m] from the shear centre forward to the line of lift; `push_beside` [N m] sum
    of the forward forces outside times their places along the cut's normal, from the cut. Part along the tangent of
    all moments about the cut (statics).
    """
    return arm * shear - push_beside


def shear_arm(chord, shear_centre):
    """Distance from a section's shear centre forward to where lift acts [m], like `chord` [m].

    `shear_centre` [-] share of the chord from the leading edge. Geometry.
    """
    return (shear_centre - LIFT_SHARE) * chord
