"""Added mass of ship-like sections and of wedges: what to choose for a hull's added-mass share."""

import numpy as np
from scipy.special import beta as euler_beta


def lewis_coefficients(half_beam_over_draught, area_coefficient):
    """Coefficients (a1, a3) [-] of the Lewis section.

    `half_beam_over_draught` [-], `area_coefficient` [-] area over beam times draught. Standard two-parameter mapping of
    a circle (Lewis 1929, closed form from memory).
    """
    tilt = (half_beam_over_draught - 1.0) / (half_beam_over_draught + 1.0)
    fullness = 4.0 * area_coefficient / np.pi
    c = 3.0 + fullness + (1.0 - fullness) * tilt**2
    a3 = (3.0 - c + np.sqrt(9.0 - 2.0 * c)) / c
    return tilt * (1.0 + a3), a3


def lewis_added_mass(half_beam_over_draught, area_coefficient):
    """High-frequency heave added mass of a Lewis section over that of its flat plate, rho pi B^2/8 [-].

    `half_beam_over_draught`, `area_coefficient` [-] as in `lewis_coefficients`. C33 = ((1 + a1)^2 + 3 a3^2)/(1 + a1 +
    a3)^2: 1 for a half circle and for a flat plate (Lewis 1929, from memory).
    """
    a1, a3 = lewis_coefficients(half_beam_over_draught, area_coefficient)
    return ((1.0 + a1) ** 2 + 3.0 * a3**2) / (1.0 + a1 + a3) ** 2


def lewis_sway_added_mass(half_beam_over_draught, area_coefficient):
    """Sway added mass of a Lewis section that moves slowly under a rigid surface, over rho pi T^2/2 [-].

    `half_beam_over_draught`, `area_coefficient` [-] as in `lewis_coefficients`. C22 = ((1 - a1)^2 + 3 a3^2)/(1 - a1 +
    a3)^2, 1 for a half circle and, of any breadth, for a half ellipse (Lewis 1929, from memory).
    """
    a1, a3 = lewis_coefficients(half_beam_over_draught, area_coefficient)
    return ((1.0 - a1) ** 2 + 3.0 * a3**2) / (1.0 - a1 + a3) ** 2


def wedge_added_mass_share(deadrise):
    """High-frequency heave added mass of a wedge over that of the plate of its beam [-]; deadrise [rad] > 0.

    Half of a rhombus in unbounded water, no pile-up. The outside of a circle of radius c maps onto
    the rhombus of half-beam B; its side B/cos(b) is c times an Euler beta function, and the kinetic
    energy gives m = rho (pi c^2 (1 + a1) - B^2 tan b), a1 = 1 - 4 b/pi. 0.7566 at
    45 deg, towards 1 for a plate. Derived here (Schwarz-Christoffel map).
    """
    side_over_radius = euler_beta(1.0 - deadrise / np.pi, 0.5 + deadrise / np.pi)
    radius = 1.0 / (np.cos(deadrise) * side_over_radius)
    stretch = 2.0 - 4.0 * deadrise / np.pi
    return (np.pi * radius**2 * stretch - np.tan(deadrise)) / (0.5 * np.pi)
