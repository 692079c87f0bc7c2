"""Rules of the house that a program can check: one compile decorator, short files, plain names, no network."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "seaload"
FILES = sorted(PACKAGE.rglob("*.py"))
FLOOR_THREE = ("waves", "boat", "foil", "fatigue", "risk")


def test_only_the_decorator_its_keeper_and_the_product_talk_to_the_compiler():
    users = [p for p in FILES if re.search(r"^\s*(import numba|from numba)", p.read_text(), re.M)]
    told = [p.relative_to(PACKAGE).as_posix() for p in users]
    lanes = ["basis/lane_blend.py", "basis/lane_matrix.py", "basis/lane_product.py"]
    assert told == ["basis/compile.py", *lanes, "basis/machine_code.py"]


def test_the_march_leaves_the_matrix_library_to_what_is_prepared_once_for_a_sea():
    """A product over lanes there has last digits that depend on a lane's place."""
    users = [
        path.name for path in sorted((PACKAGE / "simulation").glob("*.py"))
        if any(isinstance(node, ast.MatMult) for node in ast.walk(ast.parse(path.read_text())))
        or re.search(r"np\.(dot|vdot|inner|matmul|tensordot|einsum|linalg)\b", path.read_text())
    ]  # fmt: skip
    assert users == ["wave_rows.py", "wave_weights.py"]


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_a_file_holds_one_idea(path):
    assert len(path.read_text().splitlines()) <= 400
    assert path.stem not in {"utils", "helpers", "core", "misc", "common"}
    assert ast.get_docstring(ast.parse(path.read_text())), "a file says what it is for in its first line"


def test_ruff_finds_nothing():
    """With the rules of pyproject.toml, over everything that is Python."""
    command = [sys.executable, "-m", "ruff", "check", "--no-cache", "."]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stdout + told.stderr


def test_a_line_fits_120_columns():
    sheets = [p for kind in ("*.py", "*.js", "*.css") for top in ("seaload", "tests") for p in (ROOT / top).rglob(kind)]
    long = [
        f"{path.relative_to(ROOT)}:{number}" for path in sheets
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if len(line) > 120
    ]  # fmt: skip
    assert len(sheets) > 300 and long == []


# Arguments past eight want a record. Each that keeps more has its reason.
LONG_CALLS = {
    "boat/hull_section.py hull_section_load": "numbers of one lane inside a loop over lanes that must vectorise",
    "boat/hull_section.py relieved_slice": "the same",
    "command_line/main.py sweep": "each argument is an option of the command line",
    "result/assemble_dataset.py assemble_dataset": "parts of a result, by name only but for two",
    "simulation/block.py __init__": "what a block marches with, kept one by one",
    "simulation/block.py march_block": "five of them by name only",
    "simulation/block.py prepared_run": "what march_block takes, handed on",
    "simulation/march.py march_steps": "everything of one block, called in one place",
    "simulation/sea_table.py wave_table": "four of them by name only",
    "simulation/strip_stage.py add_forces": "numbers and records of one lane inside a loop over lanes",
    "simulation/wave_field.py add_node": "row numbers into flat arrays, called in one place",
}


def test_no_function_takes_more_than_eight_arguments_without_a_reason():
    long = set()
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef):
                given = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
                if len([a for a in given if a.arg != "self"]) > 8:
                    long.add(f"{path.relative_to(PACKAGE).as_posix()} {node.name}")
    assert long == set(LONG_CALLS)


@pytest.mark.parametrize("room", FLOOR_THREE)
def test_rooms_of_physics_do_not_import_each_other(room):
    for path in (PACKAGE / room).glob("*.py"):
        for other in FLOOR_THREE:
            if other != room:
                assert f"seaload.{other}" not in path.read_text(), path


def test_nothing_opens_a_network_connection_but_the_scheduler():
    for path in FILES:
        text = path.read_text()
        if path.stem == "compile_first":  # unpickles only what its own parent process hands down a pipe
            text = text.replace("pickle.load", "")
        for word in ("urllib", "requests", "http.client", "socket", "pickle.load", "eval(", "exec("):
            assert not re.search(rf"(?<![\w.]){re.escape(word)}", text), f"{path}: {word}"
