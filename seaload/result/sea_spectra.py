"""The sea as asked for and as realised: spectra at a fixed point, from the components that the boats met."""

import numpy as np

from seaload.simulation.model_options import model_factors
from seaload.simulation.sea_table import phases_of, sea_components, swings_of

BAND = 0.005  # [Hz] width of the frequency bands
HIGHEST = 0.6  # [Hz]
SAMPLE = 0.5  # [s]
MOST_REALISATIONS = 16  # looked at


def frequency_bands():
    """Middles of the bands [Hz]."""
    return BAND * (np.arange(int(round(HIGHEST / BAND))) + 0.5)


def asked_spectrum(sea):
    """Density asked for in the bands, (bands,) [m2/Hz]: the mean of the given one over each."""
    edges = 2.0 * np.pi * BAND * np.arange(int(round(HIGHEST / BAND)) + 1)
    energy = np.zeros(len(edges))
    for system in sea.systems:
        fine = np.unique(np.concatenate([system.omega, edges]))
        density = np.interp(fine, system.omega, system.density, left=0.0, right=0.0)
        grown = np.concatenate([[0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(fine))])
        energy += np.interp(edges, fine, grown)
    return np.diff(energy) / BAND


def realised_spectrum(sea, sampling, count, named_model):
    """(mean density of `count` realisations (bands,) [m2/Hz], Hs of each (count,) [m]) at a fixed point."""
    model = model_factors(named_model)
    parts = sea_components(sea, sampling.seed, sampling.components, model)
    count = min(count, MOST_REALISATIONS)
    drawn = sea, sampling.seed, list(range(count)), len(parts.omega)
    phases, swings = phases_of(*drawn), swings_of(*drawn, model)
    time = SAMPLE * np.arange(int(round(sampling.realisation_time / SAMPLE)))
    turn = np.outer(time, parts.omega)
    cosine, sine = np.cos(turn) * parts.amplitude, np.sin(turn) * parts.amplitude
    elevation = cosine @ (swings * np.cos(phases)) + sine @ (swings * np.sin(phases))  # a cos(phase - omega t)
    energy = 2.0 * np.abs(np.fft.rfft(elevation, axis=0)) ** 2 / len(time) ** 2
    frequency = np.fft.rfftfreq(len(time), SAMPLE)
    band = np.floor(frequency / BAND).astype(int)
    density = np.zeros(len(frequency_bands()))
    used = (band < len(density)) & (frequency > 0.0)
    np.add.at(density, band[used], energy[used].mean(axis=1) / BAND)
    return density, 4.0 * elevation.std(axis=0)


def mean_from_bow(sea):
    """Where the waves come from, energy mean over the systems [rad], 0 = dead ahead, + from windward."""
    energy = np.array([np.trapezoid(system.density, system.omega) for system in sea.systems])
    going = np.array([system.direction for system in sea.systems])
    mean = np.arctan2(np.sum(energy * np.sin(going)), np.sum(energy * np.cos(going)))
    return float(np.angle(np.exp(1j * (np.pi - mean))))
