"""Whether a published check tests a formula on the road to a result, or an oracle that only tests use.

Read from what the test mentions, its fixtures and the helpers of its module included: names of tests/oracles, and names
of the package that no command reaches, are oracles; names that a command reaches are marched.
"""

import ast
import functools
from pathlib import Path

from tests import reach

ROADS = ("marched", "oracle")
ROOMS = ("waves", "boat", "foil", "fatigue", "risk", "evidence", "simulation", "files", "studies", "deciding")


@functools.cache
def _local(path):
    """(top-level statements by name, imports) of a test file."""
    tree = ast.parse(Path(path).read_text(encoding="utf-8"))
    found = {}
    for statement in tree.body:
        for name in reach.bound(statement):
            found.setdefault(name, []).append(statement)
    return found, reach.imports_of(tree)


def _file_of(module):
    path = reach.ROOT / (module.replace(".", "/") + ".py")
    return path if path.exists() else None


def mentioned(path, name, seen=None):
    """Names (module, name) outside tests/ helpers that a test leads to; arguments stand for fixtures of that name."""
    seen = set() if seen is None else seen
    if (path, name) in seen:
        return set()
    seen.add((path, name))
    local, imports = _local(path)
    found = set()
    for statement in local.get(name, []):
        words = {n.id for n in ast.walk(statement) if isinstance(n, ast.Name)}
        words |= {n.arg for n in ast.walk(statement) if isinstance(n, ast.arg)}
        dotted = {
            (imports[n.value.id], n.attr)
            for n in ast.walk(statement)
            if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name) and n.value.id in imports
        }
        targets = [imports[word] for word in words if word in imports]
        targets += [(module, attribute) for (module, inner), attribute in dotted if inner is None]
        for module, inner in targets:
            own = _file_of(module) if module.startswith("tests.") and not module.startswith("tests.oracles") else None
            if own and inner:
                found |= mentioned(own, inner, seen)
            elif inner:
                found.add((module, inner))
        for word in words & set(local):
            found |= mentioned(path, word, seen)
    return found


def _road(module, name):
    """Road of one formula; nothing for what is no formula of the project."""
    if module.startswith("tests.oracles"):
        return "oracle"
    parts = module.split(".")
    if parts[0] != "seaload" or len(parts) < 3 or parts[1] not in ROOMS:
        return None
    return "marched" if (module, name) in reach.reached() else "oracle"


def road_of(formula):
    """The road of a function, by its home."""
    return _road(formula.__module__, formula.__name__)


@functools.cache
def roads_of_test(path, name):
    """The roads that a test's names lead to: one of ROADS, both or none. Constants count where there is no function."""
    found = {True: set(), False: set()}
    for module, inner in mentioned(path, name):
        found[inner.lstrip("_")[:1].islower()].add(_road(module, inner))
    functions, constants = (frozenset(found[kind] - {None}) for kind in (True, False))
    return functions or constants


def road_of_test(path, name):
    """The road of the formula that a test checks; ValueError where its names do not tell."""
    roads = roads_of_test(path, name)
    if len(roads) > 1:
        raise ValueError(f"{name} leads to marched formulas and to oracles: say of=, the function that is checked")
    return next(iter(roads), "oracle")  # tables against tables: nothing of a run
