"""Forecasts at single points, as wave models publish their spectra: each place of a leg takes the point nearest to it.

Layout: WAVEWATCH III point output, dimensions time, station, frequency, direction (reference: netCDF layouts).
"""

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files import forecast_layouts as known

STATION, ALONE = "station", "row of points"
FARTHEST = 277_800.0  # [m] 150 nautical miles from a place of the leg to the point it takes; our own choice
RADIUS = 6_371_008.8  # [m] mean radius of the WGS 84 ellipsoid
ADRIFT = 0.05 * DEGREE  # [rad] that a point may move over the times of a file
NAUTICAL_MILE = 1852.0  # [m]


def of_points(dataset):
    """Whether a dataset tells seas at points rather than on a grid."""
    return STATION in dataset.dims and not any(name in dataset.dims for name in (*known.LATITUDES, *known.LONGITUDES))


def unit_vectors(latitude, longitude):
    """Unit vectors (..., 3) [-] to places (...) [rad] from the earth's middle."""
    return np.stack([np.cos(latitude) * np.cos(longitude), np.cos(latitude) * np.sin(longitude), np.sin(latitude)],
                    axis=-1)  # fmt: skip


def apart(places, points):
    """Distances (n, k) [m] along great circles between `places` (n, 2) and `points` (k, 2), latitude and longitude
    [rad].
    """
    one, other = (unit_vectors(*np.asarray(part, dtype=float).T) for part in (places, points))
    chord = np.linalg.norm(one[:, None] - other[None], axis=-1)
    return 2.0 * RADIUS * np.arcsin(np.clip(0.5 * chord, 0.0, 1.0))


def nearest_points(path, dataset, stretch):
    """(numbers of the stations that are nearest to some place of a `Stretch`, their places (k, 2) [rad], distance [m]
    of the farthest place from its own); InputError where one is too far from all.
    """
    points = np.column_stack([place_of(path, dataset, names) for names in (known.LATITUDES, known.LONGITUDES)])
    sound = np.isfinite(points).all(axis=1)
    if not sound.any():
        raise InputError(path, STATION, "none", "stations with a latitude and a longitude")
    places = np.column_stack([stretch.latitude, stretch.longitude])
    far = np.where(sound[None], apart(places, np.nan_to_num(points)), np.inf)
    least = far.min(axis=1)
    if least.max() > FARTHEST:
        worst = places[int(np.argmax(least))] / DEGREE
        allowed = (f"a point within {FARTHEST / NAUTICAL_MILE:.0f} nautical miles; the nearest is "
                   f"{least.max() / NAUTICAL_MILE:.0f} away")  # fmt: skip
        raise InputError(path, STATION, f"{worst[0]:.2f}, {worst[1]:.2f} degrees", allowed)
    chosen = np.unique(np.argmin(far, axis=1))
    return chosen, points[chosen], float(least.max())


def place_of(path, dataset, names):
    """(k,) [rad] of all stations, the first of `names` that the dataset has; InputError where they move."""
    name = next((one for one in names if one in dataset.variables), None)
    if name is None or STATION not in dataset[name].dims or dataset[name].dtype.kind not in "fiu":
        raise InputError(path, names[0], "missing", "the latitude and longitude of every station")
    rest = [dim for dim in dataset[name].dims if dim != STATION]
    rows = np.asarray(dataset[name].transpose(STATION, *rest).values, dtype=float).reshape(dataset.sizes[STATION], -1)
    rows = rows * DEGREE
    first = rows[:, 0]
    if rows.size and np.any(np.abs(rows - first[:, None]) > ADRIFT):
        raise InputError(path, name, "moving", "stations that stay where they are")
    return first
