"""The realisation with the deepest reverse load, its time series kept."""

import numpy as np

from seaload.sailing.block_task import MinuteTask
from seaload.sailing.record_bytes import same_record

PLACES = {
    "bending_moment": ("place",),
    "grid_moment": ("material",),
    "strip_force": ("strip",),
    "strip_wet": ("strip",),
}


def deepest_case(records):
    """(setting, sea, realisation) whose worst place came nearest to, or furthest past, its reverse limit."""
    return max(sorted(records), key=lambda case: float(np.max(records[case].block_worst_reverse)))


def marched_with_rewind(sailer, case):
    """`CaseRecord` of a finished case that knows where its minute begins: as it is, or sailed again if it was of an
    earlier run. RuntimeError unless it repeats itself bit for bit.
    """
    first = sailer.records[case]
    if first.series:
        return first
    (record,), _ = sailer.crew.submit(sailer.task([case])).result()
    if not same_record(record, first):
        raise RuntimeError(f"case {case} gave other numbers when sailed again")
    return record


def begin_series(sailer):
    """Function that gives `kept_parts` of the deepest case; its minute is under way.

    The series show what the other numbers already say, so whatever goes wrong with them costs them alone: there are
    none, and the account names what is missing and why.
    """

    def missing(error):
        why = " ".join(f"{type(error).__name__}: {error}".split())
        sailer.account.missing.append(f"the minute round the deepest reverse load; every number is complete ({why})")
        return {}

    try:
        case = deepest_case(sailer.records)
        series = dict(marched_with_rewind(sailer, case).series)
        if not series:  # nothing was counted
            return dict
        minute = sailer.crew.submit(MinuteTask(sailer.task([case]), series.pop("rewind")))
    except Exception as error:
        return lambda error=error: missing(error)

    def finished():
        try:
            return kept_parts(case, series, minute.result())
        except Exception as error:
            return missing(error)

    return finished


def kept_parts(case, series, minute):
    """{name: (dims, values)} for the Dataset, from the whole realisation's thinned series and the minute's."""
    parts = {
        "time_minute": (("time_minute",), minute["time"]),
        "time_whole": (("time_whole",), series["time_whole"]),
        "kept_sea": ((), np.int32(case[1])),
        "kept_realisation": ((), np.int32(case[2])),
    }
    for name, values in {**minute, **series}.items():
        if name == "time" or name in parts:
            continue
        along = "time_whole" if name.endswith("_whole") else "time_minute"
        dims = (along, *PLACES.get(name.removesuffix("_whole"), ()))
        parts[name] = (dims, values.astype(np.float32))
    return parts
