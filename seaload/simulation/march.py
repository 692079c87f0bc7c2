"""Kernel: the time loop of one block. Classical Runge-Kutta of fourth order for boat and wake, the exact
step for the bending mode, waves from anchors, and a reading at every full step.

The boat's motion is in double precision, the loads on hull and strips in single: their rounding is a millionth
of the load, a thousandth of what the step of the integrator leaves (tests hold both).
"""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.basis.single_precision import in_single
from seaload.basis.smooth_step import smooth_step, smooth_step_slope
from seaload.foil.flow_memory import dried_state, healing_share, next_flow_state, step_share
from seaload.foil.mode_step import mode_step, usable_damping
from seaload.simulation import layout as L
from seaload.simulation.hold_moment import clear_held, hold_deepest
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.motion import accelerations, advance_rigid, path_rates
from seaload.simulation.sampling import edge_moments, mode_force, sample_boat, sample_loads
from seaload.simulation.stage import clear_totals, hull_loads
from seaload.simulation.steer import steer
from seaload.simulation.strip_stage import strip_loads
from seaload.simulation.wave_field import anchor_waves, waves_of_step, with_waves

clear_totals_in_single = in_single(clear_totals)
hull_loads_in_single = in_single(hull_loads)
strip_loads_in_single = in_single(strip_loads)
edge_moments_in_single = in_single(edge_moments)
sample_loads_in_single = in_single(sample_loads)
sample_boat_in_single = in_single(sample_boat)
clear_held_in_single = in_single(clear_held)
hold_deepest_in_single = in_single(hold_deepest)

_MODE_MASS, _MODE_STIFF = BOAT["mode_mass"], BOAT["mode_stiffness"]
_MODE_DAMP, _MODE_ON, _MEMORY_ON = BOAT["mode_damping"], BOAT["mode_on"], BOAT["memory_on"]


@compiled
def foresee_mode(boat, total, mode, half, end, held, step):
    """Mode at `half` and full step (`end`) under the force of the first stage; `held` keeps what drives it.

    All arrays flat: `boat` and `total` rows as in layout, `mode` [m], [m/s] at the start; `step` [s].
    """
    for lane in range(LANES):
        mass = boat[at(_MODE_MASS, lane)] + total[at(L.T_MODE_MASS, lane)]
        stiffness = boat[at(_MODE_STIFF, lane)]
        own = boat[at(_MODE_DAMP, lane)]
        damping = usable_damping(mass, own + total[at(L.T_MODE_DAMPING, lane)], stiffness)
        flow = damping - min(own, damping)
        place = mode[at(L.MODE_POSITION, lane)]
        moving = mode[at(L.MODE_RATE, lane)]
        force = mode_force(total, lane) + flow * moving
        on = boat[at(_MODE_ON, lane)]
        position, rate = mode_step(place, moving, force, force, mass, damping, stiffness, 0.5 * step)
        half[at(L.MODE_POSITION, lane)] = position * on
        half[at(L.MODE_RATE, lane)] = rate * on
        position, rate = mode_step(place, moving, force, force, mass, damping, stiffness, step)
        end[at(L.MODE_POSITION, lane)] = position * on
        end[at(L.MODE_RATE, lane)] = rate * on
        held[at(0, lane)] = force
        held[at(1, lane)] = mass
        held[at(2, lane)] = damping
        held[at(3, lane)] = flow


@compiled
def settle_mode(boat, total, mode, end, held, step):
    """`mode` at the end of the step under a force that runs evenly from the first to the last stage's.

    All arrays flat: `boat` and `total` rows as in layout, `end` as foreseen, `held` as `foresee_mode` leaves it; `step`
    [s].
    """
    for lane in range(LANES):
        end_force = mode_force(total, lane) + held[at(3, lane)] * end[at(L.MODE_RATE, lane)]
        position, rate = mode_step(
            mode[at(L.MODE_POSITION, lane)],
            mode[at(L.MODE_RATE, lane)],
            held[at(0, lane)],
            end_force,
            held[at(1, lane)],
            held[at(2, lane)],
            boat[at(_MODE_STIFF, lane)],
            step,
        )
        mode[at(L.MODE_POSITION, lane)] = position * boat[at(_MODE_ON, lane)]
        mode[at(L.MODE_RATE, lane)] = rate * boat[at(_MODE_ON, lane)]


@compiled
def remember_flow(strips, strip, boat, step, out, memory):
    """Flow `memory` at the end of a `step` [s], from the demand of the last stage.

    `strips` their number; `strip`, `boat`, `out` and `memory` flat with rows as in layout.
    """
    for s in range(strips):
        base, left = L.STRIP_ROWS * s, L.STRIP_OUT_ROWS * s
        for lane in range(LANES):
            speed = out[at(left + L.O_SPEED, lane)]
            chord = strip[at(base + L.S_CHORD, lane)]
            onset = step_share(step, speed, chord, strip[at(base + L.S_ONSET_CHORDS, lane)])
            heal = step_share(step, speed, chord, strip[at(base + L.S_WASHOUT_CHORDS, lane)])
            wetting = step_share(step, speed, chord, strip[at(base + L.S_REWET_CHORDS, lane)])
            dry = 1.0 - out[at(left + L.O_WET, lane)]
            heals = healing_share(heal, wetting, dry)
            on = boat[at(_MEMORY_ON, lane)]
            starts = strip[at(base + L.S_ONSET, lane)]
            ends = strip[at(base + L.S_WASHOUT, lane)]
            normal = next_flow_state(
                memory[at(2 * s, lane)], out[at(left + L.O_DEMAND_N, lane)], starts, ends, onset, heals
            )
            reverse = next_flow_state(
                memory[at(2 * s + 1, lane)], out[at(left + L.O_DEMAND_R, lane)], starts, ends, onset, heals
            )
            memory[at(2 * s, lane)] = dried_state(normal, dry) * on
            memory[at(2 * s + 1, lane)] = dried_state(reverse, dry) * on


remember_flow_in_single = in_single(remember_flow)


@compiled
def anchors_of(work, number):
    """(older, before, after): the anchor before the one of this `number`, that one, and the next to come.

    The three take turns in `work.anchors`, so that none is ever copied.
    """
    return work.anchors[(number + 2) % 3], work.anchors[number % 3], work.anchors[(number + 1) % 3]


@compiled
def foreseen(place, rate, gain, before, span):
    """(place, its rate) `span` [s] on, of a `place` [m] or [rad] with its `rate`, from what the rate gains a second.

    `gain` now and `before`, at the last anchor as long ago [as `rate`, a second]: it goes on changing as since then.
    """
    more = gain - before
    return place + span * (rate + span * (0.5 * gain + more / 6.0)), rate + span * (gain + 0.5 * more)


@compiled
def foresee_course(work, span):
    """The course of a `work` one anchor, `span` [s], on, into its `place`."""
    state, total, place = work.state.reshape(-1), work.loads.total, work.place
    for lane in range(LANES):
        heading, turn = state[at(L.HEADING, lane)], state[at(L.YAW_RATE, lane)]
        ahead_rate, aside_rate = path_rates(state, lane)
        surge, sway = total[at(L.T_ACC_SURGE, lane)], total[at(L.T_ACC_SWAY, lane)]
        ahead = surge - sway * heading - turn * aside_rate  # the turning of the axes, and a small heading
        aside = sway + surge * heading + turn * ahead_rate
        yaw = 1.0 * total[at(L.T_ACC_YAW, lane)]
        place.ahead[lane], place.ahead_rate[lane] = foreseen(
            state[at(L.PATH, lane)], ahead_rate, ahead, work.gained[0, lane], span
        )
        place.aside[lane], place.aside_rate[lane] = foreseen(
            state[at(L.ASIDE, lane)], aside_rate, aside, work.gained[1, lane], span
        )
        place.heading[lane], place.turn[lane] = foreseen(heading, turn, yaw, work.gained[2, lane], span)
        work.gained[0, lane], work.gained[1, lane], work.gained[2, lane] = ahead, aside, yaw


@compiled
def new_anchor(march, table, clock, work, number, span):
    """Start from anchor `number`: the next one, `span` [s] on, is summed where the boat will be.

    `march` in single precision, `table` a `WaveTable`, `clock` a `Clock`, `work` a `Work`.
    """
    time = number * span
    foresee_course(work, span)
    share = (time + span) / clock.ramp
    anchor_waves(
        table,
        march,
        time + span,
        smooth_step(share),
        smooth_step_slope(share) / clock.ramp,
        work.place,
        work,
        anchors_of(work, number)[2],
    )


@compiled
def take_stage(work, mode):
    """Motion of a `work` and bending `mode` (2, LANES) [m], [m/s] as the loads of a stage see them, in single
    precision.
    """
    rigid, seen = work.loads.rigid, work.loads.mode
    for row in range(L.RIGID_ROWS):
        for lane in range(LANES):
            rigid[at(row, lane)] = work.state[row, lane]
    for row in range(2):
        for lane in range(LANES):
            seen[at(row, lane)] = mode[row, lane]


@compiled
def begin_step(state, began, gathered, now):
    """Keep the `state` a step starts from in `began`, and empty the sums of rates `gathered` and of `now`, a LoadState.

    All flat.
    """
    for i in range(L.RIGID_ROWS * LANES):
        began[i] = state[i]
        gathered[i] = 0.0
    for i in range(now.lags.size):
        now.lags_before[i] = now.lags[i]
        now.lag_sums[i] = np.float32(0.0)


@compiled
def read_step(march, reading, work, i, buffer, held):
    """Read the start of step `i` of a chunk off into `buffer` and `held` (Held), from the loads of its first stage.

    `march` and `reading` in single precision, `work` a `Work`.
    """
    edge_moments_in_single(march, work.loads, work.moment, work.sums, held.span)
    sample_loads_in_single(reading, work.moment, buffer, i)
    sample_boat_in_single(march, reading, work.loads, work.moment, work.sums, i, buffer)
    hold_deepest_in_single(march, reading, work.loads, held, i, buffer)


@compiled
def wind_of_stage(wind, number, moved, now):
    """Pull of the wind over its mean of a stage into `now` (LANES,) [-], straight from one full step to the next.

    `wind` flat, rows of LANES at every full step [-]; `number` of the step, `moved` [-] of it.
    """
    for lane in range(LANES):
        now[lane] = (1.0 - moved) * wind[at(number, lane)] + moved * wind[at(number + 1, lane)]


@compiled
def advance_mode(part, boat, work, dt):
    """The bending mode of a `work`: seen ahead after the first stage (`part` 0), settled after the last (3).

    `boat` flat, `dt` [s] the step.
    """
    mode, end, held = work.mode.reshape(-1), work.mode_end.reshape(-1), work.held.reshape(-1)
    if part == 0:
        foresee_mode(boat, work.loads.total, mode, work.mode_half.reshape(-1), end, held, dt)
    if part == 3:
        settle_mode(boat, work.loads.total, mode, end, held, dt)


@compiled
def march_steps(march, single, table, clock, reading, work, first_step, steps, wind, buffer, held):
    """March `steps` full steps from step number `first_step`; read off each into `buffer`, and into `held` (Held).

    `march` in double, `single`, `reading`, `buffer` and `held` in single precision; `table` a `WaveTable`, `clock` a
    `Clock`, `work` a `Work`; `wind` (at least first_step + steps + 1, LANES) pull of the wind over its mean [-] at
    every full step, in single precision. Classical Runge-Kutta of fourth order, in any text on numerical analysis.
    """
    whole, dt = work.loads, clock.step
    boat, state = march.boat.reshape(-1), work.state.reshape(-1)
    began, gathered = work.start.reshape(-1), work.gathered.reshape(-1)
    slope = LANES * L.HULL_WAVE_ROWS * march.hull.shape[0]
    pull = wind.reshape(-1)
    clear_held_in_single(held)
    for i in range(steps):
        number = first_step + i
        anchor, within = number // clock.anchor_steps, number % clock.anchor_steps
        if within == 0:
            new_anchor(single, table, clock, work, anchor, dt * clock.anchor_steps)
        begin_step(state, began, gathered, whole)
        steer(boat, state, work.heard, number, dt, work.helm)
        for part in range(4):
            last = part == 3
            moved = 0.0 if part == 0 else (1.0 if last else 0.5)  # [-] of the step
            weight = dt / 6.0 if part == 0 or last else dt / 3.0
            ahead = 0.5 * dt if part < 2 else dt
            if part == 1:  # a step starts where the last one ended, the first in still water
                waves_of_step(anchors_of(work, anchor), clock, within, table.rated, work.waves)
            now = with_waves(whole, work.waves, 0 if part == 0 or last else whole.wave.size)
            take_stage(work, work.mode if part == 0 else (work.mode_end if last else work.mode_half))
            clear_totals_in_single(now)
            hull_loads_in_single(single, now)
            strip_loads_in_single(
                single, now, np.float32(weight), np.float32(ahead), np.float32(last), np.float32(moved * dt)
            )
            wind_of_stage(pull, number, moved, work.wind)
            accelerations(boat, state, now.wave[slope : slope + LANES], work.wind, march.density, now.total)
            if part == 0:
                read_step(single, reading, work, i, buffer, held)
            advance_mode(part, boat, work, dt)
            advance_rigid(boat, work, weight, ahead, last)
        remember_flow_in_single(
            march.strip.shape[0], single.strip.reshape(-1), single.boat.reshape(-1), np.float32(dt), whole.out,
            whole.memory,
        )  # fmt: skip
