"""The folder of machine code is named by every source the code comes from: a changed formula is never served stale."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ASK = "from seaload.foil.strip_load import surface_factor; print(surface_factor(0.5, 1.0))"


def answer(folder, cache):
    """What a fresh process says, and the folders that the cache then holds."""
    told = subprocess.run(
        [sys.executable, "-c", ASK], cwd=folder, check=True, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(folder), "SEALOAD_CACHE": str(cache)},
    )  # fmt: skip
    return float(told.stdout), sorted(p.name for p in (cache / "seaload" / "kernels").iterdir())


def test_an_edited_formula_changes_the_answer(tmp_path):
    package = tmp_path / "copy"
    shutil.copytree(ROOT / "seaload", package / "seaload", ignore=shutil.ignore_patterns("__pycache__"))
    cache = tmp_path / "cache"
    before, folders = answer(package, cache)
    assert before == 5.0 / 6.0
    again, same = answer(package, cache)
    assert again == before and same == folders
    formula = package / "seaload" / "foil" / "strip_load.py"
    text = formula.read_text()
    assert text.count("(2.0 * width + deep)") == 1
    formula.write_text(text.replace("(2.0 * width + deep)", "(3.0 * width + deep)"))
    after, more = answer(package, cache)
    assert after == 5.0 / 7.0
    assert len(more) == len(folders) + 1
