"""What is wrong with a file is one line, or a skip that is told; never a traceback, never a silent guess."""

import netCDF4
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seaload.basis.errors import InputError
from seaload.files.log.judge import judge
from seaload.files.log.log_chunk import MISSING
from seaload.files.log.read_log import read_log
from tests.files.log.log_makers import COLUMNS, START, described, motion, table, whole

TIME, VALUES = motion(200)
GOOD_TEXT = table(TIME, VALUES)


def with_line(number, text):
    """The good table with one line replaced (from 0, the header)."""
    lines = GOOD_TEXT.splitlines(keepends=True)
    return "".join([*lines[:number], text, *lines[number + 1 :]])


WHOLE_FILES = {
    "empty": (b"", "the file is empty"),
    "binary junk": (bytes(range(256)) * 40, "not a text table"),
    "junk without zero bytes": (bytes(range(128, 256)) * 40, "lines must end|no column"),
    "another table": (b"a,b\n1,2\n", "no column of log.toml stands in it"),
    "no time": (GOOD_TEXT.replace("stamp", "moment").encode(), 'no time column "stamp"'),
    "header only": (GOOD_TEXT.splitlines()[0].encode() + b"\n", "no row that can be read"),
    "both decimal marks": (
        GOOD_TEXT.replace(",", ";").replace(".5", ",5", 40).encode(), "decimal comma|a number|stamp|cells",
    ),
    "stamps that stand still": (
        "\n".join([GOOD_TEXT.splitlines()[0], *(f"2026-03-13T05:40:0{i // 50},1,2" for i in range(200)), ""]).encode(),
        "stamps stand still",
    ),
    "some stamps with a zone": (
        GOOD_TEXT.replace("05:40:01.000", "05:40:01.000Z").encode(), "some stamps name their zone",
    ),
    "day first": (
        "\n".join([GOOD_TEXT.splitlines()[0], *(f"13/03/2026 05:40:0{i},1,2" for i in range(9))]).encode() + b"\n",
        "is not a stamp as its unit says",
    ),
    "old line ends": (GOOD_TEXT.replace("\n", "\r").encode(), "lines must end by a newline"),
    "units in the way": (
        GOOD_TEXT.replace("gauge 1,nose\n", "gauge 1,nose\n,microstrain,rad\n").encode(), 'says "deg"',
    ),
    "broken netCDF": (b"\x89HDF\r\n\x1a\n" + b"x" * 500, "cannot be read as netCDF"),
}  # fmt: skip


@pytest.mark.parametrize("case", WHOLE_FILES)
def test_a_file_that_cannot_be_read_is_one_line(tmp_path, case):
    content, said = WHOLE_FILES[case]
    path = tmp_path / "bad.csv"
    path.write_bytes(content)
    log = described(tmp_path)
    with pytest.raises(InputError, match=said) as refusal:
        list(judge(log, [path]))
    assert "\n" not in str(refusal.value) and "bad.csv" in str(refusal.value)


def test_beside_a_good_file_it_is_skipped_with_its_reason(tmp_path):
    (tmp_path / "good.csv").write_text(GOOD_TEXT)
    (tmp_path / "bad.csv").write_bytes(bytes(range(256)) * 40)
    *chunks, judgement = judge(described(tmp_path), [tmp_path / "bad.csv", tmp_path / "good.csv"])
    assert sum(len(c.time) for c in chunks) == 200
    ((file, reason, _),) = judgement.skipped
    assert file == "bad.csv" and "not a text table" in reason


def test_a_column_that_no_file_has_names_the_nearest(tmp_path):
    (tmp_path / "good.csv").write_text(GOOD_TEXT)
    log = described(tmp_path, {**COLUMNS, "gauge 2": ("strain_2", "microstrain", "")})
    with pytest.raises(InputError, match='no file has this column: not "gauge 2" .the nearest is "gauge 1"'):
        list(read_log(log, [tmp_path / "good.csv"]))


def test_a_column_of_words_is_not_taken_for_numbers(tmp_path):
    rows = [f"2026-03-13T05:40:{i:02d},port,2" for i in range(50)]
    (tmp_path / "words.csv").write_text("\n".join([GOOD_TEXT.splitlines()[0], *rows]) + "\n")
    with pytest.raises(InputError, match="column gauge 1 = .*line 2.*port.*is not a number"):
        list(read_log(described(tmp_path), [tmp_path / "words.csv"]))


def test_one_odd_value_is_missing_and_told(tmp_path):
    (tmp_path / "odd.csv").write_text(with_line(50, f"2026-03-13T05:40:00.980,overload,{VALUES['nose'][49]}\n"))
    *chunks, judgement = judge(described(tmp_path), [tmp_path / "odd.csv"])
    assert judgement.counts["strain_1"]["gap_test"][MISSING] == 1
    assert any("line 51" in s.reason and "overload" in s.reason and s.rows == 1 for s in judgement.skipped)
    assert [r.kind for r in judgement.repairs] == ["missing"]


def test_a_line_with_too_few_cells_is_left_out_and_told(tmp_path):
    (tmp_path / "short.csv").write_text(with_line(50, "2026-03-13T05:40:00.980\n"))
    *chunks, judgement = judge(described(tmp_path), [tmp_path / "short.csv"])
    assert judgement.samples == 199
    assert any("another number of cells" in s.reason and "line 51" in s.reason for s in judgement.skipped)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cut=st.integers(60, 2000))
def test_a_file_still_being_written_is_read_up_to_its_last_whole_line(tmp_path, cut):
    path = tmp_path / "growing.csv"
    path.write_text(GOOD_TEXT[:-cut])
    lines = GOOD_TEXT[:-cut].split("\n")
    *chunks, judgement = judge(described(tmp_path), [path])
    assert judgement.samples == len(lines) - 2, "the header and what is after the last newline are no rows"
    np.testing.assert_allclose(whole(chunks)[0], TIME[: len(lines) - 2], rtol=0, atol=1e-6)
    if lines[-1]:
        assert any("still being written" in s.reason for s in judgement.skipped)


def test_what_is_added_while_it_is_read_waits_for_the_next_time(tmp_path):
    path = tmp_path / "growing.csv"
    path.write_text(GOOD_TEXT)
    chunks = judge(described(tmp_path), [path])
    with open(path, "a") as stream:
        stream.write("2026-03-13T05:40:04.000,1,2\n")
    first = next(chunks)
    assert len(first.time) in (200, 201)


@pytest.mark.parametrize(("first", "count"), [(100, 1), (100, 30), (60, 5)])
def test_stamps_that_run_backward_are_left_out_and_told(tmp_path, first, count):
    shifted = TIME.copy()
    shifted[first : first + count] -= 1.5
    (tmp_path / "back.csv").write_text(table(shifted, VALUES))
    *chunks, judgement = judge(described(tmp_path), [tmp_path / "back.csv"])
    time = whole(chunks)[0]
    assert np.all(np.diff(time) > 0.0) and len(time) == 200 - count
    assert any("not after the one before" in s.reason and s.rows == count for s in judgement.skipped)


def test_one_stamp_that_runs_ahead_does_not_take_the_rest_with_it(tmp_path):
    shifted = TIME.copy()
    shifted[80] += 4000.0
    (tmp_path / "ahead.csv").write_text(table(shifted, VALUES))
    time, _ = whole(read_log(described(tmp_path), [tmp_path / "ahead.csv"]))
    np.testing.assert_allclose(time, np.delete(TIME, 80), rtol=0, atol=1e-6)


def test_an_hour_that_the_wall_clock_shows_twice_is_refused(tmp_path):
    """Europe/Paris, 25 October 2026: 03:00 becomes 02:00 (IANA time zone data)."""
    moved = TIME - START + 1792895400.0
    (tmp_path / "autumn.csv").write_text(table(moved, VALUES))
    with pytest.raises(InputError, match="2026-10-25T02:30.*clocks of Europe/Paris were changed"):
        list(read_log(described(tmp_path, zone="Europe/Paris"), [tmp_path / "autumn.csv"]))


def test_a_netcdf_unit_other_than_the_described_one_is_refused(tmp_path):
    with netCDF4.Dataset(tmp_path / "unit.nc", "w") as dataset:
        dataset.createDimension("stamp", 10)
        for name, unit in {"stamp": "seconds since 2026-03-13", "gauge 1": "microstrain", "nose": "radian"}.items():
            variable = dataset.createVariable(name, "f8", ("stamp",))
            variable.units, variable[:] = unit, np.arange(10.0)
    with pytest.raises(InputError, match='unit of nose = .rad.: the description says "deg"'):
        list(read_log(described(tmp_path), [tmp_path / "unit.nc"]))


def test_clocks_of_two_unlike_records_are_not_matched(tmp_path):
    time, columns = motion(4000, seed=1)
    rng = np.random.default_rng(5)
    (tmp_path / "a.csv").write_text(table(time, columns))
    (tmp_path / "b.csv").write_text(table(time, {"bow": rng.normal(0.0, 1.0, 4000)}))
    log = described(tmp_path, {**COLUMNS, "bow": ("pitch", "deg", "")}, more='[clock]\nchannel = "pitch"')
    with pytest.raises(InputError, match="clocks cannot be matched by pitch .highest correlation 0"):
        list(read_log(log, [tmp_path / "a.csv", tmp_path / "b.csv"]))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(place=st.integers(0, len(GOOD_TEXT) - 1), junk=st.binary(min_size=1, max_size=30))
def test_junk_anywhere_in_a_file_is_a_line_or_a_skip_never_a_crash(tmp_path, place, junk):
    data = GOOD_TEXT.encode()
    (tmp_path / "junk.csv").write_bytes(data[:place] + junk + data[place + len(junk) :])
    try:
        *chunks, judgement = judge(described(tmp_path), [tmp_path / "junk.csv"])
    except InputError as refusal:
        assert "\n" not in str(refusal)
        return
    for chunk in chunks:
        assert np.all(np.isfinite(chunk.time)) and np.all(np.diff(chunk.time) > 0.0)
        for channel, values in chunk.values.items():
            assert np.all(np.isfinite(values) | (chunk.flags[channel] == MISSING))
