"""Sea files that once ended in a traceback or were read as seas that cannot be: one line each, with what to mend.

Bases are the published records of tests/published/data.
"""

import re
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.files.sea_reader import read_record

DATA = Path(__file__).parent.parent / "published" / "data"
STORM = DATA / "sea_ndbc_46042_1996_storm_w.txt"
SWAN = DATA / "sea_swan_point_spectra.spec"
HOUR_WORDS = ["96", "03", "13", "16"]
HOUR, SWAN_TIME, GRID_TIME = "1996-03-13T16:00Z", "2016-10-11T00:00Z", "2014-12-01T00:00Z"


def refused(path, *arguments, **options):
    """The one line that refuses a file, which names it."""
    with pytest.raises(InputError) as caught:
        read_record(path, *arguments, **options)
    line = str(caught.value)
    assert "\n" not in line and path.name in line and caught.value.exit_code == 2
    return line


def buoy(tmp_path, change, coding="utf-8"):
    """A buoy file whose lines went through `change(lines)`."""
    path = tmp_path / "buoy_w.txt"
    path.write_bytes("\n".join(change(STORM.read_text().splitlines())).encode(coding))
    return path


def swan(tmp_path, old, new, count=1):
    path = tmp_path / "point.spec"
    path.write_text(re.sub(old, new, SWAN.read_text(), count=count))
    return path


@pytest.fixture(scope="module")
def point():
    with xr.open_dataset(DATA / "sea_ww3_point_spectra.nc", decode_timedelta=False) as data:
        data = data.load()
    data.encoding = {}
    for variable in data.variables.values():
        variable.encoding = {}
    return data


def grid(tmp_path, data):
    path = tmp_path / "grid.nc"
    data.to_netcdf(path)
    return path


# ---- buoy text


def test_a_header_alone_holds_no_record(tmp_path):
    assert "holds a header and no record" in refused(buoy(tmp_path, lambda lines: lines[:1]), None)


def test_one_endless_line_is_a_header_that_is_none(tmp_path):
    path = buoy(tmp_path, lambda lines: [" ".join(lines * 50)])
    assert "no record" in refused(path, None)


@pytest.mark.parametrize("factor", [1e3, 1e-3])
def test_frequencies_off_by_a_thousand_are_not_those_of_waves(tmp_path, factor):
    def off(lines):
        header = lines[0].split()
        return [" ".join([*header[:4], *(f"{float(word) * factor:.8f}" for word in header[4:])]), *lines[1:]]

    assert "give the frequencies in Hz" in refused(buoy(tmp_path, off), HOUR)


@pytest.mark.parametrize("word", ["nan", "inf"])
def test_a_frequency_that_is_no_number(tmp_path, word):
    path = buoy(tmp_path, lambda lines: [lines[0].replace(".100", word), *lines[1:]])
    assert "frequenc" in refused(path, HOUR)


def at_the_hour(change):
    """The lines with `change(words)` made in the record of the hour."""

    def lines_of(lines):
        return [" ".join(change(line.split())) if line.split()[:4] == HOUR_WORDS else line for line in lines]

    return lines_of


def test_a_sea_higher_than_any_is_refused_with_its_height(tmp_path):
    """593 m was read: densities in another unit."""
    path = buoy(tmp_path, at_the_hour(lambda words: [*words[:4], *(f"{float(word) * 40:.0f}" for word in words[4:])]))
    line = refused(path, HOUR)
    assert "Hs 28" in line and "0.01 to 25 m" in line


def test_one_absurd_band_is_named(tmp_path):
    """At 0.3 Hz, 17 m long, a band of 60 m2/Hz over 0.01 Hz would be a wave 2.2 m high: 1/8 fits, 1/5 does not."""
    place = STORM.read_text().splitlines()[0].split().index(".300")
    path = buoy(tmp_path, at_the_hour(lambda words: [*words[:place], "200.0", *words[place + 1 :]]))
    assert "0.3 Hz" in refused(path, HOUR) and "no wave passes 1/7" in refused(path, HOUR)


def test_the_same_hour_twice_is_not_chosen_from(tmp_path):
    path = buoy(tmp_path, lambda lines: [*lines, next(line for line in lines if line.startswith("96 03 13 16"))])
    assert "stands 2 times in the file" in refused(path, HOUR)
    assert read_record(path, "1996-03-13T15:00Z").omega.size


def test_decimal_commas_are_refused_with_the_remedy(tmp_path):
    path = buoy(tmp_path, at_the_hour(lambda words: [*words[:6], words[6].replace(".", ","), *words[7:]]))
    assert "decimal point" in refused(path, HOUR)


@pytest.mark.parametrize("coding", ["utf-8-sig", "utf-16"])
def test_marks_of_spreadsheets_and_line_ends_change_nothing(tmp_path, coding):
    plain = read_record(STORM, HOUR)
    for end in ("", "\r"):
        path = buoy(tmp_path, lambda lines, end=end: [line + end for line in lines], coding)
        assert np.array_equal(read_record(path, HOUR).density, plain.density)


def test_bytes_that_are_no_text_name_the_remedy(tmp_path):
    path = tmp_path / "buoy_w.txt"
    for raw, said in (
        (STORM.read_bytes()[:400].decode().replace(" ", "\u00a0").encode("latin-1"), "save it as plain text in UTF-8"),
        (STORM.read_bytes()[:400] + bytes(8), "holds zero bytes"),
        (b"\x1f\x8b\x08\x00" + bytes(40), "unpack it first"),
        (b"PK\x03\x04" + bytes(40), "save the sheet as CSV"),
    ):
        path.write_bytes(raw)
        assert said in refused(path, HOUR) or raw[:2] == b"YY" and "format" in refused(path, HOUR)


@pytest.mark.parametrize(
    ("letter", "wrong", "said"), [("d", "720", "alpha1 is -360 to 360"), ("j", "250", "r1 is 0 to")]
)
def test_directions_of_a_buoy_that_cannot_be(tmp_path, letter, wrong, said):
    for name in "wdjik":
        lines = (DATA / f"sea_ndbc_41010_201902_history_{name}.txt").read_text().splitlines()
        if name == letter:
            at = next(i for i, line in enumerate(lines) if line.split()[:5] == ["2019", "02", "06", "01", "40"])
            words = lines[at].split()
            lines[at] = " ".join([*words[:5], *([wrong] * len(words[5:]))])
        (tmp_path / f"b_{name}.txt").write_text("\n".join(lines))
    with pytest.raises(InputError, match=said):
        read_record(tmp_path / "b_w.txt", "2019-02-06T01:40Z", None, "beside")


# ---- SWAN text


@pytest.mark.parametrize("word", ["nan", "inf", "1e300", "2.5"])
@pytest.mark.parametrize("what", ["locations", "frequencies", "directions"])
def test_a_count_that_is_none(tmp_path, word, what):
    path = swan(tmp_path, rf"\d+ +number of {what}", f"{word} number of {what}")
    assert "a whole number" in refused(path, SWAN_TIME)


def test_a_spectrum_that_covers_55_degrees_only(tmp_path):
    text = SWAN.read_text()
    first = text.index("number of directions") + len("number of directions")
    last = text.index("QUANT")
    text = text[:first] + "\n" + "\n".join(f"{1.5 * i:.2f}" for i in range(36)) + "\n" + text[last:]
    path = tmp_path / "narrow.spec"
    path.write_text(text)
    assert "must go once round" in refused(path, SWAN_TIME)


@pytest.mark.parametrize("word", ["nan", "inf", "-1.0"])
def test_a_factor_that_is_none(tmp_path, word):
    assert "FACTOR" in refused(swan(tmp_path, r"FACTOR\s+\S+", f"FACTOR\n {word}", 2), SWAN_TIME)


def test_a_small_file_of_many_empty_places_takes_little_memory(tmp_path):
    """A thousand frequencies by a thousand directions at each of many places: 8 MB each, were they kept."""
    head, _ = SWAN.read_text().split("20161011.000000")
    head = re.sub(r"(\d+)( +number of locations\n).*\n", r"2000\2" + " 1.0 1.0\n" * 2000, head)
    path = tmp_path / "many.spec"
    path.write_text(head + "20161011.000000\n" + "ZERO\n" * 2000)
    assert "empty" in refused(path, SWAN_TIME, place=1999)


# ---- netCDF


TIMES = {
    "missing units": np.arange(9.0),
    "text": np.array(["noon"] * 9),
}


@pytest.mark.parametrize("kind", TIMES)
def test_times_that_are_no_times(tmp_path, point, kind):
    path = grid(tmp_path, point.assign_coords(time=("time", TIMES[kind])))
    assert "time" in refused(path, GRID_TIME, place=0)


def test_a_time_beyond_all_calendars(tmp_path, point):
    far = point.assign_coords(time=("time", np.full(9, 1e300), {"units": "days since 1970-01-01"}))
    refused(grid(tmp_path, far), GRID_TIME, place=0)


def test_frequency_under_another_name(tmp_path, point):
    line = refused(grid(tmp_path, point.rename(frequency="freq")), GRID_TIME, place=0)
    assert "frequency" in line and "missing" in line


def test_a_dimension_without_its_numbers_is_not_counted_from_nought(tmp_path, point):
    line = refused(grid(tmp_path, point.drop_vars("frequency")), GRID_TIME, place=0)
    assert "frequency = 'missing'" in line


@pytest.mark.parametrize("axis", ["member", "level"])
def test_a_further_axis_is_named(tmp_path, point, axis):
    more = point.assign(efth=point["efth"].expand_dims({axis: 3}))
    assert axis in refused(grid(tmp_path, more), GRID_TIME, place=0)


def test_a_buoy_with_several_stations(tmp_path):
    with xr.open_dataset(DATA / "sea_ndbc_42098_spectra.nc") as data:
        data = data.load().isel(time=[40])
    data["spectral_wave_density"] = data["spectral_wave_density"].expand_dims({"station": 2})
    data.encoding = {}
    assert "spectral_wave_density axes = 'station, time" in refused(grid(tmp_path, data), None)


def test_a_single_time_without_its_axis(tmp_path, point):
    """One record may have its time beside it; many records may not share one."""
    alone = point.isel(time=0)
    whole = read_record(DATA / "sea_ww3_point_spectra.nc", GRID_TIME, place=0)
    assert read_record(grid(tmp_path, alone), GRID_TIME, place=0).density == pytest.approx(whole.density)
    shared = point.rename_dims(time="hour").drop_vars("time").assign_coords(time=point["time"].values[0])
    assert "efth axes" in refused(grid(tmp_path, shared), GRID_TIME, place=0)


@pytest.mark.parametrize("name", ["efth", "frequency", "direction"])
def test_text_in_place_of_numbers(tmp_path, point, name):
    text = (point[name].dims, np.full(point[name].shape, "much"), point[name].attrs)
    data = point.drop_vars(name).assign({name: text})
    assert "numbers" in refused(grid(tmp_path, data), GRID_TIME, place=0)


@pytest.mark.parametrize("name", ["frequency", "direction"])
@pytest.mark.parametrize("wrong", [np.nan, np.inf])
def test_axes_with_holes(tmp_path, point, name, wrong):
    values = point[name].values.astype(float)
    values[3] = wrong
    data = point.assign_coords({name: (name, values, point[name].attrs)})
    assert "finite" in refused(grid(tmp_path, data), GRID_TIME, place=0)


def test_frequencies_in_kilohertz_or_radians(tmp_path, point):
    for units in ("kHz", "rad/s"):
        data = point.assign_coords(frequency=("frequency", point["frequency"].values, {"units": units}))
        assert "Hz or s-1" in refused(grid(tmp_path, data), GRID_TIME, place=0)


def test_a_file_cut_short(tmp_path):
    raw = (DATA / "sea_ww3_point_spectra.nc").read_bytes()
    for share in (0.01, 0.3, 0.9):
        path = tmp_path / "cut.nc"
        path.write_bytes(raw[: int(share * len(raw))])
        refused(path, GRID_TIME, place=0)
