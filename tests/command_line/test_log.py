"""`seaload log` on the example files: the README's command, its exit codes, one JSON object, nothing counted twice."""

import json
from pathlib import Path

import pytest

from seaload.command_line import main as command

LOGS = Path(__file__).resolve().parents[2] / "scenarios" / "logs"
MORNING = [LOGS / "morning.toml", LOGS / "morning-1.csv", LOGS / "morning-2.csv"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("results")


def call(capsys, *words):
    code = command.exit_code_of([str(word) for word in words])
    return code, *capsys.readouterr()


def test_a_morning_is_told_and_leaves_ledger_result_and_page(folder, capsys):
    code, out, err = call(capsys, "log", *MORNING, "--out", folder)
    assert code == 0, err
    for words in ("demo-port-1", "full-load cycles", "station 1", "13 Mar 2026", "as recorded"):
        assert words in out
    left = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert left == {"ledger.sqlite", "morning/result.nc", "morning/report.html"}
    assert "Made data" in (folder / "morning" / "report.html").read_text()


def test_the_same_files_again_add_nothing_and_the_object_has_its_keys(folder, capsys):
    code, out, _ = call(capsys, "log", MORNING[0], MORNING[2], MORNING[1], "--out", folder, "--json")
    told = json.loads(out)
    assert code == 0 and told["cases"] == {"done": 0, "reused": 2, "failed": 0}
    for key in ("command", "version", "result", "exit", "cautions", "failed", "settings", "real_time_factor", "wall_s",
                "compile_s", "page"):  # fmt: skip
        assert key in told
    assert [json.loads(row["setting"])["extension"] for row in told["settings"]] == [0.7, 0.8]


def test_no_files_and_no_description_are_one_line_each(tmp_path, capsys):
    for words in ((MORNING[0],), (tmp_path / "none.toml", MORNING[1]), (MORNING[0], tmp_path / "none.csv")):
        code, out, err = call(capsys, "log", *words, "--out", tmp_path / "out")
        assert code == 2 and out == "" and err.count("\n") == 1
    assert not (tmp_path / "out" / "morning").exists()
