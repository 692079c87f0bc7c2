"""Events of finished cases as part of a Dataset: how many there were, and the deepest one by one."""

import numpy as np

from seaload.basis.records import EVENT_COLUMNS, NORMAL_EVENT, REVERSE_EVENT

MOST_EVENTS = 400  # a side, the deepest of the whole study; every count is told all the same
SIDES = {"reverse": REVERSE_EVENT, "normal": NORMAL_EVENT}
WHOLE = {"event_setting": np.int32, "event_sea": np.int32, "event_realisation": np.int32,
         "event_side": np.int8, "event_cause": np.int8}  # fmt: skip
EACH = ("setting", "sea", "realisation")
DEPTH, SIDE = EVENT_COLUMNS.index("depth"), EVENT_COLUMNS.index("side")


def event_parts(study, cases):
    """{name: (dims, values)} of the events of `cases`, {(setting, sea, realisation): CaseRecord}."""
    told = {key: record for key, record in sorted(cases.items()) if record.event_table is not None}
    if not told:
        return {}
    return {**event_counts(study, cases, told), **deepest_events(told)}


def event_counts(study, cases, told):
    """How many events every realisation had either side, and past which level; nan where none are `told`."""
    shape = (len(study.settings), len(study.seas), 1 + max(r for _, _, r in cases))
    found = {f"event_{kind}_{side}": np.full(shape, np.nan) for kind in ("count", "level") for side in SIDES}
    for key, record in told.items():
        for i, side in enumerate(SIDES):
            found[f"event_count_{side}"][key] = len(getattr(record, f"event_peaks_{side}"))
            found[f"event_level_{side}"][key] = record.event_levels[i]
    return {name: (EACH, values) for name, values in found.items()}


def deepest_events(told):
    """One row an event along `event`, the deepest first; nothing without any."""
    tables = [record.event_table for record in told.values()]
    where = np.repeat(np.array(list(told)), [len(table) for table in tables], axis=0)
    table = np.concatenate(tables)
    order = np.argsort(-table[:, DEPTH], kind="stable")
    rank = np.zeros(len(order), dtype=int)  # of each within its side
    for sign in SIDES.values():
        rank[order[table[order, SIDE] == sign]] = np.arange(np.sum(table[:, SIDE] == sign))
    kept = order[rank[order] < MOST_EVENTS]
    if len(kept) == 0:
        return {}
    loads = np.concatenate([record.event_strip_load for record in told.values()])
    rows = {f"event_{name}": table[kept, i] for i, name in enumerate(EVENT_COLUMNS) if name != "channel"}
    rows |= {f"event_{name}": where[kept, i] for i, name in enumerate(EACH)}
    parts = {name: (("event",), values.astype(WHOLE.get(name, np.float32))) for name, values in rows.items()}
    parts["event"] = (("event",), np.arange(len(kept), dtype=np.int32))
    parts["event_strip_load"] = (("event", "strip"), loads[kept])
    return parts
