"""What a log says in sentences: the answer, the repairs, the gaps, what was left out."""

import json
import math

import numpy as np

from seaload.basis.units import HOUR
from seaload.report.log import reading as read
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, number, scenario


def answer_sentences(dataset):
    """Two sentences: what the foil has been through, and how near its limits it came."""
    hours, loaded = read.page_hours(dataset)
    wear, places = read.wear_of_places(dataset), read.stations(dataset)
    foil = f"Foil {line(attribute(dataset, 'foil_id'), 40)}"
    if not len(places) or hours == 0.0:
        return f"{foil} has no recorded load in its ledger yet. Nothing in these files could be counted."
    worst = int(np.argmax(wear))
    first = (
        f"{foil} has been through {say.hours_words(hours)} of record, {say.hours_words(loaded)} of it under load: "
        f"{read.cycles_words(wear[worst])} full-load cycles of wear at station {places[worst]}, "
        f"{share_words(wear[worst])} of what the stated curve allows. "
    )
    return first + limits_sentence(dataset)


def share_words(damage):
    """Wear as a share of what the curve allows, two digits: "0.13 %"."""
    if damage == 0.0:
        return "nothing"
    return f"{say.significant(100.0 * damage, 2)} %" if damage >= 1e-5 else "under 0.001 %"


def limits_sentence(dataset):
    """How near both limits it came, and how often past the reverse one."""
    places = read.stations(dataset)
    high, low = dataset["load_ratio_max"].values, dataset["load_ratio_min"].values
    up, down = int(np.argmax(high)), int(np.argmin(low))
    when = {
        name: read.seconds_of(dataset[f"load_ratio_{name}_time"].values)[i] for name, i in (("max", up), ("min", down))
    }
    past, half = (int(number(dataset, f"reverse_events{end}")) for end in ("", "_half"))
    events = f"reverse load passed the limit {times(past)}" if past else "reverse load never passed the limit"
    if half > past:
        events += f", half of it {times(half)}"
    deepest = (
        f"{-100.0 * low[down]:.0f} % of the reverse one (station {places[down]}, {read.moment_words(when['min'])} UTC)"
        if low[down] < 0.0
        else "no reverse load at all"
    )
    return (
        f"Its highest loads were {100.0 * high[up]:.0f} % of the normal limit (station {places[up]}, "
        f"{read.moment_words(when['max'])} UTC) and {deepest}; {events}."
    )


def times(count):
    """ "once", "3 times", "never"."""
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count:,} times")


def curve_sentence(dataset):
    """What a full-load cycle and the stated curve are."""
    slopes = read.curve(dataset)
    return (
        "A full-load cycle goes from nothing to 100 % of the normal limit; the stated curve "
        f"(slope {slopes.get('slope', math.nan):g}) allows a million of them. Without a measured curve of the laminate "
        "this compares days, settings and foils; it is not a forecast."
    )


def repairs_sentences(dataset):
    """Wear of this log with its repairs and as recorded, at every place where they differ."""
    told = read.judgement(dataset)
    kept, raw = dataset["log_damage"].values, dataset["log_damage_as_recorded"].values
    count = int(told.get("repairs_in_all", 0))
    begin = f"{count:,} repair{'' if count == 1 else 's'} made; the page lists each."
    if not count:
        begin = "Nothing was repaired."
    unlike = [
        f"station {place}: {read.cycles_words(a)} repaired, {read.cycles_words(b)} as recorded"
        for place, a, b in zip(read.stations(dataset), kept, raw, strict=True)
        if np.isfinite(a) and np.isfinite(b) and not math.isclose(a, b, rel_tol=1e-3, abs_tol=1e-12)
    ]
    if not unlike:
        return f"{begin} Wear of this log is the same with repairs and as recorded."
    return f"{begin} Wear of this log in full-load cycles: {'; '.join(unlike)}. The ledger holds the repaired one."


def gaps_sentence(dataset):
    """How gaps were dealt with."""
    joined, broken = (int(np.nanmax(dataset[name].values, initial=0)) for name in ("gaps_joined", "gaps_broken"))
    plural = lambda count: f"{count} gap{'' if count == 1 else 's'}"  # noqa: E731
    return (
        f"Counting was carried on over {plural(joined)}, where only time is missing, and begun anew at "
        f"{plural(broken)}, where setting or zero changed meanwhile."
    )


def new_time_sentence(dataset):
    """How much of this log was new to the ledger."""
    added = json.loads(attribute(dataset, "files") or "{}")
    new = sum(added.values()) / HOUR
    known = [line(name, 60) for name, seconds in added.items() if seconds == 0.0]
    count = len(added)
    text = f"{count} file{'' if count == 1 else 's'} read; {say.hours_words(new)} new to the ledger."
    if new == 0.0 and added:
        text = f"{count} file{'' if count == 1 else 's'} read; all of it stood in the ledger already."
    elif known:
        text += f" Counted before, and not again: {', '.join(known[:6])}{' and others' if len(known) > 6 else ''}."
    return text


def overlap_sentence(dataset):
    """Samples that two files shared, or ""."""
    told = read.judgement(dataset)
    if not told.get("overlapping"):
        return ""
    unlike = told.get("overlapping_unlike", 0)
    said = f"{told['overlapping']:,} samples stood in two files and were taken once"
    return f"{said}; {unlike:,} of them differ from file to file." if unlike else f"{said}."


def made_data(dataset):
    """Whether the log says of itself that it is made, not recorded."""
    return bool(scenario(dataset).get("log", {}).get("made"))
