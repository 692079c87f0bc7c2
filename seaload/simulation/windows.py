"""How far the waves at the boat must reach: sideways and down, over every heel and cant that a boat file allows.

The windows follow from the boat alone, never from a setting, so that a case has the same bits in any company. A setting
outside heel or cant window is refused when a study is loaded (`studies/load_study`).
"""

import numpy as np

from seaload.boat.heeling import heeled
from seaload.boat.hull_stations import lowest_point
from seaload.boat.hydrostatics import flotation
from seaload.boat.lifting_appendage import appendage_strips
from seaload.foil.geometry import strips_outside
from seaload.simulation.prepare_foil import KEEL_STRIPS, RUDDER_STRIPS

WINDOW_MARGIN = 0.15  # [m] on either side of what is reached
BEYOND_NODES = 0.3  # [m] that the end nodes of a window still serve
CENTRE_MARGIN = 0.5  # [m] to leeward of a keel fin's root, at least
HEELS = 9  # heels at which reach is looked at, ends included
MOTION_TIMES_SQUARE = 400.0  # [m3] depth that waves and motion add, times length squared: short boats leap
DEPTH_STEP = 0.5  # [m] to which the depth window is rounded up
MOST_DEPTH = 10.0  # [m] beyond it the polynomials in depth miss a half per cent of the water's velocity


def heels_of(boat):
    """Heels over a boat's window [rad], (HEELS,), ends included."""
    return np.linspace(*boat.heel_window, HEELS)


def turned(angle):
    """Sine of an angle from straight down [rad], held at the horizontal."""
    return np.sin(np.clip(angle, -0.5 * np.pi, 0.5 * np.pi))


def lateral_windows(boat, foil):
    """Lateral stretches from the centre line (low, high) [m] that foil, keel fin and rudder may reach, heeled.

    `boat`, `foil` scenario records.
    """
    heels = heels_of(boat)
    y, z = [], []
    for extension in (foil.least_extension, 1.0):
        strips = strips_outside(foil, extension)
        y.append(foil.exit_y + strips.y)
        z.append(foil.exit_z + strips.z)
    reached = np.concatenate([heeled(np.concatenate(y), np.concatenate(z), heel)[0] for heel in heels])
    keel = boat.keel
    least, most = (cant - keel.tilt + heel for cant, heel in zip(boat.cant_window, boat.heel_window, strict=True))
    fin = keel.root_y - keel.span * turned(np.array([most, least]))
    rudder = boat.rudder.root_y * np.cos(heels)
    tips = rudder + boat.rudder.span * np.sin(boat.rudder.tilt - heels)
    windows = (
        (reached.min(), reached.max()),
        (min(fin[0], keel.root_y), max(fin[1], keel.root_y + CENTRE_MARGIN)),
        (min(rudder.min(), tips.min()), max(rudder.max(), tips.max())),
    )
    raised = [0.0, keel.root_z, boat.rudder.root_z]  # heel moves a raised root sideways
    turn = np.abs(np.sin(heels)).max()
    more = [max(abs(height) * turn - BEYOND_NODES, 0.0) for height in raised]
    return [
        (low - WINDOW_MARGIN - add, high + WINDOW_MARGIN + add) for (low, high), add in zip(windows, more, strict=True)
    ]


def mean_draught(hull, mass, heel):
    """Water over the lowest point of the heeled hull on the way [m]; `hull` a scenario record.

    As the boat file says, else as the hull floats with the whole `mass` [kg] at a `heel` [rad]. ValueError where it
    cannot.
    """
    return flotation(hull, mass, heel).draught if hull.draught is None else hull.draught


def deepest_place(boat, foil):
    """Depth of the deepest strip under calm water over the windows of heel and cant [m]; `boat`, `foil` scenario
    records.
    """
    strips = strips_outside(foil, 1.0)
    deepest = 0.0
    for heel in heels_of(boat):
        surface = lowest_point(boat.hull, 0.0, 0.0, heel) + mean_draught(boat.hull, boat.mass, heel)
        heights = [heeled(foil.exit_y + strips.y, foil.exit_z + strips.z, heel)[1]]
        for cant in np.clip(0.0, *boat.cant_window), *boat.cant_window:
            fin = appendage_strips(boat.keel, cant, 0.0, 0.0, 0.0, count=KEEL_STRIPS)
            heights.append(heeled(fin.y, fin.z, heel)[1])
        blade = appendage_strips(boat.rudder, 0.0, 0.0, 0.0, 0.0, count=RUDDER_STRIPS)
        heights.append(heeled(blade.y, blade.z, heel)[1])
        deepest = max(deepest, surface - np.concatenate(heights).min())
    return deepest


def depth_scale(boat, foil):
    """Depth [m] to which the waves at the strips are worked out; `boat`, `foil` scenario records.

    Deepest strip in calm water and what waves and motion add (rule of this project, measured on two boats), rounded up;
    still deeper, the water moves as there. ValueError where that is more than MOST_DEPTH.
    """
    needed = deepest_place(boat, foil) + MOTION_TIMES_SQUARE / boat.hull.length**2
    scale = DEPTH_STEP * np.ceil(needed / DEPTH_STEP - 1e-9)
    if scale > MOST_DEPTH:
        raise ValueError(f"strips reach {scale:g} m under water; the waves are worked out to {MOST_DEPTH:g} m")
    return scale
