"""The stated gust: its shape, and when a boat counts as leaping."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.sailing.gust_event import (
    BEFORE,
    begin_calm_gusts,
    gust_answer,
    gust_length,
    gust_pulls,
    gust_tasks,
)
from seaload.scenario.records import Gust

WIND, ANCHORED = SimpleNamespace(true_wind_speed=10.0, true_wind_angle=np.pi / 2.0), 0.0  # [m/s], [rad]; [m/s]


def test_gust_rises_holds_and_goes():
    gust = Gust(strength=0.3, rise=5.0, hold=20.0, ease_after=np.inf)
    length = gust_length(gust)
    (pull,) = gust_pulls(gust, WIND, [ANCHORED], 10.0, 0.1, length).T
    time = 0.1 * np.arange(len(pull)) - 10.0 - BEFORE
    assert np.all(pull[time <= 0.0] == 1.0)
    assert np.all(pull[(time >= 5.0) & (time <= 25.0)] == pytest.approx(1.69))  # (1 + 0.3)^2
    assert pull[-1] == pytest.approx(1.0)
    assert length % 10.0 == 0.0


def test_boats_under_way_feel_it_as_part_of_the_apparent_wind():
    """Wind 10 abeam, speeds 0, 10, 20: pressure from 100, 200, 500 to 169, 269, 569."""
    pulls = gust_pulls(Gust(0.3, 5.0, 20.0, np.inf), WIND, [0.0, 10.0, 20.0], 0.0, 0.1, 100.0)
    assert pulls.max(axis=0) == pytest.approx([1.69, 269.0 / 200.0, 569.0 / 500.0])


def test_eased_sheets_end_the_gust_for_the_boat():
    (eased,) = gust_pulls(Gust(0.3, 5.0, 20.0, 8.0), WIND, [ANCHORED], 0.0, 0.1, 100.0).T
    time = 0.1 * np.arange(len(eased)) - BEFORE
    assert np.all(eased[(time >= 10.1)] == pytest.approx(1.0))
    assert eased.max() == pytest.approx(1.69)


def test_a_lull_takes_the_pull_away_and_a_whole_one_all_of_it():
    half, whole = (gust_pulls(Gust(s, 5.0, 20.0, np.inf), WIND, [10.0], 0.0, 0.1, 100.0) for s in (-0.5, -1.0))
    assert half.min() == pytest.approx(125.0 / 200.0 * np.arctan(0.5) / np.arctan(1.0))
    assert whole.min() == 0.0 and whole[-1] == half[-1] == 1.0


@pytest.mark.parametrize(
    "calm, with_gust, without, leaps",
    [
        (5.0, [5.0, 5.0], [5.0, 5.0], False),
        (-1.0, [5.0, 5.0], [5.0, 5.0], True),
        (5.0, [-1.0, 5.0], [5.0, 5.0], True),
        (5.0, [-1.0, 5.0], [-1.0, 5.0], False),  # the waves alone throw her clear
    ],
)
def test_leaping_is_what_the_gust_adds(made_case, calm, with_gust, without, leaps):
    rows = [[made_case(hull_lift_min=5.0, tip_depth_min=x) for x in group] for group in ([calm], with_gust, without)]
    assert gust_answer(*rows)["gust_leaps"] == leaps


def test_a_hull_that_carries_nothing_in_calm_water_leaps(made_case):
    wet = made_case(hull_lift_min=5.0, tip_depth_min=1.0)
    light = made_case(hull_lift_min=-5.0, tip_depth_min=1.0)
    assert gust_answer([light], [wet], [wet])["gust_leaps"] == 1.0
    assert gust_answer([wet], [light], [wet])["gust_leaps"] == 0.0


def test_gust_of_a_run_is_in_the_result(small_run):
    data = small_run.dataset
    assert data["gust_leaps"].item() in (0, 1)
    assert 0.0 < data["gust_normal_share_calm"].item() < 2.0


def test_each_sea_has_its_own_calm_water_and_every_setting_its_answer(small_study, made_case):
    """Settings of one sea march side by side, those of another apart."""
    asked = []

    def submit(task):
        asked.append((task.sea.name, len(task.cases)))
        records = [made_case(hull_lift_min=5.0, tip_depth_min=1.0) for _ in task.cases]
        return SimpleNamespace(result=lambda: (records, None))

    seas = tuple(replace(small_study.seas[0], name=name) for name in ("north", "south"))
    study = replace(small_study, seas=seas)
    pairs = [(0, 0), (0, 1), (1, 0)]
    settings = {pair: study.settings[0] for pair in pairs}
    sailer = SimpleNamespace(
        study=study, settings=settings, model=study.model, crew=SimpleNamespace(submit=submit)
    )
    answers = begin_calm_gusts(sailer, pairs)()
    assert set(answers) == set(pairs) and all(answer["gust_leaps"] == 0.0 for answer in answers.values())
    assert asked == [("north", 2), ("south", 1)]


def test_the_stated_gust_comes_in_a_steady_wind(small_study):
    """With and without it the same waves, and no other gust."""
    setting, sea = small_study.settings[0], small_study.seas[0]
    model = {**small_study.model, "wind": "gusts"}
    calm, with_gust, without = gust_tasks(small_study, setting, sea, model, 2)
    assert calm.gust is not None and with_gust.gust is not None
    assert without.gust is None and without.model["wind"] == "steady"
    assert with_gust.cases == without.cases
