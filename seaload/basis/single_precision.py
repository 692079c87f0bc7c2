"""The same compiled formula with its constants in single precision.

A constant like 0.5 is a double, and one double turns a whole expression over single-precision arrays into double
precision. The twin made here has the same code with every constant rounded to single, in the formula
and in all compiled formulas it calls, so there is one source of each formula and two precisions of it. Single precision
lets a processor do twice as many lanes at a time and divide more than twice as fast.
"""

from types import FunctionType

import numpy as np

from seaload.basis.compile import compiled

_TWINS = {}


def _rounded(constant):
    """A float constant in single precision; anything else, whole numbers included, as it is."""
    if type(constant) is float:
        return np.float32(constant)
    if type(constant) is tuple:
        return tuple(_rounded(each) for each in constant)
    return constant


def in_single(formula):
    """Compiled twin of the compiled `formula` for arguments in single precision; made once."""
    plain = formula.py_func
    if plain not in _TWINS:
        code = plain.__code__
        known = dict(plain.__globals__)
        for name in set(code.co_names) & set(known):
            value = known[name]
            known[name] = in_single(value) if hasattr(value, "py_func") else _rounded(value)
        name = f"{plain.__name__}_in_single"
        constants = tuple(_rounded(each) for each in code.co_consts)
        code = code.replace(co_consts=constants, co_name=name, co_qualname=name)
        twin = FunctionType(code, known, name, plain.__defaults__, plain.__closure__)
        twin.__doc__, twin.__qualname__ = plain.__doc__, name
        _TWINS[plain] = compiled(twin)
    return _TWINS[plain]
