"""The one decorator that compiles a formula or a kernel.

Every compiled function takes the same options, because a callee otherwise takes those of its first
caller: other last digits, other speed, and exceptions where infinities were meant. A callee is always inlined.
Left to itself it would be a symbol of its own, and of two compiled copies the one loaded first would serve all
callers: a process that had used a formula alone then marched to other last digits (measured).
"""

import numba

from seaload.basis.machine_code import keep

_compiler = numba.njit(
    error_model="numpy",
    fastmath={"reassoc", "contract", "nsz"},
    nogil=True,
    forceinline=True,
)


def compiled(formula):
    """The formula as a compiled function, its machine code kept between runs."""
    return keep(_compiler(formula))
