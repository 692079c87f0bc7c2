"""A matrix product whose columns are lanes, with the same bits for a column wherever it stands.

A matrix library's own kernels treat the columns at the end of a row differently from those before, so there a column's
last digits depend on its place, and with them a case on its company (measured: 14 of 32 columns in single precision).
Here every column goes through the same multiply-adds in the same order, whatever the width of the processor's vectors:
the loop is written in vectors of LANES, six rows at a time, which fill the registers of an AVX2 processor. Written as a
loop over lanes it takes twice as long, in the matrix library half as much again (measured).
"""

from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic

from seaload.basis.compile import compiled
from seaload.basis.lane_index import LANES

ROWS = 6  # summed side by side

_INDEX, _PLACE = ir.IntType(64), ir.IntType(32)
_VECTOR = ir.VectorType(ir.FloatType(), LANES)


def _data(context, builder, kind, value):
    """Pointer to the first number of an array."""
    return cgutils.create_struct_proxy(kind)(context, builder, value).data


def _columns(builder, data, row, width, first):
    """Pointer to LANES numbers of a row of `width` numbers, from column `first`."""
    place = builder.add(builder.mul(row, width), first)
    return builder.bitcast(builder.gep(data, [place]), _VECTOR.as_pointer())


def _everywhere(builder, number):
    """A vector with `number` in every lane."""
    nothing = ir.Constant(_VECTOR, ir.Undefined)
    first = builder.insert_element(nothing, number, ir.Constant(_PLACE, 0))
    return builder.shuffle_vector(first, nothing, ir.Constant(ir.VectorType(_PLACE, LANES), [0] * LANES))


def _summed(builder, matrix, columns, rows, first, sizes):
    """Vectors of the sums over k of matrix[row, k] columns[k, first:first + LANES], one for each of `rows`."""
    count, width = sizes
    kind = ir.FunctionType(_VECTOR, [_VECTOR] * 3)
    multiply_add = cgutils.get_or_insert_function(builder.module, kind, f"llvm.fmuladd.v{LANES}f32")
    starts = [builder.gep(matrix, [builder.mul(row, count)]) for row in rows]
    before, loop, after = builder.block, builder.append_basic_block(), builder.append_basic_block()
    builder.branch(loop)
    builder.position_at_end(loop)
    k, sums = builder.phi(_INDEX), [builder.phi(_VECTOR) for _ in rows]
    column = builder.load(_columns(builder, columns, k, width, first), align=4)
    more = []
    for start, total in zip(starts, sums, strict=True):
        factor = _everywhere(builder, builder.load(builder.gep(start, [k])))
        more.append(builder.call(multiply_add, [factor, column, total]))
    following = builder.add(k, ir.Constant(_INDEX, 1))
    builder.cbranch(builder.icmp_signed("<", following, count), loop, after)
    k.add_incoming(ir.Constant(_INDEX, 0), before)
    k.add_incoming(following, loop)
    for total, next_total in zip(sums, more, strict=True):
        total.add_incoming(ir.Constant(_VECTOR, None), before)
        total.add_incoming(next_total, loop)
    builder.position_at_end(after)
    return more


def _rows_at_once(rows):
    """Function for compiled code that fills `rows` rows by LANES columns of a product, arguments as in its body."""

    def fill(typing, matrix, columns, out, row, first):
        for each in (matrix, columns, out):
            if not (each.ndim == 2 and each.layout == "C" and each.dtype == types.float32):
                return None

        def code(context, builder, signature, arguments):
            data = [_data(context, builder, k, a) for k, a in zip(signature.args[:3], arguments[:3], strict=True)]
            shape = cgutils.create_struct_proxy(signature.args[1])(context, builder, arguments[1]).shape
            sizes = cgutils.unpack_tuple(builder, shape)
            row, first = arguments[3:]
            mine = [builder.add(row, ir.Constant(_INDEX, i)) for i in range(rows)]
            for each, total in zip(mine, _summed(builder, *data[:2], mine, first, sizes), strict=True):
                builder.store(total, _columns(builder, data[2], each, sizes[1], first), align=4)
            return context.get_dummy_value()

        return types.void(matrix, columns, out, types.int64, types.int64), code

    return intrinsic(fill)


_fill_rows, _fill_row = _rows_at_once(ROWS), _rows_at_once(1)


@compiled
def lane_product(matrix, columns, out):
    """`matrix` (m, n) times `columns` (n, whole LANES), n >= 1, into `out`: float32, contiguous, nothing overlapping.

    The last rows of a large matrix are done twice, to the same bits.
    """
    rows = matrix.shape[0]
    for first in range(0, columns.shape[1], LANES):
        if rows < ROWS:
            for row in range(rows):
                _fill_row(matrix, columns, out, row, first)
        else:
            for row in range(0, rows, ROWS):
                _fill_rows(matrix, columns, out, min(row, rows - ROWS), first)
