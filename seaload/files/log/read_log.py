"""A recorded log as chunks in time order: any files, in any order, each moment once, one setting a chunk."""

from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.files.log.clock_match import FEWEST_ALIKE, WINDOW, matched_shift, refused
from seaload.files.log.log_chunk import (
    AFTER_GAP,
    CONTINUES,
    FIRST,
    MISSING,
    NEW_SETTING,
    NOT_EVALUATED,
    ClockShift,
    LogChunk,
    LogSetting,
)
from seaload.files.log.log_files import log_files, loggers
from seaload.files.log.merge import Overlap, Piece, merged
from seaload.files.log.setting_changes import RECORDED, changes_of, fresh_state, tolerances
from seaload.files.log.settings_diary import read_diary
from seaload.scenario.log_channels import is_load

CHUNK_ROWS = 65_536
LEAST_BRIDGED = 0.1  # [s]
THINNED_RATE = 20.0  # [Hz] at which clocks are compared
ON_THE_STAMP = 0.1  # [steps] how near loads of two loggers must stand in time


class Logger(NamedTuple):
    """Files of one logger."""

    files: list
    channels: tuple
    step: float  # [s] median


class Reading(NamedTuple):
    """A log that has been looked at, ready to be read (as often as wanted)."""

    log: object
    loggers: list  # the first gives the moments, the others are brought to them
    channels: tuple
    step: float  # [s]
    longest_bridged: float  # [s] between two samples that are still one stretch
    shifts: dict  # {file name: [s]}
    clock_shifts: tuple
    skipped: list
    overlap: Overlap
    diary: list


def look_at(log, paths):
    """`Reading` of the files of a `Log`. Raises InputError, see `log_files`, `read_diary`, and for clocks that do
    not match.
    """
    diary = read_diary(log)
    files, skipped = log_files(log, paths)
    sources = []
    for members in loggers(files, log.clock_channel):
        channels = tuple(dict.fromkeys(c for file in members for c in file.channels))
        steps = [file.step for file in members if np.isfinite(file.step)]
        sources.append(Logger(members, channels, float(np.median(steps)) if steps else 1.0))
    step = sources[0].step
    order = [column.channel for column in log.columns.values()]
    found = {channel for source in sources for channel in source.channels}
    bridged = max(LEAST_BRIDGED, 2.0 * step) if log.bridged_gap is None else log.bridged_gap
    shifts = matched_clocks(log, sources)
    return Reading(
        log=log,
        loggers=sources,
        channels=tuple(c for c in dict.fromkeys(order) if c in found),
        step=step,
        longest_bridged=max(bridged, 1.0 * step) + 0.5 * step,
        shifts={shift.file: shift.shift for shift in shifts},
        clock_shifts=tuple(shifts),
        skipped=skipped,
        overlap=Overlap(),
        diary=diary,
    )


def read_log(log, paths, *, chunk_rows=CHUNK_ROWS):
    """Iterator of LogChunk of a `Log` and its files, in time order, overlapping samples once, nothing judged."""
    return chunks(look_at(log, paths), chunk_rows)


def chunks(reading, chunk_rows=CHUNK_ROWS, skipped=None):
    """Iterator of LogChunk; what is left out goes to the list `skipped`."""
    states = {name: fresh_state() for name in RECORDED if name in reading.channels}
    reach = tolerances(reading.log.boat)
    last, setting = None, None
    for piece in pieces(reading, [] if skipped is None else skipped):
        places, levels = setting_breaks(reading, piece, states, reach)
        steps = np.diff(piece.time, prepend=piece.time[0] - reading.step if last is None else last)
        gaps = np.flatnonzero(steps > reading.longest_bridged)
        bounds = np.unique(np.concatenate([[0], places, gaps, np.arange(0, len(piece.time), chunk_rows)]))
        gaps = set(gaps.tolist())
        for start, end in zip(bounds.tolist(), [*bounds[1:].tolist(), len(piece.time)], strict=True):
            before, setting = setting, setting_at(reading, piece.time[start], start, levels)
            reason = AFTER_GAP if start in gaps else CONTINUES
            if setting != before:
                reason = FIRST if before is None else NEW_SETTING
            yield chunk_of(piece, slice(start, end), reason, setting)
        last = piece.time[-1]


def chunk_of(piece, rows, reason, setting):
    """LogChunk of some rows of a piece."""
    values = {channel: column[rows] for channel, column in piece.values.items()}
    flags = {c: np.where(np.isnan(v), np.uint8(MISSING), np.uint8(NOT_EVALUATED)) for c, v in values.items()}
    return LogChunk(piece.time[rows], values, flags, piece.file, reason != CONTINUES, reason, setting, {})


def setting_breaks(reading, piece, states, reach):
    """(places in the piece where the setting may change, {setting: (n,) level at each sample})."""
    moments = [moment for moment, _ in reading.diary]
    places = [np.searchsorted(piece.time, moments)] if moments else []
    levels = {}
    for name, state in states.items():
        before = state[0]
        levels[name] = np.empty(len(piece.time))
        changes_of(piece.time, piece.values[name], reach[name], state, levels[name])
        stepped = np.diff(levels[name], prepend=levels[name][0] if np.isnan(before) else before)
        places.append(np.flatnonzero(stepped != 0.0))
    if not places:
        return np.empty(0, dtype=int), levels
    found = np.concatenate(places)
    return found[found < len(piece.time)], levels


def setting_at(reading, moment, row, levels):
    """LogSetting at a moment: what was recorded goes before what the diary says."""
    setting = LogSetting()
    for since, written in reading.diary:
        if since <= moment:
            setting = written
    recorded = {name: float(level[row]) for name, level in levels.items() if np.isfinite(level[row])}
    known = {name: recorded.get(name, getattr(setting, name)) for name in RECORDED}
    return setting._replace(**{name: value for name, value in known.items() if np.isfinite(value)})


def pieces(reading, skipped):
    """Pieces of all loggers on the moments of the first."""
    first, *others = reading.loggers
    own = {c for c in first.channels}
    streams = [Companion(reading, other, [c for c in other.channels if c not in own], skipped) for other in others]
    for piece in stream(reading, first, skipped):
        values = dict(piece.values)
        for companion in streams:
            values.update(companion.at(piece.time))
        yield Piece(piece.time, {c: values[c] for c in reading.channels}, piece.file)


def stream(reading, logger, skipped):
    """Pieces of one logger."""
    return merged(
        logger.files, reading.log, logger.channels, logger.step, reading.shifts, skipped, reading.overlap
    )


class Companion:
    """Another logger's channels, brought to the moments of the first by straight lines between its samples."""

    def __init__(self, reading, logger, channels, skipped):
        self.logger, self.channels = logger, channels
        self.pieces = stream(reading, logger, skipped)
        self.time, self.values, self.done = np.empty(0), {c: np.empty(0) for c in channels}, False
        self.loads = any(is_load(channel) for channel in channels)

    def at(self, time):
        """{channel: (n,)} at these moments, nan in holes longer than HOLE steps."""
        while not self.done and (len(self.time) == 0 or self.time[-1] < time[-1]):
            piece = next(self.pieces, None)
            if piece is None:
                self.done = True
                break
            self.time = np.concatenate([self.time, piece.time])
            self.values = {c: np.concatenate([v, piece.values[c]]) for c, v in self.values.items()}
        if len(self.time) == 0:
            return {c: np.full(len(time), np.nan) for c in self.channels}
        after = np.clip(np.searchsorted(self.time, time), 1, max(len(self.time) - 1, 1))
        after = np.minimum(after, len(self.time) - 1)
        earlier, later = self.time[after - 1 if len(self.time) > 1 else after], self.time[after]
        width = np.where(later > earlier, later - earlier, 1.0)
        share = (time - earlier) / width
        outside = (share < -1e-9) | (share > 1.0 + 1e-9) | (width > 3.5 * self.logger.step)
        off = np.minimum(np.abs(time - earlier), np.abs(later - time)) > ON_THE_STAMP * self.logger.step
        if self.loads and np.any(off & ~outside):
            said = "loads of two loggers must share their stamps; describe them as two logs"
            raise InputError(self.logger.files[0].path, "time", float(time[np.argmax(off)]), said)
        left = np.maximum(after - 1, 0)
        found = {}
        for c, v in self.values.items():
            line = v[left] + np.clip(share, 0.0, 1.0) * (v[after] - v[left])
            line = np.where(share <= 0.0, v[left], np.where(share >= 1.0, v[after], line))
            found[c] = np.where(outside, np.nan, line)
        done = int(left[-1])
        self.time = self.time[done:]
        self.values = {c: v[done:] for c, v in self.values.items()}
        return found


def matched_clocks(log, sources):
    """ClockShifts of the files of every logger but the first; empty where none was asked for."""
    if log.clock_channel is None or len(sources) < 2:
        return []
    channel, found = log.clock_channel, []
    if channel not in sources[0].channels:
        raise InputError(log.file, "clock.channel", channel, f"not recorded beside {sources[0].channels[0]}")
    for source in sources[1:]:
        for file in source.files:
            if channel not in file.channels:
                raise InputError(log.file, "clock.channel", channel, f"not recorded in {file.path.name}")
            ends = [(file.start, min(file.end, file.start + WINDOW)), (max(file.start, file.end - WINDOW), file.end)]
            matches = []
            for start, end in ends if file.end - file.start > 2.0 * WINDOW else ends[:1]:
                wide = (start - log.clock_reach, end + log.clock_reach)
                mine = record_of(log, sources[0].files, channel, wide, sources[0].step)
                theirs = record_of(log, [file], channel, (start, end), source.step)
                step = max(1.0 / THINNED_RATE, source.step, sources[0].step)
                both = len(mine[0]) > 1 and len(theirs[0]) > 1
                matches.append(matched_shift(*mine, *theirs, log.clock_reach, step) if both else None)
            if matches[0] is None or matches[0].correlation < FEWEST_ALIKE:
                raise refused(file.path, channel, matches[0])
            drift = matches[-1].shift - matches[0].shift if matches[-1] is not None else 0.0
            name = sources[0].files[0].path.name
            found.append(ClockShift(file.path.name, name, matches[0].shift, matches[0].correlation, drift))
    return found


def record_of(log, files, channel, span, step):
    """(time, values) of a channel in a span of time, thinned out to about THINNED_RATE."""
    times, values, every = [np.empty(0)], [np.empty(0)], max(1, round(1.0 / (THINNED_RATE * step)))
    for file in files:
        if file.end < span[0] or file.start > span[1] or channel not in file.channels:
            continue
        for block in file.blocks(log, []):
            inside = (block.time >= span[0]) & (block.time <= span[1])
            times.append(block.time[inside][::every])
            values.append(block.values[channel][inside][::every])
            if block.time[-1] > span[1]:
                break
    time, value = np.concatenate(times), np.concatenate(values)
    order = np.argsort(time, kind="stable")
    keep = np.r_[True, np.diff(time[order]) > 0.0] if len(time) else np.empty(0, dtype=bool)
    return time[order][keep], value[order][keep]
