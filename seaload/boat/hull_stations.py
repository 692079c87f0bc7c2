"""Stations of the hull for the march: even slices of the hull form at one heel and one mean speed."""

from typing import NamedTuple

import numpy as np
from scipy.interpolate import PchipInterpolator

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.basis.smooth_step import smooth_step
from seaload.boat.heeling import heeled
from seaload.boat.hull_section import section_shapes

RELIEF_LENGTH = 0.34  # [-] of beam times beam Froude number (Garme 2005, from memory)
RELIEF_STEEPNESS = 2.5  # [-] (Garme 2005, from memory)
PLANING_STARTS = 0.35  # [-] length Froude number where hydrostatic lift begins to fall (assumption)
PLANING_RANGE = 0.6  # [-] length Froude numbers until it has fallen (assumption)
RADIATION_LEFT = 0.2  # [-] share of the wave damping left when planing (assumption, no source)


class HullStations(NamedTuple):
    """What the section formula needs at each of n stations; all arrays (n,), SI."""

    x: np.ndarray  # [m] from the transom, middle of the slice
    dx: np.ndarray  # [m] length of the slice
    keel_rise: np.ndarray  # [m] of the section's lowest point above the hull's lowest point
    keel_slope: np.ndarray  # [-] d keel_rise/dx
    half_beam: np.ndarray  # [m] at the chine, at this heel
    inverse_chine_height: np.ndarray  # [1/m]
    transom_relief: np.ndarray  # [-] tau
    relief_slope: np.ndarray  # [1/m] d tau/dx
    radiation_factor: np.ndarray  # [kg/(m s)] wave damping per length at full half-beam


def effective_half_beam(half_beam, half_beam_per_heel, heel):
    """Chine half-beam of the heeled hull at its fullest station [m].

    `half_beam` [m] upright, `half_beam_per_heel` [m/rad] its change, `heel` [rad] (rule of this project, no source).
    """
    return half_beam + half_beam_per_heel * heel


def effective_deadrise(deadrise, deadrise_per_heel, least_deadrise, heel):
    """Deadrise of the symmetric section that stands in for the heeled one [rad].

    `deadrise` [rad] upright, `deadrise_per_heel` [-] its gain per radian of `heel` [rad], never under `least_deadrise`
    [rad] (rule of this project, no source).
    """
    return max(deadrise + deadrise_per_heel * heel, least_deadrise)


def lowest_point(form, centre_y, centre_z, heel):
    """Height of the heeled hull's lowest line from the centre of gravity [m], up +.

    `form` carries half_beam [m] of the chine, deadrise [rad] upright and bilge_share [-]; the centre of gravity
    `centre_y` to leeward and `centre_z` above the keel point [m]; `heel` [rad] leeward side down +. Whichever lies
    lower, the keel line or the bilge at its share of the half-beam (rule of this project, no source).
    """
    half = form.bilge_share * form.half_beam
    bilge = heeled(half - centre_y, half * np.tan(form.deadrise) - centre_z, heel)[1]
    keel = heeled(-centre_y, -centre_z, heel)[1]
    return min(bilge, keel)


def transom_relief(x, beam, speed):
    """Share of dynamic pressure left near the transom [-] and its slope along the hull [1/m].

    `x` [m] from the transom, `beam` [m] whole beam at the chine, `speed` [m/s]. The pressure must
    fall to that of the air at a dry transom: tanh(2.5 x/(0.34 B Cv)), Cv = U/sqrt(g B)
    (Garme 2005, form and constants from memory).
    """
    froude = max(speed, 1e-3) / np.sqrt(STANDARD_GRAVITY * beam)
    rate = RELIEF_STEEPNESS / (RELIEF_LENGTH * beam * froude)
    tau = np.tanh(rate * np.asarray(x, dtype=float))
    return tau, rate * (1.0 - tau**2)


def sliced_transom_relief(x, dx, beam, speed):
    """`transom_relief` averaged over slices of length `dx` [m] about `x` (n,) [m]: shares (n,) [-] and slopes (n,)
    [1/m].

    `beam` [m] whole beam at the chine, `speed` [m/s]. The relief changes over a few decimetres, less than a slice:
    averages keep the whole force right for any number of stations, and the slope sums to exactly one (derived here).
    """
    rate = transom_relief(0.0, beam, speed)[1]
    fore, aft = rate * (x + 0.5 * dx), rate * (x - 0.5 * dx)
    area_fore, area_aft = fore + np.log1p(np.exp(-2.0 * fore)), aft + np.log1p(np.exp(-2.0 * aft))
    return (area_fore - area_aft) / (rate * dx), (np.tanh(fore) - np.tanh(aft)) / dx


def planing_share(speed, waterline_length):
    """How far the hull has gone from floating (0) to planing (1) [-], by length Froude number.

    `speed` [m/s], `waterline_length` [m]; ramp between two Froude numbers (assumption, no source).
    """
    froude = speed / np.sqrt(STANDARD_GRAVITY * waterline_length)
    return smooth_step((froude - PLANING_STARTS) / PLANING_RANGE)


def radiation_damping(half_breadth, draught, frequency, density=SEA_WATER_DENSITY):
    """Heave damping of a section by the waves it makes, per length [kg/(m s)], arrays broadcast.

    `half_breadth` [m] at the waterline, `draught` [m] that stands for the section: its area over its beam, `frequency`
    [rad/s] of encounter, `density` [kg/m3]. b = rho g^2 A^2/omega^3 with the ratio of wave to heave amplitude A =
    2 sin(k b) exp(-k T), k = omega^2/g (energy balance, from memory; A of a thin section, from memory, kept at its
    crest value beyond k b = pi/2 so that it does not fall back).
    """
    omega = max(abs(frequency), 1e-3)
    wave_number = omega**2 / STANDARD_GRAVITY
    reach = np.minimum(wave_number * np.asarray(half_breadth, dtype=float), 0.5 * np.pi)
    ratio = 2.0 * np.sin(reach) * np.exp(-wave_number * np.asarray(draught, dtype=float))
    return density * STANDARD_GRAVITY**2 * ratio**2 / omega**3


def _mean_flotation(immersion, chine_height, half_beam, fullness):
    """Half-breadth [m] and area over breadth [m] of sections at rest; dry ones get a trace of breadth.

    `immersion`, `chine_height`, `half_beam` (n,) [m], `fullness` [-] of the section family.
    """
    held = np.maximum(immersion, 1e-6 * chine_height)
    breadth, _, area = section_shapes(held, 1.0 / chine_height, half_beam, fullness)
    return breadth, area / (2.0 * breadth)


def hull_stations(form, heel, speed, encounter_frequency, draught, density=SEA_WATER_DENSITY):
    """`HullStations` of a hull form at a mean heel [rad] and mean speed [m/s].

    `form` carries the fields of a hull as a scenario gives them (station_x, keel_rise,
    half_beam_share, half_beam, ... in SI); they are joined by shape-keeping cubics, so that neither the
    keel slope nor the beam jumps. `encounter_frequency` [rad/s] stands for the sea, `draught` [m] of
    the lowest point for the mean flotation; both set the wave damping alone.
    `density` [kg/m3]. Formulas in the functions above.
    """
    count = int(form.stations)
    dx = form.length / count
    x = (np.arange(count) + 0.5) * dx
    keel = PchipInterpolator(form.station_x, form.keel_rise)
    taper = PchipInterpolator(form.station_x, form.half_beam_share)
    inside = np.clip(x, form.station_x[0], form.station_x[-1])
    keel_rise = keel(inside)
    fullest = effective_half_beam(form.half_beam, form.half_beam_per_heel, heel)
    half_beam = fullest * taper(inside)
    rise = np.tan(effective_deadrise(form.deadrise, form.deadrise_per_heel, form.least_deadrise, heel))
    if form.transom_relief:
        tau, tau_slope = sliced_transom_relief(x, dx, 2.0 * half_beam[0], speed)
    else:
        tau, tau_slope = np.ones(count), np.zeros(count)
    chine_height = half_beam * rise
    breadth, mean_draught = _mean_flotation(draught - keel_rise, chine_height, half_beam, form.fullness)
    faded = 1.0 - (1.0 - RADIATION_LEFT) * planing_share(speed, form.waterline_length)
    damping = radiation_damping(breadth, mean_draught, encounter_frequency, density) * faded
    return HullStations(
        x=x,
        dx=np.full(count, dx),
        keel_rise=keel_rise,
        keel_slope=keel.derivative()(inside),
        half_beam=half_beam,
        inverse_chine_height=1.0 / chine_height,
        transom_relief=tau,
        relief_slope=tau_slope,
        radiation_factor=damping * half_beam / np.maximum(breadth, 0.05 * half_beam),
    )
