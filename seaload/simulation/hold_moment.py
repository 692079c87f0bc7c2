"""Kernel: holds the deepest moment of a chunk, either side of every lane, with what made it and each strip's load.

The place nearest to its limit carries the moment; rules and parts in `foil/load_cause`. Looked at every full step,
worked out only where a lane goes deeper than before in the chunk and past the level from which events are told.
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.load_cause import heave_part, jolt_part, limit_part, pitch_part, roll_part, speed_part
from seaload.foil.span_load import along
from seaload.simulation import layout as L
from seaload.simulation.layout import LANES
from seaload.simulation.sampling import R_WORST_REVERSE, strip_force
from seaload.simulation.strip_stage import left_inflow, lift_of, place_of

JUST_BELOW = 1e-6  # [-] of a limit
FAR = 1e30  # beyond any load


@compiled
def clear_held(held):
    """Empty a `held` (Held) at the start of a chunk."""
    share, span = held.share.reshape(-1), held.span.reshape(-1)
    level = held.level.reshape(-1)
    for i in range(L.SIDES * LANES):
        share[i] = level[i] - JUST_BELOW
    for row in range(held.span.shape[0]):
        for lane in range(LANES):
            span[at(row, lane)] = FAR if row % 2 == 1 else -FAR


@compiled
def nearest_channel(reading, buffer, step, lane, reverse):
    """Number of the load channel outside the hull that is nearest to its limit, `reverse` side or normal.

    `reading` a `Reading`, `buffer` (rows, steps, LANES) shares of the normal limit [-] at a `step`.
    """
    found = 0
    worst = -FAR
    for c in range(reading.channels):
        share = buffer[c, step, lane]
        share = -share * reading.reverse_ratio[c, lane] if reverse else share
        if reading.outside[c, lane] > 0.5 and share > worst:
            found, worst = c, share
    return found


@compiled
def vented_share(loads, asked, s, lane):
    """Share of the flow of strip number `s` that is ventilated on the side of the lift it `asked` for [-].

    `loads` a LoadState.
    """
    return loads.memory[at(2 * s, lane)] if asked >= 0.0 else loads.memory[at(2 * s + 1, lane)]


@compiled
def add_parts(march, loads, held, s, weight, first, lane):
    """Add `weight` [m2] times the parts of the inflow of strip number `s` to the rows of a moment from `first` on.

    `march`, `loads` (a LoadState) and `held` (Held) in single precision.
    """
    strip, moment, rigid = march.strip.reshape(-1), held.moment.reshape(-1), loads.rigid
    base = L.STRIP_ROWS * s
    place = place_of(strip, base, lane)
    flow = left_inflow(loads.inflow, s, lane)
    lift = lift_of(march, strip, loads, flow, 0.0, s, lane)
    slope, chord = strip[at(base + L.S_SLOPE, lane)], strip[at(base + L.S_CHORD, lane)]
    length = strip[at(base + L.S_LENGTH, lane)]
    rise = rigid[at(L.HEAVE_RATE, lane)] + place.x * rigid[at(L.PITCH_RATE, lane)]
    pitch = rigid[at(L.PITCH, lane)] - held.usual[0, lane]
    angle = (flow.motion + flow.body) / flow.speed - pitch * place.nz
    across, up = strip_force(strip, loads.rigid, loads.total, loads.out, s, lane)
    left = L.STRIP_OUT_ROWS * s
    still = loads.out[at(left + L.O_NORMAL, lane)] + loads.out[at(left + L.O_VERTICAL, lane)] * place.nz
    inertia = along(place.ny, place.nz, across, up) - still
    per_inflow = 0.5 * march.density * flow.speed * chord * slope * length
    moment[at(first + L.M_HEAVE, lane)] += weight * heave_part(place.nz, rise)
    moment[at(first + L.M_PITCH, lane)] += weight * pitch_part(place.nz, flow.speed, pitch)
    moment[at(first + L.M_ROLL, lane)] += weight * roll_part(place, rigid[at(L.ROLL_RATE, lane)])
    moment[at(first + L.M_WAVE, lane)] += weight * flow.gust
    moment[at(first + L.M_SPEED, lane)] += weight * speed_part(angle, flow.speed, held.usual[1, lane])
    moment[at(first + L.M_JOLT, lane)] += weight * jolt_part(inertia, per_inflow)
    moment[at(first + L.M_LIMIT, lane)] += weight * limit_part(lift.got, lift.asked, slope, flow.speed)
    moment[at(first + L.M_VENTED, lane)] += weight * vented_share(loads, lift.asked, s, lane)


@compiled
def hold_moment(march, reading, loads, held, channel, first, lane):
    """Rows of the moment of a `lane` from `first` on: parts of the inflow [m/s] outside a `channel`, strip loads [N].

    `march`, `reading`, `loads` (a LoadState) and `held` (Held) in single precision.
    """
    strip, moment = march.strip.reshape(-1), held.moment.reshape(-1)
    edge = reading.edge[channel, lane]
    rows = L.MOMENT_ROWS + march.foil_strips
    for row in range(L.M_RISE, rows):
        moment[at(first + row, lane)] = 0.0
    whole = 0.0
    for s in range(march.foil_strips):
        base = L.STRIP_ROWS * s
        across, up = strip_force(strip, loads.rigid, loads.total, loads.out, s, lane)
        ny, nz = strip[at(base + L.S_NY, lane)], strip[at(base + L.S_NZ, lane)]
        moment[at(first + L.MOMENT_ROWS + s, lane)] = along(ny, nz, across, up)
        outside = np.float32(s - edge) + 0.5 - reading.weight[channel, lane]  # strips from the place
        wet = loads.out[at(L.STRIP_OUT_ROWS * s + L.O_WET, lane)]
        weight = max(outside, 0.0) * strip[at(base + L.S_CHORD, lane)] * wet
        if weight > 0.0:
            add_parts(march, loads, held, s, weight, first, lane)
            whole += weight
    for row in range(L.M_HEAVE, L.MOMENT_ROWS):
        moment[at(first + row, lane)] /= max(whole, 1e-6)
    moment[at(first + L.M_CHANNEL, lane)] = np.float32(channel)
    moment[at(first + L.M_RISE, lane)] = (
        loads.rigid[at(L.HEAVE_RATE, lane)] + strip[at(L.S_X, lane)] * loads.rigid[at(L.PITCH_RATE, lane)]
    )


@compiled
def hold_deepest(march, reading, loads, held, step, buffer):
    """Hold the moment of a `step` wherever it is the deepest of its side in the chunk so far.

    `march`, `reading` (a `Reading`), `loads` (a LoadState) and `held` (Held) in single precision; `buffer` (rows,
    steps, LANES) holds the step's shares [-].
    """
    share, moment = held.share.reshape(-1), held.moment.reshape(-1)
    for side in range(L.SIDES):
        worst = buffer[reading.channels + R_WORST_REVERSE + side, step]
        first = side * (L.MOMENT_ROWS + march.foil_strips)
        for lane in range(LANES):
            if worst[lane] > share[at(side, lane)]:
                share[at(side, lane)] = worst[lane]
                channel = nearest_channel(reading, buffer, step, lane, side == L.REVERSE_SIDE)
                hold_moment(march, reading, loads, held, channel, first, lane)
                moment[at(first + L.M_STEP, lane)] = np.float32(step)
