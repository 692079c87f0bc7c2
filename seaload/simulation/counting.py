"""Kernels: what the samples of a chunk add to the tallies of each lane. Nothing here looks across lanes."""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled
from seaload.fatigue.excursions import (
    EVENT_GAP,
    RELEASE_MARGIN,
    event_chunk,
    excursion_chunk,
    new_event_state,
    new_excursion_state,
)
from seaload.fatigue.rainflow import CLOSED_SIZE, STACK_SIZE, STATE_SIZE, close_residue, count_on
from seaload.simulation.layout import LANES
from seaload.simulation.sampling import BOAT_SAMPLES, R_WORST_NORMAL, R_WORST_REVERSE

HALF, FULL, OVER = range(3)  # reverse past 50 %, reverse past 100 %, normal past 100 %
LEVELS = (0.5, 1.0, 1.0)
RANGE_WIDTH, RANGE_BINS = 0.05, 48  # [-] of the normal limit
MEAN_LOW, MEAN_WIDTH, MEAN_BINS = -1.2, 0.1, 28
BLOCK_TIME = 10.0  # [s] of the block extremes kept for the tails


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
    slope: float
    steep_slope: float
    normal_ultimate: float  # [-] of the normal limit
    reverse_ultimate: np.ndarray  # (channels, LANES) [-] of the normal limit
    scale: np.ndarray  # (channels, LANES) [-]
    steep_scale: np.ndarray  # (channels, LANES)


def new_tally(channels, places, blocks):
    """Fresh `Tally`."""
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
def count_row(history, tally, lane, row):
    """Sums, squares and extremes of one buffer row of one lane."""
    if tally.samples[lane] == 0.0:
        tally.offset[lane, row] = history[0]
    offset = tally.offset[lane, row]
    total, square = 0.0, 0.0
    highest, lowest = tally.highest[lane, row], tally.lowest[lane, row]
    for value in history:
        d = value - offset
        total += d
        square += d * d
        highest = max(highest, value)
        lowest = min(lowest, value)
    tally.mean[lane, row] += total
    tally.square[lane, row] += square
    tally.highest[lane, row] = highest
    tally.lowest[lane, row] = lowest


@compiled
def count_place_blocks(history, tally, step, reverse_ratio, lane, place):
    """Highest share of either limit at one place in the block under way.

    At the tip every moment is nothing, so the worst of all places is never below zero: only the extremes of
    each place by itself have a tail that can be read where loads hardly ever reverse.
    """
    done = tally.samples[lane]
    last = tally.place_reverse.shape[2] - 1
    for i in range(history.shape[0]):
        block = min(int((done + i) * step / BLOCK_TIME), last)
        value = history[i]
        tally.place_normal[lane, place, block] = max(tally.place_normal[lane, place, block], value)
        reverse = -value * reverse_ratio
        tally.place_reverse[lane, place, block] = max(tally.place_reverse[lane, place, block], reverse)


@compiled
def count_load(history, closed, tally, rules, reverse_ratio, lane, channel, empty):
    """Everything counted at one load channel of one lane."""
    below = 0.0
    for value in history:
        below += 1.0 if value < 0.0 else 0.0
    tally.reversed_samples[lane, channel] += below
    place = channel < rules.places
    if place:
        count_place_blocks(history, tally, rules.step, reverse_ratio, lane, channel)
        reverse = -history * reverse_ratio
        for kind in range(3):
            level = 0.5 if kind == HALF else 1.0
            excursion_chunk(
                history if kind == OVER else reverse,
                rules.step,
                level,
                RELEASE_MARGIN,
                tally.excursion[lane, channel, kind],
            )
    count_on(
        history,
        closed,
        tally.stack[lane, channel],
        tally.state[lane, channel],
        RANGE_WIDTH,
        MEAN_LOW,
        MEAN_WIDTH,
        tally.histogram[lane, channel] if place else empty,
        tally.damage[lane, channel],
        rules.normal_ultimate,
        rules.reverse_ultimate[channel, lane],
        rules.slope,
        rules.steep_slope,
        rules.scale[channel, lane],
        rules.steep_scale[channel, lane],
    )


@compiled
def count_worst(reverse, normal, tally, rules, lane, chunk_start):
    """Events at any place, block extremes and the deepest reverse share of one lane."""
    for kind in range(3):
        level = 0.5 if kind == HALF else 1.0
        event_chunk(
            normal if kind == OVER else reverse,
            rules.step,
            level,
            RELEASE_MARGIN,
            EVENT_GAP,
            tally.event[lane, kind],
        )
    done = tally.samples[lane]
    for i in range(reverse.shape[0]):
        block = min(int((done + i) * rules.step / BLOCK_TIME), tally.block_reverse.shape[1] - 1)
        tally.block_reverse[lane, block] = max(tally.block_reverse[lane, block], reverse[i])
        tally.block_normal[lane, block] = max(tally.block_normal[lane, block], normal[i])
        if reverse[i] > tally.deepest[lane, 0]:
            tally.deepest[lane, 0] = reverse[i]
            tally.deepest[lane, 1] = chunk_start + i * rules.step


@compiled
def count_block(buffer, steps, chunk_start, reading, tally, rules, alive, pitch_row, line_row):
    """Count one chunk of samples of every lane still alive; `chunk_start` [s] of the march."""
    channels = reading.channels
    rows = buffer.shape[0]
    empty = np.empty((0, 0))
    closed = np.empty((CLOSED_SIZE, 3))
    history = np.empty(steps)
    normal = np.empty(steps)
    for lane in range(LANES):
        if alive[lane] == 0:
            continue
        for row in range(rows):
            for i in range(steps):
                history[i] = buffer[row, i, lane]
            count_row(history, tally, lane, row)
            if row < channels:
                count_load(history, closed, tally, rules, reading.reverse_ratio[row, lane], lane, row, empty)
            elif row == pitch_row:
                for value in history:
                    tally.steep_samples[lane] += 1.0 if abs(value) > rules.pitch_bound else 0.0
            elif row == line_row:
                for value in history:
                    tally.slack_samples[lane] += 1.0 if value <= 0.0 else 0.0
        for i in range(steps):
            history[i] = buffer[channels + R_WORST_REVERSE, i, lane]
            normal[i] = buffer[channels + R_WORST_NORMAL, i, lane]
        count_worst(history, normal, tally, rules, lane, chunk_start)
        tally.samples[lane] += steps


@compiled
def close_lane(tally, rules, lane, histogram, damage):
    """Half cycles of the residue of every channel of one lane, into the copies given."""
    scratch = np.empty(STACK_SIZE)
    empty = np.empty((0, 0))
    for channel in range(damage.shape[0]):
        close_residue(
            tally.stack[lane, channel],
            tally.state[lane, channel],
            scratch,
            RANGE_WIDTH,
            MEAN_LOW,
            MEAN_WIDTH,
            histogram[channel] if channel < rules.places else empty,
            damage[channel],
            rules.normal_ultimate,
            rules.reverse_ultimate[channel, lane],
            rules.slope,
            rules.steep_slope,
            rules.scale[channel, lane],
            rules.steep_scale[channel, lane],
        )
