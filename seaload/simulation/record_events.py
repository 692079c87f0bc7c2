"""From the tallies of a block to what a case keeps of its events, its motions and the span."""

import numpy as np

from seaload.basis.records import EVENT_COLUMNS, NORMAL_EVENT, REVERSE_EVENT
from seaload.simulation import count_events as C
from seaload.simulation.count_motion import highest_tenth
from seaload.simulation.layout import NORMAL_SIDE, REVERSE_SIDE, SPAN_ROWS
from seaload.simulation.sampling import R_BOW

ORDER = {  # column of an event's row, its rows in the tally
    "time": C.K_TIME, "depth": C.K_DEPTH, "duration": C.K_DURATION, "cause": C.K_CAUSE, "speed": C.K_SPEED,
    "pitch": C.K_PITCH, "roll": C.K_ROLL, "heave": C.K_HEAVE, "elevation": C.K_ELEVATION, "channel": C.K_CHANNEL,
}  # fmt: skip


def event_fields(run, geometry, lane):
    """{field of `CaseRecord`: value} of the events of one `lane` of a finished `run`, SI; `geometry` its
    `FoilGeometry`.
    """
    tables, strips, peaks = [], [], []
    for side, sign in ((REVERSE_SIDE, REVERSE_EVENT), (NORMAL_SIDE, NORMAL_EVENT)):
        kept, depths = C.events_of(run.events, lane, side)
        known = {name: kept[:, row] for name, row in ORDER.items()}
        known["side"] = np.full(len(kept), sign)
        known["material"] = geometry.channel_s[kept[:, C.K_CHANNEL].astype(int)]
        tables.append(np.stack([known[name] for name in EVENT_COLUMNS], axis=1))
        strips.append(kept[:, C.KEPT_ROWS :])
        peaks.append(depths.astype(np.float32))
    return {
        "event_table": np.concatenate(tables).astype(np.float32),
        "event_strip_load": np.concatenate(strips).astype(np.float32),
        "event_peaks_reverse": peaks[0],
        "event_peaks_normal": peaks[1],
        "event_levels": run.held.level[:, lane].astype(float),
    }


def motion_fields(run, lane, std, highest):
    """{field of `CaseRecord`: value} of what the crew of one `lane` of a finished `run` felt, as in `CaseRecord`.

    `std`, `highest` (rows,) of the sampled rows, in their units.
    """
    first = run.reading.channels + R_BOW
    watched, motions = slice(first, first + run.motions.crest.shape[1]), run.motions
    tenth = [highest_tenth(*pair) for pair in zip(motions.count[lane], motions.sums[lane], strict=True)]
    return {
        "acceleration_rms": std[watched].copy(),
        "acceleration_highest_tenth": np.array(tenth),
        "acceleration_worst": highest[watched].copy(),
        "slams": float(motions.slams[lane]),
    }


def span_fields(run, lane):
    """{field of `CaseRecord`: value} of the extremes along the span of one `lane` of a finished `run`: highest and
    lowest shear [N] and torsion [N m] at every strip edge, zero at the tip; nan where nothing was counted.
    """
    rows = run.events.span[lane].reshape(-1, SPAN_ROWS).T
    rows = np.where(np.isfinite(rows), rows, np.nan)
    rows[:, -1] = 0.0
    names = ("shear_max", "shear_min", "torsion_max", "torsion_min")
    return {name: row.astype(np.float32) for name, row in zip(names, rows, strict=True)}
