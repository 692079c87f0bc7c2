"""Damage sums over counted cycles, damage-equivalent load, and the textbook corrections for mean load.

S-N curve in load *range* here: N = strength * range^-slope. (The spectral formulas use the amplitude, half of it:
a mix-up costs a factor 2^slope.)
"""

import numpy as np


def miner_damage(ranges, counts, slope, strength):
    """Miner damage sum of counted cycles, range only [-].

    ranges : (k,) [load], counts : (k,) [-], slope : float [-], strength : float [load^slope].
    """
    return float(np.sum(counts * np.asarray(ranges, dtype=float) ** slope) / strength)


def damage_equivalent_range(ranges, counts, slope, cycles):
    """Range that does the same damage in `cycles` equal cycles [load]: (sum n S^m / N)^(1/m).

    Arguments as `miner_damage`; the sum is taken relative to the largest range, so that it cannot overflow.
    """
    ranges = np.asarray(ranges, dtype=float)
    largest = ranges.max(initial=0.0)
    if largest == 0.0:
        return 0.0
    return float(largest * (np.sum(counts * (ranges / largest) ** slope) / cycles) ** (1.0 / slope))


def bilinear_cycles(load_range, slope, strength, long_slope, knee_cycles):
    """Cycles to failure of an S-N curve with a knee [-]: `slope` down to `knee_cycles`, `long_slope` beyond.

    load_range : float or array [load] > 0; strength [load^slope]; the two branches meet at the knee.
    """
    load_range = np.asarray(load_range, dtype=float)
    knee_range = (strength / knee_cycles) ** (1.0 / slope)
    return np.where(
        load_range >= knee_range,
        strength * load_range**-slope,
        knee_cycles * (load_range / knee_range) ** -long_slope,
    )


def goodman_amplitude(amplitude, mean, ultimate):
    """Fully reversed amplitude of equal damage [load], Goodman: a / (1 - mean/ultimate); compressive means relieve."""
    return amplitude / (1.0 - mean / ultimate)


def gerber_amplitude(amplitude, mean, ultimate):
    """Fully reversed amplitude of equal damage [load], Gerber: a / (1 - (mean/ultimate)^2)."""
    return amplitude / (1.0 - (mean / ultimate) ** 2)


def smith_watson_topper_amplitude(amplitude, mean):
    """Fully reversed amplitude of equal damage [load], Smith, Watson & Topper 1970: sqrt(max * a); 0 if max <= 0."""
    return np.sqrt(np.maximum(amplitude + mean, 0.0) * amplitude)
