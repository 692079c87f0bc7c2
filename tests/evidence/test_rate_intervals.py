"""Rates with their intervals from made-up cases: none is not none, and an ended case leaves the upper end open."""

import math

import numpy as np
import pytest

from seaload.basis.records import STATUS_NOT_FINITE
from seaload.evidence.places import common_place, place_extremes
from seaload.evidence.pool_records import pooled_boat, pooled_grid, pooled_loads
from seaload.evidence.rate_curve import rates_of_blocks
from seaload.evidence.rate_intervals import damage_rates, event_rates, place_rates, worst_wear_rate

EXPOSURE = 3600.0


def test_none_seen_still_has_an_upper_bound(made_case):
    records = [made_case() for _ in range(10)]
    found = event_rates(records, 600.0, EXPOSURE)
    assert found["reverse_event_rate"] == 0.0
    # 3.0 events: -ln(0.05), exact Poisson bound of none (Garwood 1936)
    assert found["reverse_event_rate_high"] == pytest.approx(-math.log(0.05) / 600.0)
    assert found["reverse_odds_high"] == pytest.approx(1.0 - 0.05 ** (EXPOSURE / 600.0))


def test_events_are_counted_and_odds_follow_the_joined_rate(made_case):
    records = [made_case(events_full=n) for n in (0, 1, 1, 0)]
    found = event_rates(records, 240.0, EXPOSURE)
    assert found["reverse_event_rate"] == pytest.approx(2.0 / 240.0)
    for end in ("", "_low", "_high"):
        rate = found[f"reverse_event_rate_joined{end}"]
        assert found[f"reverse_odds{end}"] == pytest.approx(1.0 - math.exp(-EXPOSURE * rate))


@pytest.mark.parametrize("side", ["reverse", "normal"])
def test_a_case_that_ended_makes_rates_at_least(made_case, side):
    records = [made_case(), made_case(status=STATUS_NOT_FINITE, duration=20.0)]
    found = event_rates(records, 80.0, EXPOSURE)
    assert found["rates_at_least"] == 1.0
    assert found[f"{side}_event_rate_high"] == np.inf
    assert found[f"{side}_odds_high"] == 1.0
    assert np.all(place_rates(records, 80.0)["reverse_excursion_rate_high"] == np.inf)
    assert np.all(damage_rates(records, 80.0)["damage_rate_high"] == np.inf)


def test_one_realisation_that_holds_most_is_marked(made_case):
    wear = [np.array([1.0, 5.0, 1.0, 1.0, 1.0, 1.0])] + [np.ones(6)] * 2
    found = damage_rates([made_case(damage=row) for row in wear], 180.0)
    assert list(found["damage_one_holds_most"]) == [0, 1, 0, 0, 0, 0]
    assert found["damage_rate"][1] == pytest.approx(7.0 / 180.0)
    assert np.all(found["damage_too_few"] == 1.0)


def test_worst_wear_looks_only_outside_the_hull(made_case):
    grid = np.zeros(51)
    grid[3], grid[30] = 9.0, 2.0
    records = [made_case(grid_damage=grid, grid_outside=1.0 * (np.arange(51) > 10)) for _ in range(2)]
    assert worst_wear_rate(records, 120.0)[0] == pytest.approx(2.0 / 60.0)


def test_pooling_weights_by_time(made_case):
    short = made_case(duration=20.0, speed_mean=4.0, speed_std=0.0, moment_mean=np.full(6, 4.0))
    long = made_case(duration=60.0, speed_mean=8.0, speed_std=0.0, moment_mean=np.full(6, 8.0))
    assert pooled_boat([short, long])["speed_mean"] == pytest.approx(7.0)
    assert pooled_boat([short, long])["speed_std"] == pytest.approx(math.sqrt(3.0))
    loads = pooled_loads([short, long], np.full(6, 10.0), np.full(6, 5.0))
    assert loads["load_ratio_mean"] == pytest.approx(np.full(6, 0.7))


def test_nothing_sailed_gives_no_number(made_case):
    gone = [made_case(status=STATUS_NOT_FINITE, duration=0.0, speed_mean=np.inf)]
    assert math.isnan(pooled_boat(gone)["speed_mean"])
    found = event_rates(gone, 0.0, EXPOSURE)
    assert math.isnan(found["reverse_event_rate"]) and found["reverse_odds_high"] == 1.0


def placed(made_case, seed, *, above):
    """A case whose loads hardly ever reverse: the worst of all places is never below zero, as at the tip."""
    places = np.full((6, 120), np.nan)
    waves = np.random.default_rng(seed).gumbel(size=120)
    for place in (0, 2, 3):  # the others are inside, or far from their limit
        places[place] = -0.6 + 0.1 * place + 0.05 * waves
    places[5] = -0.05 + 0.001 * waves
    together = np.maximum(np.fmax.reduce(places), 0.0)
    return made_case(
        duration=1200.0, place_block_reverse=places + above, block_worst_reverse=together,
        block_worst_normal=np.full(120, 0.3),
    )  # fmt: skip


def test_the_place_nearest_its_limit_comes_first(made_case):
    records = [placed(made_case, seed, above=0.0) for seed in range(9)]
    assert np.array_equal(place_extremes(records, "reverse")[0][0], records[0].place_block_reverse[3])
    assert np.array_equal(common_place([records], "reverse")[1][0][2], records[2].place_block_reverse[3])


def test_a_worst_of_all_that_never_leaves_zero_is_not_taken_for_a_short_tail(made_case):
    """Rounding noise about zero once looked like a tail of no width, and a setting like safe for ever."""
    records = [placed(made_case, seed, above=0.9) for seed in range(9)]
    found = event_rates(records, 9 * 1200.0, EXPOSURE)
    assert found["reverse_odds_high"] > 0.01


def test_places_inside_the_hull_do_not_count(made_case):
    records = [placed(made_case, seed, above=0.0) for seed in range(3)]
    assert len(place_extremes(records, "reverse")) == 4


def test_the_bound_of_a_bounded_tail_stays_of_this_world():
    """Even peaks end: the fitted tail is bounded, and the limit a hundred widths on is not met a thousand times
    a second."""
    for seed in range(10):
        blocks = np.random.default_rng(seed).beta(2.0, 3.0, (9, 120)) * 0.75
        assert np.all(rates_of_blocks(blocks, 10.0, [0.8, 0.9, 0.98])[:, 2] < 1e-3)


def test_wear_along_the_material_is_summed_over_cases_at_each_point(made_case):
    """Two cases of unequal length: wear a second is what both wore at that point over the time of both."""
    ramp = np.linspace(0.0, 1e-6, 51)
    one, other = made_case(duration=600.0, grid_damage=ramp), made_case(duration=1800.0, grid_damage=3.0 * ramp)
    rate = pooled_grid([one, other], np.ones(51), np.ones(51))["grid_damage_rate"]
    assert rate == pytest.approx(4.0 * ramp / 2400.0)
