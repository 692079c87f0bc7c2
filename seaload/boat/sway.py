"""Side force and yaw moment of the hull: momentum of the water that its sections push sideways, in still water and in
waves.

A hull that drifts while it runs pushes water sideways in every cross-section that it passes. Slender-body theory: force
a metre U d(m v)/dx with the section's sway added mass m, so that over the whole length only the value at the transom is
left as a force, and the rest is the moment that turns the bow away from the drift (Munk 1924; Jones 1946, from memory).
"""

from math import pi

from seaload.basis.compile import compiled

END_FLOW_SWAY = 0.90  # [-] of the strips' sum: a Wigley hull of B/L 0.1 under a rigid surface, from panels (derived)


def sway_factor(share, density):
    """Factor [kg/m3] of `sway_added_mass`: `share` [-] over that of a half circle times rho pi/2 (any text).

    `density` rho [kg/m3].
    """
    return share * density * 0.5 * pi


@compiled
def sway_added_mass(immersion, factor):
    """Sway added mass of a section per length [kg/m]: the factor times the square of its draught.

    `immersion` [m] of the lowest point, none when dry; `factor` [kg/m3] as `sway_factor`. The water round a section is
    still long before the hull has passed, so that the surface acts as a rigid lid (assumption: gravity acts in a
    sixth of a second on a draught of 0.3 m, the hull passes in two).
    """
    draught = max(immersion, 0.0)
    return factor * draught * draught


@compiled
def sway_added_mass_slope(immersion, factor):
    """Change of `sway_added_mass` with the immersion [kg/m2]; `immersion` [m], `factor` [kg/m3] as there."""
    return 2.0 * factor * max(immersion, 0.0)


@compiled
def unsteady_side(mass, growth, drift, water_rate):
    """Side force of a section per length [N/m], to leeward +, as the water round it changes its sideways momentum.

    `mass` [kg/m] sway added mass and its `growth` [kg/(m s)] as the section dips, `drift` [m/s] of the hull through the
    water to leeward, `water_rate` [m/s2] rate of the water's sideways velocity at the section. What the hull's own
    acceleration causes belongs on the left side of the equation of motion. Momentum of the section's water, -d(m
    drift)/dt (strip theory, any text on ship motions), while the section goes in. What it gives up as it comes out
    keeps its momentum in the wake and pushes nothing, as behind the greatest breadth of a slender wing (Jones 1946,
    from memory): were it given back, a bow that comes out of a wave would spin her three times as fast as it went in.
    """
    return mass * water_rate - max(growth, 0.0) * drift


@compiled
def side_slice(mass, drift, speed, stern, x, dx):
    """Side force of one slice [N], to leeward +, and its yaw moment [N m], bow to leeward +.

    `mass` [kg/m] sway added mass, `drift` [m/s] of the hull through the water to leeward, `speed` [m/s] along the path,
    `stern` [-] weight of this slice in the value at the transom, `x` [m] ahead of the centre of gravity, `dx` [m].
    The gradient along the hull is integrated by parts: the transom holds the force, every slice turns the bow.
    """
    carried = mass * speed * drift
    force = -stern * carried
    return force, x * force - carried * dx
