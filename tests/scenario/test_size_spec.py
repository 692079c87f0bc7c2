"""What a person may write to size a foil, and what is refused in a line."""

import tomllib
from copy import deepcopy

import pytest

from seaload.basis.errors import InputError
from seaload.scenario.read_toml import checked
from seaload.scenario.size_spec import SizeSpec, UsageSeaSpec
from seaload.studies.size.load_size import load_size
from seaload.studies.size.usage_seas import peak_over_mean
from tests.small_study import STUDIES

DEMO = STUDIES.parent / "sizing" / "size-demo.toml"
TABLES = tomllib.loads(DEMO.read_text(encoding="utf-8"))


def changed(path, value):
    """The demo's tables with another value at a path."""
    tables = deepcopy(TABLES)
    at = tables
    for step in path[:-1]:
        at = at[step]
    if value is None:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    return tables


@pytest.mark.parametrize("path, value, field, allowed", [
    (("heading", 0, "share_percent"), 30, "heading", "100 percent together"),
    (("situation", 1, "share_percent"), 1.0, "situation[2].share_percent", "times_per_season"),
    (("situation", 3, "share_percent"), None, "situation[4].share_percent", "how often"),
    (("situation", 3, "share_percent"), 99.9, "situation", "the rest is the usage"),
    (("situation", 0, "share_percent"), 5.0, "situation[1].share_percent", "usage"),
    (("situation", 1, "analysis"), "fatigue", "situation[2].analysis", "ultimate"),
    (("situation", 1, "sea"), "nowhere", "situation[2].sea", "a gale on the bow"),
    (("situation", 6, "motion"), "fall", "situation[7].motion", "leap and re-entry"),
    (("situation", 6, "motion"), None, "situation[7].sea", "sea or motion"),
    (("situation", 4, "name"), "surf", "situation", "this name"),
    (("situation", 3, "setting", "speed_knots"), [18, 22], "situation[4].setting", "no lists"),
    (("sea", 0, "name"), "usage of mine", "sea", "another name"),
    (("change", 0, "tip_chord_percent"), 0, "change[1].name", "nothing is changed"),
    (("usage_sea", "height_edges_m"), [0, 2, 1], "usage_sea.height_edges_m", "must rise"),
    (("targets", "season_hours"), 0, "targets.season_hours", "over 0"),
    (("targets", "season"), 5, "targets.season", "season_hours"),
    (("sampling", "max_hours"), 9.0, "sampling.max_hours", "leave it out"),
    (("uncertain",), {"forecast_hs": {"spread_percent": 9.0}}, "uncertain.forecast_hs", "leave it out"),
])  # fmt: skip
def test_mistakes_are_refused_in_a_line(path, value, field, allowed):
    with pytest.raises(InputError) as error:
        checked(SizeSpec, changed(path, value), DEMO)
    assert error.value.field == field and allowed in error.value.allowed
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("path, value, field", [
    (("usage",), "../data/none.csv", "usage"),
    (("foil",), "starboard", None),
    (("usage_sea", "height_edges_m"), [0, 3], "usage_sea.height_edges_m"),
    (("sampling", "hours"), 1.0, "sampling.hours"),
    (("rig", "station"), 9, "rig.station"),
    (("situation", 3, "setting", "speed_knots"), "attainable", "situation.setting.speed_knots"),
    (("situation", 3, "setting", "extension_percent"), 20, "settings.extension_percent"),
    (("compare",), ["../boats/demo.toml", "../boats/demo.toml"], "compare[2]"),
])  # fmt: skip
def test_what_files_say_together_is_checked(path, value, field, monkeypatch):
    from seaload.studies.size import load_size as room

    monkeypatch.setattr(room, "read_tables", lambda _: changed(path, value))
    if field is None:
        assert load_size(DEMO).study.foil_side == value
        return
    with pytest.raises(InputError) as error:
        load_size(DEMO)
    assert error.value.field == field and "\n" not in str(error.value)


def test_the_demo_is_what_it_says():
    sized = load_size(DEMO, seed=7)
    assert sized.study.sampling.seed == 7
    assert sum(one.share for one in sized.usage) == pytest.approx(1.0)
    assert sum(one.share for one in sized.situations) == pytest.approx(1.0)
    assert sum(share for *_, share in sized.cells) == pytest.approx(1.0)
    assert len(sized.study.seas) == len(sized.usage) + 2 and sized.situations[0].is_usage
    assert {one.name for one in sized.situations} >= {"gust", "lull", "surf", "rake fault", "gybe with the foil down"}
    assert not any(entry.name.startswith("forecast") for entry in sized.study.uncertain)
    ratio = peak_over_mean(UsageSeaSpec(gamma=2.5))
    for sea, one in zip(sized.study.seas, sized.usage, strict=False):
        assert (sea.hs, sea.tp) == pytest.approx((one.hs, one.tz * ratio), rel=0.01)
    # the sea of a group has the energy of its cells: mean square height is kept
    mean = sum(one.hs**2 * one.share for one in sized.usage)
    assert mean == pytest.approx(sum(hs**2 * share for hs, _, share in sized.cells), rel=1e-9)


def test_peak_periods_follow_the_table_s_mean_ones():
    """JONSWAP with a peak enhancement of 3.3: Tp over Tz about 1.286 (DNV-RP-C205, from memory)."""
    assert peak_over_mean(UsageSeaSpec(gamma=3.3)) == pytest.approx(1.286, abs=0.01)
    assert peak_over_mean(UsageSeaSpec(spectrum="bretschneider")) == pytest.approx(1.405, abs=0.02)
