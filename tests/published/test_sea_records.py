"""Bulk numbers of real sea files against sea_data_expected_bulk.csv (derived from the files by other code).

Origin and licence of each file: sea_SOURCES.csv. Tolerances: 1e-3 with the same trapezoid rule, as the table
states; the buoy's own wave height to its printed 0.1 m; its own peak direction to two degrees.
"""

import re
from pathlib import Path

import numpy as np
import pytest

from seaload.files.sea_reader import read_record
from seaload.waves.bulk import bulk_sea, mean_direction

DATA = Path(__file__).parent / "data"
SOURCE = "reference bulk numbers of the file"
WW3_START = np.datetime64("2014-12-01T00:00")


def read(row):
    """Our record of one row of the table."""
    file, said = row["file"], row["record"]
    path, beside = DATA / f"sea_{file}", "none"
    if file.startswith("ndbc"):
        numbers = [int(word) for word in said.split()] + [0]
        year = numbers[0] + (1900 if numbers[0] < 100 else 0)
        time = f"{year}-{numbers[1]:02d}-{numbers[2]:02d}T{numbers[3]:02d}:{numbers[4]:02d}Z"
        beside = "beside" if file.endswith("data_spec") else "none"
        return read_record(path, time, direction_files=beside)
    first, second = (int(word) for word in re.findall(r"-?\d+", said))
    if file.startswith("ww3"):
        return read_record(path, WW3_START + np.timedelta64(12 * first, "h"), place=second)
    return read_record(path, None, place=(first, second))


def band_direction(record):
    """Energy-weighted mean direction FROM [rad] and first amplitude, bands half way to their neighbours."""
    edges = 0.5 * (record.omega[1:] + record.omega[:-1])
    edges = np.concatenate([[1.5 * record.omega[0] - 0.5 * record.omega[1]], edges])
    edges = np.append(edges, 1.5 * record.omega[-1] - 0.5 * record.omega[-2])
    return mean_direction(record.direction, np.diff(edges) @ record.density)


@pytest.mark.parametrize("file", ["46042_1996_storm_w.txt", "41010_202006", "ww3_point", "era5_2d"])
def test_heights_and_periods(file, reference_table, check_against):
    rows = [row for row in reference_table("sea_data_expected_bulk.csv") if file in row["file"]]
    assert len(rows) >= 6
    seas = [bulk_sea(record.omega, record.total) for record in map(read, rows)]
    for column, field in (("Hs_trapz", "hs"), ("Tp_grid", "tp"), ("Te", "te"), ("T01", "t1"), ("T02", "tz")):
        check_against(
            "sea",
            f"{column} of {rows[0]['file']}",
            SOURCE,
            "derived",
            [row[column] for row in rows],
            [getattr(sea, field) for sea in seas],
            relative=1e-3,
        )
    if np.isfinite(rows[0]["file_WVHT_m"]):
        check_against(
            "sea",
            f"wave height the buoy itself reports, {rows[0]['file']} [m]",
            "US National Data Buoy Center, in the file's summary",
            "read",
            [row["file_WVHT_m"] for row in rows],
            [sea.hs for sea in seas],
            absolute=0.05,  # printed to 0.1 m
        )


@pytest.mark.parametrize("file", ["41010_202006", "ww3_point", "era5_2d"])
def test_mean_directions_come_from(file, reference_table, check_against):
    rows = [row for row in reference_table("sea_data_expected_bulk.csv") if file in row["file"]]
    published, ours, spread_published, spread_ours = [], [], [], []
    for row in rows:
        direction, r1 = band_direction(read(row))
        text = row["directions"]
        expected = float(
            (re.findall(r" FROM=([\d.]+)", text) or re.findall(r"from-direction=([\d.]+)", text))[0]
        )
        away = (np.degrees(direction) - expected + 180.0) % 360.0 - 180.0
        published.append(expected)
        ours.append(expected + away)
        for value in re.findall(r"spread [^=]*=([\d.]+)", text):
            spread_published.append(float(value))
            spread_ours.append(np.degrees(np.sqrt(2.0 * (1.0 - r1))))
        for value in re.findall(r"r1_total=([\d.]+)", text):
            assert abs(r1 - float(value)) < 0.002
    check_against(
        "sea",
        f"mean direction FROM of {rows[0]['file']} [deg]",
        SOURCE,
        "derived",
        published,
        ours,
        absolute=0.4 if "41010" in file else 0.02,  # printed digits; buoy bands unevenly spaced
    )
    if spread_published:
        check_against(
            "sea",
            f"directional width of {rows[0]['file']} [deg]",
            SOURCE,
            "derived",
            spread_published,
            spread_ours,
            absolute=0.05,
        )


def test_peak_direction_agrees_with_the_buoys_own(reference_table, check_against):
    published, ours = [], []
    for row in reference_table("sea_data_expected_bulk.csv"):
        if "41010" not in row["file"]:
            continue
        record = read(row)
        peak = record.density[int(np.argmax(record.total))]
        published.append(float(re.findall(r"file MWD (\d+)", row["directions"])[0]))
        ours.append(np.degrees(mean_direction(record.direction, peak)[0]) % 360.0)
    check_against(
        "sea",
        "direction of the peak band, buoy 41010 [deg]",
        "US National Data Buoy Center, in the file's summary",
        "read",
        published,
        ours,
        absolute=2.0,
    )


def test_swan_height_agrees_with_the_models_own(check_against):
    """The netCDF file carries the model's own Hs as well, packed to 0.8 mm and for a wider band."""
    ours, published = [], []
    for hour, hs in enumerate((0.2082882, 0.19608116, 0.18387413)):
        record = read_record(DATA / "sea_swan_point_spectra.nc", f"2017-12-01T{hour:02d}:00Z")
        published.append(hs)
        ours.append(bulk_sea(record.omega, record.total).hs)
    check_against(
        "sea",
        "Hs of a SWAN point file [m]",
        "the model's own Hs in the file; it adds a tail above 0.72 Hz",
        "read",
        published,
        ours,
        relative=0.04,
    )
