"""An invented boat's library tells what her formula says, and how far off it is; where it goes next."""

import numpy as np
import pytest

from seaload.deciding.library.coordinates import HEIGHT, NAMES, PERIOD, cover_of
from seaload.deciding.library.emulator import Emulator, kinds_of, recipes_of
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.next_seas import (
    ENDS,
    Range,
    at_once,
    corners,
    first_seas,
    next_seas,
    questions_of,
    radical_inverse,
    spread_seas,
)
from seaload.deciding.library.point import AT_LEAST
from seaload.deciding.library.shelf import Shelf
from seaload.deciding.library.surfaces import KINDS, LEVEL, PLANE, PRODUCTS, SMOOTH, Surface, recipe_of, told_of
from seaload.evidence.verdict import SIDES
from seaload.waves.bulk import deep_wavelength
from tests.deciding.library.invented import MADE_FOR, QUESTION, SETTINGS, SPAN, invented_shelf, points_at, truth

FEW = SETTINGS[[0, 4, 8, 9, 13, 17]]  # every extension, rake and speed


@pytest.fixture(scope="module")
def emulator():
    return Emulator(invented_shelf(40, settings=FEW))


@pytest.fixture(scope="module")
def asked(emulator):
    """Questions between the points, and the answers."""
    draws = np.random.default_rng(5)
    seas = spread_seas(SPAN, 500, 80)
    rows = np.array([questions_of(QUESTION, draws.permutation(SETTINGS)[:1], sea[None])[0, 0] for sea in seas])
    rows = np.array([row for row in rows if emulator.refusal(row) is None])
    assert len(rows) > 60
    return rows, [emulator.answer(row) for row in rows]


def test_answers_are_nearer_than_single_points(asked):
    """Errors of points average out over seas that are alike."""
    rows, answers = asked
    own = points_at(first_seas(SPAN, 1), FEW[:1])[0]["load_at_rate_error"]
    for i, side in enumerate(SIDES):
        off = np.array([answer.sides[side].load for answer in answers]) - truth(rows)[:, i]
        assert np.all(np.sqrt(np.mean(off**2, axis=0)) < own[i])


def test_nine_in_ten_truths_lie_within_the_error_told(asked):
    """90 % two-sided of a normal law; the bounds are what 60 answers of alike seas scatter by, and no narrower."""
    rows, answers = asked
    off = np.array([
        [(answer.sides[side].load - truth(row[None])[0, i]) / answer.sides[side].load_error
         for i, side in enumerate(SIDES)] for row, answer in zip(rows, answers, strict=True)
    ])  # fmt: skip
    inside = np.mean(np.abs(off[:, :, [2, 5, 8]]) < 1.645)
    assert 0.82 < inside <= 1.0
    assert np.sqrt(np.mean(off**2)) > 0.4  # nor so wide that it says nothing


def test_rates_and_loads_are_one_curve(asked):
    _, answers = asked
    for answer in answers[:20]:
        side = answer.sides["reverse"]
        assert np.all(np.diff(side.load) > 0.0)
        rate, error = side.log_rate(float(side.load[4]))
        assert rate == pytest.approx(np.log(RATES[4]), abs=1e-9) and error > 0.0
        assert np.isnan(side.log_rate(side.load[-1] + 0.01)[0])


def test_a_higher_sea_never_looks_calmer_by_more_than_the_error_told(emulator):
    """At equal period, angle and setting, over a grid: the invented loads grow with the height."""
    seen = 0
    for tp in (8.5, 10.0, 12.0):
        for angle in (0.0, 1.0, 2.5):
            rows = np.tile(QUESTION, (6, 1))
            rows[:, [HEIGHT, PERIOD]] = np.column_stack([np.linspace(2.0, 4.5, 6), np.full(6, tp)])
            rows[:, NAMES.index("waves_from_bow")] = angle
            covered = [row for row in rows if emulator.refusal(row) is None]
            for lower, higher in zip(covered, covered[1:], strict=False):
                for side in SIDES:
                    more, error = emulator.difference(higher, lower, side)
                    assert more > -2.0 * error
                    seen += 1
    assert seen > 60


def test_a_difference_is_known_better_than_its_ends(emulator):
    one, other = QUESTION.copy(), QUESTION.copy()
    other[NAMES.index("rake")] = 0.05
    value, error = emulator.difference(one, other, "reverse")
    assert value == pytest.approx((truth(one) - truth(other))[0, 0, 2], abs=3.0 * error)
    ends = [emulator.side_answer(np.array([row]), "reverse").load_error[2] for row in (one, other)]
    assert error < np.hypot(*ends)


def test_points_that_ended_are_no_rates_and_say_so():
    shelf = invented_shelf(40, settings=FEW)
    high = shelf.columns["sea_hs"] > 4.0
    assert high.sum() > 10
    shelf.columns["status"] = np.where(high, AT_LEAST, shelf.columns["status"])
    shelf.columns["cases_ended"] = np.where(high, 3, 0)
    shelf.columns["load_at_rate"][high] = 50.0
    told = Emulator(shelf)
    calm, rough = QUESTION.copy(), QUESTION.copy()
    calm[HEIGHT], rough[HEIGHT], rough[PERIOD] = 2.0, 4.7, 11.0
    assert told.answer(calm).shown and not told.answer(rough).shown
    assert told.answer(rough).sides["reverse"].load[0] < 5.0


def test_too_few_seas_tell_nothing():
    assert recipes_of(Shelf(MADE_FOR)) == {}
    assert recipes_of(Shelf(MADE_FOR).with_points(points_at(first_seas(SPAN, 4), FEW))) == {}


@pytest.mark.parametrize("kind, formula", [
    (LEVEL, lambda x, y: 7.0 + 0.01 * np.sin(1e4 * x)),
    (PLANE, lambda x, y: 2.0 * x - y),
    (PRODUCTS, lambda x, y: x * y + 0.5 * x**2),
    (SMOOTH, lambda x, y: np.sin(3.0 * x) * np.cos(2.0 * y)),
])  # fmt: skip
def test_the_kind_that_tells_seas_left_out_best_is_taken(kind, formula):
    emulator = Emulator(invented_shelf(40, settings=FEW))
    rows = emulator.shelf.coordinates
    x, y = (rows[:, HEIGHT] - 3.25) / 1.75, np.log(rows[:, PERIOD] / 10.0) / 0.3
    recipe = recipe_of(emulator.cover, rows, formula(x, y), np.full(len(rows), 0.01), emulator.shelf.groups)
    assert recipe.kind == kind


def test_what_hardly_changes_from_sea_to_sea_needs_no_smooth_surface():
    assert SMOOTH in kinds_of("load_swing_reverse")
    assert SMOOTH not in kinds_of("load_shape_reverse") and SMOOTH not in kinds_of("load_often_normal")
    assert kinds_of("log_wear") == KINDS


def test_errors_that_go_with_their_values_do_not_draw_a_surface_down():
    """Of numbers that scatter about one value, those that came out low state small errors (as a tail fitted to few
    peaks does): the surface lies at their mean, not at the weighted mean, which is lower by more than 0.12.
    """
    rows, draws = Emulator(invented_shelf(40, settings=FEW)).shelf.coordinates, np.random.default_rng(8)
    off = draws.normal(size=len(rows))
    errors = 0.3 * np.exp(0.3 * off)
    weighted = np.sum(0.3 * off / errors**2) / np.sum(1.0 / errors**2)
    assert weighted < -0.12
    cover, groups = cover_of(rows), np.arange(len(rows))
    told = told_of(cover, PLANE, rows, 2.0 + 0.3 * off, errors, groups)
    assert np.sqrt(np.mean(told.errors**2)) == pytest.approx(np.sqrt(np.mean(errors**2)))
    recipe = recipe_of(cover, rows, 2.0 + 0.3 * off, errors, groups)
    value = Surface(cover, recipe, told_of(cover, recipe.kind, rows, 2.0 + 0.3 * off, errors, groups)).value(rows)
    assert np.mean(value) == pytest.approx(2.0 + 0.3 * off.mean(), abs=0.05)


def test_order_of_points_and_of_additions_leaves_the_same_shelf():
    points = points_at(first_seas(SPAN), FEW)
    one = Shelf(MADE_FOR).with_points(points)
    order = np.random.default_rng(2).permutation(len(points))
    other = Shelf(MADE_FOR)
    for part in np.array_split(order, 5):
        other = other.with_points([points[k] for k in part])
    other = other.with_points(points[:4])
    assert len(one) == len(points)
    assert all(one.columns[name].tobytes() == other.columns[name].tobytes() for name in one.columns)


def test_spread_seas_are_haltons_numbers():
    """First of van der Corput's sequence: 1/2, 1/4, 3/4, 1/8; in base three 1/3, 2/3, 1/9 (van der Corput 1935)."""
    assert [radical_inverse(n, 2) for n in (1, 2, 3, 4)] == [0.5, 0.25, 0.75, 0.125]
    assert [radical_inverse(n, 3) for n in (1, 2, 3)] == pytest.approx([1 / 3, 2 / 3, 1 / 9])
    seas = spread_seas(SPAN, 0, 200)
    assert np.all(seas[:, 0] <= deep_wavelength(seas[:, 1]) / 16.0) and len(np.unique(seas, axis=0)) == 200
    assert np.array_equal(spread_seas(SPAN, 0, 50), seas[:50])


def test_the_first_seas_hold_all_that_follow():
    span = Range((1.5, 5.0), (6.0, 14.0), (-0.5, 2.0), 1.0 / 16.0)
    ends = corners(span)
    assert all(hs <= deep_wavelength(tp) / 16.0 for hs, tp in ends)
    first = first_seas(span)
    assert first[:, 2].min() == -0.5 and first[:, 2].max() == 2.0
    emulator = Emulator(Shelf(MADE_FOR).with_points(points_at(first, FEW)))
    rows = questions_of(QUESTION, FEW[:1], spread_seas(span, 40, 200))[:, 0]
    refused = {found.name for row in rows if (found := emulator.refusal(row))}
    assert refused <= {"waves_from_bow"}


def test_next_seas_go_where_little_is_known():
    """Nothing marched over 4 m: there, and not where seas stand side by side."""
    seas = spread_seas(SPAN, 0, 60)
    shelf = Shelf(MADE_FOR).with_points(points_at(seas[seas[:, 0] < 3.0], FEW))
    wanted, interest = next_seas(shelf, SPAN, QUESTION, FEW)
    assert interest.shape == (len(wanted), len(FEW)) and np.all(interest > 0.0)
    assert np.mean(wanted[:, 0] > 3.0) >= 0.75
    assert len(np.unique(wanted, axis=0)) == len(wanted)
    assert np.array_equal(next_seas(shelf, SPAN, QUESTION, FEW).seas, wanted)


def test_rounds_grow_with_what_is_known():
    assert [at_once(known) for known in (1, 25, 33, 80, 2000)] == [8, 8, 8, 20, 96]


def test_next_seas_and_settings_go_where_loads_are_near_the_limit_and_cases_do_not_end():
    """Loads four times those of the invented boat pass the limit in part of the seas; where she ends none are known."""
    shelf = invented_shelf(60, settings=FEW)
    columns = {name: 4.0 * shelf.columns[name] for name in ("load_calm", "tail_swing", "tail_swing_error")}
    shelf = Shelf(MADE_FOR, {**shelf.columns, **columns})
    wanted, interest = next_seas(shelf, SPAN, QUESTION, FEW)
    questions = questions_of(QUESTION, FEW, wanted)
    load = 4.0 * truth(questions.reshape(-1, len(NAMES)))[:, :, 5].reshape(*interest.shape, 2)
    near, far = (np.min(np.abs(load - 1.0), axis=2) < 0.1), (np.min(np.abs(load - 1.0), axis=2) > 0.5)
    assert near.sum() > 3 and far.sum() > 3
    assert interest[near].min() > 2.0 * interest[far].max()
    every = questions_of(QUESTION, FEW, spread_seas(SPAN, 200, 100)).reshape(-1, len(NAMES))
    usual = np.mean(np.min(np.abs(4.0 * truth(every)[:, :, 5] - 1.0), axis=1) < 0.25)
    assert np.mean(np.min(np.abs(load - 1.0), axis=2) < 0.25) > 1.2 * usual
    high = shelf.columns["sea_hs"] > 3.0
    ended = {"status": np.where(high, AT_LEAST, shelf.columns["status"]), "cases_ended": np.where(high, 6, 0)}
    wanted, interest = next_seas(Shelf(MADE_FOR, {**shelf.columns, **ended}), SPAN, QUESTION, FEW)
    assert np.all(interest[wanted[:, 0] > 4.0] <= ENDS)
