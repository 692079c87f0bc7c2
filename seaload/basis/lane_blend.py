"""Rows of three anchors, values beside rates, blended into rows at two instants, each lane with weights of its own.

Written in vectors of LANES with all weights held in registers: the anchors are read once for both instants, and reading
them is what it costs.
"""

from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic

from seaload.basis.compile import compiled
from seaload.basis.lane_index import LANES

PARTS = 6  # values of three anchors, then their rates
INSTANTS = 2
_INDEX = ir.IntType(64)
_VECTOR = ir.VectorType(ir.FloatType(), LANES)


def _vector(builder, data, place):
    """Pointer to LANES numbers from vector number `place` of flat data."""
    first = builder.mul(place, ir.Constant(_INDEX, LANES))
    return builder.bitcast(builder.gep(data, [first]), _VECTOR.as_pointer())


def _blended(builder, weights, parts):
    """Vector of the sum of `weights` times `parts`, in their order."""
    kind = ir.FunctionType(_VECTOR, [_VECTOR] * 3)
    multiply_add = cgutils.get_or_insert_function(builder.module, kind, f"llvm.fmuladd.v{LANES}f32")
    total = builder.fmul(weights[0], parts[0])
    for weight, part in zip(weights[1:], parts[1:], strict=True):
        total = builder.call(multiply_add, [weight, part, total])
    return total


def _all_rows(builder, data, count):
    """Fill `count` rows; `data` pointers to the numbers of all arguments of `_blend`, in their order."""
    anchors, weights, rated, values, rates = data[:3], data[3], data[4], data[5:7], data[7:9]
    total = 2 * INSTANTS * PARTS
    held = [builder.load(_vector(builder, weights, ir.Constant(_INDEX, i)), align=4) for i in range(total)]
    loop, also, following, after = (builder.append_basic_block() for _ in range(4))
    before = builder.block
    builder.cbranch(builder.icmp_signed("<", ir.Constant(_INDEX, 0), count), loop, after)
    builder.position_at_end(loop)
    row = builder.phi(_INDEX)
    row.add_incoming(ir.Constant(_INDEX, 0), before)
    wide = builder.mul(row, ir.Constant(_INDEX, 2))
    places = (wide, builder.add(wide, ir.Constant(_INDEX, 1)))
    parts = [builder.load(_vector(builder, each, place), align=4) for place in places for each in anchors]
    for i, out in enumerate(values):
        mine = held[2 * i * PARTS : (2 * i + 1) * PARTS]
        builder.store(_blended(builder, mine, parts), _vector(builder, out, row), align=4)
    flag = builder.load(builder.gep(rated, [row]))
    builder.cbranch(builder.icmp_unsigned("!=", flag, ir.Constant(flag.type, 0)), also, following)
    builder.position_at_end(also)
    for i, out in enumerate(rates):
        mine = held[(2 * i + 1) * PARTS : (2 * i + 2) * PARTS]
        builder.store(_blended(builder, mine, parts), _vector(builder, out, row), align=4)
    builder.branch(following)
    builder.position_at_end(following)
    more = builder.add(row, ir.Constant(_INDEX, 1))
    row.add_incoming(more, following)
    builder.cbranch(builder.icmp_signed("<", more, count), loop, after)
    builder.position_at_end(after)


@intrinsic
def _blend(typing, anchors, weights, rated, values, rates):
    """For compiled code: fill the rows, arguments as in `lane_blend`."""
    numbers = (anchors.dtype, weights, values.dtype, rates.dtype)
    if not all(each.ndim == 1 and each.layout == "C" and each.dtype == types.float32 for each in numbers):
        return None

    def code(context, builder, signature, arguments):
        pointers = []
        for kind, value in zip(signature.args, arguments, strict=True):
            many = isinstance(kind, types.UniTuple)
            each = cgutils.unpack_tuple(builder, value) if many else [value]
            made = cgutils.create_struct_proxy(kind.dtype if many else kind)
            pointers += [made(context, builder, one).data for one in each]
        flags = cgutils.create_struct_proxy(signature.args[2])(context, builder, arguments[2])
        (count,) = cgutils.unpack_tuple(builder, flags.shape)
        _all_rows(builder, pointers, count)
        return context.get_dummy_value()

    return types.void(anchors, weights, rated, values, rates), code


@compiled
def lane_blend(anchors, weights, rated, values, rates):
    """Blend three `anchors` into `values` at two instants, and into `rates` where `rated` (rows,) bool says so.

    `anchors` flat, rows of 2 LANES, values then rates; `weights` flat, (INSTANTS, value and rate, PARTS, LANES);
    `values` and `rates` a pair each, flat, rows of LANES. All numbers float32, nothing overlapping.
    """
    _blend(anchors, weights, rated, values, rates)
