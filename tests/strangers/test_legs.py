"""Legs from strangers: whatever stands in the description, the track or the forecast, numbers that are, or one line.

The example's files are broken by lot, with a fixed seed here and fresh seeds in the slow part.
"""

import os
import random
import warnings
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.basis.units import HOUR
from seaload.files.forecast_netcdf import MOST_HEIGHT, Stretch, read_forecast
from seaload.files.track import read_track
from seaload.scenario import leg_spec
from seaload.scenario.read_boat import read_boat
from tests.strangers import mutate_bytes, mutate_netcdf, mutate_toml
from tests.strangers.accounts import Account
from tests.strangers.test_studies import only_numbers_that_are

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
LEG, TRACK, FORECAST = "demo.toml", "demo-track.csv", "made-forecast.nc"
USUAL, FRESH = 150, int(os.environ.get("SEALOAD_FUZZ_LEGS", 2000))


@pytest.fixture
def folders(tmp_path):
    """The example leg, laid out as in the checkout."""
    for name in ("boats", "legs"):
        (tmp_path / name).mkdir()
        for path in (SCENARIOS / name).iterdir():
            (tmp_path / name / path.name).write_bytes(path.read_bytes())
    return tmp_path


def track_that_is(path):
    """AssertionError unless the places of a track are on the globe."""
    places = read_track(path).places
    assert np.all(np.isfinite(places)) and np.all(np.abs(places[:, 0]) <= np.pi / 2.0) and len(places) > 1


def forecast_that_is(path, stretch):
    """AssertionError unless heights of a forecast are those of seas, wherever it has any, and nothing is infinite."""
    found = read_forecast(path, stretch)
    for part in vars(found).values():
        if isinstance(part, np.ndarray) and part.dtype.kind == "f":
            assert not np.any(np.isinf(part))
    for hs in (found.hs, found.system_hs):
        assert np.all(np.isnan(hs) | (hs >= 0.0) & (hs <= MOST_HEIGHT))


def broken_legs(folders, seed, tries, patch):
    """`Account` of so many broken files, a third of each kind."""
    lot, account = random.Random(seed), Account(seed)
    patch.setattr(leg_spec, "read_boat", lru_cache(lambda path: read_boat(path)))
    legs, written = folders / "legs", (SCENARIOS / "legs" / LEG).read_text()
    leg = leg_spec.read_leg_spec(legs / LEG)
    places = read_track(legs / TRACK).places
    stretch = Stretch(leg.start, leg.start + 30.0 * HOUR, places[:, 0], places[:, 1])
    forecast_that_is(legs / FORECAST, stretch)
    track, data = (legs / TRACK).read_bytes(), xr.load_dataset(legs / FORECAST, decode_timedelta=False)
    for variable in data.variables.values():
        variable.encoding = {}
    while account.tries < tries:
        kind = lot.randrange(3)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            if kind == 0:
                (legs / "broken.toml").write_bytes(mutate_toml.mutated(written, lot))
                account.attempt(lambda: only_numbers_that_are(leg_spec.read_leg_spec(legs / "broken.toml")))
            elif kind == 1:
                (legs / "broken.csv").write_bytes(mutate_bytes.mutated(track, lot))
                account.attempt(lambda: track_that_is(legs / "broken.csv"))
            elif write_broken(legs / "broken.nc", data, lot):
                account.attempt(lambda: forecast_that_is(legs / "broken.nc", stretch))
    return account


def write_broken(path, data, lot):
    """Whether a forecast after mutations by lot could be written to the path; what cannot be cannot be met."""
    path.unlink(missing_ok=True)
    try:
        mutate_netcdf.mutated(data, lot, sorted(map(str, data.variables))).to_netcdf(path)
    except Exception:
        return False
    if lot.random() < 0.15:
        raw = path.read_bytes()
        path.write_bytes(raw[: lot.randrange(len(raw))])
    return True


def of_text(data):
    name = "latitude"
    return data.drop_vars(name).assign_coords({name: (name, np.full(data.sizes[name], "much"))})


def with_a_height(height):
    def change(data):
        name = next(name for name in data.data_vars if data[name].attrs.get("units") == "m")
        values = data[name].values.copy()
        values[...] = height
        return data.assign({name: (data[name].dims, values, data[name].attrs)})

    return change


ONCE = {  # what a lot found: (change of the forecast, words of its line)
    "a latitude of text": (of_text, "numbers"),
    "no latitude at all": (lambda data: data.isel(latitude=slice(0, 0)), "a latitude and a longitude at least"),
    "an endless height": (with_a_height(np.inf), "finite numbers"),
    "a height of another unit": (with_a_height(400.0), "another unit"),
}


@pytest.mark.parametrize("case", ONCE)
def test_forecasts_that_once_were_tracebacks_or_read(case, tmp_path):
    change, words = ONCE[case]
    leg = leg_spec.read_leg_spec(SCENARIOS / "legs" / LEG)
    places = read_track(SCENARIOS / "legs" / TRACK).places
    data = xr.load_dataset(SCENARIOS / "legs" / FORECAST, decode_timedelta=False)
    for variable in data.variables.values():
        variable.encoding = {}
    change(data).to_netcdf(tmp_path / "f.nc")
    with pytest.raises(InputError, match=words):
        read_forecast(tmp_path / "f.nc", Stretch(leg.start, leg.start + HOUR, places[:, 0], places[:, 1]))


@pytest.mark.parametrize("key", ["forecast", "track"])
def test_a_name_that_no_disk_takes_is_no_such_file(key, folders):
    text = (SCENARIOS / "legs" / LEG).read_text()
    name = FORECAST if key == "forecast" else TRACK
    (folders / "legs" / LEG).write_text(text.replace(f'{key} = "{name}"', f'{key} = "{"x" * 3000}"'))
    with pytest.raises(InputError, match="no such file"):
        leg_spec.read_leg_spec(folders / "legs" / LEG)


def test_broken_legs_are_a_leg_or_one_line(folders, monkeypatch):
    broken_legs(folders, 21, USUAL, monkeypatch).judge(most_accepted=0.7)


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_broken_legs_of_fresh_seeds(folders, monkeypatch, fresh_seed):
    broken_legs(folders, fresh_seed, FRESH, monkeypatch).judge(most_accepted=0.7)
