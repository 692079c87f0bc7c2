"""Sine and cosine together, without branches, so that a loop over lanes stays vectorised."""

from seaload.basis.compile import compiled

_TURN = 0.15915494309189535  # 1/(2 pi)
_TWO_PI_HIGH = 6.283185307179586
_TWO_PI_LOW = 2.4492935982947064e-16
_SHIFTER = 6755399441055744.0  # 1.5 * 2^52: adding and taking it away rounds to a whole number


@compiled
def within_half_a_turn(angle):
    """`angle` [rad] less whole turns, in two parts (Cody & Waite 1980); |angle| < 1e9, double precision only."""
    turns = float(round(angle * _TURN))
    return (angle - turns * _TWO_PI_HIGH) - turns * _TWO_PI_LOW


@compiled
def sine_cosine(angle):
    """(sin, cos) of `angle` [rad], good to 1e-14 plus the rounding of the angle itself (|angle| < 1e9)."""
    return sine_cosine_within(within_half_a_turn(angle))


@compiled
def sine_cosine_within(angle):
    """(sin, cos) of an angle [rad] between half a turn either way.

    Taylor polynomials at a quarter of it, doubled twice; in single precision good to 1e-6.
    """
    q = 0.25 * angle
    q2 = q * q
    s = q * (
        1.0
        + q2
        * (
            -1.0 / 6.0
            + q2
            * (
                1.0 / 120.0
                + q2
                * (
                    -1.0 / 5040.0
                    + q2 * (1.0 / 362880.0 + q2 * (-1.0 / 39916800.0 + q2 * (1.0 / 6227020800.0)))
                )
            )
        )
    )
    v = q2 * (
        0.5
        + q2
        * (
            -1.0 / 24.0
            + q2
            * (
                1.0 / 720.0
                + q2
                * (
                    -1.0 / 40320.0
                    + q2 * (1.0 / 3628800.0 + q2 * (-1.0 / 479001600.0 + q2 * (1.0 / 87178291200.0)))
                )
            )
        )
    )  # 1 - cos q
    c = 1.0 - v
    s2 = 2.0 * s * c
    c2 = 1.0 - 2.0 * s * s
    return 2.0 * s2 * c2, 1.0 - 2.0 * s2 * s2
