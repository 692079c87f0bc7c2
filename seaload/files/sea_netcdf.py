"""Sea spectra in netCDF: NDBC and CDIP buoys, WAVEWATCH III and SWAN points, ERA5 two-dimensional spectra.

The layout is known by its density variable: `spectral_wave_density`, `efth`, `d2fd`, `density`. Directions
are turned to compass, coming FROM; a two-dimensional file that does not say from or to is refused, not
guessed. ERA5 is the named exception: its files carry only index numbers, and the direction (towards, first
band 7.5 degrees) and the frequencies come from the data centre's page "About ERA wave spectra".
"""

import warnings

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files.sea_record import checked_record, chosen_index, existing_file, time_text
from seaload.waves.spreading import cos2s_density, s_from_first_amplitude

ERA5_LOWEST = 0.03453  # [Hz] first of 30 bands, each 1.1 times the one before
ERA5_RATIO = 1.1
BUOY_DIRECTIONS = 72
HIGHEST_R1 = 0.99
FREQUENCY_UNITS = ("", "1", "hz", "hertz", "s-1", "s^-1", "s**-1", "1/s")
CLASSIC = (b"CDF\x01", b"CDF\x02")  # first bytes of the older formats
MOST_TIMES = 2_000_000
R1_RANGE, ALPHA_RANGE = (0.0, 1.05), (-360.0, 360.0)  # noise takes r1 past 1
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
        look_whole(path)
        dataset = xarray.open_dataset(path, decode_timedelta=False)
    except Exception as error:  # a stranger's bytes make the libraries fail in every way they can
        raise InputError(path, "file", path.name, f"a readable netCDF file ({error})") from None
    with dataset:
        if "valid_time" in dataset.variables and "time" not in {*dataset.variables, *dataset.dims}:
            dataset = dataset.rename({"valid_time": "time"})
        for name, reader in (
            ("efth", _read_ww3),
            ("d2fd", _read_era5),
            ("density", _read_swan),
            ("spectral_wave_density", _read_buoy),
        ):
            if name in dataset:
                return reader(path, dataset, record_time, place)
    allowed = "a file with efth, d2fd, density or spectral_wave_density"
    raise InputError(path, "variables", sorted(map(str, dataset.data_vars)), allowed)


def look_whole(path):
    """ValueError for a file of the older formats that was cut short: the netCDF library would fill it up with whatever
    lies in memory.
    """
    from scipy.io import netcdf_file

    with path.open("rb") as stream:
        if stream.read(4) not in CLASSIC:
            return
    reason = None
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of a file that cannot be closed cleanly, since it is damaged
        try:
            netcdf_file(path, mmap=True).close()
        except Exception as error:
            reason = str(error)
    if reason is not None:
        raise ValueError(f"it is not whole: {reason}")


def _loaded(path, variable):
    """The values of a variable, as the libraries read them. InputError when they cannot."""
    try:
        return variable.values
    except Exception as error:  # damaged or foreign bytes, wrong scales
        raise InputError(path, str(variable.name), "unreadable", str(error)[:100]) from None


def _numbers(path, dataset, name, axes, **at):
    """Values of a variable (float64) with these axes, at the places `at` {axis: place} of others.

    Axes of one entry that are not named are left out. InputError for a variable that is missing, holds other than
    numbers, or has other axes, such as members of an ensemble.
    """
    if name not in dataset.variables:
        raise InputError(path, name, "missing", f"a variable named {name}")
    variable = dataset[name]
    chosen = variable.isel({axis: place for axis, place in at.items() if axis in variable.dims})
    further = [axis for axis in chosen.dims if axis not in axes]
    many = [f"{axis} of {chosen.sizes[axis]}" for axis in further if chosen.sizes[axis] != 1]
    if many or set(axes) - set(chosen.dims):
        allowed = f"over {', '.join([*at, *axes])} alone: cut out one"
        raise InputError(path, f"{name} axes", ", ".join(map(str, variable.dims)), allowed)
    chosen = chosen.isel(dict.fromkeys(further, 0)).transpose(*axes)
    if chosen.dtype.kind not in "fiu":
        raise InputError(path, name, f"of kind {chosen.dtype}", "numbers")
    return np.asarray(_loaded(path, chosen), dtype=float)


def _time_index(path, dataset, density, record_time):
    """(place of the asked record, its time) among the times of the file."""
    if "time" not in dataset.variables:
        raise InputError(path, "time", "missing", "a variable named time or valid_time")
    variable = dataset["time"]
    if variable.dims not in ((), ("time",)) or variable.size > MOST_TIMES:
        raise InputError(
            path, "time axes", ", ".join(map(str, variable.dims)), f"one row of times, {MOST_TIMES} at most"
        )
    if variable.dims == () and dataset[density].sizes.get("time", 1) != 1:
        raise InputError(path, "time", "a single one", "one time for each record")
    if variable.dtype.kind != "M":
        said = variable.attrs.get("units", "no units")
        raise InputError(path, "time units", said, 'such as "hours since 1970-01-01", in the standard calendar')
    times = np.atleast_1d(_loaded(path, variable))
    minutes = (times + np.timedelta64(30, "s")).astype("datetime64[m]")  # days as fractions are not exact
    index = chosen_index(path, minutes, record_time)
    return index, minutes[index]


def _frequencies(path, dataset):
    """The frequencies [Hz]. InputError for other units."""
    frequency = _numbers(path, dataset, "frequency", ("frequency",))
    units = str(dataset["frequency"].attrs.get("units", "")).strip().lower()
    if units not in FREQUENCY_UNITS:
        raise InputError(path, "frequency units", units[:40], "Hz or s-1")
    return frequency


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
    angle = _numbers(path, dataset, "direction", ("direction",))
    variable = dataset["direction"]
    units = str(variable.attrs.get("units", "")).lower()
    if units.startswith("deg"):
        angle = angle * DEGREE
    elif not units.startswith("rad"):
        raise InputError(path, "direction units", units[:40], "degree or radians")
    return angle + EAST_FROM[_direction_word(path, variable, dataset)]


def _per_radian(path, variable):
    """Refuses a density whose units are not m2 s per radian."""
    units = str(variable.attrs.get("units", "")).lower().replace("**", "").replace("^", "")
    if "deg" in units or "log" in units or not ("rad" in units and "m2" in units):
        raise InputError(path, f"{variable.name} units", variable.attrs.get("units"), "m2 s rad-1")


def _read_ww3(path, dataset, record_time, place):
    return _read_point(path, dataset, record_time, place, names=("efth", "station", "dpt"))


def _read_swan(path, dataset, record_time, place):
    return _read_point(path, dataset, record_time, place, names=("density", "points", "depth"))


def _read_point(path, dataset, record_time, place, *, names):
    """Record of one point of a wave model; `names` of the density, its axis of points, and the depth."""
    density, axis, depth = names
    index, time = _time_index(path, dataset, density, record_time)
    _per_radian(path, dataset[density])
    point = _one_place(path, dataset[density].sizes.get(axis, 1), place, axis)
    at = {"time": index, axis: point}
    return checked_record(
        path,
        time,
        _frequencies(path, dataset),
        _numbers(path, dataset, density, ("frequency", "direction"), **at),
        direction=_direction_from(path, dataset),
        notes=("wave model point spectrum; no tail added",),
        depth=float(_numbers(path, dataset, depth, (), **at)) if depth in dataset else np.nan,
    )


def _nearest(path, axis, values, wanted, round_the_globe):
    away = np.abs(np.asarray(values, dtype=float) - wanted)
    away = np.minimum(np.mod(away, 360.0), 360.0 - np.mod(away, 360.0)) if round_the_globe else away
    index = int(np.argmin(away))
    step = np.min(np.abs(np.diff(values))) if len(values) > 1 else 1.0
    if away[index] > step:
        raise InputError(path, axis, wanted, f"within the grid, {min(values):g} to {max(values):g} degrees")
    return index


def grid_axis(path, dataset, axis):
    """Latitudes or longitudes (n,) [degrees] of a grid. InputError unless they are finite numbers."""
    values = np.atleast_1d(_numbers(path, dataset, axis, dataset[axis].dims if axis in dataset.variables else ()))
    if values.ndim != 1 or not len(values) or not np.all(np.isfinite(values)):
        raise InputError(path, axis, "nan", "a row of finite numbers in degrees")
    return values


def _read_era5(path, dataset, record_time, place):
    index, time = _time_index(path, dataset, "d2fd", record_time)
    sizes = (dataset.sizes.get("frequency"), dataset.sizes.get("direction"))
    if sizes != (30, 24):
        raise InputError(path, "frequencies and directions", sizes, "30 and 24, as the data centre describes")
    axes = ("latitude", "longitude")
    latitudes, longitudes = (grid_axis(path, dataset, axis) for axis in axes)
    count = len(latitudes) * len(longitudes)
    if (place is None and count == 1) or (is_whole(place) and 0 <= place < count):
        row, column = divmod(place or 0, len(longitudes))
    elif isinstance(place, (tuple, list)) and len(place) == 2:
        row = _nearest(path, "latitude", latitudes, float(place[0]), False)
        column = _nearest(path, "longitude", longitudes, float(place[1]), True)
    else:
        raise InputError(path, "place", place, f"[latitude, longitude] in degrees, or a number 0 to {count - 1}")
    at = {"time": index, "latitude": row, "longitude": column}
    logarithm = _numbers(path, dataset, "d2fd", ("frequency", "direction"), **at)
    with np.errstate(over="ignore"):
        density = np.where(np.isnan(logarithm), 0.0, 10.0**logarithm)  # missing = no energy in that band
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
    index, time = _time_index(path, dataset, "spectral_wave_density", record_time)
    if place is not None:
        raise InputError(path, "place", place, "none: a buoy file holds one place")

    def at_record(name):
        return _numbers(path, dataset, name, ("frequency",), time=index)

    frequency = _frequencies(path, dataset)
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
    for name, values, (least, most) in (("mean_wave_dir", alpha1, ALPHA_RANGE), ("wave_spectrum_r1", r1, R1_RANGE)):
        wrong = values[valid][(values[valid] < least) | (values[valid] > most)]
        if len(wrong):
            raise InputError(path, f"record {time_text(time)}", float(wrong[0]), f"{name} is {least:g} to {most:g}")
    nearest = valid[np.argmin(np.abs(np.arange(len(alpha1))[:, None] - valid[None, :]), axis=1)]
    direction = np.arange(BUOY_DIRECTIONS) * (2.0 * np.pi / BUOY_DIRECTIONS)
    s = s_from_first_amplitude(np.clip(r1[nearest], 0.02, HIGHEST_R1))[:, None]
    spread = cos2s_density(direction[None, :] - (alpha1[nearest] * DEGREE)[:, None], s)
    spread /= spread.sum(axis=1, keepdims=True) * (2.0 * np.pi / BUOY_DIRECTIONS)
    notes.append("direction from buoy moments alpha1 (FROM) and r1, shape cos2s")
    return checked_record(
        path, time, frequency[kept], density[kept][:, None] * spread, direction=direction, notes=notes
    )
