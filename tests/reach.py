"""Which names of the package a command reaches, read from the sources alone.

A node is a top-level name of a module. It leads to every name that its definition mentions, followed through imports;
what a module does on import counts as reached when the module is. Attributes of an imported module count. A local name
that is spelt like a top-level one counts as that one: the answer errs towards "reached".
"""

import ast
import functools
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PYTHON_NAMES = ("load_study", "run", "sweep")  # what `seaload` itself offers
PHYSICS = ("waves", "boat", "foil", "fatigue", "risk")
ON_IMPORT = "<import>"


@functools.cache
def _sources():
    found = {}
    for path in sorted((ROOT / "seaload").rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path.read_text(encoding="utf-8")
    return found


def source(module):
    """Text of a module of the package."""
    return _sources()[module]


@functools.cache
def modules():
    """Syntax trees of the package by dotted name."""
    return {name: ast.parse(text) for name, text in _sources().items()}


def bound(statement):
    """Names that a top-level statement binds, imports left out."""
    if isinstance(statement, (ast.FunctionDef, ast.ClassDef)):
        return {statement.name}
    if isinstance(statement, (ast.Assign, ast.AnnAssign)):
        targets = statement.targets if isinstance(statement, ast.Assign) else [statement.target]
        return {n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name)}
    return set()


def _all_of(module):
    """Every name that a module binds, as import aliases: what a star takes."""
    return [ast.alias(name) for s in modules()[module].body for name in sorted(bound(s))]


def imports_of(tree):
    """Local name -> (module, name or None) of every import in a tree, those inside functions too."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in _all_of(node.module) if node.names[0].name == "*" else node.names:
                whole = f"{node.module}.{alias.name}"
                target = (whole, None) if whole in modules() else (node.module, alias.name)
                found[alias.asname or alias.name] = target
        elif isinstance(node, ast.Import):
            for alias in node.names:
                found[alias.asname or alias.name.split(".")[0]] = (alias.name, None)
    return found


@functools.cache
def definitions():
    """(module, name) -> statements that define it; what runs on import stands under ON_IMPORT."""
    found = {}
    for module, tree in modules().items():
        found[module, ON_IMPORT] = []
        for statement in tree.body:
            for name in bound(statement) or {ON_IMPORT}:
                found.setdefault((module, name), []).append(statement)
    return found


def _mentioned(module, statement, imported):
    """Nodes of the graph that one statement mentions."""
    for node in ast.walk(statement):
        if isinstance(node, ast.Name):
            if node.id in imported:
                target, name = imported[node.id]
                yield target, name or ON_IMPORT
            else:
                yield module, node.id
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in imported:
            yield imported[node.value.id][0], node.attr
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module, ON_IMPORT
            for alias in node.names:
                yield f"{node.module}.{alias.name}", ON_IMPORT
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):  # a child process is told what to import
            for target, name in re.findall(r"from (seaload[.\w]+) import (\w+)", node.value):
                yield target, name


def _is_command(tree):
    """Whether a module is made to be run by its own name."""
    return any("__main__" in ast.unparse(s.test) for s in tree.body if isinstance(s, ast.If))


@functools.cache
def _all_imports():
    return {module: imports_of(tree) for module, tree in modules().items()}


def closure(nodes, on_import=True):
    """Set of (module, name) that some nodes lead to, themselves included; with what runs on import, or without."""
    known, imports = definitions(), _all_imports()
    todo, seen = list(nodes), set()
    while todo:
        node = todo.pop()
        if node in seen or node not in known or (node[1] == ON_IMPORT and not on_import):
            continue
        seen.add(node)
        todo.append((node[0], ON_IMPORT))
        for statement in known[node]:
            todo += _mentioned(node[0], statement, imports[node[0]])
    return frozenset(seen)


def users(module, name):
    """Nodes (module, name) that mention a name; what runs on import left out."""
    node, found = (module, name), set()
    for other, statements in definitions().items():
        imported = _all_imports()[other[0]]
        if other not in (node, (other[0], ON_IMPORT)) and any(
            node in _mentioned(other[0], statement, imported) for statement in statements
        ):
            found.add(other)
    return found


@functools.cache
def reached():
    """Set of (module, name) that the commands and the Python interface reach."""
    known = definitions()
    todo = [(m, name) for m, tree in modules().items() if _is_command(tree) for name in ("main", ON_IMPORT)]
    todo += [node for node in known if node[0] == "seaload.command_line.main"]
    todo += [node for node in known if node[0].startswith("seaload.studies.") and node[1] in PYTHON_NAMES]
    return closure(todo)


def unreached(rooms=PHYSICS):
    """Sorted (module, name) of functions, classes and constants of the rooms that no command reaches."""
    inside = tuple(f"seaload.{room}." for room in rooms)
    return sorted(n for n in definitions() if n[0].startswith(inside) and n[1] != ON_IMPORT and n not in reached())
