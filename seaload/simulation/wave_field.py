"""Kernels: the waves at the boat. Sum at an anchor, turn to each lane's heading, spread to strips, run between two
anchors.
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_blend import INSTANTS, lane_blend
from seaload.basis.lane_index import at, wide
from seaload.basis.lane_product import lane_product
from seaload.basis.sine_cosine import sine_cosine_within, within_half_a_turn
from seaload.basis.single_precision import in_single
from seaload.simulation.layout import LANES, S_NY, S_NZ, LoadState
from seaload.simulation.wave_layout import (
    DEPTH_TERMS,
    HULL_HEADINGS,
    NODE_ROWS,
    STRIP_WAVE_ROWS,
    TURN_UNIT,
    strip_wave_row,
)

MOST_TURN = 0.2  # [rad] off the heading steered for, beyond which the sea is met as there


@compiled
def component_angles(table, time, course, angle):
    """Phase of every component at each lane's place [rad], into `angle` (N LANES,).

    `table` a `WaveTable`, `time` [s], `course` a `Course`. Linear waves (Airy 1845).
    """
    phase = table.phase.reshape(-1)
    for n in range(table.omega.size):
        along, across, turned = table.along[n], table.across[n], table.omega[n] * time
        for lane in range(course.ahead.size):  # a length known beforehand would be unrolled instead of vectorised
            place = along * course.ahead[lane] + across * course.aside[lane]
            angle[at(n, lane)] = place - turned + phase[at(n, lane)]


sine_cosine_in_single = in_single(sine_cosine_within)


@compiled
def all_sines(angle, rest, sine, cosine):
    """`sine` and `cosine` [-] of every `angle` [rad], in long loops: over sixteen lanes alone they are not vectorised.

    All flat and of one length. Whole turns are taken off in double precision; `rest` [rad], sine and cosine are in
    single.
    """
    for i in range(angle.size):
        rest[i] = np.float32(within_half_a_turn(angle[i]))
    for i in range(angle.size):
        sine[i], cosine[i] = sine_cosine_in_single(rest[i])


@compiled
def component_phasors(table, time, ramp, ramp_rate, course, angle, phasor):
    """Cosine and sine of every component at each lane's place, times its swing, and their rates along its path.

    `table` a `WaveTable`, `time` [s], `course` a `Course`, `ramp` [-] from still water to full sea with its rate
    `ramp_rate` [1/s]. Fills `phasor` (2 N, 2 LANES): cosines over sines, values
    beside rates. `angle` holds the angles (N LANES,) in float64, for a hundred hours are a million radians, and three
    such rows in float32. Linear waves (Airy 1845).
    """
    count = table.omega.size
    angles, (rest, sines, cosines) = angle
    component_angles(table, time, course, angles)
    all_sines(angles, rest, sines, cosines)
    size, growth = np.float32(ramp), np.float32(ramp_rate)
    flat, swings = phasor.reshape(-1), table.swing.reshape(-1)
    upper, lower = flat[: count * 2 * LANES], flat[count * 2 * LANES :]
    for n in range(count):
        along, across, omega = table.along[n], table.across[n], table.omega[n]
        for lane in range(course.ahead_rate.size):
            met = along * course.ahead_rate[lane] + across * course.aside_rate[lane] - omega
            turn = size * np.float32(met)
            swing = swings[at(n, lane)]
            sine = swing * sines[at(n, lane)]
            cosine = swing * cosines[at(n, lane)]
            upper[wide(n, lane)] = size * cosine
            lower[wide(n, lane)] = size * sine
            upper[wide(n, LANES + lane)] = growth * cosine - turn * sine
            lower[wide(n, LANES + lane)] = growth * sine + turn * cosine


@compiled
def clear_rows(flat, first, count):
    """Set `count` rows of 2 LANES from row `first` of `flat` to zero."""
    for row in range(first, first + count):
        for lane in range(2 * LANES):
            flat[wide(row, lane)] = 0.0


@compiled
def add_node(weight, low, across, up, generic, g, anchor, base, half):
    """Add one lateral node to the anchor rows of one strip: surface [m], normal and axial velocity terms [m/s].

    `weight` flat with row `low` the node's weight of each lane [-], `across` and `up` flat with the lateral and
    vertical share of the strip's normal [-]; `generic` rows from `g`, `anchor` rows from `base` (all flat); `half` the
    column they begin at, 0 for values and LANES for rates.
    """
    for lane in range(LANES):
        share = weight[at(low, lane)]
        ny = share * across[at(0, lane)]
        nz = share * up[at(0, lane)]
        anchor[wide(base, half + lane)] += share * generic[wide(g, half + lane)]
        for p in range(DEPTH_TERMS):
            anchor[wide(base + 1 + p, half + lane)] += (
                nz * generic[wide(g + 1 + p, half + lane)] + ny * generic[wide(g + 1 + DEPTH_TERMS + p, half + lane)]
            )
            anchor[wide(base + 1 + DEPTH_TERMS + p, half + lane)] += (
                share * generic[wide(g + 1 + 2 * DEPTH_TERMS + p, half + lane)]
            )


@compiled
def spread_to_strips(table, strip, stations, generic, anchor):
    """Lateral interpolation from the nodes to each lane's strips, velocities turned to the strip's normal.

    `table` a `WaveTable`, `strip` (strips, STRIP_ROWS, LANES), `generic` (generic rows, 2 LANES) [m], [m/s] at each
    lane's heading; into `anchor` (wave rows, 2 LANES) after those of a hull of so many `stations` and of the boat.
    """
    flat, of = anchor.reshape(-1), generic.reshape(-1)
    for s in range(strip.shape[0]):
        group = table.strip_group[s]
        base = strip_wave_row(stations, s)
        first = table.group_start[group]
        clear_rows(flat, base, STRIP_WAVE_ROWS)
        weight = table.strip_weight[s].reshape(-1)
        across, up = strip[s, S_NY], strip[s, S_NZ]
        for half in range(0, 2 * LANES, LANES):
            for node in range(table.group_nodes[group]):
                add_node(weight, node, across, up, of, first + NODE_ROWS * node, flat, base, half)
        if table.orbital != 1.0:
            for row in range(base + 1, base + STRIP_WAVE_ROWS):
                for lane in range(2 * LANES):
                    flat[wide(row, lane)] *= table.orbital


spread_to_strips_in_single = in_single(spread_to_strips)


@compiled
def powers_of(course, turned):
    """Powers of each lane's heading over TURN_UNIT [-], then their rates [1/s], into `turned` (flat).

    `course` a `Course`. Beyond MOST_TURN the sea is met as there.
    """
    for lane in range(course.heading.size):
        off = min(max(course.heading[lane], -MOST_TURN), MOST_TURN) / TURN_UNIT
        rate = course.turn[lane] / TURN_UNIT if abs(course.heading[lane]) < MOST_TURN else 0.0
        power, slope = 1.0, 0.0
        for i in range(HULL_HEADINGS):
            turned[at(i, lane)] = np.float32(power)
            turned[at(HULL_HEADINGS + i, lane)] = np.float32(slope * rate)
            slope = (i + 1) * power
            power *= off


@compiled
def meet(termed, turned, count, terms, met):
    """`count` shapes of a part of the sea at each lane's heading [their own unit], into the first rows of `met`.

    `termed` the shapes of so many `terms` in the heading one after the other, flat; `turned` as `powers_of` leaves it.
    """
    for row in range(count):
        for lane in range(2 * LANES):
            met[wide(row, lane)] = termed[wide(row, lane)]
        for i in range(1, terms):
            g = i * count + row
            for lane in range(LANES):
                value, share = termed[wide(g, lane)], turned[at(i, lane)]
                met[wide(row, lane)] += share * value
                met[wide(row, LANES + lane)] += (
                    share * termed[wide(g, LANES + lane)] + turned[at(HULL_HEADINGS + i, lane)] * value
                )


meet_in_single = in_single(meet)


@compiled
def at_headings(part, work, rows):
    """`rows` (k, 2 LANES) of a `part` of the sea, a `SeaPart`, at each lane's heading [their own unit].

    `work` a `Work` with the shapes of an anchor and the powers of the headings.
    """
    count, first = part.rows.shape[1], 0
    for matrix in part.terms:
        lane_product(matrix, work.shapes[: matrix.shape[1]], work.termed[first : first + count])
        first += count
    meet_in_single(work.termed.reshape(-1), work.turned, count, len(part.terms), work.met.reshape(-1))
    lane_product(part.rows, work.met[:count], rows)


@compiled
def anchor_waves(table, march, time, ramp, ramp_rate, course, work, anchor):
    """All wave rows of all lanes at one `time` [s]: `anchor` (rows, 2 LANES), values beside rates.

    `table`, `ramp`, `ramp_rate`, `course` as in `component_phasors`; `march` in single precision; `work` a `Work`, for
    its scratch arrays.
    """
    component_phasors(table, time, ramp, ramp_rate, course, work.angle, work.phasor)
    lane_product(table.project, work.phasor, work.shapes)
    stations = march.hull.shape[0]
    powers_of(course, work.turned)
    at_headings(table.hull, work, anchor[: table.hull.rows.shape[0]])
    at_headings(table.nodes, work, work.nodes)
    spread_to_strips_in_single(table, march.strip, stations, work.nodes, anchor)


@compiled
def with_waves(loads, waves, first):
    """The `LoadState` of one instant: all of `loads`, its waves [SI] from place `first` on of `waves`, (wave, rate)."""
    after = first + loads.wave.size
    return LoadState(
        loads.rigid, loads.lags, loads.lags_before, loads.lag_sums, loads.memory, loads.mode, waves[0][first:after],
        waves[1][first:after], loads.total, loads.out, loads.inflow, loads.recall, loads.mixed, loads.answer,
        loads.pair, loads.level, loads.slots,
    )  # fmt: skip


@compiled
def waves_of_step(anchors, clock, within, rated, waves):
    """Wave rows [SI] at the end of a step, then those in its middle, into `waves`, (wave, rate), flat.

    `anchors` (older, before, next), (rows, 2 LANES) each, `clock` a `Clock`, `within` steps since the one before,
    `rated` rows (rows,) bool whose rate is worked out.
    """
    older, before, following = anchors
    wave, rate = waves
    size = wave.size // INSTANTS
    lane_blend(
        (older.reshape(-1), before.reshape(-1), following.reshape(-1)), clock.blend[within], rated,
        (wave[size:], wave[:size]), (rate[size:], rate[:size]),
    )  # fmt: skip
