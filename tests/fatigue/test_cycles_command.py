"""`seaload cycles` and its reader: answers of the standard, file forms, bad files."""

import json
import os

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.command_line.cycles import cycles_command
from seaload.command_line.damage_rule import damage_rule
from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.streamed_cycles import StreamedCycles
from seaload.files.load_history import load_pieces
from seaload.scenario import text_file
from tests.benchmarks.bench_process import timed

ASTM_HISTORY = [-2, 1, -3, 5, -1, 3, -4, 4, -2]
ASTM_COUNTS = {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}  # E1049-85 Fig. 6, read in open test data


@pytest.fixture
def written(tmp_path):
    def write(text):
        path = tmp_path / "load.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return write


FORMS = {
    "bare": "\n".join(f"{v}" for v in ASTM_HISTORY),
    "header": "load_kn\n" + "\n".join(f"{v}" for v in ASTM_HISTORY) + "\n",
    "time": "time_s,load\n" + "\n".join(f"{0.1 * i:.1f},{v}" for i, v in enumerate(ASTM_HISTORY)),
    "semicolon": "# from a rig\n\nt;load\n" + "\n".join(f"{i};{v}" for i, v in enumerate(ASTM_HISTORY)),
    "byte order mark": "\ufeffload\r\n" + "\r\n".join(f"{v}" for v in ASTM_HISTORY),
}


@pytest.mark.parametrize("form", FORMS)
def test_json_holds_the_counts_of_the_standard(form, written, capsys):
    assert cycles_command(written(FORMS[form]), True) == 0
    out, err = capsys.readouterr()
    result = json.loads(out)
    sums = {}
    for cycle in result["cycles"]:
        assert set(cycle) == {"range", "mean", "count"}
        sums[cycle["range"]] = sums.get(cycle["range"], 0.0) + cycle["count"]
    assert sums == ASTM_COUNTS
    assert "half" in result["residue_rule"] and err == ""
    assert result["damage"] == pytest.approx(2848969501.0 / 1e6, rel=1e-12)  # sum n S^10, derived table


def test_table_is_readable(written, capsys):
    assert cycles_command(written("\n".join(str((-1) ** i * i) for i in range(60))), False) == 0
    out = capsys.readouterr().out
    assert "range" in out and "smaller ones" in out and "damage" in out and "half" in out


def test_a_constant_load_has_no_cycles(written, capsys):
    assert cycles_command(written("5\n5\n5\n"), True) == 0
    result = json.loads(capsys.readouterr().out)
    assert result["cycles"] == [] and result["damage"] == 0.0


def test_damage_follows_the_slope_and_the_reference_asked_for(written, capsys):
    path = written(FORMS["bare"])
    sums = {slope: sum(n * size**slope for size, n in ASTM_COUNTS.items()) for slope in (3, 10)}  # any text: Miner 1945
    for slope, reference in ((3, 2.0), (10, 5.0)):
        assert cycles_command(path, True, damage_rule(slope, reference, None, None, None)) == 0
        result = json.loads(capsys.readouterr().out)
        assert result["damage"] == pytest.approx(sums[slope] / reference**slope / 1e6, rel=1e-12)
        assert f"range {reference:g}" in result["damage_rule"] and f"slope {slope:g}" in result["damage_rule"]


def test_with_limits_a_million_cycles_from_nothing_to_the_normal_limit_cost_one():
    rule = damage_rule(12.0, None, 40.0, 16.0, None)
    assert rule.of(np.array([40.0]), np.array([20.0]), np.array([1e6])) == pytest.approx(1.0, rel=1e-12)
    # one cycle right through both ultimate loads, 2.5 times the limits, breaks it: exactly 1, whatever the slope
    assert rule.of(np.array([2.5 * 56.0]), np.array([1.25 * 24.0]), np.array([1.0])) == 1.0
    # the same range hurts more where its mean has moved toward the weaker, reverse side (constant-life diagram)
    assert rule.of(np.array([40.0]), np.array([-10.0]), np.array([1.0])) > 5.0 * 1e-6


@pytest.mark.parametrize(("asked", "name"), [
    ((0.5, None, None, None, None), "--slope"), ((10.0, -1.0, None, None, None), "--reference"),
    ((10.0, None, 3.0, None, None), "--reverse-limit"), ((10.0, 2.0, 3.0, 1.0, None), "--reference"),
    ((10.0, None, None, None, 3.0), "--ultimate-over-limit"), ((float("nan"), None, None, None, None), "--slope"),
])  # fmt: skip
def test_a_rule_that_cannot_be_is_one_line_with_its_option(asked, name):
    with pytest.raises(InputError, match=name):
        damage_rule(*asked)


BAD = {
    "text": ("load\n1\n2\nthree\n4\n", "line 4"),
    "nan": ("1\n2\nnan\n4\n", "line 3"),
    "infinity": ("1\n-inf\n3\n", "line 2"),
    "hole": ("t,load\n0,1\n1,\n2,3\n", "line 3"),
    "one value": ("load\n1\n", "at least 2"),
    "empty": ("", "at least 2"),
    "only words": ("time,load\n", "at least 2"),
    "three columns": ("1,2,3\n4,5,6\n", "columns"),
    "ragged": ("0,1\n1,2,3\n", "line 2"),
    "time back": ("0,1\n2,2\n1,3\n", "line 3"),
    "huge": ("1e300\n-1e300\n", "unit"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_are_one_clear_line(name, written, capsys):
    text, expected = BAD[name]
    with pytest.raises(InputError) as caught:
        cycles_command(written(text), True)
    message = str(caught.value)
    assert expected in message and "load.csv" in message and "\n" not in message
    assert capsys.readouterr().out == ""


def test_missing_folder_and_binary_files(tmp_path):
    (tmp_path / "noise.csv").write_bytes(bytes(range(256)))
    for path in (tmp_path / "none.csv", tmp_path, tmp_path / "noise.csv"):
        with pytest.raises(InputError):
            list(load_pieces(path))


@pytest.mark.parametrize("form", [*FORMS, *BAD])
@pytest.mark.parametrize("size", [12, 40])
def test_a_file_read_in_pieces_says_what_it_says_whole(form, size, written, monkeypatch):
    """Loads, or the line that is at fault, wherever a piece ends."""

    def told():
        try:
            return np.concatenate(list(load_pieces(path))).tolist()
        except InputError as error:
            return str(error)

    path = written(FORMS[form] if form in FORMS else BAD[form][0])
    whole = told()
    monkeypatch.setattr(text_file.text_pieces, "__kwdefaults__", {"field": "file", "size": size})
    assert told() == whole


def test_a_line_without_end_is_one_line(written, monkeypatch):
    monkeypatch.setattr(text_file.text_pieces, "__kwdefaults__", {"field": "file", "size": 100})
    with pytest.raises(InputError, match="a line is longer"):
        list(load_pieces(written("1," * 300)))


def test_cycles_of_pieces_are_those_of_the_whole():
    """ASTM E1049-85 counts a history; where it is cut does not matter."""
    lot = np.random.default_rng(5)
    histories = [np.array(ASTM_HISTORY, dtype=float), np.zeros(7), np.repeat(lot.integers(-3, 4, 60), 2) * 1.0]
    histories += [np.cumsum(lot.normal(size=400)), lot.normal(size=400)]
    for history in histories:
        for cuts in ([0, 1, 2, 3], [len(history) - 1], sorted(lot.integers(0, len(history), 9)), range(len(history))):
            counter = StreamedCycles()
            found = [counter.add(piece) for piece in np.split(history, cuts)] + [counter.finish()]
            for ours, whole in zip(map(np.concatenate, zip(*found, strict=True)), list_cycles(history), strict=False):
                assert np.array_equal(ours, whole)


@pytest.mark.slow  # minutes
@pytest.mark.timeout(3600)
def test_a_hundred_million_samples_are_counted_in_little_memory(tmp_path):
    """SEALOAD_SAMPLES names another number. The peak of a process of its own, less that of one with a thousand."""
    path, samples, lot = tmp_path / "long.csv", int(os.environ.get("SEALOAD_SAMPLES", 10**8)), np.random.default_rng(1)
    peaks, took = [], []
    for size in (1000, samples):
        with path.open("w") as stream:
            for first in range(0, size, 10**6):
                stream.write("\n".join(map(str, lot.integers(-99, 99, min(10**6, size - first)).tolist())) + "\n")
        seconds, peak = timed(["cycles", str(path)])
        peaks.append(peak)
        took.append(seconds)
    print(f"{samples} samples, {path.stat().st_size / 1e6:.0f} MB: {took[1]:.0f} s, peaks {peaks} MB")
    assert peaks[1] - peaks[0] < 150.0
