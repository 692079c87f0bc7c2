"""Kernel: five equations with a symmetric matrix, solved for one lane in a fixed order of operations."""

from typing import NamedTuple

from seaload.basis.compile import compiled


class Inertia(NamedTuple):
    """Lower half of a symmetric matrix of mass and added mass, freedoms numbered 1 to 5."""

    m11: float
    m21: float
    m22: float
    m31: float
    m32: float
    m33: float
    m41: float
    m42: float
    m43: float
    m44: float
    m51: float
    m52: float
    m53: float
    m54: float
    m55: float


@compiled
def five_accelerations(m, force):
    """Accelerations (5,) [m/s2] or [rad/s2] of five freedoms under a `force` (5,) [N] or [N m], tuples.

    `m` an `Inertia`, positive definite [kg], [kg m], [kg m2]. Factors L D L^T (Cholesky's without roots, in any text on
    numerical analysis), every lane through the same operations in the same order.
    """
    i1 = 1.0 / m.m11
    l21, l31, l41, l51 = m.m21 * i1, m.m31 * i1, m.m41 * i1, m.m51 * i1
    i2 = 1.0 / (m.m22 - l21 * m.m21)
    v32, v42, v52 = m.m32 - l31 * m.m21, m.m42 - l41 * m.m21, m.m52 - l51 * m.m21
    l32, l42, l52 = v32 * i2, v42 * i2, v52 * i2
    i3 = 1.0 / (m.m33 - l31 * m.m31 - l32 * v32)
    v43, v53 = m.m43 - l41 * m.m31 - l42 * v32, m.m53 - l51 * m.m31 - l52 * v32
    l43, l53 = v43 * i3, v53 * i3
    i4 = 1.0 / (m.m44 - l41 * m.m41 - l42 * v42 - l43 * v43)
    v54 = m.m54 - l51 * m.m41 - l52 * v42 - l53 * v43
    l54 = v54 * i4
    i5 = 1.0 / (m.m55 - l51 * m.m51 - l52 * v52 - l53 * v53 - l54 * v54)
    f1, f2, f3, f4, f5 = force
    y2 = f2 - l21 * f1
    y3 = f3 - l31 * f1 - l32 * y2
    y4 = f4 - l41 * f1 - l42 * y2 - l43 * y3
    y5 = f5 - l51 * f1 - l52 * y2 - l53 * y3 - l54 * y4
    x5 = y5 * i5
    x4 = y4 * i4 - l54 * x5
    x3 = y3 * i3 - l43 * x4 - l53 * x5
    x2 = y2 * i2 - l32 * x3 - l42 * x4 - l52 * x5
    x1 = f1 * i1 - l21 * x2 - l31 * x3 - l41 * x4 - l51 * x5
    return x1, x2, x3, x4, x5
