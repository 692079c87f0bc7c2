"""`seaload log` on the example files: the README's command, its exit codes, one JSON object, nothing counted twice."""

import contextlib
import io
import json
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.command_line import main as command

TRUTH = Path(__file__).resolve().parents[1] / "twins" / "data" / "morning_truth.json"
LOGS = Path(__file__).resolve().parents[2] / "scenarios" / "logs"
MORNING = [LOGS / "morning.toml", LOGS / "morning-1.csv", LOGS / "morning-2.csv"]


@pytest.fixture(scope="module")
def morning(tmp_path_factory):
    """(folder of results, exit code, what was printed) after the README's command."""
    folder = tmp_path_factory.mktemp("results")
    with contextlib.redirect_stdout(io.StringIO()) as out:
        code = command.exit_code_of(["log", *map(str, MORNING), "--out", str(folder)])
    return folder, code, out.getvalue()


def call(capsys, *words):
    code = command.exit_code_of([str(word) for word in words])
    return code, *capsys.readouterr()


def test_a_morning_is_told_and_leaves_ledger_result_and_page(morning):
    folder, code, out = morning
    assert code == 0
    for words in ("demo-port-1", "full-load cycles", "station 3", "13 Mar 2026", "as recorded"):
        assert words in out
    left = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert left == {"ledger.sqlite", "morning/result.nc", "morning/report.html"}
    assert "Made data" in (folder / "morning" / "report.html").read_text(encoding="utf-8")


def test_wear_of_the_morning_is_that_without_its_faults_or_the_fault_is_told(morning):
    """Truth: the march as its logger would have written it without faults (tests/twins/make_example_logs.py)."""
    true = json.loads(TRUTH.read_text())
    logged = sum(np.array(part["logged"]) for part in true.values())
    with xr.open_dataset(morning[0] / "morning" / "result.nc") as data:
        wear = np.nansum(data["ledger_damage"].values, axis=(0, 1))
        findings = json.loads(data.attrs["judgement"])["findings"]
        as_recorded = data["log_damage_as_recorded"].values
    within = np.abs(wear / logged - 1.0) < 0.02
    assert within[:4].all()  # spikes, a zero that was not taken off, lost samples: all mended
    assert within[4] or any(f["channel"] == "strain_5" and f["test"] == "flat_line_test" for f in findings)
    assert any(f["test"] == "gap_test" and f["channel"] == "" for f in findings)
    assert np.any(np.abs(as_recorded / logged - 1.0) > 1.0)  # unmended it would have been twice as much


def test_the_same_files_again_add_nothing_and_the_object_has_its_keys(morning, capsys):
    before = (morning[0] / "ledger.sqlite").read_bytes()
    code, out, _ = call(capsys, "log", MORNING[0], MORNING[2], MORNING[1], "--out", morning[0], "--json")
    told = json.loads(out)
    assert code == 0 and told["cases"] == {"done": 0, "reused": 2, "failed": 0}
    for key in ("command", "version", "result", "exit", "cautions", "failed", "settings", "real_time_factor", "wall_s",
                "compile_s", "page"):  # fmt: skip
        assert key in told
    assert [json.loads(row["setting"])["extension"] for row in told["settings"]] == [0.7, 0.8]
    assert (morning[0] / "ledger.sqlite").read_bytes() == before


def test_no_files_and_no_description_are_one_line_each(tmp_path, capsys):
    for words in ((MORNING[0],), (tmp_path / "none.toml", MORNING[1]), (MORNING[0], tmp_path / "none.csv")):
        code, out, err = call(capsys, "log", *words, "--out", tmp_path / "out")
        assert code == 2 and out == "" and err.count("\n") == 1
    assert not (tmp_path / "out" / "morning").exists()
