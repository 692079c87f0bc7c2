"""Sea files: what each reader takes, how it turns directions, and what it refuses, in one clear line."""

import shutil
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.files.sea_ndbc import ndbc_direction_files, ndbc_table, read_ndbc
from seaload.files.sea_reader import read_record
from seaload.files.sea_record import record_time_utc
from seaload.waves.boat_frame import direction_in_boat
from seaload.waves.bulk import bulk_sea, mean_direction

DATA = Path(__file__).parent.parent / "published" / "data"
STORM = DATA / "sea_ndbc_46042_1996_storm_w.txt"
HISTORY = DATA / "sea_ndbc_41010_201902_history_w.txt"
REALTIME = DATA / "sea_ndbc_41010_202006_realtime.data_spec"


def from_degrees(record):
    energy = np.trapezoid(record.density, record.omega, axis=0)
    return np.degrees(mean_direction(record.direction, energy)[0]) % 360.0


# ---- buoy text -------------------------------------------------------------------------------------


def test_old_file_with_two_digit_years_and_no_minutes():
    record = read_record(STORM, "1996-03-13T14:00Z")
    assert str(record.time) == "1996-03-13T14:00"
    assert record.direction is None and record.direction_sense is None
    assert record.omega[0] == pytest.approx(2.0 * np.pi * 0.030)
    assert any("assumed" in note for note in record.notes)


def test_four_digit_years_without_minutes():
    record = read_record(DATA / "sea_ndbc_44004_2000_history_w.txt", "2000-01-01T01:00Z")
    assert bulk_sea(record.omega, record.total).hs == pytest.approx(1.75, abs=0.05)


def test_density_is_per_radian_a_second():
    frequency, times, values = ndbc_table(STORM)
    record = read_record(STORM, str(times[5]))
    assert np.trapezoid(record.density, record.omega) == pytest.approx(np.trapezoid(values[5], frequency))


@pytest.mark.parametrize("path, time", [(HISTORY, "2019-02-06T01:40Z"), (REALTIME, "2020-06-08T03:50Z")])
@pytest.mark.parametrize("shape", ["cos2s", "two harmonics"])
def test_direction_files_beside_keep_energy_and_mean_direction(path, time, shape):
    plain = read_ndbc(path, time)
    record = read_ndbc(path, time, ndbc_direction_files(path), shape)
    assert record.direction_sense == "from" and record.density.shape[1] == len(record.direction) == 72
    assert record.total == pytest.approx(plain.density, rel=1e-9, abs=1e-15)
    _, _, alpha1 = ndbc_table(ndbc_direction_files(path)["alpha1"])
    row = int(np.argmax(ndbc_table(path)[1] == record.time))
    band = int(np.argmax(record.total))
    direction, r1 = mean_direction(record.direction, record.density[band])
    valid = alpha1[row][-len(record.omega) :][band]
    assert np.degrees(direction) % 360.0 == pytest.approx(valid, abs=1e-6)
    if shape == "cos2s":
        _, _, amplitude = ndbc_table(ndbc_direction_files(path)["r1"])
        percent = 0.01 if path is HISTORY else 1.0
        assert r1 == pytest.approx(amplitude[row][-len(record.omega) :][band] * percent, abs=1e-6)


def test_missing_direction_files_are_named(tmp_path):
    alone = tmp_path / HISTORY.name
    shutil.copy(HISTORY, alone)
    with pytest.raises(InputError, match="history_d.txt"):
        read_record(alone, "2019-02-06T01:40Z", direction_files="beside")
    with pytest.raises(InputError, match="direction_files"):
        read_record(alone, "2019-02-06T01:40Z", direction_files="somewhere")


HEADER = "YY MM DD hh .100 .110 .120 .130\n"


def written(tmp_path, *lines, header=HEADER):
    path = tmp_path / "buoy_w_sea.txt"
    path.write_text(header + "\n".join(lines) + "\n")
    return path


def test_missing_codes(tmp_path):
    path = written(tmp_path, "96 01 01 00 1.0 MM 2.0 3.0", "96 01 01 01 999.0 999.0 999.0 999.0")
    record = read_record(path, "1996-01-01T00:00Z")
    assert len(record.omega) == 3 and "1 of 4 bands missing" in record.notes[0]
    with pytest.raises(InputError, match="every band of this record is missing"):
        read_record(path, "1996-01-01T01:00Z")


@pytest.mark.parametrize(
    "line, said",
    [
        ("96 01 01 00 0.0 0.0 0.0 0.0", "empty"),
        ("96 01 01 00 1.0 -2.0 1.0 1.0", "must be >= 0"),
        ("96 01 01 00 1.0 nan 1.0 1.0", "MM for missing"),
        ("96 01 01 00 1.0 1.0 1.0 inf", "MM for missing"),
        ("96 01 01 00 1.0 2.0", "columns"),
        ("96 01 01 00 1.0 two 1.0 1.0", "MM for missing"),
        ("96 13 41 00 1.0 2.0 1.0 1.0", "year month day"),
    ],
)
def test_bad_lines_are_refused_in_one_line(tmp_path, line, said):
    path = written(tmp_path, line)
    with pytest.raises(InputError, match=said) as caught:
        read_record(path, "1996-01-01T00:00Z")
    assert "\n" not in str(caught.value) and str(path) in str(caught.value)


def test_no_such_record_names_the_nearest():
    with pytest.raises(InputError, match="the nearest is 1996-03-13T16:00Z"):
        read_record(STORM, "1996-03-13T16:20Z")
    with pytest.raises(InputError, match="say which: the file holds 72 records"):
        read_record(STORM, None)
    with pytest.raises(InputError, match="such as 1996-03-13T16:00Z"):
        read_record(STORM, "13 March, 4 pm")
    with pytest.raises(InputError, match="such as"):
        record_time_utc(STORM, "1996-03-13T16:00+02:00")


def test_missing_and_foreign_files(tmp_path):
    with pytest.raises(InputError, match="no such file"):
        read_record(tmp_path / "nowhere.txt", None)
    for name, content in (
        ("a.txt", b"hello"),
        ("b.txt", b""),
        ("c.nc", b"\x89HDF\r\n\x1a\n"),
        ("d", b"\x00\xff"),
    ):
        path = tmp_path / name
        path.write_bytes(content)
        with pytest.raises(InputError):
            read_record(path, None)
    with pytest.raises(InputError, match="no such file"):
        read_record(tmp_path, None)


# ---- netCDF ----------------------------------------------------------------------------------------


def test_buoy_netcdf_without_and_with_direction():
    path = DATA / "sea_ndbc_42098_spectra.nc"
    with xr.open_dataset(path) as dataset:
        alpha1 = dataset["mean_wave_dir"].values[:, :, 0, 0]
        density = dataset["spectral_wave_density"].values[:, :, 0, 0]
        times = dataset["time"].values
    assert read_record(path, str(times[0].astype("datetime64[m]"))).direction is None
    index = 40
    record = read_record(path, str(times[index].astype("datetime64[m]")))
    band = int(np.argmax(density[index]))
    direction, _ = mean_direction(record.direction, record.density[band])
    assert np.degrees(direction) % 360.0 == pytest.approx(alpha1[index, band], abs=1e-3)


def test_wave_model_point_needs_a_station_and_gives_depth():
    path = DATA / "sea_ww3_point_spectra.nc"
    with pytest.raises(InputError, match="0 to 1"):
        read_record(path, "2014-12-01T00:00Z")
    record = read_record(path, "2014-12-01T00:00Z", place=1)
    assert record.depth == pytest.approx(818.7, abs=0.1)
    assert np.all(np.diff(record.direction) > 0.0)


def test_direction_word_decides_and_a_file_without_it_is_refused(tmp_path):
    with xr.open_dataset(DATA / "sea_ww3_point_spectra.nc") as dataset:
        dataset = dataset.load()
    away = []
    for name in ("sea_surface_wave_to_direction", "sea_surface_wave_from_direction"):
        dataset["direction"].attrs = {"units": "degree", "standard_name": name}
        dataset.to_netcdf(tmp_path / f"{name}.nc")
        away.append(from_degrees(read_record(tmp_path / f"{name}.nc", "2014-12-01T00:00Z", place=0)))
    assert abs((away[0] - away[1]) % 360.0 - 180.0) < 1e-6
    dataset["direction"].attrs = {"units": "degree", "standard_name": "wave_direction"}
    dataset.to_netcdf(tmp_path / "silent.nc")
    with pytest.raises(InputError, match="says from or to; it is not guessed"):
        read_record(tmp_path / "silent.nc", "2014-12-01T00:00Z", place=0)
    dataset["direction"].attrs = {"standard_name": "sea_surface_wave_from_direction"}
    dataset.to_netcdf(tmp_path / "no_units.nc")
    with pytest.raises(InputError, match="degree or radians"):
        read_record(tmp_path / "no_units.nc", "2014-12-01T00:00Z", place=0)
    dataset["direction"].attrs = {"units": "degree", "standard_name": "sea_surface_wave_from_direction"}
    dataset["efth"].attrs["units"] = "m2 s degree-1"
    dataset.to_netcdf(tmp_path / "per_degree.nc")
    with pytest.raises(InputError, match="m2 s rad-1"):
        read_record(tmp_path / "per_degree.nc", "2014-12-01T00:00Z", place=0)


def test_hole_in_a_model_spectrum_is_refused(tmp_path):
    with xr.open_dataset(DATA / "sea_ww3_point_spectra.nc") as dataset:
        dataset = dataset.load()
    dataset["efth"][0, 0, 3, 4] = np.nan
    dataset.to_netcdf(tmp_path / "hole.nc")
    with pytest.raises(InputError, match="finite"):
        read_record(tmp_path / "hole.nc", "2014-12-01T00:00Z", place=0)
    empty = dataset.drop_vars("efth")
    empty.to_netcdf(tmp_path / "none.nc")
    with pytest.raises(InputError, match="a file with efth"):
        read_record(tmp_path / "none.nc", "2014-12-01T00:00Z", place=0)


def test_era5_place_new_time_name_and_longitude_round_the_globe(tmp_path):
    path = DATA / "sea_era5_2d_spectra.nc"
    record = read_record(path, "2019-12-01T00:00Z", place=(36.0, 216.0))
    west = read_record(path, None, place=(36.0, -144.0))
    assert np.array_equal(record.density, west.density)
    with xr.open_dataset(path) as dataset:
        row, column = (int(np.argmin(np.abs(dataset[n].values - v))) for n, v in (("latitude", 36), ("longitude", 216)))
        counted = row * dataset.sizes["longitude"] + column
    assert np.array_equal(record.density, read_record(path, None, place=counted).density)
    with pytest.raises(InputError, match="latitude, longitude"):
        read_record(path, None)
    with pytest.raises(InputError, match="a number 0 to"):
        read_record(path, None, place=10**5)
    with pytest.raises(InputError, match="within the grid"):
        read_record(path, None, place=(200.0, 0.0))
    with xr.open_dataset(path) as dataset:
        renamed = dataset.load().rename({"time": "valid_time"})
    renamed.to_netcdf(tmp_path / "new.nc")
    again = read_record(tmp_path / "new.nc", "2019-12-01T00:00Z", place=(36.0, 216.0))
    assert again.density == pytest.approx(record.density, rel=1e-3)
    with pytest.raises(InputError, match="empty"):
        read_record(path, None, place=(72.0, 72.0))  # land or ice: every band missing


# ---- SWAN text -------------------------------------------------------------------------------------

SWAN = DATA / "sea_swan_point_spectra.spec"


def test_swan_text_is_coming_from_and_counts_times():
    record = read_record(SWAN, "2016-10-11T00:00Z")
    assert record.direction_sense == "from" and record.density.shape == (24, 36)
    assert 240.0 < from_degrees(record) < 260.0
    with pytest.raises(InputError, match="the nearest is 2016-10-15"):
        read_record(SWAN, "2017-10-11T00:00Z")


def test_swan_cartesian_directions_are_turned(tmp_path):
    """CDIR: anticlockwise from east, towards. 20 degrees to = 70 compass to = 250 compass from."""
    text = SWAN.read_text().replace("NDIR ", "CDIR ")
    path = tmp_path / "cartesian.spec"
    path.write_text(text)
    nautical, turned = read_record(SWAN, "2016-10-11T00:00Z"), read_record(path, "2016-10-11T00:00Z")
    assert from_degrees(turned) == pytest.approx((270.0 - from_degrees(nautical)) % 360.0, abs=1e-6)
    assert bulk_sea(turned.omega, turned.total).hs == pytest.approx(
        bulk_sea(nautical.omega, nautical.total).hs, rel=1e-9
    )


@pytest.mark.parametrize(
    "old, new, said",
    [
        ("VaDens ", "EnDens ", "VaDens"),
        ("NDIR ", "XDIR ", "a keyword"),
        ("    0.05110\n", "    half\n", "1 numbers"),
        ("    24  ", "    -3  ", "a whole number"),
        ("FACTOR", "FACTER", "FACTOR, ZERO or NODATA"),
        ("20161011.000000", "yesterday", "YYYYMMDD"),
    ],
)
def test_swan_faults_are_named(tmp_path, old, new, said):
    path = tmp_path / "fault.spec"
    path.write_text(SWAN.read_text().replace(old, new, 1))
    with pytest.raises(InputError, match=said):
        read_record(path, "2016-10-11T00:00Z")


def test_cut_swan_file_and_no_data(tmp_path):
    path = tmp_path / "cut.spec"
    path.write_text(SWAN.read_text()[:4000])
    with pytest.raises(InputError):
        read_record(path, "2016-10-11T00:00Z")
    head = SWAN.read_text().split("20161011.000000")[0]
    path.write_text(head + "20161011.000000\nNODATA\n20161012.000000\nZERO\n")
    with pytest.raises(InputError, match="a location with data"):
        read_record(path, "2016-10-11T00:00Z")
    with pytest.raises(InputError, match="empty"):
        read_record(path, "2016-10-12T00:00Z")


# ---- boat axes -------------------------------------------------------------------------------------


def test_a_record_turned_into_the_boat_comes_from_windward_on_both_tacks():
    record = read_record(SWAN, "2016-10-11T00:00Z")
    wave_from = np.radians(from_degrees(record))
    for tack, heading in (
        ("starboard", wave_from - np.radians(60.0)),
        ("port", wave_from + np.radians(60.0)),
    ):
        mu = np.asarray(direction_in_boat(record.direction, heading, tack))
        direction, _ = mean_direction(mu, np.trapezoid(record.density, record.omega, axis=0))
        assert np.degrees(direction) == pytest.approx(
            120.0, abs=1e-6
        )  # from 60 degrees off the bow, to leeward
