"""A first look through the whole log: what each channel is like, so that the samples can be judged by it."""

from dataclasses import dataclass, field

import numpy as np

from seaload.basis.compile import compiled
from seaload.scenario.log_channels import is_load

LEVELS = 256  # highest and lowest values, each once, whose counts show whether a record is cut off at one
BIN = 10.0  # [s] means of the loads are kept for each, to find when a zero stepped
RUNS = 24  # classes of how long a value stands, each double the one before
SHORTEST_RUN = 1e-3  # [s]
(COUNT, SUM, SQUARES, ROUGH, ROUGH_COUNT, STEP_SQUARES, STEP_COUNT, SPEED_SUM, FINEST, LAST_X, LAST_T, BEFORE_X,
 RUN_SINCE, TWO_SQUARES) = range(14)  # fmt: skip
SUMS = 14


@dataclass
class ChannelSurvey:
    """What one channel is like over the whole log."""

    sums: np.ndarray = field(default_factory=lambda: fresh_sums())
    runs: np.ndarray = field(default_factory=lambda: np.zeros(RUNS))  # how many runs of one value, by their length
    highest: tuple = (np.empty(0), np.empty(0))  # (values falling, how often each)
    lowest: tuple = (np.empty(0), np.empty(0))  # the same of the record upside down
    by_file: dict = field(default_factory=dict)  # {file: [count, sum, squares]}
    bins: dict = field(default_factory=dict)  # {number of the bin: [count, sum]}, of loads with two unloaded whiles
    unloaded: dict = field(default_factory=dict)  # {number of the while: [count, sum]}, of loads

    @property
    def spread(self):
        """Standard deviation, SI."""
        return spread_of(*self.sums[[COUNT, SUM, SQUARES]])

    @property
    def rough(self):
        """Mean of half the second difference, SI."""
        return self.sums[ROUGH] / max(self.sums[ROUGH_COUNT], 1.0)

    @property
    def quickness(self):
        """Mean size of the rate of change [SI/s]."""
        return self.sums[SPEED_SUM] / max(self.sums[STEP_COUNT], 1.0)

    @property
    def usual_run(self):
        """How long a value stands, longer than nine runs in ten [s]."""
        if not np.any(self.runs):
            return 0.0
        reached = np.cumsum(self.runs) >= 0.9 * np.sum(self.runs)
        return float(SHORTEST_RUN * 2.0 ** np.argmax(reached))


def fresh_sums():
    """Sums before the first sample."""
    sums = np.zeros(SUMS)
    sums[FINEST], sums[[LAST_X, LAST_T, BEFORE_X, RUN_SINCE]] = np.inf, np.nan
    return sums


def spread_of(count, total, squares):
    """Standard deviation from a count, a sum and a sum of squares."""
    if count < 2:
        return 0.0
    return float(np.sqrt(max(squares / count - (total / count) ** 2, 0.0)))


@compiled
def add_samples(time, x, sums, runs):
    """Add (n,) samples of one channel to its sums and to the classes of runs of one value; nan is passed over."""
    for i in range(x.size):
        value = x[i]
        if np.isnan(value):
            continue
        sums[COUNT] += 1.0
        sums[SUM] += value
        sums[SQUARES] += value * value
        change = value - sums[LAST_X]
        step = time[i] - sums[LAST_T]
        if not np.isnan(change):
            bend = 0.5 * abs(change - (sums[LAST_X] - sums[BEFORE_X]))
            if not np.isnan(bend):
                sums[ROUGH] += bend
                sums[ROUGH_COUNT] += 1.0
                sums[TWO_SQUARES] += (value - sums[BEFORE_X]) ** 2
            sums[STEP_SQUARES] += change * change
            sums[STEP_COUNT] += 1.0
            sums[SPEED_SUM] += abs(change) / step
        if abs(change) > 1e-12 * abs(value):
            sums[FINEST] = min(sums[FINEST], abs(change))
        if not abs(change) <= 1e-12 * abs(value):
            stood = time[i] - sums[RUN_SINCE]
            place, length = 0, SHORTEST_RUN
            while (length < stood) and (place < runs.size - 1):
                length *= 2.0
                place += 1
            if not np.isnan(stood):
                runs[place] += 1.0
            sums[RUN_SINCE] = time[i]
        sums[BEFORE_X] = sums[LAST_X]
        sums[LAST_X] = value
        sums[LAST_T] = time[i]


def add_chunk(surveys, chunk, unloaded):
    """Add a LogChunk to {channel: ChannelSurvey}; `unloaded` are (start, end) whiles without load."""
    for channel, values in chunk.values.items():
        survey = surveys.setdefault(channel, ChannelSurvey())
        if chunk.starts_stretch:
            survey.sums[[LAST_X, LAST_T, BEFORE_X, RUN_SINCE]] = np.nan
        add_samples(chunk.time, values, survey.sums, survey.runs)
        known = values[np.isfinite(values)]
        if len(known) == 0:
            continue
        survey.highest = highest_levels(survey.highest, known)
        survey.lowest = highest_levels(survey.lowest, -known)
        add_moments(survey.by_file, chunk.file, known)
        if is_load(channel):
            if len(unloaded) > 1:
                add_bins(survey, chunk.time, values)
            for number, (start, end) in enumerate(unloaded):
                inside = values[(chunk.time >= start) & (chunk.time <= end)]
                if np.any(np.isfinite(inside)):
                    add_moments(survey.unloaded, number, inside[np.isfinite(inside)])


def highest_levels(kept, known):
    """(values falling, how often each) of the LEVELS highest values, those of `known` added to those kept."""
    values, counts = kept
    if len(values) == LEVELS:
        known = known[known >= values[-1]]
        if len(known) == 0:
            return kept
    new, often = np.unique(known, return_counts=True)
    joined, place = np.unique(np.concatenate([values, new]), return_inverse=True)
    total = np.bincount(place, weights=np.concatenate([counts, often]))
    return joined[::-1][:LEVELS].copy(), total[::-1][:LEVELS].copy()


def add_moments(table, key, known):
    """Add values to the [count, sum, sum of squares] of a key."""
    entry = table.setdefault(key, [0, 0.0, 0.0])
    entry[0] += len(known)
    entry[1] += float(np.sum(known))
    entry[2] += float(np.sum(known * known))


def add_bins(survey, time, values):
    """Add loads to the means of their BIN seconds."""
    first = int(np.floor(time[0] / BIN))
    place = (np.floor(time / BIN) - first).astype(np.int64)
    fine = np.isfinite(values)
    counts = np.bincount(place[fine])
    sums = np.bincount(place[fine], weights=values[fine])
    for offset in np.flatnonzero(counts).tolist():
        entry = survey.bins.setdefault(first + offset, [0, 0.0])
        entry[0] += int(counts[offset])
        entry[1] += float(sums[offset])
