"""Single-token mutations of the formulas that a run passes through, drawn by a seed.

Candidates stand in definitions that `run` or `sweep` reach (tests/reach.py), in rooms whose numbers reach a result;
pages and the command line show numbers and are left out. Left out too: texts, annotations, what is raised, the ranges
`number(...)` and `grid(...)` that say what may be written. One token changes:

* operator: + and - change places, so do * and /; ** becomes *, // and % become *;
* sign: a leading minus becomes a plus;
* comparison: turned into its opposite;
* constant: doubled, 0 becomes 1; a whole number grows by one;
* index: a whole number inside square brackets grows by one.

A mutation is named by its file, definition, line text and place in it, so an edit elsewhere leaves the draw alone.
"""

import ast
import hashlib
from dataclasses import dataclass

from tests import reach

ROOMS = ("basis", "scenario", "waves", "boat", "foil", "fatigue", "risk", "evidence", "files", "simulation", "sailing",
         "deciding", "result", "studies")  # fmt: skip
ROAD = (("seaload.studies.load_study", "load_study"), ("seaload.studies.single_run", "run"),
        ("seaload.studies.sweep", "sweep"))  # fmt: skip
KERNELS = 40  # at most, of all: each needs kernels compiled again
BINARY = {ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"), ast.Pow: ("**", "*"),
          ast.FloorDiv: ("//", "*"), ast.Mod: ("%", "*")}  # fmt: skip
COMPARED = {ast.Lt: ("<", ">="), ast.LtE: ("<=", ">"), ast.Gt: (">", "<="), ast.GtE: (">=", "<"),
            ast.Eq: ("==", "!="), ast.NotEq: ("!=", "==")}  # fmt: skip
RANGES = ("number", "grid", "Field")
NOT_NUMBERS = (ast.JoinedStr, ast.List, ast.Tuple)


@dataclass(frozen=True)
class Mutation:
    """One token replaced."""

    module: str
    definition: str
    kind: str
    line: int  # from 1
    column: int  # from 0
    token: str
    broken: str
    text: str  # the line as it stands, stripped
    kernel: bool  # a kernel holds it
    at_import: bool = False  # it stands outside every function

    @property
    def file(self):
        return self.module.replace(".", "/") + ".py"

    def key(self):
        """What the mutation is known by, whatever is edited elsewhere."""
        return "|".join((self.file, self.definition, self.text, self.kind, self.token, self.broken, str(self.column)))


def in_kernels():
    """Nodes (module, name) that compiled functions are made of, constants included."""
    first = [
        node for node, statements in reach.definitions().items()
        if any("compiled" in ast.unparse(d) for s in statements for d in getattr(s, "decorator_list", []))
    ]  # fmt: skip
    return reach.closure(first, on_import=False)


def _skipped(node, parents):
    """Whether a node stands where nothing is worked out."""
    while node in parents:
        above, field = parents[node]
        if isinstance(above, (ast.Raise, ast.JoinedStr)) or field in ("annotation", "returns", "decorator_list"):
            return True
        if isinstance(above, ast.Call) and isinstance(above.func, ast.Name) and above.func.id in RANGES:
            return True
        node = above
    return False


def _token_between(lines, left, right, token):
    """(line, column) of `token` between two nodes, or nothing when a comment stands between."""
    for line in range(left.end_lineno, right.lineno + 1):
        text = lines[line - 1]
        at = text.find(token, left.end_col_offset if line == left.end_lineno else 0)
        if at >= 0 and (line < right.lineno or at < right.col_offset) and "#" not in text[:at]:
            return line, at
    return None


def _of_node(node, parents, lines):
    """(kind, line, column, token, broken) of the mutations of one syntax node."""
    if isinstance(node, (ast.BinOp, ast.AugAssign)) and type(node.op) in BINARY:
        sides = (node.left, node.right) if isinstance(node, ast.BinOp) else (node.target, node.value)
        if any(isinstance(n, NOT_NUMBERS) or isinstance(getattr(n, "value", None), str) for n in sides):
            return
        token, broken = BINARY[type(node.op)]
        found = _token_between(lines, *sides, token)
        if found:
            yield "operator", *found, token, broken
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign", node.lineno, node.col_offset, "-", "+"
    elif isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in COMPARED:
        token, broken = COMPARED[type(node.ops[0])]
        found = _token_between(lines, node.left, node.comparators[0], token)
        if found:
            yield "comparison", *found, token, broken
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        token = lines[node.lineno - 1][node.col_offset : node.end_col_offset]
        broken = repr(2.0 * node.value or 1.0) if isinstance(node.value, float) else str(node.value + 1)
        yield "index" if _in_brackets(node, parents) else "constant", node.lineno, node.col_offset, token, broken


def _in_brackets(node, parents):
    """Whether a constant is an index or the end of a slice."""
    while node in parents and isinstance(node, (ast.Constant, ast.UnaryOp, ast.Slice, ast.Tuple)):
        node, field = parents[node]
        if isinstance(node, ast.Subscript):
            return field == "slice"
    return False


def _in_function(node, parents):
    """Whether a node stands in the body of a function."""
    while node in parents:
        node, field = parents[node]
        if isinstance(node, ast.FunctionDef) and field == "body":
            return True
    return False


def _parents(statement):
    """Node -> (node above, field of it) within a statement."""
    return {
        child: (node, field)
        for node in ast.walk(statement)
        for field, value in ast.iter_fields(node)
        for child in (value if isinstance(value, list) else [value])
        if isinstance(child, ast.AST)
    }


def candidates(rooms=ROOMS):
    """Every mutation of the rooms, in the order of the sources."""
    kernels, reached, found = in_kernels(), reach.closure(ROAD), {}
    for (module, name), statements in sorted(reach.definitions().items()):
        parts = module.split(".")
        if len(parts) < 3 or parts[1] not in rooms or name == reach.ON_IMPORT or (module, name) not in reached:
            continue
        lines = reach.source(module).splitlines()
        for statement in statements:
            parents = _parents(statement)
            for node in ast.walk(statement):
                if _skipped(node, parents):
                    continue
                for kind, line, column, token, broken in _of_node(node, parents, lines):
                    text = lines[line - 1].strip()
                    place = name, kind, line, column, token, broken, text, (module, name) in kernels
                    found.setdefault((module, line, column), Mutation(module, *place, not _in_function(node, parents)))
    return list(found.values())


def _by_lot(seed, mutation):
    return hashlib.sha256(f"{seed}|{mutation.key()}".encode()).hexdigest()


def _stratified(pool, count, seed, known):
    """`count` of a pool: every file in proportion to the square root of what it offers, one at least."""
    files = {}
    for mutation in pool:
        files.setdefault(mutation.file, []).append(mutation)
    for name in files:
        files[name].sort(key=lambda m: (m.key() not in known, _by_lot(seed, m)))
    taken = dict.fromkeys(files, 0)
    for _ in range(min(count, len(pool))):
        still = [name for name in files if taken[name] < len(files[name])]
        name = max(still, key=lambda n: (len(files[n]) ** 0.5 / (taken[n] + 0.5), n))
        taken[name] += 1
    return [m for name in sorted(files) for m in files[name][: taken[name]]]


def draw(count, seed, known=()):
    """`count` mutations, at most KERNELS of them in kernels, stratified over files.

    Those whose key is `known`, from an earlier draw by the same seed, go first: a draw lasts while files change.
    """
    pool = candidates()
    kernels = _stratified([m for m in pool if m.kernel], min(KERNELS, count), seed, known)
    return _stratified([m for m in pool if not m.kernel], count - len(kernels), seed, known) + kernels
