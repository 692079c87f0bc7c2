"""Libraries from strangers: one that is damaged, cut short or another's answers with numbers that are, or is one line.

The library of an invented boat is broken by lot, with a fixed seed here and fresh seeds in the slow part.
"""

import os
import random
import warnings

import numpy as np
import pytest
import xarray as xr

from seaload.deciding.library.coordinates import cover_of, features_of
from seaload.deciding.library.emulator import quantities
from seaload.deciding.library.point import STATUS_WORDS, unreachable_point
from seaload.deciding.library.shelf import Shelf
from seaload.deciding.library.surfaces import SMOOTH, Recipe
from seaload.files.result_file import write_result
from seaload.report.library.table import library_table
from seaload.result.library_dataset import library_dataset
from seaload.studies.library.ask import Library
from seaload.studies.library.shelf_file import read_shelf, surfaces_hash
from tests.deciding.library.invented import MADE_FOR, QUESTION, invented_shelf
from tests.strangers import mutate_netcdf
from tests.strangers.accounts import Account

PLACES = 6
USUAL, FRESH = 15, int(os.environ.get("SEALOAD_FUZZ_LIBRARIES", 1000))
ASKED = {"extension_percent": 80, "rake_deg": 1, "speed_knots": 18, "hs_m": 3.2, "tp_s": 9, "waves_from_bow_deg": 40}
TOLD = ("load_at_rate", "load_at_rate_error", "load_mean", "log_wear", "log_wear_error", "speed_mean")
TEXTS = ("", "{", "[]", "null", '{"load_swing_reverse": 7}', "\u202e\x1b[2J", "library", "x" * 3000)


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """The Dataset of an invented library, as its file holds it."""
    shelf, nowhere = invented_shelf(30), unreachable_point(PLACES)
    count = len(shelf)
    columns = {
        name: np.asarray(shelf.columns.get(name, np.broadcast_to(value, (count, *value.shape)))).astype(value.dtype)
        for name, value in nowhere.items()
    }
    shelf = Shelf(MADE_FOR, {**shelf.columns, **columns})
    features = features_of(cover_of(shelf.coordinates), shelf.coordinates).shape[1]
    recipe = Recipe(SMOOTH, (2.0,) * features, 0.5, 1.0, 0.7, 1.1, 0.05, 0.03)  # fitting takes seconds
    shelf = Shelf(MADE_FOR, shelf.columns, dict.fromkeys(quantities(), recipe))
    data = library_dataset(shelf, ("invented", "port")).assign_attrs(surfaces_hash=surfaces_hash())
    path = write_result(data, tmp_path_factory.mktemp("library"), "whole.nc")
    data = xr.load_dataset(path, decode_timedelta=False)
    for variable in data.variables.values():
        variable.encoding = {}
    return data


def answered(path):
    """AssertionError unless a library answers with finite numbers; its table is told too."""
    library = Library(path.name, read_shelf(path, {}))
    told = library.ask(**ASKED)
    assert all(np.all(np.isfinite(told[name])) for name in TOLD), {name: told[name].values for name in TOLD}
    assert np.all(told["load_at_rate_error"] >= 0.0)


def recipe_changed(data, lot):
    """One number of the attribute that says how surfaces are drawn is another."""
    from tests.strangers.mutate_bytes import numbers_replaced, numbers_scaled

    raw = data.attrs["surfaces"].encode()
    change = lot.choice((numbers_replaced, numbers_scaled))
    return data.assign_attrs(surfaces=change(raw, lot).decode("latin-1"))


def broken(data, lot):
    """A Dataset after one mutation or two, None where they do not go together."""
    data = data.copy(deep=True)
    for _ in range(lot.choice((1, 1, 2))):
        way = lot.random()
        if way < 0.15:
            data = recipe_changed(data, lot)
        elif way < 0.25:
            data.attrs[lot.choice(sorted(data.attrs))] = lot.choice(TEXTS)
        elif (data := mutate_netcdf.mutated(data, lot, sorted(map(str, data.variables)))) is None:
            return None
    return data


def broken_libraries(folder, whole, seed, tries):
    """`Account` of so many broken libraries."""
    lot, account, path = random.Random(seed), Account(seed), folder / "broken.nc"
    while account.tries < tries:
        data = broken(whole, lot)
        path.unlink(missing_ok=True)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                data.to_netcdf(path)
            except Exception:  # what cannot be written cannot be met
                continue
            if lot.random() < 0.1:
                raw = path.read_bytes()
                path.write_bytes(raw[: lot.randrange(len(raw))])
            account.attempt(lambda: answered(path))
    return account


def test_the_library_itself_answers(whole, tmp_path):
    whole.to_netcdf(tmp_path / "whole.nc")
    answered(tmp_path / "whole.nc")
    assert "Covers" in library_table(whole)
    assert Library("whole.nc", read_shelf(tmp_path / "whole.nc", {})).emulator.refusal(QUESTION) is None


def test_its_status_is_of_points_and_not_of_cases(whole):
    """Once it had the numbers and words of a run's cases, in another type than the values (CF 1.11, section 3.5)."""
    status = whole["status"]
    assert status.attrs["flag_meanings"].split() == list(STATUS_WORDS)
    assert status.attrs["flag_values"].dtype == status.dtype
    assert set(np.unique(status)) <= set(status.attrs["flag_values"])


def test_broken_libraries_answer_or_are_one_line(whole, tmp_path):
    broken_libraries(tmp_path, whole, 21, USUAL).judge()


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_broken_libraries_of_fresh_seeds(whole, tmp_path, fresh_seed):
    broken_libraries(tmp_path, whole, fresh_seed, FRESH).judge()
