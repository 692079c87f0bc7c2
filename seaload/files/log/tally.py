"""What is written down while samples are judged: counts by test, intervals of faults, repairs."""

import numpy as np

from seaload.files.log.log_chunk import FAIL, GOOD, MISSING, NOT_EVALUATED, SUSPECT, Finding, Repair
from seaload.files.log.sample_tests import (
    ABSENT,
    BRIDGED,
    CLIPPED,
    DESPIKED,
    FROZEN,
    MARKS,
    OUT_OF_RANGE,
    SPIKE,
    SPIKE_LIKE,
    STANDING,
    TOO_FAST,
    UNUSUAL,
)

TEST_BITS = {  # test: ((flag, bits), ...), the worse first
    "gap_test": ((MISSING, ABSENT),),
    "gross_range_test": ((FAIL, OUT_OF_RANGE), (SUSPECT, UNUSUAL)),
    "spike_test": ((FAIL, SPIKE), (SUSPECT, SPIKE_LIKE)),
    "rate_of_change_test": ((SUSPECT, TOO_FAST),),
    "flat_line_test": ((FAIL, FROZEN), (SUSPECT, STANDING)),
    "clipped_test": ((SUSPECT, CLIPPED),),
}
TOLD = {  # faults told as intervals: (bits, test, flag, [s] between two that are told as one, words)
    "absent": (ABSENT, "gap_test", MISSING, 1.0, "no value"),
    "range": (OUT_OF_RANGE, "gross_range_test", FAIL, 10.0, "outside what the sensor can give"),
    "frozen": (FROZEN, "flat_line_test", FAIL, 5.0, "still frozen at one value after 10 s or more"),
    "clipped": (CLIPPED, "clipped_test", SUSPECT, 60.0, "cut off at one level: its peaks are at least this"),
}
MOST_INTERVALS = 1000  # of one fault of one channel; then they are joined to one
MOST_REPAIRS = 200_000


def flag_table():
    """(MARKS,) uint8: the flag of a value as it is given on, by its marks. Worst first: 4, 9, 3, 1."""
    marks = np.arange(MARKS)
    flags = np.full(MARKS, GOOD, dtype=np.uint8)
    flags[(marks & (UNUSUAL | SPIKE_LIKE | TOO_FAST | STANDING | CLIPPED)) != 0] = SUSPECT
    flags[(marks & (OUT_OF_RANGE | SPIKE | FROZEN)) != 0] = FAIL
    flags[(marks & ABSENT) != 0] = MISSING
    flags[(marks & (BRIDGED | DESPIKED)) != 0] = SUSPECT
    return flags


FLAG_OF = flag_table()


def lasting(seconds):
    """A length of time in words, three digits at least: "0.52 s", "1,057 s"."""
    return f"{seconds:.3g} s" if seconds < 100.0 else f"{seconds:,.0f} s"


class Tally:
    """Counts, intervals and repairs of a log; its memory does not grow with the samples."""

    def __init__(self, channels):
        self.marks = {channel: np.zeros(MARKS, dtype=np.int64) for channel in channels}
        self.intervals = {}
        self.repairs, self.untold = [], 0
        self.open = {}  # {channel: (index of its last repair of a hole, last moment)}

    def add(self, channel, time, marks, raw, mended, touched):
        """Note the marks of one channel of one chunk."""
        counts = np.bincount(marks, minlength=MARKS)
        self.marks[channel] += counts
        seen = int(np.bitwise_or.reduce(np.flatnonzero(counts)))
        for fault, (bits, *_, apart, _) in TOLD.items():
            if seen & bits:
                here = ((marks & bits) != 0) & ((marks & BRIDGED) == 0)
                self.note((channel, fault), time[here], apart)
        if touched:
            self.note_repairs(channel, time, marks, raw, mended)

    def note(self, key, times, apart):
        """Add moments to the intervals of a fault."""
        if len(times) == 0:
            return
        cuts = np.flatnonzero(np.diff(times) > apart) + 1
        starts, ends = times[np.r_[0, cuts]], times[np.r_[cuts, len(times)] - 1]
        counts = np.diff(np.r_[0, cuts, len(times)])
        known = self.intervals.setdefault(key, [])
        for start, end, count in zip(starts.tolist(), ends.tolist(), counts.tolist(), strict=True):
            if known and (start - known[-1][1] <= apart or len(known) >= MOST_INTERVALS):
                known[-1][1], known[-1][2] = end, known[-1][2] + count
            else:
                known.append([start, end, count])

    def note_repairs(self, channel, time, marks, raw, mended):
        """List every mended sample of a chunk; a hole is one repair."""
        for i in np.flatnonzero((marks & DESPIKED) != 0).tolist():
            self.repaired(Repair(channel, "spike", time[i], time[i], 1, float(raw[i]), float(mended[i])))
        places = np.flatnonzero((marks & BRIDGED) != 0)
        if len(places) == 0:
            return
        cuts = np.flatnonzero(np.diff(places) > 1) + 1
        for run in np.split(places, cuts):
            first, last = int(run[0]), int(run[-1])
            repair = Repair(
                channel, "missing", float(time[first]), float(time[last]), len(run), np.nan, float(mended[first])
            )
            before = self.open.get(channel)
            if first == 0 and before is not None and before[1]:
                old = self.repairs[before[0]]
                self.repairs[before[0]] = old._replace(end=repair.end, samples=old.samples + repair.samples)
            else:
                self.repaired(repair)
            self.open[channel] = (len(self.repairs) - 1, last == len(time) - 1)
        if places[-1] != len(time) - 1:
            self.open.pop(channel, None)

    def lost_rows(self, time, step, longest):
        """List the places of a chunk (its last sample before it first) where whole rows are missing but bridged."""
        gaps = np.diff(time)
        for i in np.flatnonzero((gaps > 1.5 * step) & (gaps <= longest)).tolist():
            lost = max(1, round(gaps[i] / step) - 1)
            self.repaired(Repair("", "missing", float(time[i]), float(time[i + 1]), lost, np.nan, np.nan))

    def repaired(self, repair):
        """List a repair, or count it when there are too many to list."""
        if len(self.repairs) < MOST_REPAIRS:
            self.repairs.append(repair)
        else:
            self.untold += 1

    def counts(self):
        """{channel: {test: {flag: samples}}}, with the aggregate of all tests."""
        found = {}
        everything = np.arange(MARKS)
        for channel, marks in self.marks.items():
            present = int(marks[(everything & ABSENT) == 0].sum())
            tests = {}
            for test, levels in TEST_BITS.items():
                flags, taken = {}, np.zeros(MARKS, dtype=bool)
                for flag, bits in levels:
                    here = ((everything & bits) != 0) & ~taken
                    flags[flag] = int(marks[here].sum())
                    taken |= here
                rest = present if test != "gap_test" else int(marks.sum())
                flags[GOOD] = rest - sum(flags.values())
                tests[test] = {flag: count for flag, count in sorted(flags.items()) if count}
            worst = np.bincount(FLAG_OF, weights=marks, minlength=10)
            tests["aggregate"] = {flag: int(worst[flag]) for flag in range(10) if worst[flag]}
            found[channel] = tests
        return found

    def findings(self):
        """Findings of the faults that lasted, and of repairs too many to list."""
        found = []
        for (channel, fault), intervals in self.intervals.items():
            _, test, flag, _, words = TOLD[fault]
            for start, end, count in intervals:
                said = f"{words}, {count} sample{'s' if count > 1 else ''} in {lasting(max(end - start, 0.0))}"
                found.append(Finding(channel, test, flag, start, end, said))
        if self.untold:
            said = f"{self.untold} further repairs are not listed one by one"
            found.append(Finding("", "spike_test", NOT_EVALUATED, self.repairs[-1].end, self.repairs[-1].end, said))
        return found
