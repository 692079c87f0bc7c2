"""A plain hull in head waves of many components at constant speed, and what they add to its resistance.

Heave and pitch as in `hull_in_waves`; the force along the path is the march's: dynamic pressure on a bottom that slopes
up, and the push of the wave's slope. Orbital motion fades to half the draught in calm water.
"""

import numpy as np

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.boat.hull_section import hull_section_load, relieved_slice, section_shape, stern_weight
from seaload.boat.resistance import bottom_drag, wave_slope_push
from tests.boat.hull_in_waves import GRAVITY

ELEVATION, ELEVATION_RATE, RISE, RISE_RATE, ACCELERATION, SLOPE = range(6)


@compiled
def loads(hull, state, wave):
    """Upward force, bow-up moment, a33, a35, a55, force aft; `state` heave, pitch, rates; `wave` (6, n)."""
    force, moment, a33, a35, a55, aft = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    speed = hull.speed
    stern_share = 1.0 if hull.relief[0] > 0.999 else 0.0
    for i in range(hull.xi.size):
        xi, dx = hull.xi[i], hull.dx[i]
        rise = state[2] + xi * state[3]
        h = wave[ELEVATION, i] - (state[0] + xi * state[1] + hull.keel_rise[i])
        slope = state[1] + hull.keel_slope[i]
        entry = speed * slope - rise + wave[RISE, i]
        load, dynamic, added = hull_section_load(
            h, wave[ELEVATION_RATE, i] - rise, entry, speed * state[3] + wave[RISE_RATE, i], wave[RISE, i] - rise,
            wave[ACCELERATION, i], hull.inverse_chine_height[i], hull.half_beam[i], hull.fullness, hull.pile_up,
            hull.added_mass_factor, hull.drag_factor, hull.buoyancy_factor, hull.density, hull.radiation_factor[i],
        )  # fmt: skip
        _, _, area = section_shape(h, hull.inverse_chine_height[i], hull.half_beam[i], hull.fullness)
        stern = stern_share * stern_weight(i)
        lift, along, eased, mass = relieved_slice(
            load, dynamic, added, entry, speed, hull.relief[i], hull.relief_slope[i], stern, dx
        )
        force += lift
        moment += xi * lift + along
        a33 += mass
        a35 += mass * xi
        a55 += mass * xi * xi
        aft += bottom_drag(eased, slope, dx) + wave_slope_push(area, wave[SLOPE, i], dx, hull.density, GRAVITY)
    return force, moment, a33, a35, a55, aft


@compiled_with_arrays
def rates(hull, state, wave):
    """Rates of heave, pitch and their rates (4,), and the force aft."""
    force, moment, a33, a35, a55, aft = loads(hull, state, wave)
    m, j = hull.mass + a33, hull.inertia + a55
    lift = force - hull.mass * GRAVITY
    found = np.empty(4)
    found[0], found[1] = state[2], state[3]
    found[2] = (j * lift - a35 * moment) / (m * j - a35 * a35)
    found[3] = (m * moment - a35 * lift) / (m * j - a35 * a35)
    return found, aft


@compiled_with_arrays
def march(hull, start, waves, step):
    """(heave, pitch, force aft) at every full step; `waves` (2 steps + 1, 6, n) at every half one."""
    steps = (waves.shape[0] - 1) // 2
    out, state = np.empty((steps, 3)), start.copy()
    for i in range(steps):
        k1, aft = rates(hull, state, waves[2 * i])
        k2, _ = rates(hull, state + 0.5 * step * k1, waves[2 * i + 1])
        k3, _ = rates(hull, state + 0.5 * step * k2, waves[2 * i + 1])
        k4, _ = rates(hull, state + step * k3, waves[2 * i + 2])
        out[i, 0], out[i, 1], out[i, 2] = state[0], state[1], aft
        state = state + step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
    return out


def wave_table(hull, omega, amplitude, phase, times, depth, ramp):
    """(times, 6, n) float32 of head waves met at the hull's speed, grown over `ramp` [s]."""
    number = omega**2 / GRAVITY
    encounter = omega + number * hull.speed
    table = np.zeros((times.size, 6, hull.xi.size), dtype=np.float32)
    growth = np.clip(times / ramp, 0.0, 1.0)
    growth = growth * growth * (3.0 - 2.0 * growth)
    for k, w, e, a, p in zip(number, omega, encounter, amplitude, phase, strict=True):
        turn = k * hull.xi[None, :] + e * times[:, None] + p
        c, s = a * growth[:, None] * np.cos(turn), a * growth[:, None] * np.sin(turn)
        fade = np.exp(-k * depth)
        for row, part in (
            (ELEVATION, c), (ELEVATION_RATE, -e * s), (RISE, -w * fade * s), (RISE_RATE, -w * e * fade * c),
            (ACCELERATION, -w * w * fade * c), (SLOPE, -k * s),
        ):  # fmt: skip
            table[:, row] += part
    return table


def added_resistance(hull, calm, waves, *, step, seconds, ramp):
    """Mean force aft [N] in `waves` (omega, amplitude, phase arrays) less that in calm water, after a run-in.

    `calm` (heave, pitch) of steady running; the first third is left out.
    """
    draught = float(np.max(-(calm[0] + hull.xi * calm[1] + hull.keel_rise)))
    times = np.arange(0.0, seconds + 0.25 * step, 0.5 * step)
    times = times[: 2 * ((times.size - 1) // 2) + 1]
    table = wave_table(hull, *waves, times, 0.5 * draught, ramp)
    start = np.array([calm[0], calm[1], 0.0, 0.0])
    still = loads(hull, start, np.zeros((6, hull.xi.size), dtype=np.float32))[5]
    found = march(hull, start, table, step)
    return float(found[len(found) // 3 :, 2].mean() - still), found
