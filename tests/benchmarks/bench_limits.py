"""Distance of the march to the machine: what its divisions and its multiply-adds would take alone, same run.

Operations are counted in the source of the kernels and of every formula they call; the limits are measured with loops
that do nothing else.
"""

import ast
import inspect
import textwrap
import time

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_product import lane_product
from seaload.basis.single_precision import in_single
from seaload.simulation import stage
from seaload.simulation.layout import DEPTH_TERMS, LANES
from seaload.simulation.stage import loads
from tests.benchmarks.measuring import REPEATS, row

SIZE = 1024


@compiled
def divide_loop(a, b, out, times):
    """Element-wise divisions, nothing else."""
    for _ in range(times):
        for i in range(a.size):
            out[i] = a[i] / (b[i] + out[i])


@compiled
def multiply_add_loop(x, out, times):
    """Sixteen multiply-adds an element."""
    for _ in range(times):
        for i in range(x.size):
            v = x[i]
            s = out[i]
            s = s * v + 0.1
            s = s * v + 0.2
            s = s * v + 0.3
            s = s * v + 0.4
            s = s * v + 0.5
            s = s * v + 0.6
            s = s * v + 0.7
            s = s * v + 0.8
            s = s * v + 0.1
            s = s * v + 0.2
            s = s * v + 0.3
            s = s * v + 0.4
            s = s * v + 0.5
            s = s * v + 0.6
            s = s * v + 0.7
            s = s * v + 0.8
            out[i] = s


@compiled
def load_loop(march, now, none, times):
    """The loads of hull and strips, again and again."""
    for _ in range(times):
        loads(march, now, none, none, none)


class Counter(ast.NodeVisitor):
    """Divisions and other float operations of one function body; index arithmetic is left out."""

    def __init__(self, names):
        self.names, self.divisions, self.others, self.factor = names, 0, 0, 1

    def visit_BinOp(self, node):
        if isinstance(node.op, ast.Div):
            constant = isinstance(node.right, ast.Constant) or (
                isinstance(node.left, ast.Constant) and isinstance(node.right, ast.Constant)
            )
            self.divisions += 0 if constant else self.factor
            self.others += self.factor if constant else 0
        else:
            self.others += self.factor
        self.generic_visit(node)

    def visit_AugAssign(self, node):
        self.others += self.factor
        self.visit(node.value)

    def visit_For(self, node):
        before = self.factor
        if isinstance(node.target, ast.Name) and node.target.id == "p":
            self.factor *= DEPTH_TERMS
        for part in node.body:
            self.visit(part)
        self.factor = before

    def visit_Call(self, node):
        name = getattr(node.func, "id", "")
        if name == "at":
            return
        called = self.names.get(name)
        if hasattr(called, "py_func"):
            divisions, others = operations(called)
            self.divisions += self.factor * divisions
            self.others += self.factor * others
        elif name in ("min", "max", "abs"):
            self.others += self.factor
        for part in node.args:
            self.visit(part)

    def visit_Subscript(self, node):
        return


def operations(function):
    """(divisions, other operations) of one pass through the innermost body of a compiled function."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function.py_func)))
    counter = Counter(function.py_func.__globals__)
    for part in tree.body[0].body:
        counter.visit(part)
    return counter.divisions, counter.others


def best(action, inner):
    """Least seconds of one call over repeats: a limit is what the machine can do."""
    action()
    found = []
    for _ in range(REPEATS * 4):
        began = time.perf_counter()
        for _ in range(inner):
            action()
        found.append((time.perf_counter() - began) / inner)
    return min(found)


def product_time(run):
    """Seconds of the matrix products of one anchor, done alone."""
    table, work, anchor = run.table, run.work, run.work.anchors[0].copy()

    def products():
        lane_product(table.project, work.phasor, work.shapes)
        for part, rows in ((table.hull, anchor[: len(table.hull.rows)]), (table.nodes, work.nodes)):
            first, own = 0, part.rows.shape[1]
            for matrix in part.terms:
                lane_product(matrix, work.shapes[: matrix.shape[1]], work.termed[first : first + own])
                first += own
            lane_product(part.rows, work.met[:own], rows)

    return best(products, 200)


def limit_rows(run):
    """Rows for the strip and hull kernels, called on a block's own arrays (`run` as block's _Run), single precision."""
    a, b, out = (np.full(SIZE, value, dtype=np.float32) for value in (1.1, 1.7, 0.0))
    divide = best(lambda: in_single(divide_loop)(a, b, out, 20), 5) / (20 * SIZE)
    x = np.full(SIZE, 0.3, dtype=np.float32)
    fused = best(lambda: in_single(multiply_add_loop)(x, out, 20), 5) / (20 * SIZE * 16)
    march, now, none = run.single, run.work.loads, np.float32(0.0)
    stations, strips = march.hull.shape[0], march.strip.shape[0]

    def call(times):
        in_single(load_loop)(march, now, none, times)

    took = (best(lambda: call(400), 5) - best(lambda: call(200), 5)) / 200  # less the cost of a call
    hull_divisions, hull_others = operations(stage.hull_loads)
    strip_divisions, strip_others = operations(stage.strip_loads)
    divisions = LANES * (stations * hull_divisions + strips * strip_divisions)
    others = LANES * (stations * hull_others + strips * strip_others)
    floor, bound = divisions * divide, 0.5 * others * fused
    both = took / (floor + bound)
    products = product_time(run) / run.clock.anchor_steps
    ceiling = LANES * run.clock.step / (4.0 * (floor + bound) + products)
    counts = f"({strip_divisions} a strip, {hull_divisions} a station, {divide * 1e9:.2f} ns each)"
    work_done = f"({strip_others} operations a strip, {hull_others} a station, {fused * 1e9:.3f} ns a pair)"
    return [
        row("real time if hull and strips took their divisions and multiply-adds alone, the waves their matrix "
            "products, all else nothing", 1.0 / ceiling, 1.0, None, "", ratio=ceiling),
        row(f"march kernel over its divide floor {counts}",
            took, floor, 2.0, "<=", ratio=took / floor,
            bound=f"divisions and multiply-adds share the time: {both:.2f} x their sum"),
        row(f"march kernel over its multiply-add bound {work_done}",
            took, bound, 4.0, "<=", ratio=took / bound),
    ]  # fmt: skip
