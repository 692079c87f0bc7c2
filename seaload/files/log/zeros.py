"""The zero of every gauge from the whiles in which the foil carried nothing: constant, stepped, or drifting."""

from typing import NamedTuple

import numpy as np

from seaload.files.log.limits import load_size
from seaload.files.log.log_chunk import GOOD, NOT_EVALUATED, SUSPECT, Finding, Repair
from seaload.files.log.survey import BIN
from seaload.scenario.log_channels import is_load

TOLERANCE = 0.01  # [-] of the normal limit: a zero nearer than that is left alone
FEWEST_BINS = 6


class ZeroLine(NamedTuple):
    """The offset of one gauge over time, straight between its moments."""

    time: np.ndarray  # (k,) [s] since 1970-01-01 UTC, rising
    offset: np.ndarray  # (k,) SI, to take off
    steps: tuple  # moments [s] at which the offset jumps

    def at(self, time):
        """Offset at (n,) moments; before the first and after the last it is held."""
        return np.interp(time, self.time, self.offset)


def zero_lines(log, surveys, start, end):
    """({channel: ZeroLine} of the loads that need one, Findings)."""
    lines, findings = {}, []
    loads = [channel for channel in surveys if is_load(channel)]
    for channel in loads:
        survey = surveys[channel]
        known = sorted(survey.unloaded)
        size = load_size(log, channel)
        if not known:
            said = "zero not judged: the description names no unloaded while with samples in it"
            findings.append(Finding(channel, "zero_test", NOT_EVALUATED, start, end, said))
            continue
        middle = [0.5 * sum(log.unloaded[number]) for number in known]
        offset = [survey.unloaded[number][1] / survey.unloaded[number][0] for number in known]
        if np.max(np.abs(offset)) <= TOLERANCE * size:
            findings.append(Finding(channel, "zero_test", GOOD, middle[0], middle[-1], told(offset, size)))
            continue
        lines[channel], more = line_of(channel, middle, offset, size, surveys, loads)
        findings.extend(more)
    return lines, findings


def told(offset, size):
    """Words for the zeros found."""
    shares = " %, ".join(f"{100.0 * value / size:z.1f}" for value in offset[:6])
    return f"zero found at {shares} % of the normal limit in the unloaded while{'s' if len(offset) > 1 else ''}"


def line_of(channel, middle, offset, size, surveys, loads):
    """(ZeroLine, Findings) of a gauge whose zero is off."""
    time, values, steps, findings = [middle[0]], [offset[0]], [], []
    for k in range(1, len(middle)):
        change = offset[k] - offset[k - 1]
        at = None
        if abs(change) > TOLERANCE * size:
            others = [c for c in loads if c != channel and steady(surveys[c], k, size)]
            at = step_moment(surveys, channel, others, middle[k - 1], middle[k], change)
            how = f"stepped by {100.0 * change / size:.1f} % of the normal limit" if at else "drifted by"
            words = how if at else f"{how} {100.0 * change / size:.1f} % of the normal limit"
            start, end = (at - BIN, at + BIN) if at else (middle[k - 1], middle[k])
            findings.append(Finding(channel, "zero_test", SUSPECT, start, end, f"{words} between unloaded whiles"))
        if at:
            time += [at, at + 1e-3]
            values += [offset[k - 1], offset[k]]
            steps.append(at)
        time.append(middle[k])
        values.append(offset[k])
    if len(middle) == 1 or not findings:
        words = told(offset, size) + ", taken off"
        findings.append(Finding(channel, "zero_test", SUSPECT, middle[0], middle[-1], words))
    return ZeroLine(np.array(time), np.array(values), tuple(steps)), findings


def steady(survey, k, size):
    """Whether a gauge's own zero stood still between the whiles k-1 and k (by order)."""
    known = sorted(survey.unloaded)
    if len(known) <= k:
        return False
    before, after = (survey.unloaded[known[i]] for i in (k - 1, k))
    return abs(after[1] / after[0] - before[1] / before[0]) <= 0.5 * TOLERANCE * size


def step_moment(surveys, channel, others, start, end, change):
    """Moment [s] at which the zero jumped by `change` between two whiles, or None when it drifted instead.

    Means of BIN seconds, less what the gauges that stood still tell of the load (least squares), are fitted by a step
    at every place and by a straight line; the smaller sum of squares decides.
    """
    bins = sorted(b for b in surveys[channel].bins if start <= b * BIN and (b + 1) * BIN <= end)
    others = [c for c in others if all(b in surveys[c].bins for b in bins)]
    if len(bins) < FEWEST_BINS:
        return None
    mean = np.array([[surveys[c].bins[b][1] / surveys[c].bins[b][0] for b in bins] for c in [channel, *others]])
    y, n, place = mean[0], len(bins), np.arange(len(bins))
    fits = [y - change * (place >= j) for j in range(1, n)]
    ramp = y - change * (np.array(bins) * BIN + 0.5 * BIN - start) / (end - start)
    design = np.vstack([np.ones(n), mean[1:]]).T
    basis, _ = np.linalg.qr(design)

    def left(values):
        return float(np.sum((values - basis @ (basis.T @ values)) ** 2))

    errors = [left(fit) for fit in fits]
    best = int(np.argmin(errors))
    return bins[best + 1] * BIN if errors[best] < left(ramp) else None


def zero_repairs(lines, start, end):
    """Repairs that tell the offsets taken off, one for each stretch of a line within the log."""
    repairs = []
    for channel, line in lines.items():
        moments = [start, *[t for t in line.time if start < t < end], end]
        for a, b in zip(moments, moments[1:], strict=False):
            if b - a > 0.01:
                offset = line.at(np.array([a, b]))
                repairs.append(Repair(channel, "zero", a, b, 0, float(offset[0]), float(offset[1])))
    return repairs
