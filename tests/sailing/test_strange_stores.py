"""Stores that are damaged or another program's: one line with the remedy and exit 3, never a traceback."""

import sqlite3

import numpy as np
import pytest

from seaload.basis.errors import CannotRun
from seaload.files.ledger.store import LEDGER_NAME, Ledger
from seaload.files.sole_writer import REMEDY
from seaload.sailing.case_store import INPUTS, STORE_NAME, CaseStore
from tests.sailing.test_case_store import case, inputs

COUNT = 40


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """Bytes of a store with finished cases."""
    folder = tmp_path_factory.mktemp("whole")
    with CaseStore(folder) as store:
        store.add([(f"{i:064d}", inputs(), case(float(i))) for i in range(COUNT)])
    return (folder / STORE_NAME).read_bytes()


def used(folder):
    """Every question a study asks of its store."""
    with CaseStore(folder) as store:
        store.count()
        store.changed_inputs({name: {"x"} for name in INPUTS})
        store.find([f"{i:064d}" for i in range(COUNT)])
        store.add([("new", inputs(), case(1.0))])
        store.delete_others(["new"])


def refused(folder, use=used):
    with pytest.raises(CannotRun) as caught:
        use(folder)
    line = str(caught.value)
    assert "\n" not in line and REMEDY in line and caught.value.exit_code == 3
    return line


@pytest.mark.parametrize("seed", range(30))
def test_damaged_pages_are_refused_or_still_hold_what_they_held(tmp_path, whole, seed):
    lot = np.random.default_rng(seed)
    raw = bytearray(whole)
    for _ in range(20):
        at = int(lot.integers(100, len(raw)))
        raw[at : at + 16] = lot.bytes(16)
    (tmp_path / STORE_NAME).write_bytes(raw[: lot.integers(len(raw) // 2, len(raw))] if seed % 3 == 0 else raw)
    try:
        used(tmp_path)
    except CannotRun as error:
        assert REMEDY in str(error) and "\n" not in str(error)


def test_no_database_a_strangers_table_and_foreign_letters(tmp_path):
    (tmp_path / STORE_NAME).write_bytes(b"this is no database" * 100)
    refused(tmp_path)
    (tmp_path / STORE_NAME).unlink()
    with sqlite3.connect(tmp_path / STORE_NAME) as base:
        base.execute("CREATE TABLE cases (name TEXT, price REAL)")
    base.close()
    assert "not made by seaload" in refused(tmp_path)


@pytest.mark.parametrize("column", ["key", "boat"])
def test_text_that_is_not_utf_8(tmp_path, whole, column):
    (tmp_path / STORE_NAME).write_bytes(whole)
    with sqlite3.connect(tmp_path / STORE_NAME) as base:
        base.execute(f"UPDATE cases SET {column} = CAST(x'ff00ff' AS TEXT) WHERE rowid = 1")
    base.close()
    refused(tmp_path)


@pytest.mark.parametrize("record", ["x'00'", "'text'", "NULL", "7"])
def test_a_record_that_is_none(tmp_path, whole, record):
    (tmp_path / STORE_NAME).write_bytes(whole)
    with sqlite3.connect(tmp_path / STORE_NAME) as base:
        base.execute("CREATE TABLE c AS SELECT * FROM cases")
        base.execute("DROP TABLE cases")
        base.execute("ALTER TABLE c RENAME TO cases")
        base.execute(f"UPDATE cases SET record = {record} WHERE rowid = 3")
    base.close()
    refused(tmp_path)


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE page SET curve = '{}'",
        "UPDATE page SET curve = 'no JSON'",
        "UPDATE page SET curve = '[1, 2]'",
        "UPDATE page SET curve = CAST(x'ff' AS TEXT)",
        "DROP TABLE stretch",
        "INSERT INTO stretch (page, file, place, start, stop, damage, damage_steep, cycles, residue, excursions)"
        " VALUES (1, 'f', 'strain_1', 'early', 'late', 0, 0, x'00', x'00', x'00')",
    ],
)
def test_a_ledger_with_strange_rows(tmp_path, change):
    from seaload.files.ledger.curve import Curve

    curve = Curve(*(1.0 for _ in Curve._fields))

    def read(folder):
        with Ledger(folder) as ledger:
            page = ledger.page("P-1", "as built", curve)
            ledger.pages("P-1")
            ledger.counted(page)
            ledger.stretches(page)
            ledger.files(page)

    read(tmp_path)
    with sqlite3.connect(tmp_path / LEDGER_NAME) as base:
        base.execute(change)
    base.close()
    if change.startswith("DROP"):
        return read(tmp_path)  # an empty table is made anew
    refused(tmp_path, read)
