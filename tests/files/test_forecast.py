"""Forecasts as published: directions of clashing conventions, the date line, calendars, land, members, hours that
lack; and the bulk numbers of published two-dimensional spectra.
"""

from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.files.forecast_field import sea_there
from seaload.files.forecast_netcdf import Stretch, over_peak, read_forecast

DATA = Path(__file__).parents[1] / "published" / "data"
HOUR, DEGREE = 3600.0, np.pi / 180.0
START = 1773446400.0  # 2026-03-14T00:00Z
LATITUDE, LONGITUDE = np.array([44.0, 46.0, 48.0]), np.array([-36.0, -33.0, -30.0])
TIMES = np.datetime64("2026-03-14T00:00", "ns") + np.arange(5) * np.timedelta64(3, "h")
WORDS = {"from": "sea_surface_wave_from_direction", "to": "sea_surface_wave_to_direction"}


def field(value, units, **attrs):
    """A variable that is the same everywhere."""
    values = np.full((len(TIMES), len(LATITUDE), len(LONGITUDE)), float(value))
    return ("time", "latitude", "longitude"), values, {"units": units, **attrs}


def model(came=250.0, sense="from", **other):
    """A file of a wave model with one wind sea of 3 m, 9 s and a swell."""
    told = came if sense == "from" else (came + 180.0) % 360.0
    fields = {
        "hs": field(np.hypot(3.0, 1.0), "m"),
        "phs0": field(3.0, "m"), "ptp0": field(9.0, "s"),
        "pdir0": field(told, "degree", standard_name=WORDS[sense]),
        "phs1": field(1.0, "m"), "ptp1": field(13.0, "s"),
        "pdir1": field(300.0, "degree", standard_name=WORDS["from"]),
        "uwnd": field(10.0, "m s-1"), "vwnd": field(0.0, "m s-1"),
    }  # fmt: skip
    coords = {"time": TIMES, "latitude": LATITUDE, "longitude": LONGITUDE}
    return xr.Dataset({**fields, **other}, coords)


def saved(tmp_path, dataset, **options):
    path = tmp_path / "forecast.nc"
    dataset.to_netcdf(path, engine="netcdf4", **options)
    return path


def stretch(hours=(1.0, 11.0), latitude=(45.0, 47.0), longitude=(-35.0, -31.0)):
    return Stretch(START + hours[0] * HOUR, START + hours[1] * HOUR, np.radians(latitude), np.radians(longitude))


def there(forecast, latitude=45.3, longitude=-34.1, hours=4.4):
    return sea_there(forecast, np.radians([latitude]), np.radians([longitude]), np.array([START + hours * HOUR]))


@pytest.mark.parametrize("sense", ["from", "to"])
def test_waves_come_from_the_same_side_however_the_file_tells_it(tmp_path, sense):
    """One system says TO, the other FROM, in one file."""
    sea = there(read_forecast(saved(tmp_path, model(sense=sense)), stretch()))
    assert np.degrees(sea.system_from[0, 0]) == pytest.approx([250.0, 300.0])
    assert sea.system_hs[0, 0] == pytest.approx([3.0, 1.0]) and sea.hs[0, 0] == pytest.approx(np.sqrt(10.0))
    assert sea.wind[0, 0] == pytest.approx([10.0, 0.0])


def test_wind_by_angle_blows_from_there(tmp_path):
    angled = model(wnd=field(10.0, "m s-1"), wnddir=field(270.0, "degree", standard_name="wind_from_direction"))
    sea = there(read_forecast(saved(tmp_path, angled.drop_vars(["uwnd", "vwnd"])), stretch()))
    assert sea.wind[0, 0] == pytest.approx([10.0, 0.0], abs=1e-12)


def test_a_direction_that_does_not_say_from_or_to_is_refused(tmp_path):
    silent = model(pdir0=field(250.0, "degree"))
    with pytest.raises(InputError, match="pdir0 = 'no attribute': an attribute that says from or to"):
        read_forecast(saved(tmp_path, silent), stretch())


def test_angles_are_met_half_way_round_north(tmp_path):
    dataset = model(came=350.0)
    dataset["pdir0"][:, :, 1] = 10.0
    forecast = read_forecast(saved(tmp_path, dataset), stretch())
    turned = np.degrees(there(forecast, longitude=-34.5).system_from[0, 0, 0])
    assert (turned + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1e-6)


def test_over_the_date_line_and_from_0_to_360(tmp_path):
    dataset = model().assign_coords(longitude=[177.0, 180.0, 183.0])
    dataset["phs0"][:] = np.array([1.0, 2.0, 3.0])
    path = saved(tmp_path, dataset)
    forecast = read_forecast(path, stretch(longitude=(178.0, -178.0)))
    heights = [there(forecast, longitude=east).system_hs[0, 0, 0] for east in (178.5, 180.0, -178.5)]
    assert heights == pytest.approx([1.5, 2.0, 2.5])
    west = dataset.assign_coords(longitude=[177.0, -180.0, -177.0])
    again = read_forecast(saved(tmp_path, west), stretch(longitude=(178.0, -178.0)))
    assert there(again, longitude=-178.5).system_hs[0, 0, 0] == pytest.approx(2.5)


def test_hours_that_lack_are_named(tmp_path):
    path = saved(tmp_path, model())
    with pytest.raises(InputError, match=r"8.0 h from 2026-03-14T12:00Z to 2026-03-14T20:00Z lack"):
        read_forecast(path, stretch(hours=(1.0, 20.0)))
    with pytest.raises(InputError, match=r"2.0 h from 2026-03-13T22:00Z to 2026-03-14T00:00Z lack"):
        read_forecast(path, stretch(hours=(-2.0, 5.0)))
    gap = model().isel(time=[0, 4]).assign_coords(time=TIMES[[0, 4]] + np.array([0, 6], "timedelta64[h]"))
    with pytest.raises(InputError, match=r"12.0 h from 2026-03-14T02:00Z to 2026-03-14T14:00Z lack"):
        read_forecast(saved(tmp_path, gap), stretch(hours=(2.0, 14.0)))


def test_a_leg_beyond_the_grid_is_refused_with_the_place(tmp_path):
    path = saved(tmp_path, model())
    with pytest.raises(InputError, match="latitude = 48.5: the forecast's grid holds 44 to 48 degrees"):
        read_forecast(path, stretch(latitude=(45.0, 48.5)))
    with pytest.raises(InputError, match="longitude = -29"):
        read_forecast(path, stretch(longitude=(-35.0, -29.0)))


def test_land_is_left_out_of_means_and_what_is_all_land_is_not_known(tmp_path):
    dataset = model()
    for name in dataset.data_vars:
        dataset[name][:, :, 0] = np.nan
    forecast = read_forecast(saved(tmp_path, dataset), stretch())
    sea = there(forecast, longitude=-35.9)
    assert sea.system_hs[0, 0, 0] == pytest.approx(3.0) and np.degrees(sea.system_from[0, 0, 0]) == pytest.approx(250.0)
    assert any("land or missing" in note for note in forecast.notes)
    for name in dataset.data_vars:
        dataset[name][:, :, 1] = np.nan
    assert np.isnan(there(read_forecast(saved(tmp_path, dataset), stretch()), longitude=-35.0).hs[0, 0])


def test_systems_that_do_not_fit_the_height_of_all_waves_are_told(tmp_path):
    forecast = read_forecast(saved(tmp_path, model(hs=field(4.5, "m"))), stretch())
    assert any("hold 70% of the height of all waves (median); in 100% of the points" in note for note in forecast.notes)


def test_members_are_kept_apart_whatever_they_are_called(tmp_path):
    dataset = xr.concat([model(), model(phs0=field(5.0, "m"))], dim="number")
    sea = there(read_forecast(saved(tmp_path, dataset), stretch()))
    assert sea.system_hs[0, :, 0] == pytest.approx([3.0, 5.0])


def test_a_mean_period_becomes_a_peak_period_by_the_tables_of_its_shape(tmp_path):
    """JONSWAP with 3.3: Te/Tp 0.9033, T1/Tp 0.8343, Tz/Tp 0.7774 (jonswap_relations.csv, derived by integration)."""
    assert [over_peak(kind) for kind in ("te", "t1", "tz")] == pytest.approx([0.9033, 0.8343, 0.7774], rel=2e-3)
    data = {"swh": field(3.0, "m"), "mwp": field(9.0, "s"), "mwd": field(250.0, "degrees"), "u10": field(5, "m s**-1"),
            "v10": field(5, "m s**-1")}  # fmt: skip
    coords = {"valid_time": ("valid_time", TIMES), "latitude": LATITUDE[::-1], "longitude": LONGITUDE % 360.0}
    dataset = xr.Dataset({name: (("valid_time", *dims[1:]), *rest) for name, (dims, *rest) in data.items()}, coords)
    sea = there(read_forecast(saved(tmp_path, dataset), stretch()))
    assert sea.system_tp[0, 0, 0] == pytest.approx(9.0 / 0.9033, rel=2e-3)
    assert np.degrees(sea.system_from[0, 0, 0]) == pytest.approx(250.0)


@pytest.mark.parametrize("calendar", ["360_day", "noleap"])
def test_other_calendars_are_refused(tmp_path, calendar):
    dataset = model().assign_coords(time=("time", np.arange(5) * 3.0, {"units": "hours since 2026-03-14",
                                                                        "calendar": calendar}))  # fmt: skip
    with pytest.raises(InputError, match="in the standard calendar"):
        read_forecast(saved(tmp_path, dataset), stretch())


@pytest.mark.parametrize("changed, words", [
    ({"hs": field(320.0, "cm")}, "hs units = 'cm': m"),
    ({"hs": field(9999.0, "m")}, "0 to 30 m: another unit, or a missing value"),
    ({"ptp0": field(9.0, "s-1")}, "ptp0 units"),
    ({"pdir0": field(1.0, "knots", standard_name=WORDS["from"])}, "pdir0 units"),
])  # fmt: skip
def test_another_unit_is_refused(tmp_path, changed, words):
    with pytest.raises(InputError, match=words):
        read_forecast(saved(tmp_path, model(**changed)), stretch())


def test_what_is_no_forecast_is_refused_in_a_line(tmp_path):
    path = tmp_path / "forecast.nc"
    path.write_bytes(b"CDF\x01 and no more")
    with pytest.raises(InputError, match="a readable netCDF file"):
        read_forecast(path, stretch())
    other = model()[["uwnd", "vwnd"]]
    with pytest.raises(InputError, match="heights of the waves"):
        read_forecast(saved(tmp_path, other), stretch())
    twice = model().isel(time=[0, 1, 1, 2, 3])
    with pytest.raises(InputError, match="rising times"):
        read_forecast(saved(tmp_path, twice), stretch())


def test_only_what_the_leg_needs_is_read(tmp_path, monkeypatch):
    """Of a grid and a span of time much larger, as of a file of gigabytes, arrays of the leg's own size."""
    times = np.datetime64("2026-03-14T00:00", "ns") + np.arange(200) * np.timedelta64(1, "h")
    shape = (200, 60, 60)
    coords = {"time": times, "latitude": np.linspace(0.0, 59.0, 60), "longitude": np.linspace(-60.0, -1.0, 60)}
    dims = ("time", "latitude", "longitude")
    data = {"hs": (dims, np.full(shape, 3.0, dtype="f4"), {"units": "m"}), "tp": (dims, np.full(shape, 9.0, dtype="f4"),
            {"units": "s"}), "dir": (dims, np.full(shape, 9.0, dtype="f4"), {"units": "degree",
            "standard_name": WORDS["from"]})}  # fmt: skip
    path = saved(tmp_path, xr.Dataset(data, coords))
    forecast = read_forecast(path, stretch(hours=(1.5, 5.5)))
    assert forecast.hs.shape == (6, 1, 3, 5)


@pytest.mark.parametrize(
    "latitude, longitude, hs, tp, came",
    [(36.0, 180.0, 2.7212, 6.9329, 187.52), (36.0, 216.0, 8.3724, 13.51, 330.38), (-36.0, 0.0, 2.4985, 7.6262, 290.55),
     (-36.0, 216.0, 2.4310, 12.282, 202.20)],
)  # fmt: skip
def test_published_spectra_on_a_grid(latitude, longitude, hs, tp, came, check_against):
    """ERA5 two-dimensional spectra of 2019-12-01, bulk numbers derived with other code (data_expected_bulk.csv)."""
    moment = np.datetime64("2019-12-01T00:00", "s").astype(float)
    place = np.radians([latitude]), np.radians([longitude])
    forecast = read_forecast(DATA / "sea_era5_2d_spectra.nc", Stretch(moment, moment, *place))
    sea = sea_there(forecast, *place, np.array([moment]))
    ours = [sea.hs[0, 0], sea.system_tp[0, 0, 0], np.degrees(sea.system_from[0, 0, 0])]
    check_against("leg", f"height, period, direction at {latitude:g}, {longitude:g}", "ERA5 spectra, other code",
                  "derived", [hs, tp, came], ours, relative=2e-3)  # fmt: skip


def at_stations(places=((45.5, -34.0), (46.5, -31.0)), moving=0.0):
    """Spectra at points in the layout of a wave model's point output, all energy of each point in one bin: 2.5 m of
    10 s from 250 at the first, 1 m of 8.3 s from 340 at the second; directions say TO; 10 degrees and 0.01 Hz a bin.
    """
    frequency, to = np.arange(0.05, 0.25, 0.01), np.arange(0.0, 360.0, 10.0)
    efth = np.zeros((len(TIMES), len(places), len(frequency), len(to)))
    for k, (hs, tp, came) in enumerate([(2.5, 10.0, 250.0), (1.0, 8.0 + 1.0 / 3.0, 340.0)][: len(places)]):
        bin_ = int(np.argmin(np.abs(frequency - 1.0 / tp))), int(((came + 180.0) % 360.0) / 10.0)
        efth[:, k, *bin_] = (hs / 4.0) ** 2 / (0.01 * np.radians(10.0))
    rows = np.array(places)[None] + moving * np.arange(len(TIMES))[:, None, None]
    both, text = ("time", "station"), np.array([f"p{k}" for k in range(len(places))])
    return xr.Dataset(
        {"efth": ((*both, "frequency", "direction"), efth, {"units": "m2 s rad-1"}),
         "latitude": (both, rows[..., 0], {"units": "degree_north"}),
         "longitude": (both, rows[..., 1], {"units": "degree_east"}),
         "wnd": (both, np.full(rows.shape[:2], 10.0), {"units": "m s-1"}),
         "wnddir": (both, np.full(rows.shape[:2], 270.0), {"units": "degree", "standard_name": "wind_from_direction"}),
         "station_name": (("station",), text)},
        {"time": TIMES, "frequency": ("frequency", frequency, {"units": "s-1"}),
         "direction": ("direction", to, {"units": "degree", "standard_name": WORDS["to"]})},
    )  # fmt: skip


def test_spectra_at_points_are_read_by_the_nearest_point(tmp_path):
    """Height 4 sqrt(m0), all energy in one bin (definition)."""
    forecast = read_forecast(saved(tmp_path, at_stations()), stretch())
    near, other = there(forecast, 45.3, -34.1), there(forecast, 46.6, -31.2)
    assert near.hs[0, 0] == pytest.approx(2.5, rel=1e-3) and other.hs[0, 0] == pytest.approx(1.0, rel=1e-3)
    assert near.system_tp[0, 0, 0] == pytest.approx(10.0) and other.system_tp[0, 0, 0] == pytest.approx(1.0 / 0.12)
    turned = np.degrees([near.system_from[0, 0, 0], other.system_from[0, 0, 0]])
    assert turned == pytest.approx([250.0, 340.0])
    assert near.wind[0, 0] == pytest.approx([10.0, 0.0], abs=1e-9)
    assert any("nearest of 2 points" in note for note in forecast.notes)


def test_points_over_the_date_line_and_those_far_away(tmp_path):
    path = saved(tmp_path, at_stations(((46.0, -179.5), (46.0, 179.5))))
    forecast = read_forecast(path, stretch(longitude=(179.2, -179.2)))
    assert there(forecast, 46.0, -179.9).hs[0, 0] == pytest.approx(2.5, rel=1e-3)
    assert there(forecast, 46.0, 179.9).hs[0, 0] == pytest.approx(1.0, rel=1e-3)
    with pytest.raises(InputError, match="station = .* a point within 150 nautical miles"):
        read_forecast(path, stretch())


def test_points_that_move_are_refused(tmp_path):
    with pytest.raises(InputError, match="latitude = 'moving': stations that stay"):
        read_forecast(saved(tmp_path, at_stations(moving=0.2)), stretch())
