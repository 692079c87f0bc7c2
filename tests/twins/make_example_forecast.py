"""Makes the forecast of the example leg: formulas alone, in the layout that a wave model publishes; no sea was told.

A high swell from the west goes through while a trough turns the wind from north-west through east to south, with a
small wind sea of its own; ten members differ in height, time, direction and period.
`python -m tests.twins.make_example_forecast FILE`
"""

import sys

import numpy as np
import xarray as xr

START = np.datetime64("2026-03-14T00:00", "ns")
HOURS = np.arange(0, 61, 3)
LATITUDE, LONGITUDE = np.arange(42.0, 50.1, 2.0), np.arange(-40.0, -27.9, 2.0)
MEMBERS, SEED = 10, 18
KNOT = 1852.0 / 3600.0


def fields():
    """{name: (values (t, m, a, o), attributes)}."""
    lots = np.random.default_rng(SEED).normal(size=(4, MEMBERS))
    lots -= lots.mean(axis=1, keepdims=True)
    higher, later, turned, longer = lots.reshape(4, 1, MEMBERS, 1, 1)
    t = HOURS.reshape(-1, 1, 1, 1) - 1.5 * later
    north, east = LATITUDE.reshape(1, 1, -1, 1) - 46.0, LONGITUDE.reshape(1, 1, 1, -1) + 34.0
    passing = (t - 17.0 - 0.9 * east) / 6.0  # the highest swell goes east
    strength = np.exp(-0.5 * passing**2) * (1.0 + 0.04 * north)
    swell = (1.6 + 1.85 * strength) * (1.0 + 0.10 * higher)
    swell_from = 272.0 + 5.0 * turned + 0.0 * swell
    swell_period = 10.6 + 0.8 * strength + 0.35 * longer
    trough = 0.5 * (1.0 + np.tanh((t - 22.0) / 2.0))  # the wind veers through east, and so comes over the other side
    wind = (24.0 - 2.0 * trough) * (1.0 + 0.05 * higher) * KNOT
    came = 312.0 + 216.0 * trough + 5.0 * turned
    sea = (0.3 + 0.04 * wind / KNOT) * (1.0 + 0.1 * higher) + 0.0 * east * north
    sea_period = 4.6 * np.sqrt(sea)
    whole = np.broadcast_arrays(wind, came, sea, sea_period, swell, swell_from, swell_period)
    wind, came, sea, sea_period, swell, swell_from, swell_period = whole
    metres, seconds, degrees = {"units": "m"}, {"units": "s"}, {"units": "degree"}
    name = lambda kind: {"standard_name": f"sea_surface_{kind}"}  # noqa: E731
    return {
        "hs": (np.hypot(sea, swell), metres | name("wave_significant_height")),
        "phs0": (sea, metres | name("wind_wave_significant_height")),
        "ptp0": (sea_period, seconds | name("wind_wave_period_at_variance_spectral_density_maximum")),
        "pdir0": (came % 360.0, degrees | name("wind_wave_from_direction")),
        "phs1": (swell, metres | name("primary_swell_wave_significant_height")),
        "ptp1": (swell_period, seconds | name("primary_swell_wave_period_at_variance_spectral_density_maximum")),
        "pdir1": (swell_from, degrees | name("primary_swell_wave_from_direction")),
        "uwnd": (-wind * np.sin(np.radians(came)), {"units": "m s-1", "standard_name": "eastward_wind"}),
        "vwnd": (-wind * np.cos(np.radians(came)), {"units": "m s-1", "standard_name": "northward_wind"}),
    }


def made():
    """The forecast as a Dataset."""
    dims = ("time", "member", "latitude", "longitude")
    data = {name: (dims, values, attrs) for name, (values, attrs) in fields().items()}
    coords = {
        "time": START + HOURS * np.timedelta64(1, "h"),
        "member": np.arange(MEMBERS, dtype=np.int32),
        "latitude": ("latitude", LATITUDE, {"units": "degrees_north"}),
        "longitude": ("longitude", LONGITUDE, {"units": "degrees_east"}),
    }
    title = "Made forecast for an example, by formulas (tests/twins/make_example_forecast.py): no sea was forecast"
    return xr.Dataset(data, coords, {"title": title, "Conventions": "CF-1.11"})


def main(path):
    """Write it packed, as such files are."""
    dataset = made()
    packing = {}
    for name, variable in dataset.data_vars.items():
        step = 0.1 if name.startswith("pdir") else 0.01
        packing[name] = {"dtype": "int16", "scale_factor": step, "_FillValue": -32767, "zlib": True, "complevel": 9,
                         "shuffle": True}  # fmt: skip
        assert abs(variable).max() < 32000 * step
    dataset.to_netcdf(path, format="NETCDF4", engine="netcdf4", encoding=packing)


if __name__ == "__main__":
    main(sys.argv[1])
