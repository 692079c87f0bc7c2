"""Machine code is served only to the sources it was made from, outlives damage to its folder, needs no home, and is
never put beside the sources.
"""

import logging
import os
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from seaload.basis import machine_code
from seaload.basis.compile import compiled
from seaload.command_line.options import heed_quiet

ROOT = Path(__file__).resolve().parents[2]
ASK = (
    "from seaload.foil.strip_load import surface_factor as f\n"
    "print(f(0.5, 1.0), sum(f.stats.cache_hits.values()), sum(f.stats.cache_misses.values()))"
)
NOBODY = "import pwd\ndef unknown(number): raise KeyError(number)\npwd.getpwuid = unknown\n"


def process(words, folder, **environment):
    """A fresh Python process of the package copied to `folder`, with nothing that names a cache but what is said."""
    kept = {name: value for name, value in os.environ.items() if name not in machine_code.GIVEN}
    return subprocess.run(
        [sys.executable, *words], cwd=folder, capture_output=True, text=True,
        env={**kept, "PYTHONPATH": str(folder), **environment},
    )  # fmt: skip


def answer(folder, cache):
    """What a fresh process says, and the folders that the cache then holds."""
    told = process(["-c", ASK], folder, SEALOAD_CACHE=str(cache))
    assert told.returncode == 0, told.stderr
    value, loaded, made = told.stdout.split()
    return float(value), (int(loaded), int(made)), sorted(p.name for p in (cache / "seaload" / "kernels").iterdir())


def copied(folder):
    """The package copied to a folder, its files dated now, as an install does."""
    ignored = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "seaload", folder / "seaload", ignore=ignored, copy_function=shutil.copy)
    return folder


def test_an_edited_formula_changes_the_answer_and_a_second_install_of_the_same_sources_compiles_nothing(tmp_path):
    package, cache = copied(tmp_path / "copy"), tmp_path / "cache"
    before, work, folders = answer(package, cache)
    assert before == 5.0 / 6.0 and work == (0, 1)
    assert answer(package, cache) == (before, (1, 0), folders)
    assert answer(copied(tmp_path / "second"), cache) == (before, (1, 0), folders)
    names = package / "seaload" / "basis" / "vocabulary_tail.py"
    names.write_text(names.read_text() + "\nFURTHER = 1\n")
    assert answer(package, cache) == (before, (1, 0), folders), "a further name in results makes no other machine code"
    formula = package / "seaload" / "foil" / "strip_load.py"
    text = formula.read_text()
    assert text.count("(2.0 * width + deep)") == 1
    formula.write_text(text.replace("(2.0 * width + deep)", "(3.0 * width + deep)"))
    after, work, more = answer(package, cache)
    assert after == 5.0 / 7.0 and work == (0, 1)
    assert len(more) == len(folders) + 1


@pytest.mark.parametrize("home", ["a file", "none"])
def test_without_a_home_it_compiles_says_so_once_and_keeps_nothing_in_the_package(tmp_path, monkeypatch, home):
    package, place = copied(tmp_path / "copy"), tmp_path / "file"
    place.touch()
    monkeypatch.delenv("HOME", raising=False)
    options = {"HOME": str(place)} if home == "a file" else {}
    told = process(["-c", (NOBODY if home == "none" else "") + ASK], package, **options)
    assert told.returncode == 0 and told.stdout.split() == ["0.8333333333333334", "0", "1"], told.stderr
    (line,) = told.stderr.splitlines()
    assert "machine code cannot be kept" in line and ("no home folder" if home == "none" else str(place)) in line
    assert not list(tmp_path.rglob("*.nb?"))


@pytest.mark.parametrize("name", machine_code.GIVEN)
def test_a_cache_folder_that_was_named_and_cannot_be_used_gives_exit_3_with_its_name(tmp_path, name):
    (tmp_path / "file").touch()
    (tmp_path / "history.csv").write_text("1\n2\n1\n")
    named = str(tmp_path / "file" / "cache")
    command = ["-m", "seaload.command_line.main", "cycles", str(tmp_path / "history.csv")]
    told = process(command, ROOT, **{name: named})
    (line,) = told.stderr.splitlines()
    assert told.returncode == 3 and told.stdout == "" and named in line and name in line


def test_a_full_folder_that_cannot_be_written_to_is_read(tmp_path, monkeypatch):
    def refuse(**options):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(machine_code.tempfile, "TemporaryFile", refuse)
    assert machine_code.refusal(tmp_path) == "Permission denied"
    (tmp_path / machine_code.MARK).touch()
    assert machine_code.refusal(tmp_path) is None


@pytest.fixture
def kernels(tmp_path):
    """A folder of machine code as it is made: under a cache folder, three levels down."""
    folder = tmp_path / "cache" / "seaload" / "kernels" / "one"
    (tmp_path / "cache").mkdir(mode=0o755)
    assert machine_code.refusal(folder) is None
    return folder


@pytest.mark.skipif(os.name != "posix", reason="owners and groups of POSIX")
@pytest.mark.parametrize("level", [0, 1, 2, 3])
def test_machine_code_that_others_could_have_written_is_not_run(kernels, level, monkeypatch):
    """What is read from the folder is run: a folder that anyone can write to is anyone's way in."""
    part = [*reversed(kernels.parents[:3]), kernels][level]
    part.chmod(0o757)
    assert "written by others" in machine_code.refusal(kernels)
    (kernels / machine_code.MARK).touch()
    monkeypatch.setattr(machine_code.tempfile, "TemporaryFile", lambda **_: (_ for _ in ()).throw(OSError(30, "x")))
    if level:
        assert "written by others" in machine_code.refusal(kernels)


@pytest.mark.skipif(os.name != "posix", reason="owners and groups of POSIX")
def test_folders_of_a_private_group_and_of_everybodys_temporary_folder_are_used(kernels, monkeypatch):
    assert all(part.stat().st_mode & 0o077 == 0 for part in (kernels, *kernels.parents[:2]))
    kernels.chmod(0o775)
    own = kernels.stat().st_gid
    monkeypatch.setattr(machine_code.os, "getegid", lambda: own)
    monkeypatch.setattr(machine_code.os, "geteuid", lambda: own)
    assert machine_code.refusal(kernels) is None or kernels.stat().st_uid != own
    monkeypatch.setattr(machine_code.os, "getegid", lambda: own + 1)
    assert "written by others" in machine_code.refusal(kernels)
    kernels.chmod(0o700)
    kernels.parents[2].chmod(0o1777)
    assert machine_code.refusal(kernels) is None
    monkeypatch.setattr(machine_code.os, "geteuid", lambda: kernels.stat().st_uid + 7)
    if kernels.stat().st_uid:
        assert "another user" in machine_code.refusal(kernels)


def half(x):
    """A formula to compile."""
    return 0.5 * x


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """An empty folder for this process's machine code, and no remark made yet."""
    monkeypatch.setattr(machine_code, "kernel_folder", lambda: tmp_path)
    monkeypatch.setattr(machine_code, "SAID", [])
    heed_quiet(False)
    return tmp_path


def work_of(kernel):
    return sum(kernel.stats.cache_hits.values()), sum(kernel.stats.cache_misses.values())


@pytest.mark.parametrize("suffix", [".nbi", ".nbc"])
@pytest.mark.parametrize("damage", ["empty", "cut", "other"])
def test_damaged_machine_code_is_compiled_anew_said_once_and_mended(folder, caplog, suffix, damage):
    assert compiled(half)(3.0) == 1.5
    (folder / machine_code.MARK).touch()
    (file,) = folder.rglob(f"*{suffix}")
    whole = file.read_bytes()
    file.write_bytes({"empty": b"", "cut": whole[: len(whole) // 2], "other": b"\xff" * len(whole)}[damage])
    with caplog.at_level(logging.WARNING):
        again, third = compiled(half), compiled(half)
        assert again(3.0) == 1.5 and work_of(again) == (0, 1)
        assert third(3.0) == 1.5 and work_of(third) == (1, 0)
    assert [record.getMessage() for record in caplog.records] == [
        f"note: {folder}: damaged machine code, compiled anew"
    ]
    assert not (folder / machine_code.MARK).exists()


def test_machine_code_that_cannot_be_written_is_still_used_and_said_once(folder, caplog):
    kernels = compiled(half), compiled(half)
    for place in {kernel._cache._impl.locator.get_cache_path() for kernel in kernels}:
        Path(place).touch()  # a file where the folder should be
    assert [kernel(3.0) for kernel in kernels] == [1.5, 1.5]
    assert len(caplog.records) == 1 and "cannot be kept" in caplog.text


LARGE = np.ones(200_000)  # more than the compiler writes into machine code


def of_the_large(i):
    """A formula whose machine code cannot be kept."""
    return LARGE[i]


def test_what_cannot_be_kept_is_compiled_all_the_same(folder):
    with pytest.warns(Warning, match="Cannot cache compiled function"):
        assert compiled(of_the_large)(3) == 1.0


def test_quiet_hides_the_remark_and_its_absence_shows_it(folder, caplog):
    heed_quiet(True)
    machine_code.say_once("one")
    heed_quiet(False)
    machine_code.say_once("two")
    assert [record.getMessage() for record in caplog.records] == ["note: two"]
