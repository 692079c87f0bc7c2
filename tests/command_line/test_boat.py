"""`seaload boat`: the README's command, its exit codes, one JSON object, nothing written for a boat that cannot be."""

import json
from types import SimpleNamespace

import pytest

from seaload.command_line.main import exit_code_of
from seaload.files.result_file import read_result
from tests.boat_page import DEMO
from tests.small_study import STUDIES


def test_the_readme_prints_this_command():
    readme = (STUDIES.parents[1] / "README.md").read_text(encoding="utf-8")
    assert ".venv/bin/seaload boat scenarios/boats/demo.toml" in readme
    assert (STUDIES.parents[1] / "scenarios/boats/demo.toml") == DEMO


def test_it_writes_result_and_page_and_tells_the_answer(demo_check):
    assert demo_check.code == 0
    assert sorted(path.name for path in demo_check.folder.iterdir()) == ["boat.html", "result.nc"]
    for words in ("TO LOOK AT", "BY EXTENSION at 22 kn", "NATURAL MOTIONS", "GAUGES", "Defaults used", "page: "):
        assert words in demo_check.printed
    data = demo_check.dataset
    assert data.attrs["kind"] == "boat" and data.attrs["boat"] == "demo" and data.attrs["foil"] == "port"
    assert all(isinstance(value, str) for value in data.attrs.values())


def test_json_is_one_object_and_the_options_reach_the_study(demo_check, monkeypatch, capsys, tmp_path):
    from seaload.studies.boat import check

    asked = {}

    def looked_at(question, *, out, say=None):
        asked.update(heel=question.setting.heel, side=question.side, out=out)
        return SimpleNamespace(
            dataset=demo_check.dataset, result_path=tmp_path / "boat-demo" / "result.nc", done=72, reused=0, failed=(),
            compile_s=0.0, real_time_factor=float("nan"), settings=[{"speed": 1.0}],
        )  # fmt: skip

    monkeypatch.setattr(check, "check_boat", looked_at)
    options = ["--json", "--heel-deg", "12", "--foil", "starboard", "--out", str(tmp_path)]
    (tmp_path / "boat-demo").mkdir()
    code = exit_code_of(["boat", str(DEMO), *options])
    tree = json.loads(capsys.readouterr().out, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))
    assert code == 0 and asked["side"] == "starboard" and asked["heel"] == pytest.approx(0.20944, abs=1e-5)
    assert {"command", "version", "result", "exit", "cautions", "cases", "findings", "settings", "page"} <= set(tree)
    assert tree["command"] == "boat" and tree["cases"]["done"] == 72
    assert set(tree["findings"]) == {"mend", "look", "know"}


@pytest.mark.parametrize("options", [["none.toml"], ["--heel-deg", "50"], ["--foil", "middle"], ["--heel-deg", "x"]])
def test_wrong_input_is_one_line_and_exit_2(options, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    words = options if options[0].endswith(".toml") else [str(DEMO), *options]
    assert exit_code_of(["boat", *words]) == 2
    out, err = capsys.readouterr()
    assert out == "" and len(err.strip().splitlines()) == 1 and list(tmp_path.iterdir()) == []


def test_a_boat_that_cannot_float_is_one_line_and_exit_2(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = DEMO.read_text().replace("speed_table", "# speed_table").replace("mass_kg = 7600", "mass_kg = 95000")
    (tmp_path / "heavy.toml").write_text(text)
    assert exit_code_of(["boat", "heavy.toml"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and len(err.strip().splitlines()) == 1 and "mass_kg = 95000" in err
    assert [path.name for path in tmp_path.iterdir()] == ["heavy.toml"]


def test_the_second_boat_has_a_page_too(tmp_path, capsys):
    """A boat without sensors, speed table, moves and worked speeds."""
    boat = STUDIES.parents[1] / "tests" / "boats" / "second.toml"
    assert exit_code_of(["boat", str(boat), "--out", str(tmp_path), "--quiet"]) == 0
    printed = capsys.readouterr().out
    data = read_result(tmp_path / "boat-second" / "result.nc")
    assert "[sensors]: missing in the file" in printed and "Nothing here speaks against this file" in printed
    assert float(data["balanced"].values.mean()) > 0.9 and data.sizes["place"] == 4


def test_the_public_name_gives_the_dataset(demo_check, monkeypatch):
    import seaload
    from seaload.studies.boat import check

    monkeypatch.setattr(check, "check_boat", lambda question, *, out: SimpleNamespace(dataset=demo_check.dataset))
    assert seaload.boat_check(DEMO, heel_deg=15.0) is demo_check.dataset


def test_a_page_that_cannot_be_made_costs_no_answer(demo_check, monkeypatch, capsys, tmp_path):
    from seaload.report import write_pages
    from seaload.studies.boat import check

    def no_page(dataset, folder):
        raise ValueError("no such\ncolour")

    found = SimpleNamespace(dataset=demo_check.dataset, result_path=tmp_path / "boat-demo" / "result.nc", done=72,
                            reused=0, failed=(), settings=[])  # fmt: skip
    monkeypatch.setattr(check, "check_boat", lambda question, *, out, say=None: found)
    monkeypatch.setattr(write_pages, "write_boat_pages", no_page)
    assert exit_code_of(["boat", str(DEMO), "--out", str(tmp_path), "--quiet"]) == 0
    out, err = capsys.readouterr()
    assert err.splitlines() == ["missing: the page beside the result (ValueError: no such colour)"]
    assert "result: " in out and "page: " not in out and len(out.splitlines()) > 10
