"""`seaload size`: the README's command, one JSON object, exit codes."""

import json
from dataclasses import replace

import pytest

from seaload.command_line.main import exit_code_of
from seaload.studies.size import size as room
from tests import sized
from tests.small_study import STUDIES


def test_the_readme_prints_this_command():
    readme = (STUDIES.parents[1] / "README.md").read_text(encoding="utf-8")
    assert ".venv/bin/seaload size scenarios/sizing/size-demo.toml" in readme
    assert (STUDIES.parent / "sizing" / "size-demo.toml").is_file()


@pytest.fixture
def asked(monkeypatch, small_sizing):
    """What the command asked for, in place of hours of sea."""
    found = {}

    def size_study(study, *, out, workers, scheduler, account):
        found.update(name=study.study.name, seed=study.study.sampling.seed, out=out, workers=workers)
        return found.get("outcome", small_sizing)

    monkeypatch.setattr(room, "size_study", size_study)
    return found


def test_it_tells_the_answer_and_writes_the_page(asked, small_sizing, tmp_path, capsys):
    path = sized.written(tmp_path)
    asked["outcome"] = replace(small_sizing, failed=())
    assert exit_code_of(["size", str(path), "--out", str(tmp_path), "--seed", "5", "--workers", "1"]) == 0
    printed = capsys.readouterr()
    asked.pop("outcome")
    assert asked == {"name": "small-size", "seed": 5, "out": tmp_path, "workers": 1}
    words = ("The reverse limit ", "The normal limit ", "LEAST LIMITS", "WHAT CHANGES DO", "page: ", "not a warrant")
    for text in words:
        assert text in printed.out
    assert "usage: 2 cells" in printed.err  # what was assumed
    assert (small_sizing.result_path.parent / "report.html").is_file()


def test_json_is_one_object(asked, small_sizing, tmp_path, capsys):
    asked["outcome"] = replace(small_sizing, failed=())
    assert exit_code_of(["size", str(sized.written(tmp_path)), "--out", str(tmp_path), "--json", "--quiet"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert tree["command"] == "size" and tree["exit"] == 0 and len(tree["size"]["sides"]) == 2


def test_failed_cases_are_named_and_give_one(asked, small_sizing, tmp_path, capsys):
    asked["outcome"] = replace(small_sizing, failed=("setting 0, sea 'x', realisation 1: broached",))
    assert exit_code_of(["size", str(sized.written(tmp_path)), "--out", str(tmp_path), "--quiet"]) == 1
    assert "failed: setting 0, sea 'x', realisation 1: broached" in capsys.readouterr().err


def test_bad_input_is_one_line_and_writes_nothing(tmp_path, capsys):
    path = sized.written(tmp_path, table="hs_lower_m,tz_6\n2,0.5\n")
    assert exit_code_of(["size", str(path), "--out", str(tmp_path / "results")]) == 2
    printed = capsys.readouterr()
    assert printed.out == "" and printed.err.count("\n") == 1 and "shares that sum to 1" in printed.err
    assert not (tmp_path / "results").exists()
