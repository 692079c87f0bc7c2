"""A recorded log judged: every sample flagged, what can be mended mended and listed, what is odd told.

Two passes over the files: the first says what each channel is like (`survey`), the second judges and gives the chunks
on. A flag depends on the log alone, not on how it is cut into chunks.
"""

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from seaload.files.log.companions import CompanionSums, companion_findings, unit_findings
from seaload.files.log.limits import limits_of
from seaload.files.log.log_chunk import CONTINUES, FAIL, FIRST, NEW_ZERO, Finding, Judgement
from seaload.files.log.merge import Overlap
from seaload.files.log.read_log import CHUNK_ROWS, chunks, look_at
from seaload.files.log.sample_tests import (
    AROUND,
    ROUGHNESS,
    WIDEST,
    Samples,
    find_spikes,
    fresh_state,
    mark_samples,
    mend,
)
from seaload.files.log.sampling_loss import rate_findings
from seaload.files.log.survey import add_chunk
from seaload.files.log.tally import FLAG_OF, Tally, lasting
from seaload.files.log.zeros import zero_lines, zero_repairs

MOST_GAPS = 5000


@dataclass
class Survey:
    """The first pass."""

    channels: dict = field(default_factory=dict)  # {channel: ChannelSurvey}
    samples: int = 0
    start: float = np.inf
    end: float = -np.inf
    steps: list = field(default_factory=list)  # median step of each chunk
    spans: dict = field(default_factory=dict)  # {file: (start, end)}
    gaps: list = field(default_factory=list)  # of (start, end)

    @property
    def step(self):
        """Median time between two samples [s]."""
        return float(np.median(self.steps)) if self.steps else np.nan


def judge(log, paths, *, chunk_rows=CHUNK_ROWS):
    """Iterator of LogChunks of a `Log` and its files, judged, and of the `Judgement` as its last item.

    Raises InputError for what the files are not (see `read_log.look_at` and `table_rows.table_blocks`).
    """
    reading = look_at(log, paths)
    survey, sums = surveyed(reading, chunk_rows)
    lines, findings = zero_lines(log, survey.channels, survey.start, survey.end)
    findings += companion_findings(log, sums, survey.start, survey.end)
    findings += unit_findings(survey.channels, survey.spans)
    step = survey.step if np.isfinite(survey.step) else reading.step
    findings += rate_findings(log, survey.channels, step, survey.start, survey.end)
    findings += gap_findings(survey)
    limits = {c: limits_of(log, c, s, reading.longest_bridged) for c, s in survey.channels.items()}
    tally, skipped = Tally(survey.channels), list(reading.skipped)
    reading = reading._replace(overlap=Overlap())
    yield from judged(reading, chunk_rows, limits, lines, tally, skipped)
    repairs = tally.repairs + zero_repairs(lines, survey.start, survey.end)
    yield Judgement(
        channels=reading.channels,
        samples=survey.samples,
        start=survey.start,
        end=survey.end,
        sample_rate=1.0 / step,
        counts=tally.counts(),
        findings=tuple(sorted(findings + tally.findings(), key=lambda f: (f.start, f.channel, f.test))),
        repairs=tuple(sorted(repairs, key=lambda r: (r.start, r.channel))),
        clock_shifts=reading.clock_shifts,
        skipped=tuple(skipped),
        overlapping=reading.overlap.samples,
        overlapping_unlike=reading.overlap.unlike,
    )


def surveyed(reading, chunk_rows):
    """(Survey, CompanionSums) of a log."""
    survey, sums = Survey(), CompanionSums(reading.channels, reading.step)
    for chunk in chunks(reading, chunk_rows):
        add_chunk(survey.channels, chunk, reading.log.unloaded)
        sums.add(chunk)
        start, end = float(chunk.time[0]), float(chunk.time[-1])
        if survey.samples and start - survey.end > reading.longest_bridged and len(survey.gaps) < MOST_GAPS:
            survey.gaps.append((survey.end, start))
        survey.samples += len(chunk.time)
        survey.start, survey.end = min(survey.start, start), max(survey.end, end)
        if len(chunk.time) > 1:
            survey.steps.append(float(np.median(np.diff(chunk.time))))
        before = survey.spans.get(chunk.file, (start, end))
        survey.spans[chunk.file] = (min(before[0], start), max(before[1], end))
    return survey, sums


def gap_findings(survey):
    """Findings on the time that is missing."""
    words = "{} without samples"
    return [
        Finding("", "gap_test", FAIL, start, end, words.format(lasting(end - start))) for start, end in survey.gaps
    ]


class Rows(NamedTuple):
    """Samples around a chunk."""

    time: np.ndarray
    values: dict


def judged(reading, chunk_rows, limits, lines, tally, skipped):
    """Chunks with flags and repairs; each is judged with the samples before and after it, up to a gap."""
    reach = int(np.ceil(reading.longest_bridged / reading.step)) + 2
    widest = max(1, min(40, int(WIDEST / reading.step + 1e-6)))
    context = AROUND + widest + 2 + reach
    states = {channel: fresh_state() for channel in limits}
    before, waiting, given = None, [], -np.inf

    def give(last):
        nonlocal before, given
        while waiting and (last or sum(len(c.time) for c in waiting[1:]) >= context):
            chunk = waiting.pop(0)
            after = joined(waiting, context, first=True) if waiting else None
            whole = flagged(chunk, before, after, (reach, widest), limits, states, lines, tally)
            yield from cut(whole, zero_steps(lines, given, chunk.time))
            given = float(chunk.time[-1])
            before = joined([before, chunk] if before is not None else [chunk], context, first=False)

    end = -np.inf
    for chunk in chunks(reading, chunk_rows, skipped):
        if chunk.time[0] - end > reading.longest_bridged:
            yield from give(True)
            before = None
            for state in states.values():
                state[:] = fresh_state()
        else:
            tally.lost_rows(np.r_[end, chunk.time[:1]], reading.step, reading.longest_bridged)
        tally.lost_rows(chunk.time, reading.step, reading.longest_bridged)
        end = chunk.time[-1]
        waiting.append(chunk)
        yield from give(False)
    yield from give(True)


def joined(parts, most, first):
    """Rows of chunks (or Rows) joined, `most` of them from the first or from the last on."""
    if not first:
        while len(parts) > 1 and len(parts[-1].time) >= most:
            parts = parts[-1:]
    rows = slice(None, most) if first else slice(-most, None)
    time = np.concatenate([part.time for part in parts])[rows]
    return Rows(time, {c: np.concatenate([part.values[c] for part in parts])[rows] for c in parts[0].values})


def flagged(chunk, before, after, sizes, limits, states, lines, tally):
    """The chunk with flags and mended values."""
    reach, widest = sizes
    around = [part for part in (before, chunk, after) if part is not None]
    offset = 0 if before is None else len(before.time)
    time = np.concatenate([part.time for part in around])
    n = len(chunk.time)
    values, flags, unrepaired = {}, {}, {}
    for channel, raw in chunk.values.items():
        x = np.concatenate([part.values[channel] for part in around])
        spiky, marks, mended = np.empty(len(x), dtype=np.uint8), np.empty(n, dtype=np.uint16), np.empty(n)
        find_spikes(x, limits[channel][ROUGHNESS], widest, spiky)
        samples = Samples(time, x, spiky, offset)
        mark_samples(samples, limits[channel], states[channel], marks)
        touched = mend(samples, reach, limits[channel], states[channel], marks, mended)
        tally.add(channel, chunk.time, marks, raw, mended, touched)
        flags[channel] = FLAG_OF[marks]
        values[channel] = mended
        if channel in lines:
            values[channel] = mended - lines[channel].at(chunk.time)
        if touched or channel in lines:
            unrepaired[channel] = raw
    return chunk._replace(values=values, flags=flags, unrepaired=unrepaired)


def zero_steps(lines, before, time):
    """Places in a chunk from which another zero holds; 0 where it stepped since the sample `before` [s] the chunk."""
    steps = sorted({step for line in lines.values() for step in line.steps if before < step <= time[-1]})
    return sorted({int(np.searchsorted(time, step)) for step in steps})


def cut(chunk, places):
    """The chunk in pieces; every place starts a stretch with another zero."""
    bounds = [0, *[place for place in places if place > 0], len(chunk.time)]
    if 0 in places:
        chunk = chunk._replace(starts_stretch=True, reason=chunk.reason if chunk.reason == FIRST else NEW_ZERO)
    for k, (start, end) in enumerate(zip(bounds, bounds[1:], strict=False)):
        if len(bounds) == 2:
            yield chunk
            return
        rows = slice(start, end)
        reason = chunk.reason if k == 0 else NEW_ZERO
        yield chunk._replace(
            time=chunk.time[rows],
            values={c: v[rows] for c, v in chunk.values.items()},
            flags={c: v[rows] for c, v in chunk.flags.items()},
            unrepaired={c: v[rows] for c, v in chunk.unrepaired.items()},
            starts_stretch=reason != CONTINUES,
            reason=reason,
        )
