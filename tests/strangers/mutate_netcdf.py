"""Mutations of a netCDF file by lot: other units, names, axes, kinds, holes, wild numbers."""

import numpy as np

WILD = (np.nan, np.inf, -np.inf, 1e300, -1.0, 0.0, 5e-324, 1e9, 593.0)
FACTORS = (1e-6, 1e-3, 0.1, -1.0, 10.0, 1e3, 1e6)
UNITS = ("", "kHz", "degree", "rad", "m", "m2 s degree-1", "hours since never", "days since 1970-01-01", "\x1b[31m", 7)


def wild_numbers(data, name, lot):
    values = np.array(data[name].values, dtype=float if data[name].dtype.kind in "fiu" else None)
    if values.dtype.kind != "f" or not values.size:
        return data
    flat = values.reshape(-1)
    for _ in range(lot.choice((1, 1, flat.size))):
        flat[lot.randrange(flat.size)] = lot.choice(WILD)
    return data.assign({name: (data[name].dims, values, data[name].attrs)})


def scaled(data, name, lot):
    if data[name].dtype.kind not in "fiu":
        return data
    return data.assign({name: (data[name].dims, data[name].values * lot.choice(FACTORS), data[name].attrs)})


def renamed(data, name, lot):
    names = [str(entry) for entry in (*data.variables, *data.dims)]
    return data.rename({lot.choice(names): lot.choice(("freq", "f", "dir", "member", "x y", "time_2"))})


def left_out(data, name, lot):
    return data.drop_vars(name)


def without_attributes(data, name, lot):
    data[name].attrs = {}
    return data


def other_units(data, name, lot):
    data[name].attrs = {**data[name].attrs, "units": lot.choice(UNITS)}
    data[name].encoding = {}
    return data


def further_axis(data, name, lot):
    return data.assign({name: data[name].expand_dims({lot.choice(("member", "station", "points", "level")): 3})})


def fewer(data, name, lot):
    if not data.sizes:
        return data
    axis = lot.choice(sorted(map(str, data.sizes)))
    at = lot.randrange(data.sizes[axis])
    return data.isel({axis: lot.choice((at, [at], slice(0, 0), slice(0, at), [at, at]))})


def turned(data, name, lot):
    axes = list(data[name].dims)
    lot.shuffle(axes)
    return data.assign({name: data[name].transpose(*axes)})


def as_text(data, name, lot):
    return data.assign({name: (data[name].dims, np.full(data[name].shape, "much"))})


def backwards(data, name, lot):
    axis = lot.choice(sorted(map(str, data.sizes)) or [None])
    return data.isel({axis: slice(None, None, -1)}) if axis else data


WAYS = (
    wild_numbers, wild_numbers, scaled, scaled, renamed, left_out, without_attributes, other_units, further_axis, fewer,
    turned, as_text, backwards,
)  # fmt: skip
READ = ("time", "frequency", "direction", "efth", "density", "d2fd", "spectral_wave_density", "mean_wave_dir",
        "wave_spectrum_r1", "latitude", "longitude", "dpt", "depth")  # fmt: skip


def mutated(data, lot, read=READ):
    """A Dataset after one or two mutations of what is `read` of it; `lot` is a random.Random. None where the two do not
    go together.
    """
    data = data.copy(deep=True)
    try:
        for _ in range(lot.choice((1, 1, 2))):
            names = [name for name in read if name in data.variables]
            data = lot.choice(WAYS)(data, lot.choice(names), lot)
    except (ValueError, KeyError, IndexError, TypeError):
        return None
    return data
