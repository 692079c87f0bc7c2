"""The response data of the board: sailed points read as themselves, between them straight lines, outside
nothing."""

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.report.board.data import axis_values, board_data, interpolate, odds_of, rate_in
from seaload.report.read_answer import read_answer
from tests.report.invented_result import invented_run, invented_seas, invented_study, invented_sweep

ENDED = (4, 2)  # a setting and sea in which one case left the validity


def board_of(result):
    """The response data of a result, its answer read anew."""
    return board_data(result, read_answer(result))


@pytest.fixture(scope="module")
def board(sweep_result):
    return board_of(sweep_result)


def place_of(dataset, board, setting, sea):
    """The place of a sailed point on the axes of the board."""
    values = {
        "hs_m": float(dataset["sea_hs"].values[sea]),
        "tp_s": float(dataset["sea_tp"].values[sea]),
        "waves_from_bow_deg": float(dataset["waves_from_bow"].values[sea]) / DEGREE,
        "extension_percent": 100.0 * float(dataset["extension"].values[setting]),
        "rake_deg": float(dataset["rake"].values[setting]) / DEGREE,
        "heel_deg": float(dataset["heel"].values[setting]) / DEGREE,
        "cant_deg": float(dataset["cant"].values[setting]) / DEGREE,
        "ballast_shift_m": float(dataset["ballast_shift"].values[setting]),
        "speed_knots": float(dataset["speed_set"].values[setting, sea]) / KNOT,
    }
    axes = {axis["name"]: axis["values"] for axis in board["axes"]}
    return {name: min(axes[name], key=lambda v: abs(v - values[name])) for name in axes}


def test_seas_and_settings_form_the_axes(board):
    sizes = {axis["name"]: len(axis["values"]) for axis in board["axes"]}
    assert sizes["hs_m"] == 3 and sizes["waves_from_bow_deg"] == 2 and sizes["tp_s"] == 1
    assert sizes["extension_percent"] == 3 and sizes["rake_deg"] == 3 and sizes["speed_knots"] == 2


def test_every_sailed_point_reads_as_itself(sweep_result, board):
    for setting in range(sweep_result.sizes["setting"]):
        for sea in range(sweep_result.sizes["sea"]):
            reading = interpolate(board, place_of(sweep_result, board, setting, sea))
            if (setting, sea) == ENDED:
                assert reading == {"outside": "gap"}
                continue
            for name in ("reverse", "normal"):
                exposure = float(sweep_result["exposure_time"]) / HOUR
                for end in ("", "_low", "_high"):
                    odds = float(sweep_result[f"{name}_odds_all_told{end}"].values[setting, sea])
                    assert odds_of(reading[f"{name}_rate{end}"], exposure) == pytest.approx(odds, rel=1e-6, abs=1e-12)
            speed = float(sweep_result["speed_mean"].values[setting, sea]) / KNOT
            assert reading["speed_knots"] == pytest.approx(speed, rel=1e-7)


def test_odds_in_the_times_of_the_result_are_its_own_and_one_rate_stands_in_where_it_tells_none(sweep_result, board):
    place = place_of(sweep_result, board, 3, 1)
    for k, time in enumerate(sweep_result["duration"].values / HOUR):
        for end in ("", "_low", "_high"):
            odds = float(sweep_result[f"reverse_odds_in_duration{end}"].values[3, 1, k])
            assert odds_of(rate_in(board, place, f"reverse_rate{end}", time), time) == pytest.approx(odds, rel=1e-6)
    at_exposure = rate_in(board, place, "reverse_rate", float(sweep_result["exposure_time"]) / HOUR)
    assert at_exposure == pytest.approx(interpolate(board, place)["reverse_rate"], rel=1e-6)
    older = board_of(sweep_result.drop_vars([n for n in sweep_result.variables if "_in_duration" in n]))
    assert rate_in(older, place, "reverse_rate", 0.5) == interpolate(older, place)["reverse_rate"]


def ends_and_between(board, axis, share):
    """Places at the first two points of an axis and between them, the rest at its first point."""
    axes = {a["name"]: a["values"] for a in board["axes"]}
    low = {name: values[0] for name, values in axes.items()}
    first, last = axes[axis][:2]
    return low, {**low, axis: last}, {**low, axis: first + share * (last - first)}


def test_halfway_between_two_points_rates_are_their_geometric_mean_and_speed_the_mean(board):
    low, high, middle = (interpolate(board, place) for place in ends_and_between(board, "extension_percent", 0.5))
    assert middle["wear"] == pytest.approx(np.sqrt(low["wear"] * high["wear"]), rel=1e-9)
    assert middle["speed_knots"] == pytest.approx(0.5 * (low["speed_knots"] + high["speed_knots"]), rel=1e-9)


@pytest.mark.parametrize(
    ("law", "margin"), [(lambda hs: np.exp(-60.0 / hs**2), 1e-9), (lambda hs: np.exp(-30.0 / hs), 0.3)]
)
def test_along_the_height_a_rayleigh_sea_is_read_exactly_and_a_heavier_tail_never_too_low(board, law, margin):
    """Peaks of a narrow-banded linear sea: exp(-a/Hs^2) (Rayleigh; from memory); exp(-a/Hs): exponential peaks."""
    axes = [{"name": "hs_m", "values": [3.0, 4.0, 5.0]}]
    values = [float(law(hs)) for hs in axes[0]["values"]]
    fields = dict.fromkeys(("reverse_rate", "reverse_rate_high"), values)
    for hs in np.linspace(3.0, 5.0, 21):
        read = interpolate({"axes": axes, "fields": fields}, {"hs_m": hs})["reverse_rate"]
        assert law(hs) * (1.0 - 1e-9) <= read <= law(hs) * (1.0 + margin)


def test_a_period_that_follows_the_height_is_no_axis_but_an_answer():
    study = invented_study()
    study = study.__class__(**{**study.__dict__, "settings": study.settings[:1], "seas": invented_seas(study)})
    seas = tuple(sea.__class__(**{**sea.__dict__, "tp": 3.0 + 2.0 * sea.hs}) for sea in study.seas)
    run = invented_run(study.__class__(**{**study.__dict__, "seas": seas}), series=False, realisations=1)
    board = board_of(run)
    assert [axis["name"] for axis in board["axes"]][:2] == ["hs_m", "waves_from_bow_deg"]
    place = {axis["name"]: axis["values"][0] for axis in board["axes"]}
    assert interpolate(board, place)["period_s"] == pytest.approx(8.0)


@pytest.mark.parametrize("axis", ["hs_m", "tp_s", "waves_from_bow_deg", "rake_deg", "speed_knots", "heel_deg"])
@pytest.mark.parametrize("step", [-1.0, 1.0])
def test_nothing_is_read_outside_the_sailed_range(board, axis, step):
    place = {a["name"]: a["values"][-1 if step > 0 else 0] for a in board["axes"]}
    place[axis] += step
    assert interpolate(board, place) == {"outside": axis}


def test_what_is_not_a_number_is_outside(board):
    place = {a["name"]: a["values"][0] for a in board["axes"]}
    assert interpolate(board, {**place, "hs_m": float("nan")}) == {"outside": "hs_m"}


def test_next_to_a_case_that_left_the_validity_there_is_no_reading(sweep_result, board):
    place = place_of(sweep_result, board, *ENDED)
    assert interpolate(board, {**place, "hs_m": place["hs_m"] + 0.5}) == {"outside": "gap"}


def reading_inside(board, shares):
    place = {}
    for axis, share in zip(board["axes"], shares, strict=True):
        place[axis["name"]] = axis["values"][0] + share * (axis["values"][-1] - axis["values"][0])
    return interpolate(board, place)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.0, 1.0), min_size=9, max_size=9))
def test_readings_stay_between_the_least_and_the_most_that_was_sailed(board, shares):
    reading = reading_inside(board, shares)
    if "outside" in reading:
        assert reading["outside"] == "gap"
        return
    for name, values in board["fields"].items():
        kept = [v for v in values if v is not None]
        if kept and reading[name] is not None:
            assert min(kept) - 1e-9 <= reading[name] <= max(kept) + 1e-9
    assert reading["reverse_rate_low"] <= reading["reverse_rate"] + 1e-9 <= reading["reverse_rate_high"] + 2e-9


def test_seas_that_form_no_grid_are_chosen_by_name():
    study = invented_study("settings-map")
    study = study.__class__(**{**study.__dict__, "settings": study.settings[:4]})
    board = board_of(invented_sweep(study))
    assert board["axes"][0] == {"name": "sea", "values": [0, 1, 2]}
    place = {axis["name"]: axis["values"][0] for axis in board["axes"]}
    assert "outside" not in interpolate(board, place)
    assert interpolate(board, {**place, "sea": 0.5}) == {"outside": "sea"}


def test_the_data_are_plain_json(board):
    assert json.loads(json.dumps(board, allow_nan=False)) == board


def test_a_run_alone_gives_single_points():
    board = board_of(invented_run(series=False, realisations=1))
    assert all(len(axis["values"]) == 1 for axis in board["axes"])


def test_odds_grow_with_time_and_end_at_one():
    assert odds_of(0.5, 0.0) == 0.0
    assert odds_of(0.5, 1.0) == pytest.approx(1.0 - np.exp(-0.5))
    assert odds_of(10.0, 1000.0) == 1.0


def test_neighbouring_values_are_one_point_of_an_axis():
    assert axis_values([2.0, 2.04, 3.0014], "hs_m") == [2.02, 3.0]
