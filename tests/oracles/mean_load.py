"""Textbook corrections for mean load, and an S-N curve with a knee."""

import numpy as np


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
