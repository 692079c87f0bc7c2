"""What points say of the tails of their loads against laws that are known, and the curves put together of it."""

from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import genpareto

from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.load_curves import OF_CURVE, log_swings, slopes, swing_errors
from seaload.deciding.library.tail_of_point import loads_at, most_bent, no_tail, point_tail, tail_columns, tail_of

BLOCK, SCALE = 10.0, 0.05  # [s], [share of the limit]


def sailed(draws, shape, blocks=960, realisations=8):
    """Block worsts of a law whose upper half is generalised Pareto, (realisations, blocks) [share of the limit]."""
    worst = 0.4 + genpareto.rvs(shape, scale=SCALE, size=realisations * blocks, random_state=draws)
    low = draws.random(worst.size) < 0.5
    return np.where(low, 0.4 * draws.random(worst.size), worst).reshape(realisations, blocks)


@pytest.mark.parametrize("shape", [-0.2, 0.0, 0.15])
def test_loads_at_rates_are_those_of_the_generalised_pareto_law(shape):
    """scipy's own law of a mean excess of 1; L-CV 1/(2 - shape): Hosking & Wallis 1987, their k = -shape."""
    often = 30.0 / 3600.0
    ours = loads_at(RATES, (np.log(often), 1.0 / (2.0 - shape)))
    assert ours == pytest.approx(genpareto.isf(RATES / often, shape, scale=1.0 - shape), rel=1e-5)


@pytest.mark.parametrize("shape", [-0.2, 0.0, 0.15])
def test_short_points_are_right_on_the_mean_and_scatter_as_they_state(shape):
    """What pooling lives by. Past the load that a tenth of blocks pass the excesses are of the same shape (Coles 2001,
    section 4.2): scale + shape times the step, L-CV 1/(2 - shape). Neighbours count once: one peak in ten is the higher
    of two, of exponential ones half as high again on the mean (1 + 1/2, any text on order statistics).
    """
    draws, found = np.random.default_rng(4), []
    start = genpareto.isf(0.2, shape, scale=SCALE)
    for _ in range(300):
        found.append(tail_of(sailed(draws, shape, blocks=120), BLOCK, 0.3))
    excess, l_cv, alone = (np.array([getattr(peaks, name) for peaks in found]) for name in ("excess", "l_cv", "alone"))
    true = (SCALE + shape * start) / (1.0 - shape) / 0.3
    assert np.mean(excess) == pytest.approx(1.05 * true, rel=0.02)
    assert np.mean(l_cv) == pytest.approx(1.0 / (2.0 - shape), abs=0.02)
    root = lambda values: float(np.sqrt(np.mean(values**2)))  # noqa: E731
    assert 0.5 * root(excess * alone) < np.std(excess) < 1.2 * root(excess * alone)
    assert 0.5 * root(alone) / np.sqrt(12.0) < np.std(l_cv) < 1.4 * root(alone) / np.sqrt(12.0)


def records(draws, calm=-0.3, share=0.6, inside=False):
    """Finished cases with two places: `share` times the loads of all together at the first, a tip without load; a third
    place, bent most, inside the hull."""
    found = []
    for row in sailed(draws, 0.0):
        places = np.stack([calm + share * (row - calm), 0.0 * row, np.full_like(row, np.nan)])
        found.append(SimpleNamespace(
            duration=BLOCK * len(row), block_time=BLOCK, moment_mean=np.array([-calm * 1e5, 0.0, 4e5]),
            normal_limit=np.array([2e5, 2e5, 2e5]), reverse_limit=np.array([1e5, 1e5, 1e5]),
            place_block_reverse=places, place_block_normal=places, block_worst_reverse=row, block_worst_normal=row,
        ))  # fmt: skip
    return found


def test_a_tail_is_told_from_the_mean_load_of_the_place_bent_most_outside_the_hull():
    some = records(np.random.default_rng(2))
    assert most_bent(some, "reverse") == (0, pytest.approx(-0.3))
    assert most_bent(some, "normal") == (0, pytest.approx(0.15))  # of the normal limit, twice as high
    tail = point_tail(some, "reverse")
    start = np.quantile([record.block_worst_reverse for record in some], 0.9)
    assert tail.load_calm == pytest.approx(-0.3) and tail.tail_swing == pytest.approx(0.6 * (start + 0.3))
    assert tail.tail_union == pytest.approx(np.log(1.0 / 0.6))  # all places together have so much more
    columns = tail_columns(some)
    assert set(columns) == set(no_tail()) and all(values.shape == (2,) for values in columns.values())


def test_far_from_the_limit_the_tip_is_no_tail():
    """The highest of all places is that of the tip, nothing; what all have together is not known then."""
    some = records(np.random.default_rng(2), calm=-2.0, share=0.5)
    for record in some:
        record.block_worst_reverse = np.zeros_like(record.block_worst_reverse)
    tail = point_tail(some, "reverse")
    assert np.isnan(tail.tail_union) and tail.tail_swing > 0.5 and tail.tail_l_cv == pytest.approx(0.5, abs=0.05)


def test_cases_without_sea_or_without_places_show_no_tail():
    some = records(np.random.default_rng(2))
    some[0].place_block_normal = None
    assert all(np.isnan(value) for value in point_tail(some, "reverse"))


def test_a_curve_begins_where_its_tail_does_and_its_errors_are_those_of_its_parts():
    """Errors of independent parts, small, by Monte Carlo."""
    draws = np.random.default_rng(7)
    parts = np.array([[np.log(0.5), 0.1, np.log(RATES[0]), np.log(0.2), 0.47]])
    assert np.exp(log_swings(parts))[0, 0] == pytest.approx(0.5 * np.exp(0.1))
    errors = np.array([[0.02, 0.01, 0.03, 0.05, 0.01]])
    many = log_swings(parts + errors * draws.normal(size=(20_000, len(OF_CURVE))))
    assert swing_errors(parts, errors)[0, 1:] == pytest.approx(np.std(many, axis=0)[1:], rel=0.06)
    assert slopes(parts)[0, :, 0] == pytest.approx(1.0)
