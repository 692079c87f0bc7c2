"""One pass over a judged log: every place counted, file by file into the ledger, and what a page shows of it."""

import json
from dataclasses import replace

import numpy as np

from seaload.basis.units import DEGREE
from seaload.files.ledger.stretch import PlaceCounter
from seaload.files.ledger.totals import place_total
from seaload.files.log.log_chunk import FAIL, MISSING, NEW_ZERO
from seaload.scenario.log_channels import is_load, kind_of, station_of
from seaload.studies.log.deepest_moments import DeepestMoments
from seaload.studies.log.quality_ribbon import QualityRibbon

TRACED = ("heave", "pitch", "roll", "speed", "heel")  # beside the loads
GRAIN = {  # how finely settings are told apart, SI
    "extension": 0.01, "rake": 0.1 * DEGREE, "cant": 0.5 * DEGREE, "heel": DEGREE, "ballast_shift": 0.05,
}  # fmt: skip
NO_CYCLES = np.zeros((1, 1))


def setting_text(setting):
    """A `LogSetting` as text: what is known of it, SI, in one order; "" when nothing is."""
    values = {name: getattr(setting, name) for name in GRAIN}
    known = {
        name: round(round(value / GRAIN[name]) * GRAIN[name], 6) for name, value in values.items() if value == value
    }
    if setting.sails:
        known["sails"] = setting.sails
    return json.dumps(known) if known else ""


class PlaceRecord:
    """One load channel: how a value becomes a share of the normal limit, and its counters."""

    def __init__(self, channel, curve, counted):
        self.channel, self.place = channel, station_of(channel)
        self.factor = 1.0 / curve.strain_normal if kind_of(channel) == "strain" else 1.0
        self.ledger = PlaceCounter(self.place, curve, counted)
        self.repaired, self.as_read = PlaceCounter(self.place, curve), PlaceCounter(self.place, curve)
        self.kept = {"repaired": [], "as_read": []}  # stretches of this log, without their cycles
        self.curve = curve

    def add(self, chunk, step, setting, anew):
        """Count a chunk; gives its loads (n,), shares of the normal limit, nan where none is to be counted."""
        values, flags = chunk.values[self.channel], chunk.flags[self.channel]
        load = values * self.factor
        good = (flags != FAIL) & (flags != MISSING) & np.isfinite(load)
        raw = chunk.unrepaired.get(self.channel, values) * self.factor
        recorded = np.isfinite(raw)
        for counter in (self.ledger, self.repaired):
            add_where(counter, chunk.time, load, good, step, setting, anew)
        add_where(self.as_read, chunk.time, raw, recorded, step, setting, False)
        return load if good.all() else np.where(good, load, np.nan)

    def put_by(self):
        """Keep what this log's own counters ended with; gives the stretches for the ledger."""
        for name, counter in (("repaired", self.repaired), ("as_read", self.as_read)):
            self.kept[name] += [replace(stretch, cycles=NO_CYCLES) for stretch in counter.take()]
        return self.ledger.take()

    def totals(self):
        """{"repaired", "as_read": `PlaceTotal` of this log alone, or None}; cycles in them are not whole."""
        return {name: place_total(kept, self.curve) if kept else None for name, kept in self.kept.items()}


def add_where(counter, times, load, which, step, setting, anew):
    """Count the samples where `which` says so."""
    if not which.all():
        times, load = times[which], load[which]
    counter.add(times, load, step, setting, anew)


class LogPass:
    """What is carried from chunk to chunk."""

    def __init__(self, curve, ledger, page):
        self.curve, self.ledger, self.page = curve, ledger, page
        self.counted = ledger.counted(page)
        self.began = False
        self.records, self.traced = [], []  # of the load channels, beside them
        self.moments = DeepestMoments([])
        self.ribbon = QualityRibbon()
        self.step, self.file = None, None
        self.added = {}  # {file: [s] counted now that was not counted before, longest of its places}

    def begin(self, chunk):
        """Have a record for every load channel of the log."""
        self.began = True
        loads = sorted((c for c in chunk.values if is_load(c)), key=lambda c: (station_of(c), c))
        one_each = {station_of(c): c for c in reversed(loads)}  # of two, load_share_N comes before strain_N
        self.records = [
            PlaceRecord(one_each[place], self.curve, self.counted.get(place, ())) for place in sorted(one_each)
        ]
        self.moments = DeepestMoments([record.place for record in self.records])
        self.traced = [c for c in TRACED if c in chunk.values]

    def add(self, chunk):
        """Judge-made `LogChunk` into every counter."""
        if not self.began:
            self.begin(chunk)
        if self.file is not None and chunk.file != self.file:
            self.put_by()
        self.file = chunk.file
        if self.step is None and len(chunk.time) > 1:
            self.step = float(np.median(np.diff(chunk.time)))
        step, setting = self.step or 1.0, setting_text(chunk.setting)
        anew = chunk.starts_stretch and chunk.reason == NEW_ZERO
        loads = [record.add(chunk, step, setting, anew) for record in self.records]
        self.ribbon.add(chunk.time, chunk.flags)
        if loads:
            load = np.stack(loads, axis=1)
            more = [np.where(chunk.flags[c] == FAIL, np.nan, chunk.values[c]) for c in self.traced]
            self.moments.add(chunk.time, self.curve.reverse_factor * load, np.column_stack([load, *more]))

    def put_by(self):
        """Store what came from one file, in one transaction."""
        stretches, longest = [], 0.0
        for record in self.records:
            new = record.put_by()
            longest = max(longest, sum(s.seconds for s in new))
            stretches += new
        if stretches:
            self.ledger.add(self.page, self.file, stretches)
        self.added[self.file] = self.added.get(self.file, 0.0) + longest

    def finished(self):
        """End every stretch and store the last file."""
        if self.file is not None:
            self.put_by()
