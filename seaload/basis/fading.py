"""Fading exponential without branches or a library call, so that a loop over lanes stays vectorised."""

from seaload.basis.compile import compiled

LONGEST = 40.0  # beyond it nothing is left in double precision that matters


@compiled
def fading(exponent):
    """exp(-exponent) [-] for `exponent` >= 0, good to 1e-13; past 40 it stays at exp(-40).

    Taylor polynomial at a 64th of the exponent, squared six times.
    """
    x = min(max(exponent, 0.0), LONGEST) * (-1.0 / 64.0)
    p = 1.0 + x * (
        1.0
        + x
        * (
            0.5
            + x
            * (
                1.0 / 6.0
                + x
                * (
                    1.0 / 24.0
                    + x
                    * (
                        1.0 / 120.0
                        + x
                        * (
                            1.0 / 720.0
                            + x
                            * (
                                1.0 / 5040.0
                                + x
                                * (
                                    1.0 / 40320.0
                                    + x * (1.0 / 362880.0 + x * (1.0 / 3628800.0 + x * (1.0 / 39916800.0)))
                                )
                            )
                        )
                    )
                )
            )
        )
    )
    p2 = p * p
    p4 = p2 * p2
    p8 = p4 * p4
    p16 = p8 * p8
    p32 = p16 * p16
    return p32 * p32
