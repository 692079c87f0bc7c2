"""`seaload cycles` and its reader: answers of the standard, file forms, bad files."""

import json

import pytest

from seaload.basis.errors import InputError
from seaload.command_line.cycles import cycles_command
from seaload.files.load_history import read_load_history

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
            read_load_history(path)
