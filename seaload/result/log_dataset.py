"""The Dataset of a recorded log: the ledger of its foil, what was found in the log, and how good it was."""

import json
from dataclasses import dataclass

import numpy as np

from seaload.basis.cautions import CAUTIONS
from seaload.fatigue.cycle_bins import MEAN_BINS, MEAN_LOW, MEAN_WIDTH, RANGE_BINS, RANGE_WIDTH
from seaload.fatigue.excursion_list import DEEPEST, START, STOP
from seaload.files.ledger.totals import events
from seaload.files.log.log_chunk import FLAG_MEANINGS
from seaload.result.assemble_dataset import finished
from seaload.result.birth_record import made_by, plain_json

MOST_LISTED = 500  # events, findings, repairs that are listed one by one
SETTING_FIELDS = ("extension", "rake", "cant", "heel", "ballast_shift")
GROUPS = ("day", "setting", "place")


@dataclass(frozen=True)
class LogFindings:
    """What a pass over a log found."""

    judgement: object  # files.log.log_chunk.Judgement
    this_log: dict  # {place: {"repaired", "as_read": PlaceTotal or None}}
    totals: dict  # {place: PlaceTotal} of the ledger's page
    pages: list  # of (name, {place: PlaceTotal}) of the foil, in the order in which they were begun
    ledger_files: int  # files that the page has something of
    moments: list  # deepest first
    trace_channels: list
    spans: tuple  # (start [s] (k,), samples (k, channels, flags), length of a span [s])
    added: dict  # {file: [s] that were not counted before}


def log_dataset(spec, foil, curve, found):
    """The result of a log as an xarray Dataset; spec : scenario `Log`, foil : its record, curve : its `Curve`."""
    parts = {
        **ledger_parts(found.totals, curve),
        **this_log_parts(found),
        **page_parts(found.pages),
        **event_parts(found.totals),
        **moment_parts(found),
        **quality_parts(found),
    }
    return finished(parts, log_birth(spec, foil, curve, found))


def numbers(count):
    """0, 1, 2, ... as a coordinate."""
    return np.arange(count, dtype=np.int32)


def text(values):
    """An array of texts."""
    return np.array(list(values), dtype=object)


def ledger_parts(totals, curve):
    """The ledger's page by day, setting and place, and what each place has been through."""
    places = sorted(totals)
    days = sorted({day for total in totals.values() for day, _ in total.groups})
    settings = sorted({setting for total in totals.values() for _, setting in total.groups})
    names = ("ledger_duration", "ledger_duration_loaded", "ledger_damage", "ledger_damage_steep")
    tables = {name: np.full((len(days), len(settings), len(places)), np.nan) for name in names}
    for k, place in enumerate(places):
        for (day, setting), row in totals[place].groups.items():
            for name, value in zip(names, row, strict=True):
                tables[name][days.index(day), settings.index(setting), k] = value
    known = [json.loads(setting) if setting else {} for setting in settings]
    ranges = RANGE_WIDTH * np.arange(RANGE_BINS + 1)
    means = MEAN_LOW + MEAN_WIDTH * np.arange(MEAN_BINS + 1)
    column = lambda value: (("place",), np.array([value(totals[p]) for p in places], dtype=float))  # noqa: E731
    parts = {
        "place": (("place",), numbers(len(places))),
        "station": (("place",), np.array(places, dtype=np.int32)),
        "day": (("day",), np.array(days, dtype=np.int32)),
        "setting": (("setting",), numbers(len(settings))),
        "setting_text": (("setting",), text(settings)),
        "sails": (("setting",), text(row.get("sails", "") for row in known)),
        "range_bin": (("range_bin",), 0.5 * (ranges[1:] + ranges[:-1])),
        "range_bin_bounds": (("range_bin", "edge"), np.stack([ranges[:-1], ranges[1:]], axis=1)),
        "mean_bin": (("mean_bin",), 0.5 * (means[1:] + means[:-1])),
        "mean_bin_bounds": (("mean_bin", "edge"), np.stack([means[:-1], means[1:]], axis=1)),
        "rainflow_count": (
            ("place", "range_bin", "mean_bin"),
            np.array([totals[p].cycles for p in places]).reshape(len(places), RANGE_BINS, MEAN_BINS),
        ),
        "load_ratio_max": column(lambda t: t.highest),
        "load_ratio_min": column(lambda t: -curve.reverse_factor * t.lowest),
        "load_ratio_max_time": column(lambda t: t.highest_time),
        "load_ratio_min_time": column(lambda t: t.lowest_time),
        "reverse_excursions": column(lambda t: len(t.excursions["reverse"])),
        "reverse_excursions_half": column(lambda t: len(t.excursions["reverse_half"])),
        "normal_excursions": column(lambda t: len(t.excursions["normal"])),
        "gaps_joined": column(lambda t: t.joined_over),
        "gaps_broken": column(lambda t: t.broken_at),
        "reverse_events": ((), float(len(events(totals, "reverse")))),
        "reverse_events_half": ((), float(len(events(totals, "reverse_half")))),
        "normal_events": ((), float(len(events(totals, "normal")))),
    }
    for name in SETTING_FIELDS:
        parts[name] = (("setting",), np.array([row.get(name, np.nan) for row in known], dtype=float))
    parts.update({name: (GROUPS, table) for name, table in tables.items()})
    return parts


def this_log_parts(found):
    """Time and wear of this log alone, with and without its repairs."""
    places = sorted(found.totals)

    def column(name, value):
        rows = [found.this_log.get(place, {}).get(name) for place in places]
        return (("place",), np.array([np.nan if row is None else value(row) for row in rows], dtype=float))

    return {
        "log_duration": column("repaired", lambda t: t.seconds),
        "log_damage": column("repaired", lambda t: t.damage[0]),
        "log_damage_as_recorded": column("as_read", lambda t: t.damage[0]),
    }


def page_parts(pages):
    """Every page of the foil: its wear at the place that wore most, its recorded time."""
    worst = [max((t.damage[0] for t in totals.values()), default=0.0) for _, totals in pages]
    longest = [max((t.seconds for t in totals.values()), default=0.0) for _, totals in pages]
    return {
        "page": (("page",), numbers(len(pages))),
        "page_name": (("page",), text(name for name, _ in pages)),
        "page_damage": (("page",), np.array(worst, dtype=float)),
        "page_duration": (("page",), np.array(longest, dtype=float)),
    }


def event_parts(totals):
    """Events past half the reverse limit, deepest first."""
    found = events(totals, "reverse_half")
    found = found[np.lexsort((found[:, START], -found[:, DEEPEST]))][:MOST_LISTED]
    return {
        "event": (("event",), numbers(len(found))),
        "event_start": (("event",), found[:, START]),
        "event_duration": (("event",), found[:, STOP] - found[:, START]),
        "event_depth": (("event",), found[:, DEEPEST]),
    }


def moment_parts(found):
    """The deepest moments of this log with their traces, padded to one length."""
    moments, channels = found.moments, found.trace_channels
    longest = max((len(m.offset) for m in moments), default=0)
    offset = np.full((len(moments), longest), np.nan)
    trace = np.full((len(moments), longest, len(channels)), np.nan, dtype=np.float32)
    for i, moment in enumerate(moments):
        offset[i, : len(moment.offset)] = moment.offset
        trace[i, : len(moment.offset)] = moment.trace
    return {
        "moment": (("moment",), numbers(len(moments))),
        "moment_time": (("moment",), np.array([m.time for m in moments], dtype=float)),
        "moment_depth": (("moment",), np.array([m.depth for m in moments], dtype=float)),
        "moment_place": (("moment",), np.array([m.place for m in moments], dtype=np.int32)),
        "moment_offset": (("moment", "sample"), offset),
        "moment_trace": (("moment", "sample", "trace_channel"), trace),
        "trace_channel": (("trace_channel",), text(channels)),
    }


def quality_parts(found):
    """Samples of every channel by flag, span by span."""
    start, counts, length = found.spans
    return {
        "span_start": (("span_start",), start),
        "span_length": ((), float(length)),
        "channel": (("channel",), text(found.judgement.channels)),
        "flag": (("flag",), np.array(list(FLAG_MEANINGS), dtype=np.int8)),
        "quality_count": (("span_start", "channel", "flag"), counts),
    }


def log_birth(spec, foil, curve, found):
    """Attributes of the result of a log, text only."""
    judgement = found.judgement
    told = {
        "samples": judgement.samples,
        "start": judgement.start,
        "end": judgement.end,
        "sample_rate": judgement.sample_rate,
        "overlapping": judgement.overlapping,
        "overlapping_unlike": judgement.overlapping_unlike,
        "counts": judgement.counts,
        "findings": [f._asdict() for f in judgement.findings[:MOST_LISTED]],
        "findings_in_all": len(judgement.findings),
        "repairs": [r._asdict() for r in judgement.repairs[:MOST_LISTED]],
        "repairs_in_all": len(judgement.repairs),
        "clock_shifts": [c._asdict() for c in judgement.clock_shifts],
        "skipped": [s._asdict() for s in judgement.skipped],
    }
    return {
        **made_by(),
        "title": f"{spec.name}: what foil {foil.id} has been through",
        "summary": "What one foil has been through by its recorded loads: cycles, wear and deepest moments at every "
        "strain station, and the quality of the record.",
        "study": spec.name,
        "boat": str(spec.boat.raw.get("name", "")),
        "foil": spec.foil_side,
        "foil_id": foil.id,
        "ledger_page": spec.page,
        "ledger_files": str(found.ledger_files),
        "kind": "log",
        "scenario": plain_json({"log": spec.raw, "boat": spec.boat.raw}),
        "judgement": plain_json(told),
        "files": plain_json(found.added),
        "curve": plain_json(curve._asdict()),
        "command": f"seaload log {spec.file.name} FILES",
        "limit_basis": foil.limit_basis or "not said",
        "cautions": "\n".join(CAUTIONS),
        "notes": "",
    }
