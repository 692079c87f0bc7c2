"""Every name in a result stands in the vocabulary, with its attributes, and nothing else is said of it."""

import json

import numpy as np
import pytest
import xarray as xr

from seaload.basis.vocabulary import TABLE, attributes, entry_of
from seaload.files.result_file import read_result

PROMISED = """damage_rate reverse_event_rate reverse_excursion_rate normal_exceedance_rate reverse_odds normal_odds
load_ratio_max load_ratio_min load_ratio_mean load_ratio_std rainflow_count vertical_lift_mean righting_moment_mean
foil_drag_mean hold_down_load_max speed_mean heave_std pitch_std roll_std status bending_moment strip_force heave
pitch roll speed wave_elevation station""".split()
WITH_BOUNDS = """damage_rate damage_rate_steep reverse_event_rate reverse_event_rate_half normal_event_rate
reverse_excursion_rate reverse_excursion_rate_half normal_exceedance_rate reverse_odds normal_odds
reverse_event_rate_joined normal_event_rate_joined damage_rate_worst""".split()
FLAG_WORDS = {"flag_values", "flag_meanings", "bounds", "coverage_content_type"}


def test_every_variable_has_the_attributes_of_the_table(small_run):
    for name, variable in small_run.dataset.variables.items():
        said = {key: value for key, value in variable.attrs.items() if key not in FLAG_WORDS}
        assert said == attributes(name), name


def test_saved_file_says_the_same(small_run):
    saved = xr.open_dataset(small_run.result_path)
    for name in small_run.dataset.variables:
        for key, value in attributes(name).items():
            assert saved[name].attrs[key] == value
        assert saved[name].attrs["coverage_content_type"] == "modelResult"
    saved.close()


def test_promised_names_are_there(small_run):
    missing = [name for name in PROMISED if name not in small_run.dataset.variables]
    assert not missing


@pytest.mark.parametrize("name", WITH_BOUNDS)
def test_rates_and_odds_have_bounds_around_them(small_run, name):
    data = small_run.dataset
    middle, low, high = (data[f"{name}{end}"].values for end in ("", "_low", "_high"))
    assert np.all(low <= middle) and np.all(middle <= high)


def test_status_tells_its_meanings(small_run):
    status = small_run.dataset["status"]
    meanings = status.attrs["flag_meanings"].split()
    assert len(meanings) == len(status.attrs["flag_values"]) and "not_sailed" in meanings


def test_standard_names_are_real(reference_table):
    """CF Standard Name Table version 83 (read)."""
    real = {row["standard_name"] for row in reference_table("cf_standard_names_waves.csv")}
    ours = {entry.standard_name for entry in TABLE.values() if entry.standard_name}
    assert ours <= real


def test_bounds_lose_the_standard_name():
    assert entry_of("sea_hs_low").standard_name == ""
    with pytest.raises(KeyError):
        entry_of("sea_hs_lower")


def test_attributes_are_text_and_tell_the_birth(small_run):
    attrs = read_result(small_run.result_path).attrs
    assert all(isinstance(value, str) for value in attrs.values())
    assert attrs["Conventions"] == "CF-1.11, ACDD-1.3"
    assert all(attrs[name] for name in ("title", "summary", "keywords"))  # ACDD 1.3: highly recommended
    scenario = json.loads(attrs["scenario"])
    assert scenario["study"]["name"] == "bow-quarter-swell" and scenario["boat"]["name"] == "demo"
    for word in ("seed", "versions", "source_fingerprint", "command", "cautions"):
        assert attrs[word]
