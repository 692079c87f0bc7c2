"""What the package's functions give and take fits, by a type checker's inference: everything but compiled formulas,
whose types the compiler holds.
"""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
COMPILED = ("@compiled", "in_single(")  # a file with one of these holds formulas for the compiler


def plain_files():
    """Files of the package without compiled formulas."""
    files = sorted((ROOT / "seaload").rglob("*.py"))
    return [path for path in files if not any(mark in path.read_text(encoding="utf-8") for mark in COMPILED)]


WRONG = """
from seaload.basis.records import CaseRecord

def one(case: CaseRecord):
    return case.momentmean

def two(a, b):
    return a

two(1)

def three(which):
    if which:
        found = 1
    return found
"""


@pytest.mark.slow  # ten seconds of processor; .ci/run asks for it
def test_the_checker_finds_nothing_in_what_is_not_compiled_but_what_is_put_there(tmp_path):
    """Beside the package a file of mistakes: a misspelt attribute, a missing argument, a name without value."""
    files, wrong = plain_files(), tmp_path / "wrong.py"
    wrong.write_text(WRONG)
    checker = Path(sys.executable).with_name("pyrefly")
    command = [checker, "check", "--config", "pyproject.toml", "--output-format", "min-text",
               "--python-interpreter-path", sys.executable, *files, wrong]  # fmt: skip
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    found = [line for line in told.stdout.splitlines() if line.startswith("ERROR")]
    ours = [line for line in found if str(wrong) not in line]
    assert len(files) > 200 and ours == [], told.stderr
    kinds = "".join(line for line in found if line not in ours)
    assert all(kind in kinds for kind in ("missing-attribute", "missing-argument", "unbound-name")), found
