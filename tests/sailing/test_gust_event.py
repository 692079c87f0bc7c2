"""The stated gust: its shape, and when a boat counts as leaping."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.sailing.gust_event import BEFORE, begin_calm_gusts, gust_answer, gust_length, gust_pressure
from seaload.scenario.records import Gust


def test_gust_rises_holds_and_goes():
    gust = Gust(strength=0.3, rise=5.0, hold=20.0, ease_after=np.inf)
    length = gust_length(gust)
    pressure = gust_pressure(gust, 10.0, 0.1, length)
    time = 0.1 * np.arange(len(pressure)) - 10.0 - BEFORE
    assert np.all(pressure[time <= 0.0] == 1.0)
    assert np.all(pressure[(time >= 5.0) & (time <= 25.0)] == pytest.approx(1.69))  # (1 + 0.3)^2
    assert pressure[-1] == pytest.approx(1.0)
    assert length % 10.0 == 0.0


def test_eased_sheets_end_the_gust_for_the_boat():
    eased = gust_pressure(Gust(0.3, 5.0, 20.0, 8.0), 0.0, 0.1, 100.0)
    time = 0.1 * np.arange(len(eased)) - BEFORE
    assert np.all(eased[(time >= 10.1)] == pytest.approx(1.0))
    assert eased.max() == pytest.approx(1.69)


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
