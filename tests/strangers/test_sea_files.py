"""Sea files from strangers: whatever stands in them, a sea that can be, or one line that says what to mend.

Files are broken by lot, with a fixed seed here and fresh seeds in the slow part. Bases are published records.
"""

import random
import warnings
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.files.sea_reader import read_record
from seaload.files.sea_record import HIGHEST_BAND, LEAST_SEA, LOWEST_BAND, MOST_SEA, WIDEST_GAP
from tests.strangers import mutate_bytes, mutate_netcdf
from tests.strangers.accounts import Account

DATA = Path(__file__).parent.parent / "published" / "data"
HISTORY = "sea_ndbc_41010_201902_history_{}.txt"
REALTIME = "sea_ndbc_41010_202006_realtime.{}"
ENDINGS = ("swdir", "swdir2", "swr1", "swr2")
TEXTS = {  # name of the file: (record, letters or endings of the files beside it)
    "sea_ndbc_46042_1996_storm_w.txt": ("1996-03-13T16:00Z", ()),
    HISTORY.format("w"): ("2019-02-06T01:40Z", [HISTORY.format(letter) for letter in "djik"]),
    REALTIME.format("data_spec"): (
        "2020-06-08T03:50Z",
        [REALTIME.format(e) for e in ENDINGS],
    ),
    "sea_swan_point_spectra.spec": ("2016-10-11T00:00Z", ()),
}
GRIDS = {  # name of the file: (record, place)
    "sea_era5_2d_spectra.nc": ("2019-12-01T00:00Z", [36.0, 216.0]),
    "sea_ndbc_42098_spectra.nc": (None, None),
    "sea_swan_point_spectra.nc": (None, 0),
    "sea_ww3_point_spectra.nc": ("2014-12-01T00:00Z", 1),
}
USUAL_TEXT, USUAL_GRIDS = 400, 100
FRESH_TEXT, FRESH_GRIDS = 1500, 500


def short(name, record):
    """The header of a buoy's text file, the record and its neighbours; other files whole."""
    raw = (DATA / name).read_bytes()
    if raw.startswith(b"SWAN"):
        return raw
    lines, day = raw.split(b"\n"), [word.encode() for word in (record[5:7], record[8:10], record[11:13])]
    at = next(i for i, line in enumerate(lines) if line.split()[1:4] == day)
    return b"\n".join([lines[0], *lines[max(at - 3, 1) : at + 4]])


def a_sea_that_can_be(record):
    """Whether a record holds a sea within what the readers promise."""
    hertz = record.omega / (2.0 * np.pi)
    hs = 4.0 * np.sqrt(np.trapezoid(record.total, record.omega))
    assert np.all(np.isfinite(record.density)) and np.all(record.density >= 0.0)
    assert np.all(np.diff(hertz) > 0.0) and LOWEST_BAND <= hertz[0] and hertz[-1] <= HIGHEST_BAND * (1.0 + 1e-12)
    assert LEAST_SEA * 0.999 <= hs <= MOST_SEA * 1.001
    if record.direction is not None:
        gaps = np.diff(np.append(record.direction, record.direction[0] + 2.0 * np.pi))
        assert np.all(gaps > 0.0) and gaps.max() <= WIDEST_GAP + 1e-9


def read(path, record, place, beside, account):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        account.attempt(lambda: a_sea_that_can_be(read_record(path, record, place, beside)))


def broken_texts(folder, seed, tries):
    """`Account` of so many broken text files."""
    lot, account = random.Random(seed), Account(seed)
    bases = {name: short(name, record) for name, (record, _) in TEXTS.items()}
    beside = {name: short(name, record) for record, more in TEXTS.values() for name in more}
    for _ in range(tries):
        name = lot.choice(list(TEXTS))
        record, more = TEXTS[name]
        (folder / name).write_bytes(mutate_bytes.mutated(bases[name], lot))
        with_more = bool(more) and lot.random() < 0.5
        for other in more:
            raw = mutate_bytes.mutated(beside[other], lot) if with_more and lot.random() < 0.3 else beside[other]
            (folder / other).write_bytes(raw)
        asked = lot.choice((record, record, record, None))
        read(folder / name, asked, None, "beside" if with_more else "none", account)
    return account


def broken_grids(folder, seed, tries):
    """`Account` of so many broken netCDF files."""
    lot, account, path = random.Random(seed), Account(seed), folder / "grid.nc"
    bases = {name: xr.load_dataset(DATA / name, decode_timedelta=False) for name in GRIDS}
    bases["sea_ndbc_42098_spectra.nc"] = bases["sea_ndbc_42098_spectra.nc"].isel(time=[40])
    bases["sea_swan_point_spectra.nc"] = bases["sea_swan_point_spectra.nc"].isel(time=[0])
    for base in bases.values():
        for variable in base.variables.values():
            variable.encoding = {}
    while account.tries < tries:
        name = lot.choice(list(GRIDS))
        data = mutate_netcdf.mutated(bases[name], lot)
        path.unlink(missing_ok=True)
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                data.to_netcdf(path)
        except Exception:  # what cannot be written cannot be met
            continue
        if lot.random() < 0.15:
            raw = path.read_bytes()
            path.write_bytes(raw[: lot.randrange(len(raw))])
        read(path, *GRIDS[name], "none", account)
    return account


def test_hundreds_of_broken_text_files_are_a_sea_or_one_line(tmp_path):
    broken_texts(tmp_path, 21, USUAL_TEXT).judge(most_accepted=0.6)


def test_hundreds_of_broken_netcdf_files_are_a_sea_or_one_line(tmp_path):
    broken_grids(tmp_path, 21, USUAL_GRIDS).judge(most_accepted=0.6)


@pytest.mark.slow
def test_two_thousand_files_of_fresh_seeds(tmp_path, fresh_seed):
    broken_texts(tmp_path, fresh_seed, FRESH_TEXT).judge(most_accepted=0.6)
    broken_grids(tmp_path, fresh_seed, FRESH_GRIDS).judge(most_accepted=0.6)


def test_an_untouched_record_is_read(tmp_path):
    for name, (record, more) in TEXTS.items():
        a_sea_that_can_be(read_record(DATA / name, record, None, "beside" if more else "none"))
    for name, (record, place) in GRIDS.items():
        if record:
            a_sea_that_can_be(read_record(DATA / name, record, place))
    with pytest.raises(InputError, match="say which"):
        read_record(DATA / "sea_ndbc_42098_spectra.nc", None)
