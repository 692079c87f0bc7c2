"""`seaload leg`: the README's command and example on the example leg, one JSON object, exit codes. The library is the
invented one, said to be of the demo boat; nothing is marched.
"""

import json
import re
import shutil
from pathlib import Path

import numpy as np
import pytest
import xarray as xr
from scipy.stats import spearmanr

from seaload.command_line.main import exit_code_of
from seaload.studies.leg import plan_leg as room
from tests.strangers.test_python_calls import paragraph
from tests.studies.leg.invented_leg import DEMO_SETTINGS, made_library

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_readme_prints_this_command():
    assert ".venv/bin/seaload leg scenarios/legs/demo.toml" in README and "--march-missing" in README
    assert (ROOT / "scenarios" / "legs" / "demo.toml").is_file()


@pytest.fixture
def asked(monkeypatch):
    """What the command asked for; a description that is wrong in place of a leg."""
    found = {}

    def leg_file(path, **how):
        found.update(path=str(path), **{name: how[name] for name in ("out", "seed", "workers", "march_missing")})
        raise room.InputError("leg.toml", "library", "x.nc", "no such file")

    monkeypatch.setattr(room, "leg_file", leg_file)
    return found


def test_options_reach_the_plan_and_wrong_input_is_one_line(asked, tmp_path, capsys):
    words = ["leg", "a.toml", "--out", str(tmp_path), "--seed", "4", "--workers", "1", "--march-missing", "--json"]
    assert exit_code_of(words) == 2
    printed = capsys.readouterr()
    assert printed.out == "" and printed.err.count("leg.toml: library = 'x.nc': no such file") == 1
    assert asked == {"path": "a.toml", "out": tmp_path, "seed": 4, "workers": 1, "march_missing": True}


@pytest.fixture(scope="module")
def checkout(tmp_path_factory):
    """A copy of the scenarios with the library in its results folder; the plan is not marched again."""
    folder = tmp_path_factory.mktemp("leg")
    shutil.copytree(ROOT / "scenarios", folder / "scenarios")
    path = folder / "scenarios" / "legs" / "demo.toml"
    text = re.sub(r"(?m)^marches = \d+", "marches = 0", path.read_text(encoding="utf-8"))
    path.write_text(text, encoding="utf-8")
    (folder / "results").mkdir()
    made_library(folder / "results", settings=DEMO_SETTINGS, file="demo.nc")
    return folder


@pytest.mark.slow
def test_the_example_runs_as_printed_and_the_plan_follows_the_hazard(checkout, monkeypatch, capsys):
    """The worse a stretch, the slower: the orders of hazard and of speed go against one another (Spearman 1904)."""
    monkeypatch.chdir(checkout)
    exec(paragraph("plan_leg"), {})
    assert re.match(r"\d+\.\d+ h 0\.00\d+ \[", capsys.readouterr().out.strip())
    with xr.open_dataset(checkout / "results" / "demo-leg" / "result.nc", decode_timedelta=False) as data:
        speed = data["speed_set"].values[data["stretch_setting"].values]
        hazard, events = data["stretch_hazard"].values, data["stretch_reverse_share"].values
        assert float(data["within_budget"]) == 1.0 and len(np.unique(speed)) > 1
        assert spearmanr(hazard, speed).statistic < -0.5
        assert events[np.argsort(hazard)[-5:]].sum() > events[np.argsort(hazard)[:5]].sum()


@pytest.mark.slow
def test_json_is_one_object(checkout, monkeypatch, capsys):
    monkeypatch.chdir(checkout)
    assert exit_code_of(["leg", "scenarios/legs/demo.toml", "--json", "--quiet"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert tree["command"] == "leg" and tree["exit"] == 0 and len(tree["settings"]) == 27
    assert tree["leg"]["within_budget"] == 1 and tree["stretches"][0]["stretch_setting"] in range(27)
    assert all(Path(page).is_file() for page in tree["pages"])
