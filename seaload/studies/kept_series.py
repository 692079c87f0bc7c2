"""The realisation with the deepest reverse load, sailed again with its time series kept."""

import numpy as np

from seaload.files.record_bytes import same_record

AROUND = 30.0  # [s] kept in full before and after the deepest reverse load
MINUTE_STRIDE = 2  # steps between kept samples of the minute
WHOLE_STRIDE = 25  # steps between kept samples of the whole realisation
PLACES = {
    "bending_moment": ("place",),
    "grid_moment": ("material",),
    "strip_force": ("strip",),
    "strip_wet": ("strip",),
}
MINUTE_ONLY = ("grid_moment", "strip_force", "strip_wet")


def deepest_case(records):
    """(setting, sea, realisation) whose worst place came nearest to, or furthest past, its reverse limit."""
    return max(sorted(records), key=lambda case: float(np.max(records[case].block_worst_reverse)))


def series_task(sailer, case):
    """Task that sails a finished case again and keeps its series."""
    moment = sailer.records[case].deepest_reverse_time
    return sailer.task([case], keep=(0, moment - AROUND, moment + AROUND))


def kept_parts(record, first, case):
    """{name: (dims, values)} of a kept case for the Dataset. RuntimeError unless `record` repeats `first`
    bit for bit.
    """
    if not same_record(record, first):
        raise RuntimeError(f"case {case} gave other numbers when sailed again")
    series = record.series
    time, moment = series["time"], first.deepest_reverse_time
    minute = np.flatnonzero(np.abs(time - moment) <= AROUND)[::MINUTE_STRIDE]
    parts = {
        "time": (("time",), time[minute]),
        "time_whole": (("time_whole",), time[::WHOLE_STRIDE]),
        "kept_sea": ((), np.int32(case[1])),
        "kept_realisation": ((), np.int32(case[2])),
    }
    strip_rows = np.searchsorted(series["strip_time"], time[minute] - 1e-9)
    for name, values in series.items():
        if name in ("time", "strip_time"):
            continue
        rows = strip_rows if name in ("strip_force", "strip_wet") else minute
        parts[name] = (("time", *PLACES.get(name, ())), values[rows].astype(np.float32))
        if name not in MINUTE_ONLY:
            whole = values[::WHOLE_STRIDE].astype(np.float32)
            parts[f"{name}_whole"] = (("time_whole", *PLACES.get(name, ())), whole)
    return parts
