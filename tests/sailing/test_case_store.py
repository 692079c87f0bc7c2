"""The store of finished cases: bit for bit, one writer, nothing half written, nothing unpickled."""

import os
import pickle
import signal
import sqlite3
import subprocess
import sys
import textwrap
import time
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import CannotRun
from seaload.basis.records import CaseRecord
from seaload.sailing.case_store import INPUTS, STORE_NAME, CaseStore
from seaload.sailing.record_bytes import record_from_bytes, record_to_bytes, same_record

ROOT = Path(__file__).resolve().parents[2]


def case(number=1.0):
    """A made-up finished case with awkward numbers in it."""
    values = {entry.name: number + 0.1 for entry in fields(CaseRecord)}
    for entry in fields(CaseRecord):
        if "ndarray" in str(entry.type):
            values[entry.name] = np.array([number, np.nan, -0.0, 1e-310])
    values.update(status=0, stopped_at=np.nan, events_half=3, events_full=2, normal_events=1, series={})
    values.update(
        rainflow_count=np.arange(24.0).reshape(2, 3, 4), residue=(np.array([1.0, -2.0]), np.array([]))
    )
    return CaseRecord(**values)


def inputs(**other):
    return {name: f"{name}-hash" for name in INPUTS} | other


def test_a_record_survives_bit_for_bit():
    before = case(np.pi)
    after = record_from_bytes(record_to_bytes(before))
    assert same_record(before, after)
    assert after.status == 0 and isinstance(after.events_full, int)
    assert after.rainflow_count.shape == (2, 3, 4) and len(after.residue[1]) == 0
    assert np.signbit(after.moment_mean[2]) and after.moment_mean[3] == 1e-310


def test_numbers_in_single_precision_stay_so_and_take_half_the_room():
    values = np.array([np.pi, np.nan, -0.0, 1e-40], dtype=np.float32)
    one, two = replace(case(), event_peaks_reverse=values), replace(case(), event_peaks_reverse=values.astype(float))
    after = record_from_bytes(record_to_bytes(one))
    assert same_record(one, after) and not same_record(one, two)
    assert after.event_peaks_reverse.dtype == np.float32 and np.signbit(after.event_peaks_reverse[2])
    many = np.random.default_rng(1).standard_normal(4000)
    sizes = [len(record_to_bytes(replace(case(), event_peaks_reverse=many.astype(kind)))) for kind in ("f4", "f8")]
    assert sizes[0] < 0.6 * sizes[1]


def test_a_case_of_before_has_no_events():
    old = replace(case(), event_table=None, event_strip_load=None)
    after = record_from_bytes(record_to_bytes(old))
    assert after.event_table is None and same_record(old, after)


@pytest.mark.parametrize("bad", [b"", b"rubbish", pickle.dumps({"a": 1}), record_to_bytes(case())[:-9]])
def test_other_bytes_are_refused(bad):
    with pytest.raises(ValueError, match="not the bytes"):
        record_from_bytes(bad)


def test_cases_are_found_again(tmp_path):
    with CaseStore(tmp_path) as store:
        store.add([("one", inputs(), case(1.0)), ("two", inputs(), case(2.0))])
    with CaseStore(tmp_path) as store:
        found = store.find(["two", "three"])
        assert list(found) == ["two"] and same_record(found["two"], case(2.0))
        assert store.count() == 2
        assert store.delete_others(["two"]) == 1 and store.count() == 1


def test_changed_input_is_named(tmp_path):
    with CaseStore(tmp_path) as store:
        now = {name: {f"{name}-hash"} for name in INPUTS}
        assert store.changed_inputs(now) == []
        store.add([("one", inputs(boat="older"), case())])
        assert store.changed_inputs(now) == ["boat"]


def test_a_second_writer_is_refused(tmp_path):
    with CaseStore(tmp_path):
        with pytest.raises(CannotRun, match="another seaload"):
            CaseStore(tmp_path)
    CaseStore(tmp_path).__exit__()


def test_a_damaged_file_is_said_to_be(tmp_path):
    (tmp_path / STORE_NAME).write_bytes(b"this is no database" * 100)
    with pytest.raises(CannotRun, match="not a database"):
        CaseStore(tmp_path)


def test_a_folder_that_is_a_file_is_refused(tmp_path):
    (tmp_path / "taken").write_text("")
    with pytest.raises(CannotRun):
        CaseStore(tmp_path / "taken")


def test_whole_rounds_survive_a_kill(tmp_path):
    """A writer killed without warning leaves whole rounds, no lock, and a store that opens."""
    script = textwrap.dedent(
        """
        import sys; sys.path.insert(0, sys.argv[2])
        from tests.sailing.test_case_store import case, inputs
        from seaload.sailing.case_store import CaseStore
        store = CaseStore(sys.argv[1])
        for n in range(10**6):
            store.add([(f"{n}-{i}", inputs(), case(float(n))) for i in range(7)])
            print(n, flush=True)
        """
    )
    command = [sys.executable, "-c", script, str(tmp_path), str(ROOT)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
        for _ in range(5):
            writer.stdout.readline()
        time.sleep(0.02)
        os.kill(writer.pid, signal.SIGKILL)
    with CaseStore(tmp_path) as store:
        assert store.count() >= 35 and store.count() % 7 == 0
    assert sqlite3.connect(tmp_path / STORE_NAME).execute("PRAGMA integrity_check").fetchone() == ("ok",)
