"""Wheel and sdist: whole, typed, of one version, and nothing of their making is left in the checkout."""

import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

import seaload

pytest.importorskip("flit_core")
ROOT = Path(__file__).resolve().parents[2]
BUILD = "import sys; from flit_core import buildapi; print(buildapi.build_{kind}(sys.argv[1]))"
OUTSIDE = shutil.ignore_patterns("__pycache__", "results", ".*", "build", "*.egg-info")


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """(copy of the checkout, its names before, folder of what was built): a wheel and an sdist, two at once."""
    copy, out = tmp_path_factory.mktemp("copy") / "seaload", tmp_path_factory.mktemp("out")
    shutil.copytree(ROOT, copy, ignore=OUTSIDE)
    before = names(copy)
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    works = [
        subprocess.Popen([sys.executable, "-c", BUILD.format(kind=kind), str(out)], cwd=copy, env=environment)
        for kind in ("wheel", "sdist")
    ]
    assert [work.wait(timeout=240) for work in works] == [0, 0]
    return copy, before, out


def names(folder):
    """All files and folders in a folder."""
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*"))


def test_building_leaves_nothing_in_the_checkout(built):
    copy, before, _ = built
    assert names(copy) == before


def test_the_wheel_holds_every_file_of_the_package_and_its_version(built):
    copy, _, out = built
    (wheel,) = out.glob("*.whl")
    assert wheel.name == f"seaload-{seaload.__version__}-py3-none-any.whl"
    with zipfile.ZipFile(wheel) as packed:
        held = set(packed.namelist())
    files = {str(path.relative_to(copy)) for path in (copy / "seaload").rglob("*") if path.is_file()}
    assert files <= held and "seaload/py.typed" in held
    assert {path.suffix for path in map(Path, files)} >= {".py", ".css", ".js", ".html"}
    assert not any(name.startswith(("tests/", "scenarios/")) for name in held)


def test_the_sdist_holds_what_the_wheel_is_made_from_and_the_tests(built):
    _, _, out = built
    (sdist,) = out.glob("*.tar.gz")
    with tarfile.open(sdist) as packed:
        held = {name.partition("/")[2] for name in packed.getnames()}
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE", "seaload/py.typed", "tests/conftest.py",
                 "scenarios/boats/demo.toml"):  # fmt: skip
        assert name in held


def test_the_version_stands_in_one_place():
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert 'dynamic = ["version"]' in text and seaload.__version__ not in text
    assert f"| {seaload.__version__}" in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
