"""Kernel: the time loop of one block. Classical Runge-Kutta of fourth order for boat and wake, the exact
step for the bending mode, waves from anchors, and a reading at every full step.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.flow_memory import next_flow_state, step_share
from seaload.foil.mode_step import mode_step, usable_damping
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT
from seaload.simulation.motion import accelerations, advance_rigid
from seaload.simulation.sampling import edge_moments, mode_force, sample_boat, sample_loads
from seaload.simulation.stage import clear_totals, hull_loads, strip_loads
from seaload.simulation.wave_field import anchor_waves, waves_between

_MODE_MASS, _MODE_STIFF = BOAT["mode_mass"], BOAT["mode_stiffness"]
_MODE_DAMP, _MODE_ON, _MEMORY_ON = BOAT["mode_damping"], BOAT["mode_on"], BOAT["memory_on"]


class Clock(NamedTuple):
    """Times of a march."""

    step: float  # [s]
    anchor_steps: int  # steps between two anchors
    ramp: float  # [s] from still water to full sea


class Work(NamedTuple):
    """Everything that changes while a block marches, so that it can stop and go on at any anchor."""

    state: np.ndarray  # (rows, LANES)
    start: np.ndarray
    gathered: np.ndarray
    memory: np.ndarray  # (strips, 2, LANES) flow memory, normal and reverse side
    mode: np.ndarray  # (2, LANES)
    mode_now: np.ndarray  # (2, LANES) the mode as a stage sees it
    mode_half: np.ndarray
    mode_end: np.ndarray
    total: np.ndarray  # (TOTAL_ROWS, LANES)
    out: np.ndarray  # (strips, STRIP_OUT_ROWS, LANES)
    before: np.ndarray  # (wave rows, 2 LANES)
    after: np.ndarray
    wave: np.ndarray  # (wave rows, LANES)
    rate: np.ndarray
    angle: np.ndarray  # (3, N LANES) phase, its sine and cosine
    phasor: np.ndarray  # (2 N, 2 LANES) float32, as the next two and the anchors
    shapes: np.ndarray  # (rank, 2 LANES)
    generic: np.ndarray  # (generic rows, 2 LANES)
    moment: np.ndarray  # (edges, LANES)
    sums: np.ndarray  # (4, LANES)
    held: np.ndarray  # (4, LANES) force, mass, damping and flow damping of the mode over a step


class Reading(NamedTuple):
    """How load channels hang on strip edges, for each lane."""

    channels: int
    edge: np.ndarray  # (channels, LANES) int64, lower edge
    weight: np.ndarray  # (channels, LANES) [-] share of the next edge
    per_limit: np.ndarray  # (channels, LANES) [1/(N m)] one over the normal limit, times the share inside the hull
    reverse_ratio: np.ndarray  # (channels, LANES) [-] normal over reverse limit
    outside: np.ndarray  # (channels, LANES) [-] 1 outside the hull or at the bearing, else 0


@compiled
def stage(march, boat, work, state, gust, weight, ahead, last, mode):
    """Loads, accelerations and the Runge-Kutta update of one stage."""
    clear_totals(work.total)
    flat = state.reshape(-1)
    rigid = flat[: RIGID_ROWS * LANES]
    total = work.total.reshape(-1)
    wave, rate = work.wave.reshape(-1), work.rate.reshape(-1)
    pars = boat.reshape(-1)
    stations, strips = march.hull.shape[0], march.strip.shape[0]
    hull_loads(
        stations, march.hull.reshape(-1), pars, rigid, wave, rate, march.density, march.gravity, total
    )  # fmt: skip
    strip_loads(
        (stations, strips, march.foil_strips),
        (march.depth_scale, march.density, march.gravity, march.ambient),
        march.strip.reshape(-1),
        pars,
        rigid,
        flat[RIGID_ROWS * LANES :],
        work.start.reshape(-1)[RIGID_ROWS * LANES :],
        work.gathered.reshape(-1)[RIGID_ROWS * LANES :],
        weight,
        ahead,
        1.0 if last else 0.0,
        wave,
        rate,
        work.memory.reshape(-1),
        mode.reshape(-1),
        total,
        work.out.reshape(-1),
    )
    slope_row = HULL_WAVE_ROWS * march.hull.shape[0]
    accelerations(boat, state, work.wave[slope_row], gust, march.density, work.total)


@compiled
def foresee_mode(boat, total, mode, half, end, held, step):
    """Mode at half and full step under the force of the first stage (flat arrays); `held` keeps what drives it."""
    for lane in range(LANES):
        mass = boat[at(_MODE_MASS, lane)] + total[at(T_MODE_MASS, lane)]
        stiffness = boat[at(_MODE_STIFF, lane)]
        own = boat[at(_MODE_DAMP, lane)]
        damping = usable_damping(mass, own + total[at(T_MODE_DAMPING, lane)], stiffness)
        flow = damping - min(own, damping)
        place = mode[at(MODE_POSITION, lane)]
        moving = mode[at(MODE_RATE, lane)]
        force = mode_force(total, lane) + flow * moving
        on = boat[at(_MODE_ON, lane)]
        position, rate = mode_step(place, moving, force, force, mass, damping, stiffness, 0.5 * step)
        half[at(MODE_POSITION, lane)] = position * on
        half[at(MODE_RATE, lane)] = rate * on
        position, rate = mode_step(place, moving, force, force, mass, damping, stiffness, step)
        end[at(MODE_POSITION, lane)] = position * on
        end[at(MODE_RATE, lane)] = rate * on
        held[at(0, lane)] = force
        held[at(1, lane)] = mass
        held[at(2, lane)] = damping
        held[at(3, lane)] = flow


@compiled
def settle_mode(boat, total, mode, end, held, step):
    """Mode at the end of the step under a force that runs evenly from the first to the last stage's (flat arrays)."""
    for lane in range(LANES):
        end_force = mode_force(total, lane) + held[at(3, lane)] * end[at(MODE_RATE, lane)]
        position, rate = mode_step(
            mode[at(MODE_POSITION, lane)],
            mode[at(MODE_RATE, lane)],
            held[at(0, lane)],
            end_force,
            held[at(1, lane)],
            held[at(2, lane)],
            boat[at(_MODE_STIFF, lane)],
            step,
        )
        mode[at(MODE_POSITION, lane)] = position * boat[at(_MODE_ON, lane)]
        mode[at(MODE_RATE, lane)] = rate * boat[at(_MODE_ON, lane)]


@compiled
def remember_flow(strips, strip, boat, step, out, memory):
    """Flow memory at the end of a step, from the demand of the last stage; a dry strip forgets that it was wetted.

    All arrays are flat.
    """
    for s in range(strips):
        base, left = STRIP_ROWS * s, STRIP_OUT_ROWS * s
        for lane in range(LANES):
            speed = out[at(left + O_SPEED, lane)]
            chord = strip[at(base + S_CHORD, lane)]
            onset = step_share(step, speed, chord, strip[at(base + S_ONSET_CHORDS, lane)])
            heal = step_share(step, speed, chord, strip[at(base + S_WASHOUT_CHORDS, lane)])
            wetting = step_share(step, speed, chord, strip[at(base + S_REWET_CHORDS, lane)])
            dry = 1.0 - out[at(left + O_WET, lane)]
            heals = max(heal, wetting) if dry < 0.5 else 0.0
            least = dry * dry
            on = boat[at(_MEMORY_ON, lane)]
            starts = strip[at(base + S_ONSET, lane)]
            ends = strip[at(base + S_WASHOUT, lane)]
            normal = next_flow_state(
                memory[at(2 * s, lane)], out[at(left + O_DEMAND_N, lane)], starts, ends, onset, heals
            )
            reverse = next_flow_state(
                memory[at(2 * s + 1, lane)], out[at(left + O_DEMAND_R, lane)], starts, ends, onset, heals
            )
            memory[at(2 * s, lane)] = max(normal, least) * on
            memory[at(2 * s + 1, lane)] = max(reverse, least) * on


@compiled
def new_anchor(march, table, clock, work, time, span):
    """Move on by one anchor: the old end becomes the start, the new end is summed where the boat will be."""
    rows = work.before.shape[0]
    for row in range(rows):
        for lane in range(2 * LANES):
            work.before[row, lane] = work.after[row, lane]
    position = work.sums[0]
    speed = work.sums[1]
    for lane in range(LANES):
        surge = work.total[T_ACC_SURGE, lane]
        position[lane] = work.state[PATH, lane] + span * (work.state[SPEED, lane] + 0.5 * span * surge)
        speed[lane] = work.state[SPEED, lane] + span * surge
    share = min(max((time + span) / clock.ramp, 0.0), 1.0)
    ramp = share * share * (3.0 - 2.0 * share)
    ramp_rate = 6.0 * share * (1.0 - share) / clock.ramp
    anchor_waves(
        table,
        march.strip,
        march.hull.shape[0],
        time + span,
        ramp,
        ramp_rate,
        position,
        speed,
        (work.angle, work.phasor, work.shapes, work.generic),
        work.after,
    )


@compiled
def march_steps(march, table, clock, reading, work, first_step, steps, gust, buffer):
    """March `steps` full steps from step number `first_step`; read off each into `buffer`.

    `gust` (at least first_step + steps + 1,) wind pressure over its mean at every full step.
    """
    boat = march.boat
    dt = clock.step
    span = dt * clock.anchor_steps
    for i in range(steps):
        number = first_step + i
        within = number % clock.anchor_steps
        if within == 0:
            new_anchor(march, table, clock, work, number * dt, span)
            waves_between(work.before, work.after, span, 0.0, work.wave, work.rate)
        work.start[:, :] = work.state
        work.gathered[:, :] = 0.0
        work.mode_now[:, :] = work.mode
        stage(march, boat, work, work.state, gust[number], dt / 6.0, 0.5 * dt, False, work.mode_now)
        edge_moments(march, boat, work.start, work.total, work.out, work.mode, work.moment, work.sums)
        sample_loads(reading, work.moment, buffer, i)
        sample_boat(
            march, boat, work.start, work.wave, work.total, work.out, work.moment, work.sums,
            reading.channels, i, buffer,
        )  # fmt: skip
        foresee_mode(
            boat.reshape(-1), work.total.reshape(-1), work.mode.reshape(-1),
            work.mode_half.reshape(-1), work.mode_end.reshape(-1), work.held.reshape(-1), dt,
        )  # fmt: skip
        advance_rigid(boat, work.state, work.start, work.gathered, dt / 6.0, 0.5 * dt, False, work.total)
        waves_between(
            work.before, work.after, span, (within + 0.5) / clock.anchor_steps, work.wave, work.rate
        )
        middle = 0.5 * (gust[number] + gust[number + 1])
        stage(march, boat, work, work.state, middle, dt / 3.0, 0.5 * dt, False, work.mode_half)
        advance_rigid(boat, work.state, work.start, work.gathered, dt / 3.0, 0.5 * dt, False, work.total)
        stage(march, boat, work, work.state, middle, dt / 3.0, dt, False, work.mode_half)
        advance_rigid(boat, work.state, work.start, work.gathered, dt / 3.0, dt, False, work.total)
        waves_between(
            work.before, work.after, span, (within + 1.0) / clock.anchor_steps, work.wave, work.rate
        )
        stage(march, boat, work, work.state, gust[number + 1], dt / 6.0, dt, True, work.mode_end)
        settle_mode(
            boat.reshape(-1), work.total.reshape(-1), work.mode.reshape(-1),
            work.mode_end.reshape(-1), work.held.reshape(-1), dt,
        )  # fmt: skip
        advance_rigid(boat, work.state, work.start, work.gathered, dt / 6.0, dt, True, work.total)
        remember_flow(
            march.strip.shape[0], march.strip.reshape(-1), boat.reshape(-1), dt,
            work.out.reshape(-1), work.memory.reshape(-1),
        )  # fmt: skip
