"""Two-dimensional spectra on a grid told as one wave system at each point: height, peak period, mean direction."""

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files.sea_netcdf import ERA5_LOWEST, ERA5_RATIO

NAMES = ("d2fd", "efth")
NOTE = "two-dimensional spectra told as one wave system at each point: height, peak period, mean direction"


def spectra_of(dataset):
    """Name of the density of two-dimensional spectra in a dataset, or None."""
    return next((name for name in NAMES if name in dataset.variables), None)


def spectral_systems(reader, density):
    """(words, (hs, tp, from) each (1, t, m, a, o), notes) of the spectra that a `Reader` has as `density`."""
    axes = ("frequency", "direction")
    values = reader.values(density, axes)
    if density == "d2fd":
        if values.shape[-2:] != (30, 24):
            raise InputError(reader.path, density, values.shape[-2:], "30 frequencies and 24 directions")
        with np.errstate(over="ignore"):
            values = np.where(np.isnan(values), 0.0, 10.0**values)
        frequency = ERA5_LOWEST * ERA5_RATIO ** np.arange(30)
        came, said = (7.5 + 15.0 * np.arange(24)) * DEGREE + np.pi, "ERA5: directions and frequencies by its own page"
    else:
        frequency = np.asarray(reader.dataset["frequency"].values, dtype=float)
        angle = np.asarray(reader.dataset["direction"].values, dtype=float)
        size = DEGREE if reader.unit("direction").startswith("deg") else 1.0
        came = angle * size + (0.0 if reader.sense("direction", "") == "from" else np.pi)
        said = f"directions as the file says: {reader.sense('direction', '')}"
    width = 2.0 * np.pi / values.shape[-1]
    alone = values.sum(axis=-1) * width
    energy = np.trapezoid(np.nan_to_num(alone), frequency, axis=-1)
    hs = np.where(energy > 0.0, 4.0 * np.sqrt(energy), np.nan)
    tp = 1.0 / frequency[np.argmax(alone, axis=-1)]
    turned = np.trapezoid(values, frequency, axis=-2)
    where = np.mod(np.arctan2(turned @ np.sin(came), turned @ np.cos(came)), 2.0 * np.pi)
    tp = np.where(np.isfinite(hs), tp, np.nan)
    return ("all waves",), (hs[None], tp[None], where[None]), [NOTE, said]
