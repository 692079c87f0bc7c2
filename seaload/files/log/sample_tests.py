"""Kernel: the tests of every sample of one channel, with state carried on, so that no cut of the record changes a flag.

After the QARTOD manuals, with their numbers of flags; formulas written out beside each test. Their public Python
library cuts time steps to whole seconds in its rate-of-change test and refuses steps under one second in its
flat-line test [measured, ioos-qc 2.3.0 and 3.0.0], so both stand here by themselves, per second of true time.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled

# bits of a mark
OUT_OF_RANGE, UNUSUAL, SPIKE, SPIKE_LIKE, TOO_FAST, FROZEN, STANDING, CLIPPED, ABSENT, BRIDGED, DESPIKED = (
    1 << i for i in range(11)
)
MARKS = 1 << 11
# places in the limits of a channel
LEAST, MOST, USUAL_LEAST, USUAL_MOST, FASTEST, STANDS, FREEZES, CLIP_LOW, CLIP_HIGH, ROUGHNESS, LONGEST = range(11)
LIMITS = 11
# places in the state of a channel
LAST_TIME, LAST_VALUE, RUN_VALUE, RUN_SINCE, SPIKES = range(5)
STATES = 5
WIDEST = 0.2  # [s] longest while that a spike may last: a loose contact
ABRUPT = 3.0
AROUND = 8  # samples either side that say how rough the record is where a spike is looked for
SPIKE_SUSPECT, SPIKE_FAIL, SPIKE_STEPS = 8.0, 12.0, 2.5  # times that roughness; times the mean step there
TRUST_SPAN = 2000.0  # samples
MOST_SPIKES = 40.0  # in about TRUST_SPAN samples; beyond that nothing is mended
DULL = 1e-12


class Samples(NamedTuple):
    """Samples of one channel with some before and after those that are judged."""

    time: np.ndarray  # (m,) [s]
    x: np.ndarray  # (m,) in the channel's unit
    spiky: np.ndarray  # (m,) uint8, as `find_spikes` leaves it
    offset: int  # of the first that is judged


def fresh_state():
    """State of a channel before its first sample, or after a gap."""
    return np.array([np.nan, np.nan, np.nan, np.nan, 0.0])


@compiled
def surroundings(x, first, last, spike_first, spike_last):
    """(roughness, step) over samples first to last that do not touch the spike; nan if too few.

    Means of |x[i-1] - 2 x[i] + x[i+1]| / 2 and of |x[i] - x[i-1]|.
    """
    rough, step, count = 0.0, 0.0, 0
    for i in range(first + 1, last):
        if (i + 1 >= spike_first) & (i - 1 <= spike_last):
            continue
        bend = 0.5 * abs(x[i - 1] - 2.0 * x[i] + x[i + 1])
        if not np.isnan(bend):
            rough += bend
            step += abs(x[i] - x[i - 1])
            count += 1
    if count < 4:
        return np.nan, np.nan
    return rough / count, step / count


@compiled
def spike_height(x, i, width):
    """How far samples i .. i+width-1 stand off, all on one side: of the line between their neighbours, and of both.

    For width 1 the first is the QARTOD average form |x[i] - (x[i-1] + x[i+1])/2|. 0 when they do not, and when three
    or more go up and down within by more than 1/ABRUPT of the leaps at their edges, as a swing does.
    """
    before, after = x[i - 1], x[i + width]
    if not (x[i] - before) * (x[i] - after) > 0.0:
        return 0.0
    height = np.inf
    side, inner = 0.0, 0.0
    for j in range(1, width):
        inner = max(inner, abs(x[i + j] - x[i + j - 1]))
    if (width > 2) and (ABRUPT * inner > min(abs(x[i] - before), abs(x[i + width - 1] - after))):
        return 0.0
    for j in range(width):
        first, second = x[i + j] - before, x[i + j] - after
        off = first - (after - before) * (j + 1.0) / (width + 1.0)
        if not ((first * second > 0.0) and (first * side >= 0.0)):
            return 0.0
        side = first
        height = min(height, min(abs(off), min(abs(first), abs(second))))
    return height


@compiled
def find_spikes(x, typical, widest, spiky):
    """Set `spiky` (m,) where x (m,) holds a spike of at most `widest` samples: 2 fail, 1 suspect.

    A spike stands off by SPIKE_SUSPECT, SPIKE_FAIL times the roughness near it, taken as `typical` at least, and by
    SPIKE_STEPS times the steps near it, so that the sharp crest of a smooth motion is none. What the AROUND + `widest`
    first and last samples are told is not complete: they stand there as context.
    """
    spiky[:] = 0
    m = x.size
    floor = SPIKE_SUSPECT * typical
    for i in range(1, m - 1):
        if not abs(x[i] - x[i - 1]) > floor:
            continue
        for width in range(1, widest + 1):
            if i + width >= m:
                break
            height = spike_height(x, i, width)
            if not height > floor:
                continue
            rough, step = surroundings(x, max(0, i - AROUND), min(m - 1, i + width - 1 + AROUND), i, i + width - 1)
            if not (height >= max(SPIKE_SUSPECT * rough, SPIKE_STEPS * step)):
                continue
            rough = max(rough, typical)
            for j in range(i, i + width):
                spiky[j] = max(spiky[j], 2 if height >= SPIKE_FAIL * rough else 1)
            break


@compiled
def mark_samples(samples, limits, state, marks):
    """Set `marks` (n,) of the n samples from the offset of `samples` (`Samples`) on; no gap in the record given.

    Range: outside limits. Rate of change:
    |x[i] - x[last]| / (t[i] - t[last]). Flat line: the value has stood for longer than limits[STANDS],
    limits[FREEZES] seconds. Clipped: at a level that the record was found to be cut off at. `state` (STATES,) is
    that of the last sample before the offset.
    """
    time, x, spiky, offset = samples
    for k in range(marks.size):
        value, moment = x[offset + k], time[offset + k]
        if np.isnan(value):
            marks[k] = ABSENT
            continue
        mark = 0
        if spiky[offset + k] == 2:
            mark |= SPIKE
        elif spiky[offset + k] == 1:
            mark |= SPIKE_LIKE
        if (value < limits[LEAST]) | (value > limits[MOST]):
            mark |= OUT_OF_RANGE
        elif (value >= limits[CLIP_HIGH]) | (value <= limits[CLIP_LOW]):
            mark |= CLIPPED
        elif (value < limits[USUAL_LEAST]) | (value > limits[USUAL_MOST]):
            mark |= UNUSUAL
        step = moment - state[LAST_TIME]
        if abs(value - state[LAST_VALUE]) > limits[FASTEST] * step:
            mark |= TOO_FAST
        if abs(value - state[RUN_VALUE]) <= DULL * abs(value):
            stood = moment - state[RUN_SINCE]
            if stood >= limits[FREEZES]:
                mark |= FROZEN
            elif stood >= limits[STANDS]:
                mark |= STANDING
        else:
            state[RUN_VALUE] = value
            state[RUN_SINCE] = moment
        state[LAST_TIME] = moment
        state[LAST_VALUE] = value
        marks[k] = mark


@compiled
def neighbour(x, i, way, most, spiky):
    """Place of the nearest sample one way, at most `most` off, that is neither missing nor a spike; -1 for none."""
    for _ in range(most):
        i += way
        if (i < 0) or (i >= x.size):
            return -1
        if (spiky[i] != 2) and not np.isnan(x[i]):
            return i
    return -1


@compiled
def mend(samples, reach, limits, state, marks, mended):
    """Write the mended values of the n samples from the offset of `samples` on to `mended` (n,); gives their number.

    Spikes that fail, and holes up to limits[LONGEST] seconds between good samples (at most `reach` samples either
    way), get the straight line between their neighbours. Where more than MOST_SPIKES of about TRUST_SPAN samples are
    spikes, nothing is mended.
    """
    time, x, spiky, offset = samples
    touched = 0
    for k in range(marks.size):
        i = offset + k
        mended[k] = x[i]
        state[SPIKES] *= 1.0 - 1.0 / TRUST_SPAN
        if not (marks[k] & (SPIKE | ABSENT)):
            continue
        if marks[k] & SPIKE:
            state[SPIKES] += 1.0
        before, after = neighbour(x, i, -1, reach, spiky), neighbour(x, i, 1, reach, spiky)
        if (state[SPIKES] > MOST_SPIKES) or (before < 0) or (after < 0):
            continue
        if time[after] - time[before] <= limits[LONGEST]:
            share = (time[i] - time[before]) / (time[after] - time[before])
            mended[k] = x[before] + share * (x[after] - x[before])
            marks[k] |= BRIDGED if marks[k] & ABSENT else DESPIKED
            touched += 1
    return touched
