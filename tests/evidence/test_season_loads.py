"""Loads of a season: closed forms of one exponential sea, events, what is uncertain; places between the stations."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.evidence.material_loads import knots_of, line_weights, material_blocks
from seaload.evidence.season_loads import EventLaw, SeasonLoad, SeaSums, common_shape, event_law
from seaload.risk.poisson import rate_for_odds
from seaload.risk.pooled_tail import PooledTail, pooled_tail, sea_peaks

HOUR = 3600.0
EXPONENTIAL = PooledTail(np.array([1.0]), np.array([1.0 / HOUR]), np.array([0.2]), 0.0)  # once an hour past 1
ONE = np.array([1.0])


def test_the_level_of_one_exponential_sea():
    """Passed once in T hours: 1 + 0.2 ln T (any text on extremes)."""
    load = SeasonLoad(EXPONENTIAL, ONE)
    for hours in (1.0, 72.0, 1000.0):
        assert load.level(1.0 / (hours * HOUR)) == pytest.approx(1.0 + 0.2 * np.log(hours), abs=1e-9)
    assert load.odds(1.0 + 0.2 * np.log(100.0), 10.0 * HOUR) == pytest.approx(-np.expm1(-0.1))


def test_half_of_the_time_is_half_of_the_rate():
    whole, half = SeasonLoad(EXPONENTIAL, ONE), SeasonLoad(EXPONENTIAL, 0.5 * ONE)
    assert half.rate(1.7) == pytest.approx(0.5 * whole.rate(1.7))


def test_events_are_added():
    """An event that is always the same is passed whenever it comes, up to its load and never beyond."""
    event = event_law([1.5], 1.0 / (10.0 * HOUR))
    load = SeasonLoad(EXPONENTIAL, ONE, (event,))
    assert load.rate(1.49) == pytest.approx(SeasonLoad(EXPONENTIAL, ONE).rate(1.49) + 0.1 / HOUR, rel=1e-6)
    assert load.rate(1.51) == pytest.approx(SeasonLoad(EXPONENTIAL, ONE).rate(1.51), rel=1e-6)
    assert SeasonLoad(None, np.zeros(0), (event,)).level(0.5 / (10.0 * HOUR)) == pytest.approx(1.5, rel=1e-4)


def test_an_event_that_scatters_has_the_odds_of_its_law():
    law = EventLaw(1.0, 0.1, 1.0)
    assert law.rate_past(1.0) == pytest.approx(-np.expm1(-1.0))  # Gumbel's law at its location


def test_what_is_uncertain_raises_a_rare_level_and_keeps_the_middle():
    """All told is the mean of the odds over a log-normal load; by Gauss-Hermite points of numpy here."""
    sure, unsure = SeasonLoad(EXPONENTIAL, ONE), SeasonLoad(EXPONENTIAL, ONE, spread=0.1)
    level = unsure.level_of_odds(0.02, 100.0 * HOUR)
    assert level > sure.level(rate_for_odds(0.02, 100.0 * HOUR))
    nodes, weights = np.polynomial.hermite_e.hermegauss(40)
    odds = [-np.expm1(-sure.rate(level / np.exp(0.1 * z)) * 100.0 * HOUR) for z in nodes]
    assert np.sum(weights * odds) / weights.sum() == pytest.approx(0.02, rel=0.15)  # fifteen equal parts of the odds


def test_parts_of_the_odds_make_them_up_and_hold_an_event_that_uncertainty_alone_lets_pass():
    """An event always the same, a tenth under the level: were all right it never passes, all told it does."""
    event = event_law([1.8], 1.0 / HOUR)
    for spread in (0.0, 0.1):
        load = SeasonLoad(EXPONENTIAL, ONE, (event,), spread)
        seas, events = load.odds_parts(2.0, 10.0 * HOUR)
        assert seas.sum() + events.sum() == pytest.approx(load.odds(2.0, 10.0 * HOUR))
        assert (events[0] > seas[0]) == (spread > 0.0)


def test_a_load_that_never_turns_round_needs_no_limit():
    blocks = -1.0 - np.random.default_rng(0).exponential(0.1, (8, 60))
    load = SeasonLoad(pooled_tail([sea_peaks(blocks, 10.0)], shape=0.0), ONE)
    assert load.level(1e-6) < 0.3  # the tail of what stays below nothing hardly reaches above it


def test_the_seas_that_carry_the_load_tell_the_shape():
    generator = np.random.default_rng(1)
    calm = generator.exponential(0.01, (50, 100))
    odds = generator.uniform(size=(50, 200))
    rough = ((odds**0.2) - 1.0) / -0.2  # a bounded tail, shape -0.2
    shape = common_shape([sea_peaks(calm, 10.0), sea_peaks(rough, 10.0)], [0.99, 0.01], (), 1e-5)
    assert shape == pytest.approx(-0.2, abs=0.06)


def test_sums_of_realisations_tell_the_same_tail():
    peaks = [sea_peaks(np.random.default_rng(n).exponential(0.1 * n, (7, 90)), 10.0) for n in (1, 2)]
    sums, picks = SeaSums(peaks), np.array([0, 0, 3, 5, 6, 6, 6])
    for chosen in (None, picks):
        threshold, rate, mean = sums.tails(chosen)
        for place, each in enumerate(peaks):
            tail = pooled_tail([each], None if chosen is None else [chosen], shape=0.0)
            assert (threshold[place], rate[place], mean[place]) == pytest.approx(
                (tail.threshold[0], tail.rate[0], tail.scale[0])
            )


def test_a_straight_line_between_places_and_nothing_inboard_of_the_upper_bearing():
    material, place = knots_of(1.0, np.array([0.05, 2.0, 4.0]), 0.8, 5.0)
    assert material == pytest.approx([0.2, 1.0, 2.0, 4.0, 5.0]) and place.tolist() == [-1, 0, 2, 3, -1]
    weights = line_weights(np.array([0.0, 0.2, 0.6, 1.0, 1.5, 3.0, 4.5, 5.0]), material, place, 4)
    moments = weights @ np.array([100.0, 999.0, 60.0, 10.0])  # station 1 is inside the hull
    assert moments == pytest.approx([0.0, 0.0, 50.0, 100.0, 80.0, 35.0, 5.0, 0.0])


def case_of(blocks, limit, grid_max):
    return SimpleNamespace(
        duration=20.0, block_time=10.0, place_block_normal=blocks, normal_limit=limit, grid_moment_max=grid_max,
        grid_moment_min=-grid_max,
    )  # fmt: skip


def test_the_line_is_scaled_to_the_extremes_counted_there():
    """Blocks beyond what was sailed are no load; between two places the line is scaled to the grid's own extreme."""
    grid = np.linspace(0.0, 2.0, 21)
    shares = np.array([[0.5, 1.0, 9.0], [0.25, 0.5, 9.0]])  # places at 0 and 1 m, limits 100 and 40; 20 s sailed
    counted = np.interp(grid, [0.0, 0.5, 1.0, 2.0], [100.0, 72.0, 20.0, 0.0])
    cases = [case_of(shares, np.array([100.0, 40.0]), counted)] * 2
    found = material_blocks(cases, "normal", np.array([0.0, 0.5, 1.0]), knots_of(0.0, [1.0], 0.5, 2.0), grid)
    assert found.shape == (2, 3, 3) and np.isnan(found[:, :, 2]).all()
    assert found[0, :, 1] == pytest.approx([100.0, 72.0, 20.0])
    assert found[0, :, 0] == pytest.approx([50.0, 36.0, 10.0])
