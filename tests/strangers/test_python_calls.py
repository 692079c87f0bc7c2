"""The Python examples that the README prints do what they say."""

import re
import shutil
from pathlib import Path

import pytest

import seaload

ROOT = Path(__file__).resolve().parents[2]
(EXAMPLE,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
# open_library and plan_leg need a library of half an hour: tried in tests/studies/test_library.py and tests/studies/leg
# takes ten minutes: tests/studies/size has a smaller one
CALLS = sorted(set(seaload.__all__) - {"__version__"})


@pytest.fixture
def checkout(tmp_path, monkeypatch):
    """A copy of the scenarios, as the working folder."""
    shutil.copytree(ROOT / "scenarios", tmp_path / "scenarios")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def paragraph(call):
    """The paragraph of the example that makes a call."""
    (found,) = [part for part in EXAMPLE.split("\n\n") if f"seaload.{call}(" in part]
    return "import seaload\n" + found


@pytest.mark.parametrize("call", CALLS)
def test_every_public_call_has_its_example_and_its_docstring(call):
    assert compile(paragraph(call), call, "exec")
    assert getattr(seaload, call).__doc__ and callable(getattr(seaload, call))


def test_the_first_example_loads_the_measured_hour(checkout, capsys):
    exec(paragraph("load_study"), {})
    assert capsys.readouterr().out == "Hs 4.46 m, 9 realisations\n"
    assert not (checkout / "results").exists()


@pytest.mark.slow
@pytest.mark.parametrize("call", [call for call in CALLS if call not in ("load_study", "open_library", "size")])
def test_each_example_runs_as_printed(checkout, capsys, call):
    exec(paragraph(call), {})
    assert capsys.readouterr().out.strip()
    assert list((checkout / "results").rglob("result.nc"))
