"""Files of one logger as one stream: in time order, each moment once, however the files overlap."""

from typing import NamedTuple

import numpy as np

NEAR = 0.5  # [steps] nearer than that, two samples are one moment
SAME = 0.1  # [steps] nearer than that, their values should be alike
HOLE = 1.5  # [steps] two samples of one file further apart than that leave room for another file's
ALIKE = 1e-5  # [-] relative difference of two values that are the same but for rounding


class Piece(NamedTuple):
    """Some rows of one logger, times rising."""

    time: np.ndarray  # (n,) [s]
    values: dict  # {channel: (n,) SI}
    file: str


class Taken(NamedTuple):
    """Rows that one file gives for a stretch of time, and the moments of its rows just before and after."""

    time: np.ndarray
    values: dict
    before: float
    after: float
    file: str


class Source:
    """One file being read, with the rows not yet taken; it always knows its next row, or that there is none."""

    def __init__(self, file, log, skipped, shift):
        self.name, self.shift = file.path.name, shift
        self.blocks = file.blocks(log, skipped)
        self.time, self.values, self.last = np.empty(0), {}, -np.inf
        self.fill()

    def fill(self):
        """Read on until there are rows, or no more."""
        while len(self.time) == 0:
            block = next(self.blocks, None)
            if block is None:
                return
            self.time = block.time + self.shift if self.shift else block.time
            self.values = block.values

    def take(self, until):
        """Taken rows up to and including a moment."""
        n = int(np.searchsorted(self.time, until, side="right"))
        time, values = self.time[:n], {name: column[:n] for name, column in self.values.items()}
        self.time = self.time[n:]
        self.values = {name: column[n:] for name, column in self.values.items()}
        before = self.last
        if n:
            self.last = float(time[-1])
            self.fill()
        return Taken(time, values, before, float(self.time[0]) if len(self.time) else np.inf, self.name)


class Overlap:
    """How many samples stood in two files, and how many of these differ."""

    def __init__(self):
        self.samples, self.unlike = 0, 0


def merged(files, log, channels, step, shifts, skipped, overlap):
    """Pieces of the files of one logger, in time order; `files` in the order of their start, the first going before.

    A sample of a later file is left out where an earlier one covers its moment: it lies between two of its samples
    that are at most HOLE steps apart, or within half a step of one. `channels` are the names each piece has, nan
    where a file lacks one; `shifts` {file name: [s] added to its stamps}.
    """
    waiting, reading = list(files), []
    while waiting or reading:
        until = min((source.time[-1] for source in reading if len(source.time)), default=-np.inf)
        while waiting and (not np.isfinite(until) or start_of(waiting[0], shifts) <= until + HOLE * step):
            source = Source(waiting[0], log, skipped, shifts.get(waiting[0].path.name, 0.0))
            waiting.pop(0)
            reading.append(source)
            if len(source.time):
                until = min(until, source.time[-1]) if np.isfinite(until) else source.time[-1]
        if np.isfinite(until):
            yield from joined([source.take(until) for source in reading], channels, step, overlap)
        reading = [s for s in reading if len(s.time) or s.last >= until - HOLE * step]
        if not any(len(source.time) for source in reading):
            reading = reading if waiting and start_of(waiting[0], shifts) <= until + HOLE * step else []


def start_of(file, shifts):
    """Moment of the first row of a file, its clock shifted."""
    return file.start + shifts.get(file.path.name, 0.0)


def joined(taken, channels, step, overlap):
    """The piece (none or one) of what several files gave for one stretch of time."""
    parts = []
    for i, rows in enumerate(taken):
        if len(rows.time) == 0:
            continue
        free = np.ones(len(rows.time), dtype=bool)
        for other in taken[:i]:
            free &= ~covered(rows.time, other, step)
            overlap.unlike += unlike(rows, other, step)
        overlap.samples += int(np.count_nonzero(~free))
        if np.any(free):
            parts.append((rows.time, complete(rows, channels), rows.file, free))
    if not parts:
        return
    if len(parts) == 1 and np.all(parts[0][3]):
        time, values, file, _ = parts[0]
        yield Piece(time, values, file)
        return
    time = np.concatenate([time[free] for time, _, _, free in parts])
    order = np.argsort(time, kind="stable")
    values = {c: np.concatenate([v[c][free] for _, v, _, free in parts])[order] for c in channels}
    yield Piece(time[order], values, parts[0][2])


def complete(rows, channels):
    """Values of every channel, nan for those that the file lacks."""
    return {c: rows.values[c] if c in rows.values else np.full(len(rows.time), np.nan) for c in channels}


def covered(time, other, step):
    """(n,) whether each moment is covered by the rows of another file."""
    rows = np.concatenate([[other.before], other.time, [other.after]])
    place = np.clip(np.searchsorted(rows, time, side="right"), 1, len(rows) - 1)
    earlier, later = rows[place - 1], rows[place]
    near = (time - earlier < NEAR * step) | (later - time < NEAR * step)
    return near | (later - earlier <= HOLE * step)


def unlike(rows, other, step):
    """How many rows have the moment of a row of another file, but other values."""
    if len(other.time) == 0:
        return 0
    place = np.clip(np.searchsorted(other.time, rows.time - 0.5 * step), 0, len(other.time) - 1)
    same = np.abs(other.time[place] - rows.time) <= SAME * step
    differ = np.zeros(len(rows.time), dtype=bool)
    for channel in set(rows.values) & set(other.values):
        mine, theirs = rows.values[channel], other.values[channel][place]
        differ |= np.abs(mine - theirs) > ALIKE * np.maximum(np.abs(mine), np.abs(theirs))
    return int(np.count_nonzero(same & differ))
