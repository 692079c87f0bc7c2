"""A sizing from end to end: one sea equals a run, the same bytes again, tables that agree, loads that balance."""

import csv
from dataclasses import replace

import numpy as np
import pytest

import seaload
from seaload.basis.vocabulary import attributes
from seaload.fatigue.miner import damage_equivalent_range
from seaload.studies.single_run import run_study
from seaload.studies.size.size import size_study
from tests import sized

ONE_SEA = "hs_lower_m,tz_7\n3,1.0\n"
ONE = sized.TOML[: sized.TOML.index("[[change]]")].replace('compare = ["{other}"]', "")
ONE = ONE.replace("[16, 18]", "18").replace("[2, 3, 4]", "[3, 4]")
FLAGS = {"coverage_content_type", "bounds"}


@pytest.fixture
def outcome(small_sizing):
    return small_sizing


def rows_of(outcome, name):
    with open(outcome.result_path.parent / name, encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_a_table_of_one_sea_equals_a_run(tmp_path):
    """The usage of one sea and setting is the run of that sea: speed, events, wear along the foil, largest loads."""
    small = sized.small(tmp_path, ONE, ONE_SEA)
    whole = size_study(small, out=tmp_path / "results").dataset
    study = replace(small.study, settings=small.study.settings[:1], seas=small.study.seas[:1])
    run = run_study(study, out=tmp_path / "run", rates_only=True).dataset.isel(setting=0, sea=0)
    assert whole["usage_share"].values.tolist() == [1.0]
    assert float(whole["usage_speed"][0]) == pytest.approx(float(run["speed_mean"]), rel=1e-12)
    assert float(whole["usage_event_rate"].sel(side="reverse")[0]) == float(run["reverse_event_rate"])
    season = float(whole["season_time"])
    along = np.interp(whole["sized_material"].values, run["material"].values, run["grid_damage_rate"].values)
    assert whole["season_wear"].values == pytest.approx(season * along, rel=1e-12)
    # every cycle of the run is in the season's matrix as often as the season is longer, small ones left out
    cycles, counted = whole["season_cycles"].values.sum(axis=2), run["rainflow_count"].values.sum(axis=2)
    longer = season / float(run["duration_total"])
    beyond = whole["cycle_range"].values > 0.1
    assert cycles[:, beyond].sum(axis=1) == pytest.approx(longer * counted[:, 2:].sum(axis=1), rel=0.15, abs=longer)


def test_the_same_bytes_for_any_workers_and_from_the_store(outcome, tmp_path):
    again = size_study(sized.small(tmp_path), out=tmp_path / "results", workers=1)
    assert again.reused == 0 and again.done == outcome.done
    stored = size_study(sized.small(tmp_path), out=tmp_path / "results", workers=1)
    assert stored.done == 0 and stored.reused > 0
    for other in (again, stored):
        for name in outcome.dataset.variables:
            one, two = outcome.dataset[name].values, other.dataset[name].values
            assert one.tobytes() == two.tobytes() if one.dtype.kind != "O" else one.tolist() == two.tolist(), name
    for name in ("limits.csv", "companion-loads.csv", "programme.csv"):
        assert rows_of(again, name) == rows_of(outcome, name)


def test_every_variable_has_the_attributes_of_the_table(outcome):
    for name, variable in outcome.dataset.variables.items():
        said = {key: value for key, value in variable.attrs.items() if key not in FLAGS}
        assert said == attributes(name), name
    assert outcome.dataset.attrs["kind"] == "size"


def test_shares_sum_to_one_and_each_place_has_one_that_governs(outcome):
    data = outcome.dataset
    assert float(data["situation_share"].sum()) == pytest.approx(1.0)
    assert float(data["usage_share"].sum()) == pytest.approx(0.95)
    assert float(data["table_share"].sum()) == pytest.approx(1.0)
    governing = data["governing_situation"].values
    assert governing.min() >= 0 and governing.max() < data.sizes["situation"]


def test_bounds_hold_what_they_are_of(outcome):
    data = outcome.dataset
    for name in ("limit_needed", "limit_if_right", "limit_wear", "load_return", "equivalent_range", "season_wear"):
        middle, low, high = (data[f"{name}{end}"].values for end in ("", "_low", "_high"))
        assert np.all(low <= middle * (1 + 1e-12)) and np.all(middle <= high * (1 + 1e-12)), name
    returns = data["load_return"].values
    assert np.all(np.diff(returns, axis=0) >= 0.0)  # a longer time, a higher load


def test_the_load_vector_at_an_extreme_makes_its_moment(outcome):
    """Strip loads times their arms are the moment counted at the event: within 6 %, what leans along the chord and the
    mode's ringing left out. Shear is the sum outside where the foil is straight.
    """
    data = outcome.dataset
    limit = data["limit_given"].values
    assert data.sizes["extreme"] > 10
    for e in range(data.sizes["extreme"]):
        material = data["extreme_edge_material"].values[e]
        at = float(data["extreme_material"][e])
        told = np.interp(at, material, data["extreme_edge_moment"].values[e])
        if at >= float(data["extreme_bearing"][e]):
            assert told == pytest.approx(float(data["extreme_moment"][e]), rel=0.02, abs=0.002 * limit[1].max())
        load, shear = data["extreme_strip_load"].values[e], data["extreme_edge_shear"].values[e]
        assert shear[-5] == pytest.approx(load[-4:].sum(), rel=1e-9, abs=1e-6)
        upper, lower = (float(data[f"extreme_{which}_reaction"][e]) for which in ("upper", "lower"))
        assert upper + lower + shear[0] == pytest.approx(0.0, abs=1e-6)  # all forces across the foil balance
        assert upper == pytest.approx(data["extreme_edge_moment"].values[e][0] / 0.9)


def test_a_gust_and_a_motion_are_events_of_their_own(outcome):
    data = outcome.dataset
    assert data["situation_times"].values.tolist() == [0.0, 0.0, 20.0, 10.0]
    assert data["situation_partial_factor"].values.tolist() == [1.0, 1.0, 1.1, 1.0]


def test_changes_are_told_with_intervals(outcome):
    data = outcome.dataset
    assert data["change_name"].values.tolist() == ["3 degrees more dihedral", "waves 10 % higher", "former-demo"]
    higher = data["change_limit"].sel(side="normal").values[1]
    assert np.median(higher) > 0.0
    low, high = (data[f"change_limit_{end}"].values for end in ("low", "high"))
    assert np.all(low <= data["change_limit"].values) and np.all(data["change_limit"].values <= high)
    assert set(data["uncertain_name"].values) == {"lift_slope", "rake_zero"}
    assert np.median(data["uncertain_limit"].sel(side="normal").values[0]) > 0.0  # more lift, more load


def test_more_of_the_season_never_asks_for_less(outcome):
    """A longer season is passed in with higher odds, and wears more."""
    data = outcome.dataset
    assert data["usage_change_name"].values[0] == "a season a quarter longer"
    assert np.all(data["usage_change_limit"].values[0] >= -1e-6) and np.any(data["usage_change_limit"].values[0] > 0.0)


def test_tables_agree_with_the_result(outcome):
    limits = rows_of(outcome, "limits.csv")
    needed = outcome.dataset["limit_needed"].values.ravel()
    assert [float(row["limit_needed_n_m"]) for row in limits] == pytest.approx(needed, rel=1e-5)
    rows = rows_of(outcome, "programme.csv")
    told = float(outcome.dataset["programme_cycles"].sum())
    assert sum(float(row["cycles"]) for row in rows) == told
    strips = outcome.dataset.sizes["strip"]
    assert len(rows_of(outcome, "companion-loads.csv")) == strips * outcome.dataset.sizes["extreme"]


def test_the_matrix_of_the_season_has_the_equivalent_ranges_told_beside_it(outcome):
    """Two ways to the same number: one sum over the season's matrix, and seas mixed by their shares."""
    data = outcome.dataset
    for place in range(data.sizes["place"]):
        cycles = data["season_cycles"].values[place].sum(axis=1)
        for i, slope in enumerate(data["fatigue_slope"].values):
            told = float(data["equivalent_range"].values[i, place])
            ours = damage_equivalent_range(data["cycle_range"].values, cycles, slope, 1e6)
            assert ours == pytest.approx(told, rel=1e-5)


def test_the_programme_does_the_season_s_damage_at_its_slope(outcome):
    data = outcome.dataset
    at = data["fatigue_slope"].values.tolist().index(float(data["programme_slope"]))
    assert abs(float(data["programme_error"][at])) < 0.02


def test_python_gives_the_dataset(tmp_path):
    """`seaload.size` takes a path; the whole of a study on disk is not for a fast test, so its refusal is looked at."""
    path = sized.written(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace("share_percent = 100", "share_percent = 90"), "utf-8")
    with pytest.raises(ValueError, match="100 percent together"):
        seaload.size(path, out=tmp_path)


