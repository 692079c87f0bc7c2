"""What a docstring in the rooms of physics and in the march has to say: every argument, a unit, a formula's source."""

import ast
import re
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "seaload"
ROOMS = ("waves", "boat", "foil", "fatigue", "risk", "simulation")
# Records say their units where they are defined; counts, numbers of a lane or step, and names have none.
WITHOUT_UNIT = set(
    """
    array blocks boat buffer case cases channels clock count deepest first flat foil gathered began geometries geometry
    gone i keep keeper kind lane lanes loads march march_part model named named_model number places reading record
    held rewind rows rules run sampling sea setting settings single state stations stop strip strips table tally trim
    weights work fixed now gust base flow left lift out place s
    """.split()
)
UNIT = re.compile(r"\[[^\]]+\]|\bas (in )?`")
SOURCE = re.compile(
    r"\b(18|19|20)\d\d\b|any text|any table|[Ss]ource|[Dd]efinition|common practice|our own|this project|from memory"
    r"|ASTM|DNV|REFERENCES|[Ss]tatics|[Tt]rigonometry|[Cc]alibration|[Ff]ormulas in|inverse of|[Gg]eometry"
    r"|Archimedes|Stodola|[Dd]erived here"
)
TRANSCENDENTAL = set("sqrt exp log log1p expm1 cos sin tan arctan atan hypot arcsin tanh".split())


def functions(tree):
    """Functions and methods of a module, not those inside functions."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield node
        elif isinstance(node, ast.ClassDef):
            yield from functions(node)


def arguments(function):
    every = function.args
    return [a.arg for a in (*every.posonlyargs, *every.args, *every.kwonlyargs) if a.arg != "self"]


def holds_a_formula(function):
    """Whether it raises to a power or calls a transcendental function."""
    return any(
        isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow)
        or isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", "")) in TRANSCENDENTAL
        for node in ast.walk(function)
    )  # fmt: skip


def lacking(source, sources=True):
    """Lines on what the docstrings of a file do not say; the march composes formulas and needs no `sources`."""
    tree = ast.parse(source)
    head = ast.get_docstring(tree) or ""
    for function in functions(tree):
        text, given = ast.get_docstring(function) or "", arguments(function)
        for name in given:
            if name != "lane" and not re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text):
                yield f"{function.name}: argument {name}"
        if not set(given) <= WITHOUT_UNIT and not UNIT.search(text):
            yield f"{function.name}: a unit"
        if sources and holds_a_formula(function) and not SOURCE.search(text + head):
            yield f"{function.name}: a source"


@pytest.mark.parametrize("room", ROOMS)
def test_docstrings_name_every_argument_a_unit_and_a_source(room):
    found = [
        f"{path.name}: {line}" for path in sorted((PACKAGE / room).glob("*.py"))
        for line in lacking(path.read_text(), sources=room != "simulation")
    ]  # fmt: skip
    assert found == []


def test_each_of_the_three_is_missed():
    told = '"""Waves."""\ndef speed(period):\n    """Speed [m/s] for a period [s] (Airy 1845)."""\n    return period**2'
    assert list(lacking(told)) == []
    assert list(lacking(told.replace("a period", "one"))) == ["speed: argument period"]
    assert list(lacking(told.replace("[m/s]", "").replace("[s]", ""))) == ["speed: a unit"]
    assert list(lacking(told.replace("(Airy 1845)", ""))) == ["speed: a source"]
