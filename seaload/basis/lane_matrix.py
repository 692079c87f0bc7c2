"""A product of matrices and pairs of columns of which every lane has its own, with the same bits for a lane anywhere.

Written in vectors of LANES, some rows at a time: as a loop over lanes the compiler leaves it scalar and it takes
several times as long (measured). The matrix is read once for both columns of a pair: that is what it costs. It comes in
both precisions, those of the march and of the calm trim.
"""

from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic

from seaload.basis.compile import compiled
from seaload.basis.lane_index import LANES

ROWS = 2  # summed side by side: with their columns they fill the registers of an AVX2 processor
_INDEX = ir.IntType(64)
PAIR = 2
_REAL = {types.float32: (ir.FloatType(), 32), types.float64: (ir.DoubleType(), 64)}


def _place(builder, data, row, vector):
    """Pointer to the LANES numbers of a row in flat data."""
    first = builder.mul(row, ir.Constant(_INDEX, LANES))
    return builder.bitcast(builder.gep(data, [first]), vector.as_pointer())


def _sums(builder, real, matrix, columns, starts, count):
    """Vectors of the sums over k < count of matrix row start + k times both columns' row k, a list of PAIR for each of
    `starts`.
    """
    scalar, bits = real
    vector, align = ir.VectorType(scalar, LANES), bits // 8
    kind = ir.FunctionType(vector, [vector] * 3)
    multiply_add = cgutils.get_or_insert_function(builder.module, kind, f"llvm.fmuladd.v{LANES}f{bits}")
    before, loop, after = builder.block, builder.append_basic_block(), builder.append_basic_block()
    builder.branch(loop)
    builder.position_at_end(loop)
    k = builder.phi(_INDEX)
    totals = [[builder.phi(vector) for _ in range(PAIR)] for _ in starts]
    first = builder.mul(k, ir.Constant(_INDEX, PAIR))
    pair = [builder.add(first, ir.Constant(_INDEX, i)) for i in range(PAIR)]
    column = [builder.load(_place(builder, columns, row, vector), align=align) for row in pair]
    more = []
    for start, both in zip(starts, totals, strict=True):
        factor = builder.load(_place(builder, matrix, builder.add(start, k), vector), align=align)
        more.append([builder.call(multiply_add, [factor, *each]) for each in zip(column, both, strict=True)])
    following = builder.add(k, ir.Constant(_INDEX, 1))
    builder.cbranch(builder.icmp_signed("<", following, count), loop, after)
    k.add_incoming(ir.Constant(_INDEX, 0), before)
    k.add_incoming(following, loop)
    for both, next_both in zip(totals, more, strict=True):
        for total, next_total in zip(both, next_both, strict=True):
            total.add_incoming(ir.Constant(vector, None), before)
            total.add_incoming(next_total, loop)
    builder.position_at_end(after)
    return more


def _rows_at_once(rows):
    """Function for compiled code that fills `rows` rows of a product, arguments as in its body."""

    def fill(typing, matrix, columns, out, row, count):
        if not all(each.ndim == 1 and each.layout == "C" and each.dtype in _REAL for each in (matrix, columns, out)):
            return None
        real = _REAL[matrix.dtype]

        def code(context, builder, signature, arguments):
            data = [
                cgutils.create_struct_proxy(kind)(context, builder, value).data
                for kind, value in zip(signature.args[:3], arguments[:3], strict=True)
            ]
            row, count = arguments[3:]
            mine = [builder.add(row, ir.Constant(_INDEX, i)) for i in range(rows)]
            starts = [builder.mul(each, count) for each in mine]
            vector = ir.VectorType(real[0], LANES)
            for each, both in zip(mine, _sums(builder, real, *data[:2], starts, count), strict=True):
                first = builder.mul(each, ir.Constant(_INDEX, PAIR))
                for i, total in enumerate(both):
                    at = builder.add(first, ir.Constant(_INDEX, i))
                    builder.store(total, _place(builder, data[2], at, vector), align=real[1] // 8)
            return context.get_dummy_value()

        return types.void(matrix, columns, out, types.int64, types.int64), code

    return intrinsic(fill)


_fill_rows, _fill_row = _rows_at_once(ROWS), _rows_at_once(1)


@compiled
def lane_matrix_product(matrix, columns, out, rows, count):
    """out[i, c, lane] = sum over k of matrix[i, k, lane] columns[k, c, lane], `rows` of i, `count` of k, two of c.

    All three flat, of one precision, nothing overlapping. The last rows are done twice, to the same bits.
    """
    if rows < ROWS:
        for row in range(rows):
            _fill_row(matrix, columns, out, row, count)
    else:
        for row in range(0, rows, ROWS):
            _fill_rows(matrix, columns, out, min(row, rows - ROWS), count)
