"""A sea whose tail or wind sea holds more or less energy than its spectrum says, over the same random draws.

A forecast or a buoy's record tells the energy near the peak best. What lies above is told by a model's own tail or is
extended by hand, and the young wind sea grows and dies within the hour.
"""

import numpy as np

TAIL_STARTS = 2.0 * np.pi * 0.25  # [rad/s]
OVER_PEAK = 2.0  # [-] of the peak frequency


def in_tail(omega, system, peaks):
    """Which components belong to the tail of their wave system, (N,) bool: above 0.25 Hz, and above twice its peak.

    `omega` (N,) [rad/s], `system` (N,) number of the wave system of each, `peaks` (systems,) [rad/s] of the systems. A
    buoy ends near 0.4 Hz and is noisy from some 0.25 Hz on; a short sea still has its peak there. Both bounds are our
    own choice.
    """
    return (omega > TAIL_STARTS) & (omega > OVER_PEAK * peaks[system])


def in_wind_sea(omega, system, peaks):
    """Which components are wind sea, (N,) bool: all systems but that of longest period; of one, above twice its peak.

    `omega`, `system`, `peaks` as in `in_tail`. Twice the peak is our own choice, for spectra without a partition.
    """
    longest = peaks.min()
    shorter = peaks > longest
    return shorter[system] if shorter.any() else omega > OVER_PEAK * longest


def energy_factors(components, peaks, tail_factor, wind_sea_factor):
    """Factor on the energy of each of the `components`, (N,) [-].

    `peaks` (systems,) [rad/s] of the wave systems. `tail_factor` [-] multiplies what the tail holds, and adds it to the
    sea. `wind_sea_factor` [-] multiplies the wind sea over the rest, at the same energy of the whole: with a share s of
    the energy in the wind sea before it is f s / (1 + (f - 1) s) after, never past the whole (definitions).
    """
    factors = np.ones(len(components.omega))
    if wind_sea_factor != 1.0:
        young = in_wind_sea(components.omega, components.system, peaks)
        energy = components.amplitude**2
        factors[young] = wind_sea_factor
        factors *= energy.sum() / (factors @ energy)
    if tail_factor != 1.0:
        factors[in_tail(components.omega, components.system, peaks)] *= tail_factor
    return factors
