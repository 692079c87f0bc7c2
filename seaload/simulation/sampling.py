"""Kernel: what is read off the march at every full step, written to the chunk buffer.

Channels of `buffer[channel, step, lane]`: bending moments at the places and at the material grid as shares of
the local normal limit, then the boat rows named below.
"""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.hold_down import axial_force, hold_down_load
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT

# boat rows of the buffer, after the load channels
(
    R_WORST_REVERSE,
    R_WORST_NORMAL,
    R_SPEED,
    R_HEAVE,
    R_PITCH,
    R_ROLL,
    R_LIFT,
    R_RIGHTING,
    R_DRAG,
    R_LINE,
    R_LEAST_IMMERSION,
    R_TIP_DEPTH,
    R_ELEVATION,
) = range(13)
BOAT_SAMPLES = 13

_AXIAL_Y, _AXIAL_Z = BOAT["axial_y"], BOAT["axial_z"]
_BEARINGS, _FRICTION = BOAT["bearing_distance"], BOAT["bearing_friction"]
_STIFFNESS, _MODE_ON = BOAT["mode_stiffness"], BOAT["mode_on"]


@compiled
def strip_force(strip, state, total, out, s, lane):
    """(lateral, vertical) force of one strip on the foil [N], inertia and weight included."""
    x = strip[s, S_X, lane]
    y = strip[s, S_Y, lane]
    z = strip[s, S_Z, lane]
    ny = strip[s, S_NY, lane]
    nz = strip[s, S_NZ, lane]
    heave = total[T_ACC_HEAVE, lane] + x * total[T_ACC_PITCH, lane] - y * total[T_ACC_ROLL, lane]
    sway = z * total[T_ACC_ROLL, lane]
    normal = out[s, O_NORMAL, lane] - out[s, O_MASS, lane] * (nz * heave + ny * sway)
    roll = state[ROLL, lane]
    return normal * (ny + nz * roll), normal * (nz - ny * roll) + out[s, O_VERTICAL, lane]


@compiled
def mode_force(total, lane):
    """Generalised force of the bending mode [N], rigid inertia included, the mode's own left out (flat array)."""
    return (
        total[at(T_MODE_FORCE, lane)]
        - total[at(T_MODE_G1, lane)] * total[at(T_ACC_HEAVE, lane)]
        - total[at(T_MODE_G2, lane)] * total[at(T_ACC_PITCH, lane)]
        - total[at(T_MODE_G3, lane)] * total[at(T_ACC_ROLL, lane)]
    )


@compiled
def edge_moments(march, boat, state, total, out, mode, moment, sums):
    """Bending moment at every strip edge [N m], from the tip inward; `moment` (edges, LANES), `sums` (4, LANES).

    Static moment of the forces outside, plus what the bending mode carries beyond its static share. Leaves the
    force sums at the bearing (lateral, vertical) in the first two rows of `sums`.
    """
    count = march.foil_strips
    for row in range(3):
        for lane in range(LANES):
            sums[row, lane] = 0.0
    for lane in range(LANES):
        stretch = mode[MODE_POSITION, lane] - mode_force(total.reshape(-1), lane) / boat[_STIFFNESS, lane]
        sums[3, lane] = stretch * boat[_MODE_ON, lane]
        moment[count, lane] = 0.0
    for s in range(count - 1, -1, -1):
        for lane in range(LANES):
            fy, fz = strip_force(march.strip, state, total, out, s, lane)
            sums[0, lane] += fy
            sums[1, lane] += fz
            sums[2, lane] += march.strip[s, S_Y, lane] * fz - march.strip[s, S_Z, lane] * fy
            moment[s, lane] = (
                sums[2, lane]
                - march.edge_y[s, lane] * sums[1, lane]
                + march.edge_z[s, lane] * sums[0, lane]
                + sums[3, lane] * march.mode_moment[s, lane]
            )


@compiled
def sample_loads(reading, moment, buffer, step):
    """Shares of the normal limit at all channels, and the worst share either way of what is outside."""
    worst = reading.channels
    for lane in range(LANES):
        buffer[worst + R_WORST_REVERSE, step, lane] = -9.0
        buffer[worst + R_WORST_NORMAL, step, lane] = -9.0
    for c in range(reading.channels):
        for lane in range(LANES):
            e = reading.edge[c, lane]
            w = reading.weight[c, lane]
            load = (1.0 - w) * moment[e, lane] + w * moment[e + 1, lane]
            share = load * reading.per_limit[c, lane]
            buffer[c, step, lane] = share
            outside = reading.outside[c, lane]
            reverse = -share * reading.reverse_ratio[c, lane] * outside - 9.0 * (1.0 - outside)
            normal = share * outside - 9.0 * (1.0 - outside)
            buffer[worst + R_WORST_REVERSE, step, lane] = max(
                buffer[worst + R_WORST_REVERSE, step, lane], reverse
            )
            buffer[worst + R_WORST_NORMAL, step, lane] = max(buffer[worst + R_WORST_NORMAL, step, lane], normal)


@compiled
def sample_boat(march, boat, state, wave, total, out, moment, sums, first, step, buffer):
    """Boat rows of the buffer at one step; `first` is the first boat row."""
    count = march.foil_strips
    middle = 0
    for i in range(march.hull.shape[0]):
        if march.hull[i, H_X, 0] < 0.0:
            middle = i
    for lane in range(LANES):
        shear_y = sums[0, lane]
        shear_z = sums[1, lane]
        axis_y = boat[_AXIAL_Y, lane]
        axis_z = boat[_AXIAL_Z, lane]
        buffer[first + R_LINE, step, lane] = hold_down_load(
            axial_force(shear_y, shear_z, axis_y, axis_z),
            moment[0, lane],
            axis_y * shear_z - axis_z * shear_y,
            boat[_BEARINGS, lane],
            boat[_FRICTION, lane],
        )
        buffer[first + R_SPEED, step, lane] = state[SPEED, lane]
        buffer[first + R_HEAVE, step, lane] = state[HEAVE, lane]
        buffer[first + R_PITCH, step, lane] = state[PITCH, lane]
        buffer[first + R_ROLL, step, lane] = state[ROLL, lane]
        buffer[first + R_LIFT, step, lane] = total[T_FOIL_FZ, lane]
        buffer[first + R_RIGHTING, step, lane] = total[T_FOIL_RM, lane]
        buffer[first + R_DRAG, step, lane] = -total[T_FOIL_FX, lane]
        buffer[first + R_LEAST_IMMERSION, step, lane] = total[T_HULL_FZ, lane]
        buffer[first + R_TIP_DEPTH, step, lane] = out[count - 1, O_DEPTH, lane]
        buffer[first + R_ELEVATION, step, lane] = wave[HULL_WAVE_ROWS * middle, lane]
