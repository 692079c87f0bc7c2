"""Least limits: all places together on target, each passed equally often; more wear allowed never asks for more."""

from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.deciding.size.choose import FASTEST, LEAST_BAD, LEAST_RISK, chosen_setting
from seaload.deciding.size.limits import Sizing
from seaload.deciding.size.season import Part, Season, sized_points
from seaload.deciding.size.usage_changes import rougher_shares, usage_changes
from seaload.evidence.verdict import SIDES
from seaload.foil.geometry import limits_at, material_grid
from seaload.risk.poisson import rate_for_odds
from seaload.scenario.read_boat import read_boat
from seaload.scenario.records import RiskLevels
from seaload.scenario.size_records import Targets
from tests.small_study import STUDIES, made_case

FOIL = read_boat(STUDIES.parent / "boats" / "demo.toml")[1].foils["port"]
PLACES = np.array([0.0, *FOIL.stations])  # fully out, the bearing at the root
GRID = material_grid(FOIL)
HOUR = 3600.0
TARGETS = Targets(500.0 * HOUR, 0.05, 0.1, 0.01)


def cases_of(generator, level, count=12, blocks=60, together=0.5):
    """Made-up cases: loads at six places, partly the same waves everywhere, exponential tails."""
    normal, reverse = limits_at(FOIL, PLACES)
    found = []
    for _ in range(count):
        common, own = generator.exponential(0.1, blocks), generator.exponential(0.1, (len(PLACES), blocks))
        shares = level + together * common + (1.0 - together) * own
        moments = np.interp(GRID, [*PLACES, FOIL.outside_length], [*(shares.max(axis=1) * normal), 0.0])
        found.append(made_case(
            duration=10.0 * blocks, block_time=10.0, place_block_normal=shares, place_block_reverse=shares,
            normal_limit=normal, reverse_limit=reverse, grid_moment_max=moments, grid_moment_min=-0.4 * moments,
            grid_moment_mean=0.0 * GRID, grid_damage=np.linspace(2e-6, 0.0, len(GRID)) * generator.uniform(0.5, 2.0),
        ))  # fmt: skip
    return tuple(found)


def season_of(seed=0, events=(), factor=1.0):
    generator = np.random.default_rng(seed)
    geometry, setting = SimpleNamespace(bearing=0.0), SimpleNamespace(extension=1.0)
    seas = [
        Part(0, n, setting, geometry, cases_of(generator, level), share, 0.0, factor, True, True)
        for n, (level, share) in enumerate(((0.1, 0.9), (0.3, 0.1)))
    ]
    return Season(FOIL, seas, events, TARGETS.season)


@pytest.fixture(scope="module")
def sizing():
    return Sizing(season_of(), TARGETS)


@pytest.mark.parametrize("side", SIDES)
def test_all_places_together_are_on_target_and_each_is_passed_alike(sizing, side):
    needed, target = sizing.needed[side], rate_for_odds(TARGETS.odds(side), TARGETS.season)
    assert sizing.union(side, needed.if_right).rate(1.0) == pytest.approx(target, rel=0.03)
    rates = [sizing.load(side, p).rate(level) for p, level in enumerate(needed.if_right)]
    assert rates == pytest.approx([needed.rate] * len(rates), rel=1e-3)
    assert needed.rate <= 1.1 * target  # all together are passed at least as often as any of them
    assert sizing.season_odds(side, needed.if_right, 0.0)[1] == pytest.approx(TARGETS.odds(side), rel=0.03)


def test_what_is_uncertain_asks_for_more():
    spread = {side: np.full(len(sized_points(FOIL)), 0.1) for side in SIDES}
    unsure, sure = Sizing(season_of(), TARGETS, spread), Sizing(season_of(), TARGETS)
    for side in SIDES:
        assert np.all(unsure.needed[side].all_told > 1.03 * sure.needed[side].all_told)
        assert unsure.needed[side].if_right == pytest.approx(sure.needed[side].if_right)


def test_a_partial_factor_multiplies_the_least_limit(sizing):
    doubled = Sizing(season_of(factor=2.0), TARGETS)
    assert doubled.needed["normal"].if_right == pytest.approx(2.0 * sizing.needed["normal"].if_right, rel=1e-6)
    assert doubled.damage() == pytest.approx(2.0**FOIL.fatigue.slope * sizing.damage())


def test_an_event_that_comes_often_governs():
    generator = np.random.default_rng(3)
    geometry, setting = SimpleNamespace(bearing=0.0), SimpleNamespace(extension=1.0)
    event = Part(1, -1, setting, geometry, cases_of(generator, 1.5), 0.0, 1.0 / HOUR)
    loaded = Sizing(season_of(events=(event,)), TARGETS)
    by_situation, by_sea = loaded.shares("normal", 0, loaded.needed["normal"].if_right[0])
    assert by_situation[1] > 0.99 and sum(by_situation.values()) == pytest.approx(1.0)
    assert sum(by_sea.values()) == pytest.approx(by_situation[0])


def test_intervals_hold_the_estimate(sizing):
    low, high = sizing.limit_interval("normal")
    middle = sizing.needed["normal"].if_right
    assert np.all(low[1:] <= 1.02 * middle[1:]) and np.all(high[1:] >= 0.98 * middle[1:])
    assert np.all(high[1:] / low[1:] > 1.005)


@given(st.floats(1e-9, 1.0), st.floats(1.0, 1e6), st.floats(1e-8, 10.0))
@settings(max_examples=100, deadline=None)
def test_more_wear_allowed_never_asks_for_a_higher_limit(target, more, damage):
    season = SimpleNamespace(points=np.zeros(1), foil=FOIL, seas=(), weights=np.zeros(0))
    few, many = (Sizing(season, Targets(1.0, 0.1, 0.1, wear)) for wear in (target, target * more))
    assert many.wear_factor(np.array([damage]))[0] <= few.wear_factor(np.array([damage]))[0]


def test_limits_for_wear_bring_the_wear_to_its_target(sizing):
    """Ultimates are factors of the limits: limits k times as high wear k^-m of it (the constant-life tent scales)."""
    damage = sizing.damage()
    factor = sizing.wear_factor(damage)
    left = np.where(damage > 0.0, damage * np.maximum(factor, 1e-9) ** -FOIL.fatigue.slope, TARGETS.wear)
    assert left == pytest.approx(np.full(len(damage), TARGETS.wear))


def test_rough_seas_more_often_and_a_longer_season_ask_for_more(sizing):
    heights = [1.0, 3.0]
    shares = rougher_shares(sizing.season, heights)
    assert shares.sum() == pytest.approx(1.0) and shares[1] / shares[0] > 0.1 / 0.9
    for _, limit in usage_changes(sizing, heights):
        for side in SIDES:
            assert np.all(limit[side] > -0.02) and np.mean(limit[side]) > -0.001  # each place takes its part anew
    for side in SIDES:
        assert np.all(usage_changes(sizing, heights)[0][1][side] > 0.0)


RISK = RiskLevels(exposure=3.0 * HOUR, reverse_odds=0.02, normal_odds=0.02)


def groups_of(**levels):
    """{setting: cases} at some levels; a pair (level, status) for cases that left the validity."""
    generator, found = np.random.default_rng(5), {}
    for name, level in levels.items():
        level, status = level if isinstance(level, tuple) else (level, 0)
        made = cases_of(generator, level, 4)
        found[int(name[1:])] = [case_with(case, status) for case in made]
    return found


def case_with(case, status):
    from dataclasses import replace

    worst = np.nanmax(case.place_block_normal, axis=0)
    past = int((worst > 1.0).sum())
    return replace(case, status=status, block_worst_normal=worst, block_worst_reverse=0.4 * worst, normal_events=past)


@pytest.mark.parametrize("levels, wanted, why", [
    ({"s0": -0.8, "s1": -0.8, "s2": 0.9}, 1, FASTEST),
    ({"s0": 1.5, "s1": 0.9}, 1, LEAST_RISK),
    ({"s0": (-0.8, 2), "s1": 0.9}, 1, LEAST_RISK),
    ({"s0": (-0.8, 2), "s1": (-0.8, 2)}, 0, LEAST_BAD),
])  # fmt: skip
def test_the_setting_of_a_sea(levels, wanted, why):
    """The fastest within the levels, else the least risk; one that left the validity only where all did."""
    groups = groups_of(**levels)
    found = chosen_setting(groups, {i: 5.0 + i for i in groups}, RISK)
    assert found.why == why and (found.setting == wanted or why == LEAST_BAD)
