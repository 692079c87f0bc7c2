"""Kernels: what the samples of a chunk add to the tallies of each lane. Nothing here looks across lanes."""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled, compiled_with_arrays
from seaload.basis.lane_index import at
from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import BINS, MEAN_BINS, RANGE_BINS
from seaload.fatigue.excursions import (
    EVENT_GAP,
    RELEASE_MARGIN,
    event_chunk,
    event_passed_over,
    excursion_chunk,
    excursion_passed_over,
    new_event_state,
    new_excursion_state,
)
from seaload.fatigue.rainflow import (
    CLOSED_SIZE,
    DIRECTION,
    LAST,
    STACK_SIZE,
    STARTED,
    STATE_SIZE,
    add_cycles,
    close_residue,
    count_on,
)
from seaload.fatigue.side_by_side import MARKS_A_WORD, mark_turns, take_turn
from seaload.simulation.count_broach import count_broach
from seaload.simulation.layout import LANES
from seaload.simulation.sampling import (
    BOAT_SAMPLES,
    R_FOREDECK,
    R_HEADING,
    R_LINE,
    R_PITCH,
    R_RUDDER,
    R_SPEED,
    R_WORST_NORMAL,
    R_WORST_REVERSE,
)

HALF, FULL, OVER = range(3)  # reverse past 50 %, reverse past 100 %, normal past 100 %
LEVELS = (0.5, 1.0, 1.0)
BLOCK_TIME = 10.0  # [s] of the block extremes kept for the tails
SUM_OFFSET, SUM_TOTAL, SUM_SQUARE, SUM_BELOW, SUM_HIGHEST, SUM_LOWEST = range(6)
SUM_ROWS = 6


class Tally(NamedTuple):
    """Running counts of a block; lane first where a lane is counted alone."""

    samples: np.ndarray  # (LANES,)
    mean: np.ndarray  # (LANES, rows) sums
    square: np.ndarray  # (LANES, rows) sums of squares about the first sample
    offset: np.ndarray  # (LANES, rows) first sample
    highest: np.ndarray  # (LANES, rows)
    lowest: np.ndarray  # (LANES, rows)
    reversed_samples: np.ndarray  # (LANES, channels)
    slack_samples: np.ndarray  # (LANES,)
    steep_samples: np.ndarray  # (LANES,) pitch beyond validity
    buried_samples: np.ndarray  # (LANES,) foredeck under water
    becalmed_samples: np.ndarray  # (LANES,) faster than the sails can drive
    broach: np.ndarray  # (LANES, 2) samples broaching, and how long the rudder has stood at its limit [s]
    excursion: np.ndarray  # (LANES, places, 3, 8)
    event: np.ndarray  # (LANES, 3, 7)
    block_reverse: np.ndarray  # (LANES, blocks)
    block_normal: np.ndarray  # (LANES, blocks)
    place_reverse: np.ndarray  # (LANES, places, blocks)
    place_normal: np.ndarray  # (LANES, places, blocks)
    deepest: np.ndarray  # (LANES, 2) share and time
    stack: np.ndarray  # (LANES, channels, STACK_SIZE)
    state: np.ndarray  # (LANES, channels, STATE_SIZE)
    histogram: np.ndarray  # (LANES, places, RANGE_BINS, MEAN_BINS)
    damage: np.ndarray  # (LANES, channels, 2)


class CountRules(NamedTuple):
    """What the counting needs to know."""

    step: float  # [s]
    places: int  # bearing and stations; the other load channels are the material grid
    pitch_bound: float  # [rad]
    floor_speed: np.ndarray  # (LANES,) [m/s] at which the sails give nothing
    rudder_limit: float  # [rad]
    slope: float
    steep_slope: float
    normal_ultimate: float  # [-] of the normal limit
    reverse_ultimate: np.ndarray  # (channels, LANES) [-] of the normal limit
    scale: np.ndarray  # (channels, LANES) [-]
    steep_scale: np.ndarray  # (channels, LANES)


class Scratch(NamedTuple):
    """Room for a chunk while it is counted, overwritten row by row."""

    sums: np.ndarray  # (SUM_ROWS LANES,) of the row under way, as `sum_row` leaves them
    words: np.ndarray  # (steps LANES / MARKS_A_WORD,) uint64, marks of where a record may turn
    history: np.ndarray  # (steps,) one lane
    closed: np.ndarray  # (CLOSED_SIZE, 3) cycles


def new_tally(channels, places, blocks):
    """Fresh `Tally`: so many `channels` of load, `places` among them, `blocks` of extremes."""
    rows = channels + BOAT_SAMPLES
    zeros = np.zeros
    return Tally(
        samples=zeros(LANES),
        mean=zeros((LANES, rows)),
        square=zeros((LANES, rows)),
        offset=zeros((LANES, rows)),
        highest=np.full((LANES, rows), -np.inf),
        lowest=np.full((LANES, rows), np.inf),
        reversed_samples=zeros((LANES, channels)),
        slack_samples=zeros(LANES),
        steep_samples=zeros(LANES),
        buried_samples=zeros(LANES),
        becalmed_samples=zeros(LANES),
        broach=zeros((LANES, 2)),
        excursion=new_excursion_state(LANES * places * 3).reshape(LANES, places, 3, -1),
        event=new_event_state(LANES * 3).reshape(LANES, 3, -1),
        block_reverse=np.full((LANES, blocks), -9.0),
        block_normal=np.full((LANES, blocks), -9.0),
        place_reverse=np.full((LANES, places, blocks), -9.0),
        place_normal=np.full((LANES, places, blocks), -9.0),
        deepest=np.full((LANES, 2), -9.0),
        stack=zeros((LANES, channels, STACK_SIZE)),
        state=zeros((LANES, channels, STATE_SIZE)),
        histogram=zeros((LANES, places, RANGE_BINS, MEAN_BINS)),
        damage=zeros((LANES, channels, 2)),
    )


@compiled
def sum_row(samples, steps, sums):
    """Sums, squares, extremes and negatives of one buffer row for all lanes (flat): rows SUM_* of `sums`.

    `samples` [unit of the row] flat with a row a step, `steps` of them. Squares are taken about the row SUM_OFFSET.
    """
    for lane in range(LANES):
        sums[at(SUM_TOTAL, lane)] = 0.0
        sums[at(SUM_SQUARE, lane)] = 0.0
        sums[at(SUM_BELOW, lane)] = 0.0
        sums[at(SUM_HIGHEST, lane)] = samples[at(0, lane)]
        sums[at(SUM_LOWEST, lane)] = samples[at(0, lane)]
    for i in range(steps):
        for lane in range(LANES):
            value = samples[at(i, lane)]
            d = value - sums[at(SUM_OFFSET, lane)]
            sums[at(SUM_TOTAL, lane)] += d
            sums[at(SUM_SQUARE, lane)] += d * d
            sums[at(SUM_BELOW, lane)] += 1.0 if value < 0.0 else 0.0
            sums[at(SUM_HIGHEST, lane)] = max(sums[at(SUM_HIGHEST, lane)], value)
            sums[at(SUM_LOWEST, lane)] = min(sums[at(SUM_LOWEST, lane)], value)


@compiled
def count_row(samples, steps, sums, tally, alive, row):
    """Sums, squares and extremes of buffer row number `row` of all lanes, into `tally`, left in `sums` as well.

    `samples` [unit of the row] flat with a row a step, `steps` of them; `alive` (LANES,) 1 where a lane still counts.
    """
    for lane in range(LANES):
        if tally.samples[lane] == 0.0:
            tally.offset[lane, row] = samples[at(0, lane)]
        sums[at(SUM_OFFSET, lane)] = tally.offset[lane, row]
    sum_row(samples, steps, sums)
    for lane in range(LANES):
        if alive[lane] != 0:
            tally.mean[lane, row] += sums[at(SUM_TOTAL, lane)]
            tally.square[lane, row] += sums[at(SUM_SQUARE, lane)]
            tally.highest[lane, row] = max(tally.highest[lane, row], sums[at(SUM_HIGHEST, lane)])
            tally.lowest[lane, row] = min(tally.lowest[lane, row], sums[at(SUM_LOWEST, lane)])


@compiled
def copy_lane(samples, steps, lane, factor, history):
    """`factor` [-] times the `samples` (flat, a row a step) of one `lane` over `steps`, into `history` (steps,)."""
    for i in range(steps):
        history[i] = samples[at(i, lane)] * factor


@compiled
def count_block_extremes(samples, blocks, sums, reverse_ratio, lane, highest_normal, highest_reverse):
    """Highest share of either limit of one `lane` in every block under way, into `highest_normal`, `highest_reverse`
    (blocks,).

    `samples` [-] shares of the normal limit, flat; `blocks` (steps,) number of each sample's block, `sums` as `sum_row`
    leaves them, `reverse_ratio` [-] normal over reverse limit. At the tip every moment is nothing, so the worst of all
    places is never below zero: only the extremes of each place by itself have a tail that can be read where loads
    hardly ever reverse.
    """
    first, last = blocks[0], blocks[-1]
    if first == last:
        highest, lowest = sums[at(SUM_HIGHEST, lane)], sums[at(SUM_LOWEST, lane)]
        highest_normal[first] = max(highest_normal[first], highest)
        highest_reverse[first] = max(highest_reverse[first], -lowest * reverse_ratio)
        return
    for i in range(blocks.size):
        block, value = blocks[i], np.float64(samples[at(i, lane)])
        highest_normal[block] = max(highest_normal[block], value)
        highest_reverse[block] = max(highest_reverse[block], -value * reverse_ratio)


@compiled
def wear_curve(rules, lane, channel):
    """`WearCurve` [-] of a load `channel` of a `lane`, loads in shares of the normal limit; `rules` of the block."""
    return WearCurve(
        rules.normal_ultimate, rules.reverse_ultimate[channel, lane], rules.slope, rules.steep_slope,
        rules.scale[channel, lane], rules.steep_scale[channel, lane],
    )  # fmt: skip


@compiled
def count_place(samples, blocks, scratch, tally, rules, reverse_ratio, lane, place):
    """Block extremes and excursions at one `place` of one `lane`; a chunk that stays below a level is not read.

    `samples` [-], `blocks`, `reverse_ratio` [-] as in `count_block_extremes`, `scratch` with the row's sums, `tally`
    and `rules` of the block.
    """
    sums, history = scratch.sums, scratch.history
    count_block_extremes(
        samples, blocks, sums, reverse_ratio, lane, tally.place_normal[lane, place], tally.place_reverse[lane, place]
    )
    for kind in range(3):
        level = 0.5 if kind == HALF else 1.0
        lowest, highest = sums[at(SUM_LOWEST, lane)], sums[at(SUM_HIGHEST, lane)]
        worst = highest if kind == OVER else -lowest * reverse_ratio
        state = tally.excursion[lane, place, kind]
        if not excursion_passed_over(worst, level, state):
            copy_lane(samples, blocks.size, lane, 1.0 if kind == OVER else -reverse_ratio, history)
            excursion_chunk(history, rules.step, level, RELEASE_MARGIN, state)


@compiled_with_arrays
def count_cycles(samples, steps, scratch, tally, rules, alive, channel):
    """Rainflow of load `channel` of all lanes; a lane that has not yet moved is fed sample by sample.

    `samples` [-] shares of the normal limit, flat, over `steps`; `scratch` with the row's sums; `tally` and `rules` of
    the block; `alive` (LANES,) 1 where a lane still counts.
    """
    sums, words, closed = scratch.sums, scratch.words, scratch.closed
    place = channel < rules.places
    empty = np.empty((0, 0))
    marks = words.view(np.uint8)
    mark_turns(samples, steps, marks)
    for lane in range(LANES):
        state = tally.state[lane, channel]
        if alive[lane] != 0 and state[DIRECTION] == 0.0:
            still = sums[at(SUM_LOWEST, lane)] == state[LAST] and sums[at(SUM_HIGHEST, lane)] == state[LAST]
            if state[STARTED] == 0.0 or not still:
                copy_lane(samples, steps, lane, 1.0, scratch.history)
                count_on(
                    scratch.history, closed, tally.stack[lane, channel], state, BINS,
                    tally.histogram[lane, channel] if place else empty, tally.damage[lane, channel],
                    wear_curve(rules, lane, channel),
                )  # fmt: skip
            for i in range(steps):
                marks[at(i, lane)] = 0
    for word in range(steps * LANES // MARKS_A_WORD):
        if words[word] == 0:
            continue
        for mark in range(word * MARKS_A_WORD, (word + 1) * MARKS_A_WORD):
            i, lane = mark // LANES, mark % LANES
            if marks[mark] == 0 or alive[lane] == 0:
                continue
            state = tally.state[lane, channel]
            before = samples[at(i - 1, lane)] if i > 0 else state[LAST]
            found = take_turn(before, np.float64(samples[mark]), tally.stack[lane, channel], state, closed, 0)
            if found > 0:
                add_cycles(
                    closed, found, BINS, tally.histogram[lane, channel] if place else empty,
                    tally.damage[lane, channel], wear_curve(rules, lane, channel),
                )  # fmt: skip
    for lane in range(LANES):
        if alive[lane] != 0:
            tally.state[lane, channel, LAST] = samples[at(steps - 1, lane)]


@compiled
def count_worst(samples, blocks, scratch, tally, rules, lane, chunk_start, reverse):
    """Events, block extremes and the deepest moment of the worst place of one `lane`, `reverse` side or normal.

    `samples` [-] highest share of that limit, flat; `blocks`, `scratch`, `tally`, `rules` as in `count_place`;
    `chunk_start` [s] of the march.
    """
    steps, highest, history = blocks.size, scratch.sums[at(SUM_HIGHEST, lane)], scratch.history
    for kind in range(3):
        level = 0.5 if kind == HALF else 1.0
        if reverse != (kind == OVER) and not event_passed_over(highest, steps, level, tally.event[lane, kind]):
            copy_lane(samples, steps, lane, 1.0, history)
            event_chunk(history, rules.step, level, RELEASE_MARGIN, EVENT_GAP, tally.event[lane, kind])
    extremes = tally.block_reverse[lane] if reverse else tally.block_normal[lane]
    for i in range(steps):
        extremes[blocks[i]] = max(extremes[blocks[i]], samples[at(i, lane)])
    if reverse and highest > tally.deepest[lane, 0]:
        tally.deepest[lane, 0] = highest
        at_step = 0
        while samples[at(at_step, lane)] < highest:
            at_step += 1
        tally.deepest[lane, 1] = chunk_start + at_step * rules.step


@compiled_with_arrays
def count_block(buffer, steps, chunk_start, reading, tally, rules, alive):
    """Count one chunk of samples of every lane still `alive` (LANES,); `chunk_start` [s] of the march.

    `buffer` (rows, at least `steps`, LANES), `reading` a `Reading`, `tally` and `rules` of the block.
    """
    channels = reading.channels
    sums = np.empty(SUM_ROWS * LANES)
    words = np.empty(steps * LANES // MARKS_A_WORD, dtype=np.uint64)
    scratch = Scratch(sums, words, np.empty(steps), np.empty((CLOSED_SIZE, 3)))
    done = 0.0
    for lane in range(LANES):  # lanes end but never begin: the living have all counted as much
        done = max(done, tally.samples[lane])
    blocks = np.empty(steps, dtype=np.int64)
    for i in range(steps):
        blocks[i] = min(int((done + i) * rules.step / BLOCK_TIME), tally.block_reverse.shape[1] - 1)
    for row in range(buffer.shape[0]):
        samples = buffer[row].reshape(-1)
        count_row(samples, steps, sums, tally, alive, row)
        if row < channels:
            count_cycles(samples, steps, scratch, tally, rules, alive, row)
        for lane in range(LANES):
            if alive[lane] == 0:
                continue
            if row < channels:
                tally.reversed_samples[lane, row] += sums[at(SUM_BELOW, lane)]
            if row < rules.places:
                ratio = reading.reverse_ratio[row, lane]
                count_place(samples, blocks, scratch, tally, rules, ratio, lane, row)
            if row == channels + R_WORST_REVERSE or row == channels + R_WORST_NORMAL:
                reverse = row == channels + R_WORST_REVERSE
                count_worst(samples, blocks, scratch, tally, rules, lane, chunk_start, reverse)
            for i in range(steps if row == channels + R_PITCH else 0):
                tally.steep_samples[lane] += 1.0 if abs(samples[at(i, lane)]) > rules.pitch_bound else 0.0
            for i in range(steps if row == channels + R_SPEED else 0):
                tally.becalmed_samples[lane] += 1.0 if samples[at(i, lane)] > rules.floor_speed[lane] else 0.0
            if row == channels + R_RUDDER:
                heading = buffer[channels + R_HEADING].reshape(-1)
                count_broach(heading, samples, steps, rules.step, rules.rudder_limit, lane, tally.broach[lane])
            if row == channels + R_FOREDECK:
                tally.buried_samples[lane] += sums[at(SUM_BELOW, lane)]
            for i in range(steps if row == channels + R_LINE else 0):
                tally.slack_samples[lane] += 1.0 if samples[at(i, lane)] <= 0.0 else 0.0
    for lane in range(LANES):
        if alive[lane] != 0:
            tally.samples[lane] += steps


@compiled_with_arrays
def close_lane(tally, rules, lane, histogram, damage):
    """Half cycles of the residue of every channel of one `lane`, into copies of its `histogram` and `damage` [-].

    `tally` and `rules` of the block.
    """
    scratch = np.empty(STACK_SIZE)
    empty = np.empty((0, 0))
    for channel in range(damage.shape[0]):
        close_residue(
            tally.stack[lane, channel],
            tally.state[lane, channel],
            scratch,
            BINS,
            histogram[channel] if channel < rules.places else empty,
            damage[channel],
            wear_curve(rules, lane, channel),
        )
