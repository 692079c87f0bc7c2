"""What the judging finds of faults put into an invented record, what it cries over without reason, and the wear after.

Gates stated for each fault: share of the faulty moments that are flagged or told; samples flagged `fail` outside of
them (none is allowed but where said); wear of the cleaned record within 2 % of that without fault, or the fault told.
"""

from typing import NamedTuple

import numpy as np
import pytest

from seaload.files.log.judge import judge
from seaload.files.log.log_chunk import FAIL, GOOD, MISSING, NOT_EVALUATED, SUSPECT, Judgement
from tests.files.log import log_twins
from tests.files.log.log_twins import GAUGES, clean, counted, description, wear, written

MINUTES = 10.0
WITHIN = 0.02  # of the true wear


class Gate(NamedTuple):
    """What is asked of one fault."""

    test: str
    by: str  # "flags" of samples, a "finding" over the log, or a "repair"
    detected: float  # least share of the faulty moments
    wear_held: bool  # within 2 %; otherwise the fault must be told


GATES = {
    "spikes": Gate("spike_test", "repair", 0.99, True),
    "pairs": Gate("spike_test", "repair", 0.95, True),
    "short_holes": Gate("gap_test", "repair", 1.0, True),
    "long_holes": Gate("gap_test", "flags", 1.0, False),
    "lost_rows": Gate("gap_test", "finding", 1.0, False),
    "frozen": Gate("flat_line_test", "flags", 0.65, False),  # the first ten seconds are waited for
    "clipped": Gate("clipped_test", "flags", 1.0, False),
    "out_of_range": Gate("gross_range_test", "flags", 1.0, True),
    "jumps": Gate("spike_test", "flags", 0.95, True),
    "zero_step": Gate("zero_test", "finding", 1.0, True),
    "zero_drift": Gate("zero_test", "finding", 1.0, True),
    "swapped": Gate("companion_test", "finding", 1.0, False),
    "swapped_rates": Gate("companion_test", "finding", 1.0, True),
    "flipped": Gate("companion_test", "finding", 1.0, False),
    "flipped_rate": Gate("companion_test", "finding", 1.0, True),
    "slow": Gate("sample_rate_test", "finding", 1.0, False),
}


@pytest.fixture(scope="module")
def without_fault():
    """The clean record."""
    return clean(MINUTES, seed=4)


def judged(folder, twin):
    """(chunks, Judgement) of a twin."""
    *chunks, judgement = judge(description(folder, twin), [written(folder / "twin.nc", twin.time, twin.values)])
    return chunks, judgement


def flags_of(chunks, channel):
    """(time, flags) of a channel."""
    return (np.concatenate([c.time for c in chunks]), np.concatenate([c.flags[channel] for c in chunks]))


def detected_share(gate, twin, chunks, judgement):
    """Share of the faulty moments that the judging tells."""
    found = []
    for channel, start, end in twin.faults:
        if gate.by == "flags":
            time, flags = flags_of(chunks, channel)
            inside = (time >= start - 1e-6) & (time <= end + 1e-6)
            found.extend((flags[inside] >= SUSPECT).tolist())
        elif gate.by == "repair":
            near = [r for r in judgement.repairs if r.channel == channel and start - 1e-6 <= r.start <= end + 1e-6]
            found.append(bool(near))
        else:
            found.append(
                any(
                    f.test == gate.test and f.channel == channel and f.flag in (SUSPECT, FAIL)
                    and f.start <= start + 10.0 and f.end >= end - 10.0
                    or (gate.test == "zero_test" and f.channel == channel and f.flag == SUSPECT)
                    for f in judgement.findings
                )
            )  # fmt: skip
    return float(np.mean(found))


def false_failures(twin, chunks):
    """Samples flagged `fail` at moments into which no fault was put."""
    wrong = 0
    for channel in chunks[0].flags:
        time, flags = flags_of(chunks, channel)
        clear = flags == FAIL
        for faulty, start, end in twin.faults:
            if faulty == channel:
                clear &= (time < start - 1e-6) | (time > end + 1e-6)
        wrong += int(np.count_nonzero(clear))
    return wrong


def test_a_record_without_fault_is_good(tmp_path, without_fault):
    chunks, judgement = judged(tmp_path, without_fault)
    assert isinstance(judgement, Judgement) and judgement.repairs == () and judgement.skipped == ()
    assert {f.flag for f in judgement.findings} <= {GOOD}
    assert judgement.sample_rate == pytest.approx(50.0, abs=1e-3)
    for channel, tests in judgement.counts.items():
        aggregate = tests["aggregate"]
        assert set(aggregate) <= {GOOD, SUSPECT}
        assert aggregate.get(SUSPECT, 0) <= 1e-4 * judgement.samples, (channel, tests)
    for gauge in GAUGES:
        assert counted(chunks, gauge).tolist() == without_fault.values[gauge].tolist(), "nothing is touched"


@pytest.mark.parametrize("fault", GATES)
def test_a_fault_is_found_and_the_wear_is_held_or_the_fault_told(tmp_path, without_fault, fault):
    gate = GATES[fault]
    twin = getattr(log_twins, fault)(without_fault, np.random.default_rng(7))
    chunks, judgement = judged(tmp_path, twin)
    assert detected_share(gate, twin, chunks, judgement) >= gate.detected
    assert false_failures(twin, chunks) == 0
    told = [f for f in judgement.findings if f.flag in (SUSPECT, FAIL, MISSING)]
    for gauge in GAUGES:
        ratio = wear(counted(chunks, gauge)) / wear(without_fault.values[gauge])
        held = abs(ratio - 1.0) <= WITHIN
        assert held if gate.wear_held else held or told, (gauge, ratio)


def test_every_repair_is_listed_with_both_values_and_the_raw_record_is_kept(tmp_path, without_fault):
    twin = log_twins.spikes(without_fault, np.random.default_rng(7))
    chunks, judgement = judged(tmp_path, twin)
    gauge = "load_share_2"
    raw = counted(chunks, gauge, unrepaired=True)
    assert raw.tolist() == twin.values[gauge].tolist()
    time, clean_values = np.concatenate([c.time for c in chunks]), counted(chunks, gauge)
    changed = np.flatnonzero(clean_values != raw)
    listed = {(r.start, r.before, r.after) for r in judgement.repairs}
    assert {(time[i], raw[i], clean_values[i]) for i in changed} == listed
    assert {r.kind for r in judgement.repairs} == {"spike"}
    assert wear(raw) > 1.5 * wear(clean_values), "with and without can be told"


def test_a_gauge_without_a_known_unloaded_while_has_no_judged_zero(tmp_path, without_fault):
    twin = log_twins.zero_step(without_fault, np.random.default_rng(7))
    log = description(tmp_path, twin)
    path = written(tmp_path / "twin.nc", twin.time, twin.values)
    *_, judgement = judge(log.__class__(**{**vars(log), "unloaded": ()}), [path])
    flags = {f.channel: f.flag for f in judgement.findings if f.test == "zero_test"}
    assert flags == {gauge: NOT_EVALUATED for gauge in GAUGES}


def test_a_file_in_another_unit_is_told(tmp_path, without_fault):
    halves = np.array_split(np.arange(len(without_fault.time)), 3)
    paths = []
    for i, rows in enumerate(halves):
        values = {name: column[rows] for name, column in without_fault.values.items()}
        if i == 1:
            values["pitch"] = np.degrees(values["pitch"])
        paths.append(written(tmp_path / f"part{i}.nc", without_fault.time[rows], values))
    *_, judgement = judge(description(tmp_path, without_fault), paths)
    told = [(f.channel, f.flag) for f in judgement.findings if f.test == "unit_test"]
    assert told == [("pitch", SUSPECT)]


@pytest.mark.parametrize("rows", [37, 1000, 9999])
def test_no_cut_into_chunks_changes_a_flag_or_a_repair(tmp_path, rows):
    twin = clean(4.0, seed=9)
    rng = np.random.default_rng(7)
    twin = log_twins.pairs(log_twins.spikes(twin, rng, count=20), rng, count=10)
    gauge = twin.values["load_share_3"].copy()
    gauge[rng.integers(4000, 8000, 60)] = np.nan
    gauge[5000:5600] = gauge[4999]
    keep = np.ones(len(twin.time), dtype=bool)
    keep[[6000, 6001, *range(7000, 7100)]] = False
    values = {**twin.values, "load_share_3": gauge}
    path = written(tmp_path / "twin.nc", twin.time[keep], {name: v[keep] for name, v in values.items()})
    log = description(tmp_path, twin)
    *whole, judgement = judge(log, [path])
    *pieces, again = judge(log, [path], chunk_rows=rows)
    assert max(len(c.time) for c in pieces) <= rows
    for channel in whole[0].flags:
        np.testing.assert_array_equal(flags_of(whole, channel), flags_of(pieces, channel))
        np.testing.assert_array_equal(counted(whole, channel), counted(pieces, channel))
    assert again.counts == judgement.counts
    assert [r[:5] for r in again.repairs] == [r[:5] for r in judgement.repairs]
    assert any(FAIL in tests["flat_line_test"] for tests in judgement.counts.values())
