"""How wrong the force of a wave on the hull may be, by how long it is.

A hull goes with a wave far longer than herself, and any strip method has its force right there (the limit of long
waves, Newman 1977, Marine Hydrodynamics): what tests in waves of one to a few hull lengths tell of its error fades
beyond.
"""

import numpy as np

HALF = 0.5 * np.pi  # [-] wavenumber times length at which half of the error is left: four lengths, our own choice


def felt(wavenumber, length, factor):
    """Factor on waves as the hull feels them [-], of the shape of `wavenumber` [rad/m].

    length : of the hull [m]; factor : [-] on the force of short waves, incident and diffracted. 1 in long ones, from
    where the error grows with the square of the wavenumber, as what a strip method leaves out does (Newman 1977).
    """
    squared = (wavenumber * length / HALF) ** 2
    return 1.0 + (factor - 1.0) * squared / (1.0 + squared)
