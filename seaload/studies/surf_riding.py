"""From which speed on a sea's own waves can carry a boat along: surge far past the mean is then an ordinary day."""

from math import cos, inf, nan, pi

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.boat.hull_section import section_shapes
from seaload.boat.hull_stations import hull_stations
from seaload.boat.resistance import thrust
from seaload.boat.surf_riding import surf_riding_thrust, wave_celerity, wave_push
from seaload.result.sea_spectra import mean_from_bow
from seaload.simulation.prepare import lane_mass
from seaload.simulation.windows import mean_draught

LEAST_ALONG = 0.1  # [-] share of the waves' way along the boat's: seas from forward or abeam carry nobody
FIT_REACH = 1.5  # [-] of the fastest trim: as far as its resistance is drawn out to the wave's speed
ORDER, FEWEST = 3, 6  # of the resistance's polynomial, and balanced speeds that it takes
PERIODS = (0.7, 0.8, 0.9, 1.0)  # [-] of the peak's: those of a sea's high waves (common practice, no source)


def surf_riding_speed(reach, setting, sea):
    """Least speed set [m/s] from which a wave of a sea's significant height can carry her along, of the periods that
    high waves have.

    `reach` a `Reach`, `setting` and `sea` records. The regular waves run at the energy mean's angle; the sails' thrust
    falls as the march has it. Infinite where none can; nan where too few speeds balance. Not sharp for light hulls.
    """
    boat, along = reach.boat, -cos(mean_from_bow(sea))
    if not along > LEAST_ALONG:
        return inf
    curve = reach.curve(setting)
    speeds, needed = curve.speeds[curve.balanced], curve.thrust[curve.balanced]
    if len(speeds) < FEWEST:
        return nan
    numbers = [(2.0 * pi / (share * sea.tp)) ** 2 / STANDARD_GRAVITY for share in PERIODS]
    return min(carried_from(boat, setting, (speeds, needed), (number, along, sea.hs)) for number in numbers)


def carried_from(boat, setting, curve, wave):
    """Least speed set [m/s] from which one regular wave carries a setting along, infinite where it never does.

    `curve` (speeds [m/s], thrust needed [N]) in calm water; `wave` (wavenumber [rad/m], share of its way along the
    boat's [-], height [m]).
    """
    (speeds, needed), (number, along, height) = curve, wave
    celerity = wave_celerity(number, STANDARD_GRAVITY) / along
    if celerity > FIT_REACH * speeds[-1]:
        return inf
    cubic, square, linear, resistance = np.polyfit(speeds - celerity, needed, ORDER)
    push = push_of(boat, setting, number * along, height)
    mass = lane_mass(boat, setting) * (1.0 + boat.surge_added_mass)
    lacking = []
    for speed, given in zip(speeds, needed, strict=True):
        there = thrust(given, boat.thrust_slope, celerity, speed)
        falls = boat.thrust_slope * given / speed if there > 0.0 else 0.0
        slopes = linear + falls, square, cubic
        lacking.append(surf_riding_thrust(resistance - there, slopes, push, number * along, mass))
    caught = np.flatnonzero(np.array(lacking) <= 0.0)
    return float(speeds[caught[0]]) if len(caught) else inf


def push_of(boat, setting, wave_number, height):
    """Surge force amplitude [N] of a wave (`wave_number` along the boat [rad/m], `height` [m]) on the floating hull."""
    hull = boat.hull
    draught = mean_draught(hull, lane_mass(boat, setting), setting.heel)
    stations = hull_stations(hull, setting.heel, 1.0, 1.0, draught)
    areas = section_shapes(
        draught - stations.keel_rise, stations.inverse_chine_height, stations.half_beam, hull.fullness
    )[2]
    return wave_push(areas, stations.x, wave_number, height, draught, SEA_WATER_DENSITY * STANDARD_GRAVITY)
