"""The Python examples that the README prints do what they say.

What takes half an hour by itself is smaller here: `open_library` and `plan_leg` ask an invented library in the place of
one that was filled, the plan is marched again once, and the study that sizes a foil is one of minutes.
"""

import re
import shutil
from itertools import product
from pathlib import Path

import numpy as np
import pytest

import seaload
from seaload.basis.units import DEGREE, KNOT
from tests import sized
from tests.studies.leg.invented_leg import made_library

ROOT = Path(__file__).resolve().parents[2]
(EXAMPLE,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
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


CORNERS = np.array([
    [extension, rake, 18.0 * DEGREE, 30.0 * DEGREE, 0.0, speed]
    for extension, rake, speed in product((0.6, 1.0), (0.0, 4.0 * DEGREE), (12.0 * KNOT, 20.0 * KNOT))
])  # fmt: skip


@pytest.fixture
def smaller(checkout):
    """The checkout with an invented library in its results, and with smaller studies under the names printed."""
    (checkout / "results").mkdir()
    made_library(checkout / "results", seas=30, settings=CORNERS, file="demo.nc")
    leg = checkout / "scenarios" / "legs" / "demo.toml"
    text, changes = re.subn(r"(?m)^marches = \d+", "marches = 1", leg.read_text(encoding="utf-8"))
    leg.write_text(text, encoding="utf-8")
    assert changes == 1
    folder = checkout / "scenarios" / "sizing"
    sized.written(folder).replace(folder / "size-demo.toml")
    return checkout


@pytest.mark.slow
@pytest.mark.timeout(1800)
@pytest.mark.parametrize("call", [call for call in CALLS if call != "load_study"])
def test_each_example_runs_as_printed(smaller, capsys, call):
    exec(paragraph(call), {})
    assert capsys.readouterr().out.strip()
    assert call == "open_library" or list((smaller / "results").rglob("result.nc"))
