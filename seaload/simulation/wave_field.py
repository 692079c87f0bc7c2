"""Kernels: the waves at the boat. Sum at an anchor, spread to strips, run between two anchors."""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.sine_cosine import sine_cosine
from seaload.simulation.layout import (
    BOAT_WAVE_ROWS,
    DEPTH_TERMS,
    HULL_WAVE_ROWS,
    LANES,
    S_NY,
    S_NZ,
    STRIP_WAVE_ROWS,
)

NODE_ROWS = 1 + 3 * DEPTH_TERMS


@compiled
def component_phasors(table, time, ramp, ramp_rate, position, speed, phasor):
    """Cosine and sine of every component at each lane's place, and their rates along its path.

    `position` (LANES,) [m] along the path, `speed` (LANES,) [m/s], `ramp` [-] from still water to full
    sea with its rate [1/s]. Fills `phasor` (2 N, 2 LANES): cosines over sines, values beside rates.
    """
    count = table.omega.size
    for n in range(count):
        for lane in range(LANES):
            angle = table.along[n] * position[lane] - table.omega[n] * time + table.phase[n, lane]
            turn = table.along[n] * speed[lane] - table.omega[n]
            sine, cosine = sine_cosine(angle)
            phasor[n, lane] = ramp * cosine
            phasor[count + n, lane] = ramp * sine
            phasor[n, LANES + lane] = ramp_rate * cosine - ramp * turn * sine
            phasor[count + n, LANES + lane] = ramp_rate * sine + ramp * turn * cosine


@compiled
def spread_to_strips(table, strip, generic, fixed_rows, anchor):
    """Lateral interpolation from the nodes to each lane's strips, velocities turned to the strip's normal.

    The water's sideways velocity counts less what the boat takes on from the water round its keel.
    """
    drift = fixed_rows - 1
    for s in range(strip.shape[0]):
        group = table.strip_group[s]
        base = fixed_rows + STRIP_WAVE_ROWS * s
        first = table.group_start[group]
        for row in range(STRIP_WAVE_ROWS):
            for lane in range(2 * LANES):
                anchor[base + row, lane] = 0.0
        for node in range(table.group_nodes[group]):
            g = first + NODE_ROWS * node
            for half in range(2):
                o = half * LANES
                for lane in range(LANES):
                    weight = table.strip_weight[s, node, lane]
                    anchor[base, o + lane] += weight * generic[g, o + lane]
                for p in range(DEPTH_TERMS):
                    for lane in range(LANES):
                        weight = table.strip_weight[s, node, lane] * table.orbital
                        anchor[base + 1 + p, o + lane] += weight * (
                            generic[g + 1 + p, o + lane] * strip[s, S_NZ, lane]
                            + generic[g + 1 + DEPTH_TERMS + p, o + lane] * strip[s, S_NY, lane]
                        )
                        anchor[base + 1 + DEPTH_TERMS + p, o + lane] += (
                            weight * generic[g + 1 + 2 * DEPTH_TERMS + p, o + lane]
                        )
        for half in range(2):
            for lane in range(LANES):
                follow = table.sway_following[lane] * table.orbital
                anchor[base + 1, half * LANES + lane] -= (
                    follow * generic[drift, half * LANES + lane] * strip[s, S_NY, lane]
                )


@compiled
def anchor_waves(table, strip, stations, time, ramp, ramp_rate, position, speed, work, anchor):
    """All wave rows of all lanes at one time: `anchor` (rows, 2 LANES), values beside rates.

    `work` holds (phasor, shapes, generic) scratch arrays.
    """
    phasor, shapes, generic = work
    component_phasors(table, time, ramp, ramp_rate, position, speed, phasor)
    np.dot(table.project, phasor, shapes)
    np.dot(table.expand, shapes, generic)
    fixed_rows = HULL_WAVE_ROWS * stations + BOAT_WAVE_ROWS
    for row in range(fixed_rows):
        for lane in range(2 * LANES):
            anchor[row, lane] = generic[row, lane]
    spread_to_strips(table, strip, generic, fixed_rows, anchor)


@compiled
def waves_between(before, after, span, share, wave, rate):
    """Wave rows at `share` of the way between two anchors `span` [s] apart: cubic through values and rates."""
    s = share
    a0 = (1.0 + 2.0 * s) * (1.0 - s) * (1.0 - s)
    b0 = s * (1.0 - s) * (1.0 - s) * span
    a1 = s * s * (3.0 - 2.0 * s)
    b1 = s * s * (s - 1.0) * span
    da = 6.0 * s * (s - 1.0) / span
    db0 = (1.0 - s) * (1.0 - 3.0 * s)
    db1 = s * (3.0 * s - 2.0)
    for row in range(wave.shape[0]):
        for lane in range(LANES):
            v0 = before[row, lane]
            r0 = before[row, LANES + lane]
            v1 = after[row, lane]
            r1 = after[row, LANES + lane]
            wave[row, lane] = a0 * v0 + b0 * r0 + a1 * v1 + b1 * r1
            rate[row, lane] = da * (v0 - v1) + db0 * r0 + db1 * r1
