"""Sea spectra in netCDF: NDBC and CDIP buoys, WAVEWATCH III and SWAN points, ERA5 two-dimensional spectra.

The layout is known by its density variable: `spectral_wave_density`, `efth`, `d2fd`, `density`. Directions
are turned to compass, coming FROM; a two-dimensional file that does not say from or to is refused, not
guessed. ERA5 is the named exception: its files carry only index numbers, and the direction (towards, first
band 7.5 degrees) and the frequencies come from the data centre's page "About ERA wave spectra".
"""

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files.sea_record import checked_record, chosen_index, existing_file, time_text
from seaload.waves.spreading import cos2s_density, s_from_first_amplitude

ERA5_LOWEST = 0.03453  # [Hz] first of 30 bands, each 1.1 times the one before
ERA5_RATIO = 1.1
BUOY_DIRECTIONS = 72
HIGHEST_R1 = 0.99
EAST_FROM = {"from": 0.0, "to": np.pi}  # what to add to a compass angle to make it FROM


def read_sea_netcdf(path, record_time, place=None):
    """SeaRecord of one time and place of a netCDF file.

    record_time such as 2014-12-01T00:00Z, or None in a file of one time. place: None in a file of one
    place; a whole number (place in the list, from 0; on a grid row by row, as the file has them), or on a grid
    (latitude, longitude) in degrees for the nearest point, no further than one grid step. Raises InputError
    for all that is missing, unreadable or not said in the file.
    """
    import xarray

    path = existing_file(path)
    try:
        dataset = xarray.open_dataset(path, decode_timedelta=False)
    except (OSError, ValueError, KeyError) as error:
        raise InputError(path, "file", path.name, f"a readable netCDF file ({error})") from None
    with dataset:
        if "valid_time" in dataset.variables and "time" not in dataset.variables:
            dataset = dataset.rename({"valid_time": "time"})
        for name, reader in (
            ("efth", _read_ww3),
            ("d2fd", _read_era5),
            ("density", _read_swan),
            ("spectral_wave_density", _read_buoy),
        ):
            if name in dataset:
                if "time" not in dataset.variables:
                    raise InputError(path, "time", "missing", "a variable named time or valid_time")
                return reader(path, dataset, record_time, place)
    allowed = "a file with efth, d2fd, density or spectral_wave_density"
    raise InputError(path, "variables", sorted(map(str, dataset.data_vars)), allowed)


def _time_index(path, dataset, record_time):
    times = np.atleast_1d(dataset["time"].values)
    minutes = (times + np.timedelta64(30, "s")).astype("datetime64[m]")  # days as fractions are not exact
    index = chosen_index(path, minutes, record_time)
    return index, minutes[index]


def _one_place(path, size, place, dimension):
    if place is None and size == 1:
        return 0
    if is_whole(place) and 0 <= place < size:
        return place
    raise InputError(path, "place", place, f"a whole number 0 to {size - 1} ({dimension} in the file)")


def is_whole(place):
    """Whether a place is told by its number in the list."""
    return isinstance(place, int) and not isinstance(place, bool)


def _direction_word(path, variable, dataset):
    """ "from" or "to" as the file says it, in the direction's own names or the file's convention."""
    words = " ".join(str(variable.attrs.get(key, "")) for key in ("standard_name", "long_name"))
    words = words.lower().replace("_", " ").split()
    said = {word for word in ("from", "to") if word in words}
    if not said and str(dataset.attrs.get("Directional_convention", "")).lower() == "nautical":
        said = {"from"}
    if len(said) != 1:
        allowed = "a name or attribute that says from or to; it is not guessed"
        raise InputError(path, "direction", " ".join(words), allowed)
    return said.pop()


def _direction_from(path, dataset):
    """Directions [rad], compass, FROM."""
    variable = dataset["direction"]
    units = str(variable.attrs.get("units", "")).lower()
    if units.startswith("rad"):
        angle = np.asarray(variable.values, dtype=float)
    elif units.startswith("deg"):
        angle = np.asarray(variable.values, dtype=float) * DEGREE
    else:
        raise InputError(path, "direction units", units, "degree or radians")
    return angle + EAST_FROM[_direction_word(path, variable, dataset)]


def _per_radian(path, variable):
    """Refuses a density whose units are not m2 s per radian."""
    units = str(variable.attrs.get("units", "")).lower().replace("**", "").replace("^", "")
    if "deg" in units or "log" in units or not ("rad" in units and "m2" in units):
        raise InputError(path, f"{variable.name} units", variable.attrs.get("units"), "m2 s rad-1")


def _read_ww3(path, dataset, record_time, place):
    index, time = _time_index(path, dataset, record_time)
    _per_radian(path, dataset["efth"])
    station = _one_place(path, dataset.sizes.get("station", 1), place, "station")
    density = dataset["efth"].isel(time=index)
    density = density.isel(station=station) if "station" in density.dims else density
    depth = np.nan
    if "dpt" in dataset:
        depths = dataset["dpt"].isel(time=index) if "time" in dataset["dpt"].dims else dataset["dpt"]
        depth = np.atleast_1d(depths.values)[station]
    return checked_record(
        path,
        time,
        dataset["frequency"].values,
        density.transpose("frequency", "direction").values,
        direction=_direction_from(path, dataset),
        notes=("wave model point spectrum; no tail added",),
        depth=depth,
    )


def _read_swan(path, dataset, record_time, place):
    index, time = _time_index(path, dataset, record_time)
    _per_radian(path, dataset["density"])
    point = _one_place(path, dataset.sizes.get("points", 1), place, "points")
    density = dataset["density"].isel(time=index)
    density = density.isel(points=point) if "points" in density.dims else density
    depth = np.nan
    if "depth" in dataset and "time" in dataset["depth"].dims:
        depth = np.atleast_1d(dataset["depth"].isel(time=index).values)[point]
    return checked_record(
        path,
        time,
        dataset["frequency"].values,
        density.transpose("frequency", "direction").values,
        direction=_direction_from(path, dataset),
        notes=("wave model point spectrum; no tail added",),
        depth=depth,
    )


def _nearest(path, axis, values, wanted, round_the_globe):
    away = np.abs(np.asarray(values, dtype=float) - wanted)
    away = np.minimum(np.mod(away, 360.0), 360.0 - np.mod(away, 360.0)) if round_the_globe else away
    index = int(np.argmin(away))
    step = np.min(np.abs(np.diff(values))) if len(values) > 1 else 1.0
    if away[index] > step:
        raise InputError(path, axis, wanted, f"within the grid, {min(values):g} to {max(values):g} degrees")
    return index


def _read_era5(path, dataset, record_time, place):
    index, time = _time_index(path, dataset, record_time)
    sizes = (dataset.sizes.get("frequency"), dataset.sizes.get("direction"))
    if sizes != (30, 24):
        raise InputError(path, "frequencies and directions", sizes, "30 and 24, as the data centre describes")
    latitudes, longitudes = (np.atleast_1d(dataset[axis].values) for axis in ("latitude", "longitude"))
    count = len(latitudes) * len(longitudes)
    if (place is None and count == 1) or (is_whole(place) and 0 <= place < count):
        row, column = divmod(place or 0, len(longitudes))
    elif isinstance(place, (tuple, list)) and len(place) == 2:
        row = _nearest(path, "latitude", latitudes, float(place[0]), False)
        column = _nearest(path, "longitude", longitudes, float(place[1]), True)
    else:
        raise InputError(path, "place", place, f"[latitude, longitude] in degrees, or a number 0 to {count - 1}")
    chosen = dataset["d2fd"].isel(time=index) if "time" in dataset["d2fd"].dims else dataset["d2fd"]
    axes = [axis for axis in ("latitude", "longitude") if axis in chosen.dims]
    chosen = chosen.isel({axis: row if axis == "latitude" else column for axis in axes})
    logarithm = chosen.transpose("frequency", "direction").values.astype(float)
    density = np.where(np.isfinite(logarithm), 10.0**logarithm, 0.0)  # missing = no energy in that band
    bands = np.arange(density.shape[0])
    return checked_record(
        path,
        time,
        ERA5_LOWEST * ERA5_RATIO**bands,
        density,
        direction=(7.5 + 15.0 * np.arange(24)) * DEGREE + EAST_FROM["to"],
        notes=("ERA5: directions and frequencies by the data centre's description", "no tail added"),
    )


def _read_buoy(path, dataset, record_time, place):
    index, time = _time_index(path, dataset, record_time)

    def at_record(name):
        values = dataset[name].isel(time=index)
        rest = [axis for axis in values.dims if axis != "frequency"]
        if place is not None or any(values.sizes[axis] != 1 for axis in rest):
            raise InputError(path, "place", place, "none: a buoy file holds one place")
        return np.asarray(values.isel(dict.fromkeys(rest, 0)).values, dtype=float)

    frequency = np.asarray(dataset["frequency"].values, dtype=float)
    density = at_record("spectral_wave_density")
    kept = np.isfinite(density)
    if not np.any(kept):
        raise InputError(path, f"record {time_text(time)}", "missing", "every band of this record is missing")
    notes = [] if np.all(kept) else [f"{int(np.sum(~kept))} bands missing, bridged by a straight line"]
    if "mean_wave_dir" not in dataset or "wave_spectrum_r1" not in dataset:
        notes.append("the record has no direction: heading and spreading are assumed")
        return checked_record(path, time, frequency[kept], density[kept], notes=notes)
    alpha1, r1 = at_record("mean_wave_dir")[kept], at_record("wave_spectrum_r1")[kept]
    valid = np.flatnonzero(np.isfinite(alpha1) & np.isfinite(r1))
    if len(valid) == 0:
        notes.append("the record has no valid direction: heading and spreading are assumed")
        return checked_record(path, time, frequency[kept], density[kept], notes=notes)
    nearest = valid[np.argmin(np.abs(np.arange(len(alpha1))[:, None] - valid[None, :]), axis=1)]
    direction = np.arange(BUOY_DIRECTIONS) * (2.0 * np.pi / BUOY_DIRECTIONS)
    s = s_from_first_amplitude(np.clip(r1[nearest], 0.02, HIGHEST_R1))[:, None]
    spread = cos2s_density(direction[None, :] - (alpha1[nearest] * DEGREE)[:, None], s)
    spread /= spread.sum(axis=1, keepdims=True) * (2.0 * np.pi / BUOY_DIRECTIONS)
    notes.append("direction from buoy moments alpha1 (FROM) and r1, shape cos2s")
    return checked_record(
        path, time, frequency[kept], density[kept][:, None] * spread, direction=direction, notes=notes
    )
