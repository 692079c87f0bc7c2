"""Gusts as a field of wind that drifts past the boat unchanged (frozen): how strong over the sea, its spectrum, a draw.

Only the wind along its own mean direction varies. Along any line through the field gusts are as long as along the
wind, though across it they are shorter (assumption); squalls and shifts of direction are left out.
"""

import numpy as np

GUST_LENGTH, HEIGHT_SHARE, HIGHEST = 8.1, 0.7, 60.0  # [-], [-], [m] of the length scale


def gustiness(wind):
    """Standard deviation of the wind over its mean at sea [-]: 2.5 u*/U with (u*/U)^2 = 0.001 (1.1 + 0.035 U).

    `wind` U [m/s] at 10 m. The drag of the sea is that of the Coastal Engineering Manual, read in the open package
    scientimate 2.0 (parametricwavedeep); 2.5 friction velocities over flat ground from memory.
    """
    return 2.5 * np.sqrt(1e-3 * (1.1 + 0.035 * wind))


def gust_length(height):
    """Length scale of gusts along the wind [m]: 8.1 x 0.7 z, from 60 m on as there.

    `height` z [m] above the sea. IEC 61400-1 ed. 3, read in the open package pyconturb 2.7.4.
    """
    return GUST_LENGTH * HEIGHT_SHARE * min(height, HIGHEST)


def kaimal_spectrum(rate, deviation, scale):
    """One-sided spectrum of gusts [m2/s2 per unit of `rate`]: 4 sigma^2 T/(1 + 6 f T)^(5/3); its integral is sigma^2.

    `rate` f (n,) and `scale` T: cycles a metre [1/m] and [m] in the field, or [1/s] and [s], length over the speed that
    the field goes by at; `deviation` sigma [m/s]. Form of Kaimal et al. 1972 (year from memory) as in IEC 61400-1 ed.
    3, read in pyconturb 2.7.4.
    """
    return 4.0 * deviation**2 * scale / (1.0 + 6.0 * rate * scale) ** (5.0 / 3.0)


def gust_deviations(count, spacing, deviation, scale):
    """(wavenumber, standard deviation) of each wave of a field of gusts, (count // 2 + 1,) [cycles/m], [m/s].

    `count` of places, even, `spacing` [m] apart; `deviation` [m/s] of the wind, `scale` [m] as `gust_length`. A wave
    has the variance of its band of the spectrum (definition); the mean, and what two places cannot tell, are left out.
    """
    wavenumber = np.arange(count // 2 + 1) / (count * spacing)
    each = np.sqrt(kaimal_spectrum(wavenumber, deviation, scale) / (count * spacing))
    each[0] = 0.0
    return wavenumber, each


def gust_field(generator, deviations):
    """Wind over its mean along a line, once round, (2 n - 2,) [m/s]: Gaussian waves of random phase.

    `generator` of random numbers, `deviations` (n,) [m/s] as of `gust_deviations`. Spectral representation, in any text
    on random processes.
    """
    count = 2 * (len(deviations) - 1)
    real, imaginary = generator.standard_normal((2, len(deviations)))
    wave = deviations * (real + 1j * imaginary)
    wave[-1] = np.sqrt(2.0) * wave[-1].real  # half a band wide, and no phase
    return np.fft.irfft(wave, count) * (count / 2)
