"""Changes that are compared: within what a boat can set, both ways, and named."""

import math
from dataclasses import replace

import pytest

from seaload.deciding.moves import move_changes, only_below, tolerance_changes, within_reach, worse_seas
from seaload.deciding.variants import SEA


@pytest.fixture
def setting(small_study):
    return small_study.settings[0]


def test_tolerance_is_one_actuator_at_a_time(small_study, setting):
    changes = tolerance_changes(setting, small_study.boat)
    assert len(changes) == 12
    for change in changes:
        name, word = change.name.split(" ")
        step = getattr(change.setting, name) - getattr(setting, name)
        tolerance = small_study.boat.worked[name].tolerance
        assert step == pytest.approx(tolerance if word == "more" else -tolerance)
        assert replace(change.setting, **{name: getattr(setting, name)}) == setting


def test_a_foil_fully_out_cannot_go_further(small_study, setting):
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    out = replace(setting, extension=1.0)
    assert all(c.setting.extension <= 1.0 for c in tolerance_changes(out, boat))
    assert "extension more" not in [c.name for c in move_changes(out, boat, foil)]
    assert not within_reach(replace(setting, extension=0.2), boat, foil)


def test_every_move_of_the_boat_file_is_compared_both_ways(small_study, setting):
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    names = {c.name for c in move_changes(setting, boat, foil)}
    assert names == {
        "ease_sheets", "bear_away", "reef", "rake less", "rake more", "cant less", "cant more", "extension less",
        "extension more", "ballast less", "ballast more",
    }  # fmt: skip


def test_bearing_away_brings_waves_from_windward_further_aft(small_study, setting):
    """Inside, mu = pi - angle from the bow: turning away from the wind makes the angle larger and mu smaller."""
    boat, foil = small_study.boat, small_study.boat.foils[small_study.foil_side]
    change = next(c for c in move_changes(setting, boat, foil) if c.name == "bear_away")
    assert dict(change.model)["heading_shift"] == pytest.approx(-math.radians(15.0))
    assert change.setting == setting


def test_a_move_may_need_less_speed(small_study):
    assert only_below(small_study.boat, "extension less") == pytest.approx(15 * 1852 / 3600)
    assert only_below(small_study.boat, "ease_sheets") == float("inf")


def test_worse_seas_are_higher_shorter_and_longer(setting):
    factors = [change.model[0] for change in worse_seas(setting)]
    assert ("hs_factor", 1.25) in factors and ("tp_factor", 0.85) in factors
    assert all(change.kind == SEA and change.setting == setting for change in worse_seas(setting))
