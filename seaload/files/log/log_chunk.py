"""What travels from a recorded log: chunks of samples with their flags, and the judgement at the end.

`read_log.read_log(spec, files)` gives `LogChunk`s in time order, not yet judged. `judge.judge(spec, files)` gives the
same chunks with flags and repairs, and a `Judgement` as its very last item:

    *chunks, judgement = judge(spec, files)      # or, streaming, test each item with isinstance

Channels: strain_N [-] (1e-6 = one microstrain) or load_share_N [-] (share of the normal limit) at station N;
heave [m], pitch, roll [rad], pitch_rate, roll_rate [rad/s], acceleration_x/y/z [m/s2], speed [m/s], heel, rake, cant
[rad], extension [-]. Signs as in the boat: bow up, leeward side down, leading edge up, up and inboard are plus.
"""

from typing import NamedTuple

import numpy as np

# QARTOD's numbers of a flag, and the words that CF gives to them (`flag_values`, `flag_meanings`).
GOOD, NOT_EVALUATED, SUSPECT, FAIL, MISSING = 1, 2, 3, 4, 9
FLAG_MEANINGS = {GOOD: "good", NOT_EVALUATED: "not_evaluated", SUSPECT: "suspect", FAIL: "fail", MISSING: "missing"}

# Why a chunk does not continue the one before.
CONTINUES, FIRST, AFTER_GAP, NEW_SETTING, NEW_ZERO = "", "first", "gap", "setting", "zero"


class LogSetting(NamedTuple):
    """What is known of the setting while a chunk was recorded; nan or empty where nothing says so."""

    extension: float = np.nan  # [-] share of the outside length that is out
    rake: float = np.nan  # [rad] leading edge up +
    cant: float = np.nan  # [rad] to windward +
    heel: float = np.nan  # [rad] leeward side down +; of the diary, never of the roll that was recorded
    ballast_shift: float = np.nan  # [m] forward +
    sails: str = ""  # as the crew calls them


class LogChunk(NamedTuple):
    """Some minutes of a log, all of one setting and without a gap inside that breaks the record."""

    time: np.ndarray  # (n,) float64 [s] since 1970-01-01 UTC, rising
    values: dict  # {channel: (n,) float64 SI}, repaired where a Repair says so, nan where missing
    flags: dict  # {channel: (n,) uint8}, numbers above; count a sample only where it is not FAIL or MISSING
    file: str  # name of the file that most of it comes from
    starts_stretch: bool  # True: do not join the residue of what came before without a thought
    reason: str  # why it starts a stretch: "first", "gap" (only time is missing), "setting", "zero"; "" = it continues
    setting: LogSetting
    unrepaired: dict  # {channel: (n,) float64 SI} as read, only for channels with a repair in this chunk


class Repair(NamedTuple):
    """One repair of one channel: never made without being listed."""

    channel: str
    kind: str  # "spike" (one sample replaced), "missing" (short hole bridged), "zero" (offset taken off)
    start: float  # [s] since 1970-01-01 UTC, first sample touched
    end: float  # [s] last sample touched
    samples: int
    before: float  # SI, as read: the spike; nan for a hole; the first value for an offset
    after: float  # SI, as given on


class Finding(NamedTuple):
    """Something the judging noticed that is more than one sample."""

    channel: str  # empty for all of them
    test: str  # a name of TESTS
    flag: int  # SUSPECT or FAIL, or NOT_EVALUATED where the log does not allow the test
    start: float  # [s] since 1970-01-01 UTC
    end: float  # [s]
    words: str  # plain words, numbers with units


class ClockShift(NamedTuple):
    """A file whose clock was matched to another's."""

    file: str
    reference: str
    shift: float  # [s] added to the stamps of `file`
    correlation: float  # [-] of the two records after the shift
    drift: float  # [s] change of the shift over the common time


class Skipped(NamedTuple):
    """A file, or part of one, that was left out."""

    file: str
    reason: str  # plain words, with line numbers where there are any
    rows: int  # rows left out, 0 for a whole file


TESTS = {  # after the QARTOD manuals; the name that CF gives to the flag variable of a test is NAME_quality_flag
    "gap_test": "time missing between two samples",
    "gross_range_test": "value outside what the sensor, or a boat, can give",
    "spike_test": "one or two samples off on their own",
    "rate_of_change_test": "change of the value faster than the channel can",
    "flat_line_test": "value frozen",
    "clipped_test": "crests cut off at one level",
    "zero_test": "step or drift of the zero between unloaded moments",
    "companion_test": "channel swapped with another, or of the wrong sign",
    "unit_test": "spread of a channel changes by a whole unit from file to file",
    "sample_rate_test": "samples too far apart for the load's band",
}


class Judgement(NamedTuple):
    """What was found about a whole log."""

    channels: tuple  # names, in the order of the chunks
    samples: int
    start: float  # [s] since 1970-01-01 UTC
    end: float  # [s]
    sample_rate: float  # [Hz] found, median
    counts: dict  # {channel: {test: {flag: samples}}}; test "aggregate" holds the worst of all tests
    findings: tuple  # of Finding, in time order
    repairs: tuple  # of Repair, in time order
    clock_shifts: tuple  # of ClockShift
    skipped: tuple  # of Skipped
    overlapping: int  # samples that stood in two files and were taken once
    overlapping_unlike: int  # of these, those whose values differ
