"""Kernel: what is read off the march at every full step, written to the chunk buffer.

Channels of `buffer[channel, step, lane]`: bending moments at the places and at the material grid as shares of
the local normal limit, then the boat rows named below.
"""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.hold_down import axial_force, hold_down_load
from seaload.foil.span_load import along, edge_torsion
from seaload.foil.strip_axes import upward
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES

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
    R_HULL_LIFT,
    R_TIP_DEPTH,
    R_ELEVATION,
    R_DRIVE,
    R_FOREDECK,
    R_BOW,  # vertical accelerations, up
    R_MAST,
    R_COCKPIT,
    R_FOREFOOT,  # depth of the keel line there
    R_HEADING,
    R_SWAY,
    R_RUDDER,  # beside its balanced angle
) = range(22)
BOAT_SAMPLES = 22

LEAST_SPEED = 1.0  # [m/s] below it a course means nothing
_AXIAL_Y, _AXIAL_Z = BOAT["axial_y"], BOAT["axial_z"]
_BEARINGS, _FRICTION = BOAT["bearing_distance"], BOAT["bearing_friction"]
_STIFFNESS, _MODE_ON = BOAT["mode_stiffness"], BOAT["mode_on"]
_HULL_Y = BOAT["hull_arm_y"]


@compiled
def strip_force(strip, rigid, total, out, s, lane):
    """(y, z) force of strip number `s` of a `lane` on the foil [N], inertia and weight included.

    In the axes of the rolled boat, whose levers do not turn: lift keeps to its normal, weight and buoyancy lean.
    `strip`, `rigid`, `total`, `out` flat with rows as in layout.
    """
    base, left = L.STRIP_ROWS * s, L.STRIP_OUT_ROWS * s
    x = strip[at(base + L.S_X, lane)]
    y = strip[at(base + L.S_Y, lane)]
    z = strip[at(base + L.S_Z, lane)]
    ny = strip[at(base + L.S_NY, lane)]
    nz = strip[at(base + L.S_NZ, lane)]
    heave = total[at(L.T_ACC_HEAVE, lane)] + x * total[at(L.T_ACC_PITCH, lane)] - y * total[at(L.T_ACC_ROLL, lane)]
    sway = total[at(L.T_ACC_SWAY, lane)] + x * total[at(L.T_ACC_YAW, lane)] + z * total[at(L.T_ACC_ROLL, lane)]
    normal = out[at(left + L.O_NORMAL, lane)] - out[at(left + L.O_MASS, lane)] * (nz * heave + ny * sway)
    up_y, up_z = upward(rigid[at(L.ROLL, lane)])
    hung = out[at(left + L.O_VERTICAL, lane)]
    return normal * ny + hung * up_y, normal * nz + hung * up_z


@compiled
def mode_force(total, lane):
    """Generalised force of the bending mode of a `lane` [N], rigid inertia included, the mode's own left out.

    `total` flat with rows as in layout.
    """
    return (
        total[at(L.T_MODE_FORCE, lane)]
        - total[at(L.T_MODE_G1, lane)] * total[at(L.T_ACC_HEAVE, lane)]
        - total[at(L.T_MODE_G2, lane)] * total[at(L.T_ACC_PITCH, lane)]
        - total[at(L.T_MODE_G3, lane)] * total[at(L.T_ACC_ROLL, lane)]
        - total[at(L.T_MODE_G4, lane)] * total[at(L.T_ACC_SWAY, lane)]
        - total[at(L.T_MODE_G5, lane)] * total[at(L.T_ACC_YAW, lane)]
    )


@compiled
def edge_moments(march, loads, moment, sums, span):
    """Bending moment at every strip edge [N m], from the tip inward; `moment` (edges, LANES), `sums` (7, LANES).

    `march` and `loads` (a LoadState) in one precision. Static moment of the forces outside, plus what the bending mode
    carries beyond its static share (statics). Leaves the force sums at the bearing (lateral, vertical) [N] in the first
    two rows of `sums`, and in `span` (SPAN_ROWS edges, LANES) the highest and lowest shear [N] and torsion [N m] of the
    edges so far, the bending mode's own share left out.
    """
    count = march.foil_strips
    boat, strip = march.boat.reshape(-1), march.strip.reshape(-1)
    edge_y, edge_z = march.edge_y.reshape(-1), march.edge_z.reshape(-1)
    mode_moment, found, gathered = march.mode_moment.reshape(-1), moment.reshape(-1), sums.reshape(-1)
    edge_arm, extreme = march.edge_arm.reshape(-1), span.reshape(-1)
    for lane in range(LANES):
        stretch = loads.mode[at(L.MODE_POSITION, lane)] - mode_force(loads.total, lane) / boat[at(_STIFFNESS, lane)]
        gathered[at(0, lane)] = 0.0
        gathered[at(1, lane)] = 0.0
        gathered[at(2, lane)] = 0.0
        gathered[at(3, lane)] = stretch * boat[at(_MODE_ON, lane)]
        gathered[at(4, lane)] = 0.0
        gathered[at(5, lane)] = 0.0
        gathered[at(6, lane)] = 0.0
        found[at(count, lane)] = 0.0
    for s in range(count - 1, -1, -1):
        base = L.STRIP_ROWS * s
        for lane in range(LANES):
            fy, fz = strip_force(strip, loads.rigid, loads.total, loads.out, s, lane)
            sum_y = gathered[at(0, lane)] + fy
            sum_z = gathered[at(1, lane)] + fz
            turning = gathered[at(2, lane)] + strip[at(base + L.S_Y, lane)] * fz - strip[at(base + L.S_Z, lane)] * fy
            gathered[at(0, lane)] = sum_y
            gathered[at(1, lane)] = sum_z
            gathered[at(2, lane)] = turning
            found[at(s, lane)] = (
                turning
                - edge_y[at(s, lane)] * sum_z
                + edge_z[at(s, lane)] * sum_y
                + gathered[at(3, lane)] * mode_moment[at(s, lane)]
            )
            forward = loads.out[at(L.STRIP_OUT_ROWS * s + L.O_FORWARD, lane)]
            push = gathered[at(4, lane)] + forward
            push_y = gathered[at(5, lane)] + forward * strip[at(base + L.S_Y, lane)]
            push_z = gathered[at(6, lane)] + forward * strip[at(base + L.S_Z, lane)]
            gathered[at(4, lane)] = push
            gathered[at(5, lane)] = push_y
            gathered[at(6, lane)] = push_z
            ny, nz = strip[at(base + L.S_NY, lane)], strip[at(base + L.S_NZ, lane)]
            shear = along(ny, nz, sum_y, sum_z)
            ahead = along(ny, nz, push_y - edge_y[at(s, lane)] * push, push_z - edge_z[at(s, lane)] * push)
            torsion = edge_torsion(shear, edge_arm[at(s, lane)], ahead)
            row = L.SPAN_ROWS * s
            extreme[at(row, lane)] = max(extreme[at(row, lane)], shear)
            extreme[at(row + 1, lane)] = min(extreme[at(row + 1, lane)], shear)
            extreme[at(row + 2, lane)] = max(extreme[at(row + 2, lane)], torsion)
            extreme[at(row + 3, lane)] = min(extreme[at(row + 3, lane)], torsion)


@compiled
def sample_loads(reading, moment, buffer, step):
    """Shares of the normal limit at all channels, and the worst share either way of what is outside, at one `step`.

    `reading` a `Reading`, `moment` (edges, LANES) [N m]; into `buffer` (rows, steps, LANES).
    """
    found, edge, weight = moment.reshape(-1), reading.edge.reshape(-1), reading.weight.reshape(-1)
    per_limit, ratio = reading.per_limit.reshape(-1), reading.reverse_ratio.reshape(-1)
    outside = reading.outside.reshape(-1)
    worst_reverse = buffer[reading.channels + R_WORST_REVERSE, step]
    worst_normal = buffer[reading.channels + R_WORST_NORMAL, step]
    for lane in range(LANES):
        worst_reverse[lane] = -9.0
        worst_normal[lane] = -9.0
    for c in range(reading.channels):
        share = buffer[c, step]
        for lane in range(LANES):
            e = edge[at(c, lane)]
            w = weight[at(c, lane)]
            load = (1.0 - w) * found[at(e, lane)] + w * found[at(e + 1, lane)]
            share[lane] = load * per_limit[at(c, lane)]
        for lane in range(share.size):
            out = outside[at(c, lane)]
            reverse = -share[lane] * ratio[at(c, lane)] * out - 9.0 * (1.0 - out)
            normal = share[lane] * out - 9.0 * (1.0 - out)
            worst_reverse[lane] = max(worst_reverse[lane], reverse)
            worst_normal[lane] = max(worst_normal[lane], normal)


@compiled
def sample_boat(march, reading, loads, moment, sums, step, buffer):
    """Boat rows of the `buffer` (rows, steps, LANES) [SI, as in R_*] at one `step`.

    `march` and `reading` (a `Reading`), `loads` (a LoadState), `moment` (edges, LANES) [N m] and `sums` (7, LANES) of
    `edge_moments`, all in single precision.
    """
    boat, rigid, total, first = march.boat, loads.rigid, loads.total, reading.channels
    hull = march.hull.reshape(-1)
    tip = L.STRIP_OUT_ROWS * (march.foil_strips - 1) + L.O_DEPTH
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
        buffer[first + R_SPEED, step, lane] = rigid[at(L.SPEED, lane)]
        buffer[first + R_HEAVE, step, lane] = rigid[at(L.HEAVE, lane)]
        buffer[first + R_PITCH, step, lane] = rigid[at(L.PITCH, lane)]
        buffer[first + R_ROLL, step, lane] = rigid[at(L.ROLL, lane)]
        buffer[first + R_HEADING, step, lane] = rigid[at(L.HEADING, lane)]
        buffer[first + R_SWAY, step, lane] = rigid[at(L.SWAY, lane)]
        buffer[first + R_RUDDER, step, lane] = rigid[at(L.RUDDER, lane)]
        buffer[first + R_LIFT, step, lane] = total[at(L.T_FOIL_FZ, lane)]
        buffer[first + R_RIGHTING, step, lane] = total[at(L.T_FOIL_RM, lane)]
        drift = rigid[at(L.SWAY, lane)] / max(rigid[at(L.SPEED, lane)], LEAST_SPEED)
        buffer[first + R_DRAG, step, lane] = -(total[at(L.T_FOIL_FX, lane)] + drift * shear_y)  # along the course
        buffer[first + R_HULL_LIFT, step, lane] = total[at(L.T_HULL_CARRIED, lane)]
        buffer[first + R_TIP_DEPTH, step, lane] = loads.out[at(tip, lane)]
        buffer[first + R_ELEVATION, step, lane] = loads.wave[at(L.HULL_WAVE_ROWS * reading.amidships[lane], lane)]
        buffer[first + R_DRIVE, step, lane] = total[at(L.T_DRIVE, lane)]
        buffer[first + R_FOREDECK, step, lane] = (
            rigid[at(L.HEAVE, lane)]
            + reading.foredeck_x[lane] * rigid[at(L.PITCH, lane)]
            - boat[_HULL_Y, lane] * rigid[at(L.ROLL, lane)]
            + reading.foredeck_z[lane]
            - loads.wave[at(L.HULL_WAVE_ROWS * reading.foredeck[lane], lane)]
        )
        for point in range(3):
            buffer[first + R_BOW + point, step, lane] = (
                total[at(L.T_ACC_HEAVE, lane)] + reading.watched_x[point, lane] * total[at(L.T_ACC_PITCH, lane)]
            )
        base = L.HULL_ROWS * reading.forefoot[lane]
        buffer[first + R_FOREFOOT, step, lane] = loads.wave[at(L.HULL_WAVE_ROWS * reading.forefoot[lane], lane)] - (
            rigid[at(L.HEAVE, lane)]
            + hull[at(base + L.H_X, lane)] * rigid[at(L.PITCH, lane)]
            - boat[_HULL_Y, lane] * rigid[at(L.ROLL, lane)]
            + hull[at(base + L.H_Z, lane)]
        )
