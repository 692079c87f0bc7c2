"""A log says the same however it was exported: separator, decimal mark, byte-order mark, order and overlap of files."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seaload.basis.units import DEGREE, MICROSTRAIN
from seaload.files.log.log_chunk import AFTER_GAP, FIRST, NEW_SETTING
from seaload.files.log.read_log import look_at, read_log
from tests.files.log.log_makers import START, described, motion, table, whole

ONE_FOLDER = [HealthCheck.function_scoped_fixture]


def written(folder, texts):
    """Paths of the texts, each in a file of its own."""
    paths = []
    for i, text in enumerate(texts):
        paths.append(folder / f"part{i}.csv")
        paths[-1].write_bytes(text if isinstance(text, bytes) else text.encode())
    return paths


def test_values_are_si_and_times_are_seconds_of_utc(tmp_path):
    time, columns = motion(500)
    found_time, found = whole(read_log(described(tmp_path), written(tmp_path, [table(time, columns)])))
    np.testing.assert_allclose(found_time, time, rtol=0, atol=1e-6)
    np.testing.assert_allclose(found["strain_1"], columns["gauge 1"] * MICROSTRAIN, rtol=1e-12)
    np.testing.assert_allclose(found["pitch"], columns["nose"] * DEGREE, rtol=1e-12)


@settings(max_examples=25, deadline=None, suppress_health_check=ONE_FOLDER)
@given(
    layout=st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", ","), ("|", "."), ("\t", ".")]),
    mark=st.booleans(),
    quote=st.sampled_from(["", '"']),
    end=st.sampled_from(["\n", "\r\n"]),
    above=st.sampled_from(["", "# a remark\n# of two lines\n", "Export 7;of;things\n\n"]),
    word=st.sampled_from(["", "NaN", "NA", "-"]),
)
def test_the_way_a_table_is_written_changes_nothing(tmp_path, layout, mark, quote, end, above, word):
    time, columns = motion(60)
    columns["gauge 1"][7] = np.nan
    log = described(tmp_path)
    plain = whole(read_log(log, written(tmp_path, [table(time, columns)])))
    text = above + table(time, columns, *layout, quote=quote, end=end, word=word)
    other = whole(read_log(log, written(tmp_path, [b"\xef\xbb\xbf" * mark + text.encode()])))
    np.testing.assert_array_equal(plain[0], other[0])
    for channel in plain[1]:
        np.testing.assert_array_equal(plain[1][channel], other[1][channel])


@settings(max_examples=40, deadline=None, suppress_health_check=ONE_FOLDER)
@given(
    cuts=st.lists(st.tuples(st.integers(0, 390), st.integers(2, 200)), min_size=1, max_size=6),
    order=st.randoms(use_true_random=False),
    block=st.sampled_from([300, 2000, 100_000]),
)
def test_overlapping_files_in_any_order_give_each_moment_once(tmp_path, monkeypatch, cuts, order, block):
    monkeypatch.setattr("seaload.files.log.log_files.table_blocks", small_blocks(block))
    time, columns = motion(400)
    parts = [table(time[a : a + n], {k: v[a : a + n] for k, v in columns.items()}) for a, n in cuts]
    rows = np.unique(np.concatenate([np.arange(a, min(a + n, 400)) for a, n in cuts]))
    paths = written(tmp_path, parts)
    order.shuffle(paths)
    reading = look_at(described(tmp_path), paths)
    found_time, found = whole(read_log(described(tmp_path), paths))
    np.testing.assert_allclose(found_time, time[rows], rtol=0, atol=1e-6)
    np.testing.assert_allclose(found["strain_1"], columns["gauge 1"][rows] * MICROSTRAIN, rtol=1e-12)
    assert reading.step == pytest.approx(0.02, abs=1e-6)


def small_blocks(size):
    """The table reader with blocks of so many bytes."""
    from seaload.files.log.table_rows import table_blocks

    return lambda path, layout, end, log, skipped: table_blocks(path, layout, end, log, skipped, size)


def test_a_hole_in_one_file_is_filled_by_another(tmp_path):
    time, columns = motion(300)
    hole = np.r_[0:100, 200:300]
    parts = [
        table(time[hole], {k: v[hole] for k, v in columns.items()}),
        table(time[50:250], {k: v[50:250] for k, v in columns.items()}),
    ]
    reading = look_at(described(tmp_path), written(tmp_path, parts))
    chunks = list(read_log(described(tmp_path), written(tmp_path, parts)))
    np.testing.assert_allclose(whole(chunks)[0], time, rtol=0, atol=1e-6)
    assert [chunk.reason for chunk in chunks if chunk.starts_stretch] == [FIRST]
    assert reading.loggers[0].files[0].path.name == "part0.csv"


def test_a_gap_starts_a_stretch_and_a_lost_sample_does_not(tmp_path):
    time, columns = motion(300)
    rows = np.r_[0:100, 101:200, 250:300]
    text = table(time[rows], {k: v[rows] for k, v in columns.items()})
    chunks = list(read_log(described(tmp_path), written(tmp_path, [text])))
    starts = [(chunk.reason, round(chunk.time[0] - START, 2)) for chunk in chunks if chunk.starts_stretch]
    assert starts == [(FIRST, 0.0), (AFTER_GAP, 5.0)]


def test_no_chunk_spans_a_change_of_setting(tmp_path):
    time, columns = motion(300)
    (tmp_path / "diary.csv").write_text(
        "time;extension_percent;rake_deg;sails\n2026-03-13T05:40;80;2,5;two reefs\n2026-03-13T05:40:03;;3;\n"
    )
    log = described(tmp_path, more='diary = "diary.csv"')
    chunks = list(read_log(log, written(tmp_path, [table(time, columns)]), chunk_rows=64))
    starts = [chunk for chunk in chunks if chunk.starts_stretch]
    assert [(chunk.reason, round(chunk.time[0] - START, 2)) for chunk in starts] == [(FIRST, 0.0), (NEW_SETTING, 3.0)]
    assert [round(chunk.setting.rake / DEGREE, 9) for chunk in starts] == [2.5, 3.0]
    assert all(chunk.setting.extension == 0.8 and chunk.setting.sails == "two reefs" for chunk in chunks)
    assert max(len(chunk.time) for chunk in chunks) <= 64


def test_a_recorded_setting_goes_before_the_diary_and_its_wobble_is_no_change(tmp_path):
    time, columns = motion(1500)
    rng = np.random.default_rng(3)
    columns["rake"] = np.where(np.arange(1500) < 600, 2.0, 4.0) + rng.normal(0.0, 0.02, 1500)
    log = described(
        tmp_path,
        {
            "stamp": ("time", "iso", ""),
            "gauge 1": ("strain_1", "microstrain", ""),
            "rake": ("rake", "deg", ""),
        },
    )
    chunks = list(read_log(log, written(tmp_path, [table(time, columns)])))
    starts = [chunk for chunk in chunks if chunk.starts_stretch]
    assert [chunk.reason for chunk in starts] == [FIRST, NEW_SETTING]
    assert starts[1].setting.rake / DEGREE == pytest.approx(4.0, abs=0.02)
    assert starts[1].time[0] == pytest.approx(START + 600 * 0.02 + 5.0, abs=0.05), "held for five seconds"


def test_a_wall_clock_is_brought_to_utc(tmp_path):
    time, columns = motion(50)
    text = table(time + 3600.0, columns)
    found, _ = whole(read_log(described(tmp_path, zone="Europe/Paris"), written(tmp_path, [text])))
    np.testing.assert_allclose(found, time, rtol=0, atol=1e-6)


def test_two_loggers_become_one_record_with_their_clocks_matched(tmp_path):
    time, columns = motion(6000)
    late = time[::5] + 7.3
    texts = [
        table(time, columns),
        table(late, {"bow": columns["nose"][::5], "roll": 3.0 * columns["nose"][::5]}),
    ]
    log = described(
        tmp_path,
        {
            "stamp": ("time", "iso", ""),
            "gauge 1": ("strain_1", "microstrain", ""),
            "nose": ("pitch", "deg", ""),
            "bow": ("pitch", "deg", ""),
            "roll": ("roll", "deg", ""),
        },
        more='[clock]\nchannel = "pitch"\nmost_shift_s = 20',
    )
    paths = written(tmp_path, texts)
    reading = look_at(log, paths)
    (shift,) = reading.clock_shifts
    assert (shift.file, shift.reference) == ("part1.csv", "part0.csv")
    assert shift.shift == pytest.approx(-7.3, abs=0.02) and shift.correlation > 0.99
    found_time, found = whole(read_log(log, paths))
    assert len(found_time) == 6000
    inside = slice(10, 5900)
    np.testing.assert_allclose(found["roll"][inside], 3.0 * found["pitch"][inside], atol=0.3 * DEGREE)
