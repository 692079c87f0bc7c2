"""Shape and load of one cross-section of the hull: the formula the march calls for every station.

Sections belong to one family, half-breadth b(h) = B eta (1 + q (1 - eta)) with eta = h/h_c up to the
chine and a vertical side above it. q = 0 is a wedge (hard chine, V bottom), q = 1 a parabola that
meets the vertical side without a corner (the Wigley hulls).
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.constants import STANDARD_GRAVITY

EXIT_DRAG_SHARE = 0.3  # [-] cross-flow drag of a section that leaves the water, over that of one entering
EXIT_FROUDE_SQUARE = 0.25  # [-] V^2/(g b) at which half of the exit term is left: water falls no faster (assumption)
SMALL_BEAM = 1e-6  # [m] keeps padded stations of no beam finite


def added_mass_factor(added_mass_share, density):
    """Factor k_a rho pi/2 [kg/m3] of a section's added mass per length, which is this times b^2 (flat plate, any text).

    `added_mass_share` k_a [-] over that of the plate of its beam, `density` [kg/m3].
    """
    return added_mass_share * density * 0.5 * np.pi


def buoyancy_factor(planing_buoyancy, eased, density):
    """Buoyancy per submerged area of a section [N/m3]: rho g, less of it when planing.

    `planing_buoyancy` [-] share of hydrostatic lift left when planing, `eased` [-] how far the hull planes, as
    `hull_stations.planing_share`; `density` [kg/m3]. Zarnick's (1978) factor, led in smoothly (assumption).
    """
    return density * STANDARD_GRAVITY * (1.0 - eased * (1.0 - planing_buoyancy))


def section_coefficient(fullness):
    """Area under water over breadth times draught of a section below its chine [-]: 1/2 for a wedge, 2/3 for a
    parabola; `fullness` q [-].
    """
    return 0.5 + fullness / 6.0


@compiled
def section_shape(immersion, inverse_chine_height, half_beam, fullness):
    """Half-breadth [m], its slope by immersion [-] and area under water [m2] of one section in still water.

    `immersion` h [m] of the lowest point, `inverse_chine_height` 1/h_c [1/m] of the chine above that
    point (for a wedge 1/(B tan deadrise)), `half_beam` B [m] at the chine, `fullness` q [-]. All
    three are zero for a dry section; the slope is zero above the chine.
    """
    h = max(immersion, 0.0)
    ratio = h * inverse_chine_height
    eta = min(ratio, 1.0)
    half_breadth = half_beam * eta * (1.0 + fullness * (1.0 - eta))
    slope = half_beam * inverse_chine_height * (1.0 + fullness * (1.0 - 2.0 * eta))
    slope = slope if (immersion > 0.0) and (ratio < 1.0) else 0.0
    # area = 2 (B h_c [eta^2/2 + q (eta^2/2 - eta^3/3)] + B (h - h_c)); B h_c eta = B h below the chine,
    # so no division by 1/h_c is needed
    below = h / max(ratio, 1.0)
    share = 0.5 + fullness * (0.5 - eta / 3.0)
    area = 2.0 * half_beam * (below * eta * share + (h - below))
    return half_breadth, slope, area


def section_shapes(immersion, inverse_chine_height, half_beam, fullness):
    """`section_shape` of n sections: half-breadth (n,) [m], its slope (n,) [-], area (n,) [m2].

    `immersion` (n,) [m], `inverse_chine_height` (n,) [1/m], `half_beam` (n,) [m], `fullness` [-] as there.
    """
    rows = zip(immersion, inverse_chine_height, half_beam, strict=True)
    return np.array([section_shape(*row, fullness) for row in rows]).T


@compiled
def hull_section_load(
    immersion,
    immersion_rate,
    entry_speed,
    entry_speed_rate,
    water_rise,
    water_acceleration,
    inverse_chine_height,
    half_beam,
    fullness,
    pile_up,
    added_mass_factor,
    drag_factor,
    buoyancy_factor,
    density,
    radiation_factor,
):
    """Upward force on one section: (whole [N/m], its momentum and drag part [N/m], added mass [kg/m]).

    The force leaves out what the hull's own heave and pitch accelerations cause: those belong on the
    left side of the equation of motion, with the added mass returned here. It also leaves out the
    convective term -U d(m_a V)/dxi, which the march integrates by parts along the hull.

    `immersion` h [m], `immersion_rate` [m/s] its rate at a point fixed in the boat (so it holds the
    boat's own speed over the waves), `entry_speed` V [m/s] of the section into the water, normal to
    the keel, + when it enters, `entry_speed_rate` [m/s2] at the same fixed point without body
    accelerations, `water_rise` [m/s] vertical velocity of water less that of the hull,
    `water_acceleration` [m/s2] upward, of the water at a point fixed in the sea. Shape as in
    `section_shape` (`inverse_chine_height` [1/m], `half_beam` [m], `fullness` [-]); `pile_up` [-] wetted over still
    immersion; `added_mass_factor` k_a rho pi/2 [kg/m3], `drag_factor` C_D rho [kg/m3], `buoyancy_factor` rho g times
    the share of hydrostatic lift [N/m3], `density` [kg/m3], `radiation_factor` [kg/(m s)] wave damping at full
    half-beam.

    Momentum: d(m_a V)/dt with m_a = k_a rho pi b_e^2/2 (Zarnick 1978, Martin 1978, form from memory,
    coefficients read in a public transcription). The m_a' term is kept on exit too: dropping it there
    raises the response of a planing hull by 60 % (derived). A section that leaves faster than gravity can pull
    the water after it loses the term: Froude number of the exit speed on the wetted half-beam. Reduced
    cross-flow drag on exit is an assumption, no source.
    """
    half_breadth, _, area = section_shape(immersion, inverse_chine_height, half_beam, fullness)
    wetted, wetted_slope, _ = section_shape(pile_up * immersion, inverse_chine_height, half_beam, fullness)
    added_mass = added_mass_factor * wetted * wetted
    added_mass_slope = 2.0 * added_mass_factor * wetted * wetted_slope * pile_up
    leaving = min(entry_speed, 0.0)
    followed = 1.0 / (1.0 + leaving * leaving / (EXIT_FROUDE_SQUARE * STANDARD_GRAVITY * max(wetted, SMALL_BEAM)))
    momentum = added_mass * entry_speed_rate + followed * entry_speed * added_mass_slope * immersion_rate
    way = 1.0 if entry_speed > 0.0 else -EXIT_DRAG_SHARE
    drag = drag_factor * wetted * way * entry_speed * entry_speed
    buoyancy = buoyancy_factor * area + density * area * water_acceleration
    radiation = radiation_factor * half_breadth / max(half_beam, SMALL_BEAM) * water_rise
    return momentum + drag + buoyancy + radiation, momentum + drag, added_mass


@compiled
def stern_weight(station):
    """Weight of a station in the value at the transom [-], straight through the first two slices' middles.

    `station` number from the transom, 0 the first.
    """
    return 1.5 if station == 0 else (-0.5 if station == 1 else 0.0)


@compiled
def relieved_slice(force, momentum, added_mass, entry_speed, speed, relief, relief_slope, stern, dx):
    """Load of one slice of hull near a dry transom: (lift [N], moment [N m], eased momentum [N/m], added mass [kg]).

    `force`, `momentum` [N/m] and `added_mass` [kg/m] as `hull_section_load` gives them, `entry_speed` V [m/s], `speed`
    U [m/s] of the boat, `relief` tau [-] and `relief_slope` [1/m] as `hull_stations.transom_relief`, `stern` [-] weight
    of this slice in the value at the transom (0 when the transom is wet with relief), `dx` [m]. The convective term
    -U d(m_a V)/dx is integrated by parts along the hull (Zarnick 1978, form from memory): what the wake takes along,
    the gradient of the relief, and the transom; the moment is what that leaves about the slice, bow-up +.
    """
    carried = added_mass * entry_speed * speed
    eased = relief * momentum
    shed = carried * relief_slope * dx + stern * carried
    lift = (force - momentum + eased) * dx + shed
    return lift, carried * relief * dx, eased, relief * added_mass * dx
