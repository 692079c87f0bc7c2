"""Wave components of a two-dimensional density."""

import numpy as np

from seaload.waves.components import choose_components, direction_widths


def choose_directional_components(omega, direction, density, count, stream):
    """Components (N = count) of one two-dimensional spectrum.

    omega (n,) [rad/s]; direction (d,) [rad] mu, once round in order; density (n, d) [m2 s/rad per rad]. The
    frequencies follow the density summed over direction; each component takes one direction, from the
    spreading at its own frequency. Raises ValueError as `choose_components`.
    """
    density = np.asarray(density, dtype=float)
    total = density @ direction_widths(direction)
    return choose_components([(omega, total, 0.0, np.inf, direction, density)], count, stream)
