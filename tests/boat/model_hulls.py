"""The model hulls of the published tests, as stations of seaload."""

import numpy as np

from seaload.basis.constants import FRESH_WATER_DENSITY
from seaload.boat.hull_stations import radiation_damping, sliced_transom_relief
from tests.boat.hull_in_waves import GRAVITY, ModelHull

ZARNICK = dict(added_mass=1.0, cross_flow=1.0, buoyancy=0.5)  # coefficients of Zarnick 1978 (read)
SEALOAD = dict(added_mass=0.85, cross_flow=1.0, buoyancy=0.75, relief=True)  # tuned on Savitsky's lift


def prismatic_hull(
    *,
    length,
    beam,
    deadrise,
    mass,
    cg_from_transom,
    gyradius,
    speed,
    bow_length,
    keel_height,
    added_mass=1.0,
    cross_flow=1.0,
    buoyancy=0.5,
    relief=False,
    count=80,
):
    """Hard-chine hull; bow an ellipse in plan and profile, `bow_length` and `keel_height` [m]."""
    dx = length / count
    x = (np.arange(count) + 0.5) * dx
    ahead = np.clip((x - (length - bow_length)) / bow_length, 0.0, 1.0)
    root = np.sqrt(1.0 - ahead**2)
    half_beam = 0.5 * beam * root
    keel_slope = keel_height * ahead / root / bow_length
    tau, tau_slope = np.ones(count), np.zeros(count)
    if relief:
        tau, tau_slope = sliced_transom_relief(x, dx, beam, speed)
    density = FRESH_WATER_DENSITY
    return ModelHull(
        xi=x - cg_from_transom,
        dx=np.full(count, dx),
        keel_rise=keel_height * (1.0 - root),
        keel_slope=keel_slope,
        half_beam=half_beam,
        inverse_chine_height=1.0 / (half_beam * np.tan(deadrise)),
        relief=tau,
        relief_slope=tau_slope,
        radiation_factor=np.zeros(count),
        fullness=0.0,
        pile_up=0.5 * np.pi,
        added_mass_factor=added_mass * density * 0.5 * np.pi,
        drag_factor=cross_flow * np.cos(deadrise) * density,
        buoyancy_factor=buoyancy * density * GRAVITY,
        density=density,
        mass=mass,
        inertia=mass * gyradius**2,
        speed=speed,
    )


def wigley_hull(*, half_beam, added_mass, speed, frequency, radiation="waves", count=60):
    """Wigley III (half-beam 0.15 m) or IV (0.30 m) of Journee 1992: length 3 m, draught 0.1875 m.

    `frequency` [rad/s] of encounter sets the wave damping; "waves" takes seaload's formula,
    "share" a damping of 0.625 1/s times the added mass, as a simpler candidate.
    """
    length, draught = 3.0, 0.1875
    dx = length / count
    xi = (np.arange(count) + 0.5) * dx - 0.5 * length
    side = xi / (0.5 * length)
    beam = half_beam * (1.0 - side**2) * (1.0 + 0.2 * side**2)
    density = FRESH_WATER_DENSITY
    mass = density * 0.0780 * half_beam / 0.15
    damping = radiation_damping(beam, draught * 2.0 / 3.0, frequency, density)
    if radiation == "share":
        damping = 0.625 * added_mass * density * 0.5 * np.pi * beam**2
    return ModelHull(
        xi=xi,
        dx=np.full(count, dx),
        keel_rise=np.zeros(count),
        keel_slope=np.zeros(count),
        half_beam=beam,
        inverse_chine_height=np.full(count, 1.0 / draught),
        relief=np.ones(count),
        relief_slope=np.zeros(count),
        radiation_factor=damping,
        fullness=1.0,
        pile_up=1.0,
        added_mass_factor=added_mass * density * 0.5 * np.pi,
        drag_factor=0.0,
        buoyancy_factor=density * GRAVITY,
        density=density,
        mass=mass,
        inertia=mass * 0.75**2,
        speed=speed,
    )
