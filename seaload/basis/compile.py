"""The one decorator that compiles a formula or a kernel, and its like for the few that make arrays.

Every compiled function takes the same options, because a callee otherwise takes those of its first
caller: other last digits, other speed, and exceptions where infinities were meant. A callee is always inlined.
Left to itself it would be a symbol of its own, and of two compiled copies the one loaded first would serve all
callers: a process that had used a formula alone then marched to other last digits (measured).

A function that makes no array keeps no count of who holds those it is given: in the march that counting took a fifth of
the time (measured). So it gives numbers back, never an array, unless to others of its kind.
"""

import numba

from seaload.basis.machine_code import keep

_OPTIONS = {
    "error_model": "numpy",
    "fastmath": {"reassoc", "contract", "nsz"},
    "nogil": True,
    "forceinline": True,
}


def compiled(formula):
    """The formula as a compiled function, its machine code kept between runs; it makes no array."""
    return keep(numba.njit(_nrt=False, **_OPTIONS)(formula))


def compiled_with_arrays(formula):
    """The same for a function that makes arrays."""
    return keep(numba.njit(**_OPTIONS)(formula))
