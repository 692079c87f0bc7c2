"""Kernels are compiled by children that have the parent's package and libraries and nothing of the working folder."""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import numpy as np
import pytest

import seaload
from seaload.basis import machine_code
from seaload.sailing import compile_first
from seaload.sailing.isolated_python import isolated_command, library_paths

ROOT = Path(__file__).resolve().parents[2]
HOSTILE = "open({!r}, 'w').close(); raise SystemExit('the working folder was imported')"
TELL = (
    "import json, pickle, sys, numpy\n"
    "print(json.dumps([seaload.__file__, numpy.__file__, pickle.__file__, sys.path]))"
)


@pytest.fixture
def planted(tmp_path, monkeypatch):
    """The working folder, first on the parent's path, with modules that leave a trace when they are imported."""
    for name in ("pickle", "json", "numpy", "numba", "scipy", "typing", "seaload", "sitecustomize"):
        (tmp_path / f"{name}.py").write_text(HOSTILE.format(str(tmp_path / "trace")))
    package = tmp_path / "seaload" / "sailing"
    package.mkdir(parents=True)
    for folder in (package, package.parent):
        (folder / "__init__.py").write_text(HOSTILE.format(str(tmp_path / "trace")))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "path", ["", str(tmp_path), *sys.path])
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setenv("PYTHONSTARTUP", str(tmp_path / "pickle.py"))
    return tmp_path


def told_by(statement):
    done = subprocess.run(isolated_command(statement), capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_a_child_imports_the_parents_package_and_libraries_and_nothing_of_the_working_folder(planted):
    package, numpy, pickle, path = json.loads(told_by(TELL))
    assert package == seaload.__file__ and numpy == np.__file__
    assert pickle == sys.modules["pickle"].__file__
    assert path == library_paths() and str(planted) not in path and "" not in path
    assert not (planted / "trace").exists()


def test_the_compiling_children_are_such_children(tmp_path, monkeypatch):
    called = []

    def refuse(command, **options):
        called.append(command)
        raise OSError("not started")

    monkeypatch.setattr(compile_first.subprocess, "Popen", refuse)
    with pytest.raises(OSError, match="not started"):
        compile_first.compile_in_two(b"", dict(os.environ), tmp_path)
    assert called[0] == isolated_command(called[0][-1].splitlines()[-1])


FROM_THE_CHECKOUT = """
import subprocess
from seaload.sailing.isolated_python import isolated_command
call = "from seaload.foil.strip_load import surface_factor; surface_factor(0.5, 1.0); print(seaload.__file__)"
print(subprocess.run(isolated_command(call), check=True, capture_output=True, text=True).stdout.strip())
import seaload
print(seaload.__file__)
from seaload.foil.strip_load import surface_factor
surface_factor(0.5, 1.0)
print(sum(surface_factor.stats.cache_hits.values()), sum(surface_factor.stats.cache_misses.values()))
"""


def installed(folder):
    """The package copied to a folder, as a plain install does."""
    shutil.copytree(ROOT / "seaload", folder / "seaload", ignore=shutil.ignore_patterns("__pycache__"))
    return folder


def test_what_a_child_of_an_installed_package_compiled_in_the_checkout_the_parent_loads(tmp_path):
    site = installed(tmp_path / "site")
    environment = {**os.environ, "PYTHONPATH": str(site), "SEALOAD_CACHE": str(tmp_path / "cache")}
    line = [sys.executable, "-P", "-c", FROM_THE_CHECKOUT]
    done = subprocess.run(line, cwd=ROOT, env=environment, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    own = str(site / "seaload" / "__init__.py")
    assert done.stdout.splitlines() == [own, own, "1 0"]


LISTENED = """
import sys
from numba.core import event
class Listener(event.Listener):
    def on_start(self, started):
        sys.stderr.write("compiled " + started.data["dispatcher"].py_func.__name__ + "\\n")
    def on_end(self, ended):
        pass
event.register("numba:compile", Listener())
from seaload.command_line.main import exit_code_of
code = exit_code_of(sys.argv[1:])
import seaload
print(seaload.__file__)
sys.exit(code)
"""


@pytest.mark.slow  # compiles every kernel
@pytest.mark.timeout(900)
def test_a_newcomers_first_run_from_the_checkout_compiles_nothing_in_the_parent(tmp_path):
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(tmp_path / "venv")], check=True)
    base = {"base": str(tmp_path / "venv"), "platbase": str(tmp_path / "venv")}
    site = Path(sysconfig.get_path("purelib", vars=base))
    (site / "libraries.pth").write_text(f"{sysconfig.get_path('purelib')}\n")
    installed(site)
    python = next(path for path in (tmp_path / "venv").glob("*/python*") if path.stem == "python")
    named = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    words = ["run", "scenarios/studies/bow-quarter-swell.toml", "--out", str(tmp_path / "results")]
    done = subprocess.run(
        [python, "-P", "-c", LISTENED, *words], cwd=ROOT, capture_output=True, text=True,
        env={**named, "SEALOAD_CACHE": str(tmp_path / "cache")},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == str(site / "seaload" / "__init__.py")
    assert "compiling once" in done.stderr
    assert [line for line in done.stderr.splitlines() if line.startswith("compiled ")] == []
    assert not list(site.rglob("seaload/**/*.nb?"))


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder of machine code that is complete, as far as its mark says."""
    monkeypatch.setattr(compile_first, "kernel_folder", lambda: tmp_path)
    monkeypatch.setattr(machine_code, "SAID", [])
    for name in ("one.nbi", "one.1.nbc"):
        (tmp_path / name).write_bytes(b"machine code")
    (tmp_path / compile_first.MARK).write_text(json.dumps({"one.nbi": 12, "one.1.nbc": 12}))
    return tmp_path


def test_a_complete_folder_is_ready_also_after_more_was_compiled_into_it(folder):
    (folder / "one.nbi").write_bytes(b"machine code of two kinds")
    (folder / "two.nbi").touch()
    assert compile_first.kernels_ready() and machine_code.SAID == []


DAMAGED = {
    "cut": ("one.1.nbc", b"machine"),
    "empty": ("one.nbi", b""),
    "empty mark": ("complete", b""),
    "other mark": ("complete", b"[1]"),
    "no text": ("complete", b"\xff"),
}


@pytest.mark.parametrize("damage", [*DAMAGED, "gone"])
def test_a_folder_with_a_file_cut_or_gone_is_not_ready_and_said_to_be_damaged(folder, damage):
    if damage == "gone":
        (folder / "one.nbi").unlink()
    else:
        name, held = DAMAGED[damage]
        (folder / name).write_bytes(held)
    assert not compile_first.kernels_ready()
    assert len(machine_code.SAID) == 1 and "damaged" in machine_code.SAID[0]


def test_a_folder_that_was_never_completed_is_not_called_damaged(folder):
    (folder / compile_first.MARK).unlink()
    assert not compile_first.kernels_ready() and machine_code.SAID == []
