"""Wear that is told and wear that is marched: means of a heavy tail, cycles that close between pieces."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.basis.records import STATUS_DONE, STATUS_NOT_FINITE
from seaload.deciding.leg.asked import MOST_WEAR_ERROR, mean_log_wear
from seaload.files.ledger.curve import foil_curve
from seaload.scenario.read_boat import read_boat
from seaload.studies.leg.check import wear_told
from seaload.studies.leg.ways import damage_of, open_cycles, ways_of
from tests.small_study import PLACES, made_case
from tests.studies.leg.invented_leg import LEGS


@pytest.fixture(scope="module")
def boat():
    return read_boat(LEGS.parent / "boats" / "demo.toml")[1]


@pytest.mark.parametrize("error", [0.5, 1.5, 2.0])
def test_the_mean_told_is_that_of_many_seas_whose_wear_is_off_by_the_error(error):
    """200,000 seas by lot: mean of a log-normal law, exp(middle + error^2/2) (any text); the median is far below."""
    wear = np.exp(-30.0 + error * np.random.default_rng(1).normal(size=200_000))
    told = float(np.exp(mean_log_wear(np.array([-30.0]), np.array([error])))[0])
    assert told == pytest.approx(wear.mean(), rel=0.1)
    assert told > np.exp(-30.0) * np.exp(0.4 * error**2)


def test_no_tail_is_believed_beyond_the_most_error_and_nothing_known_is_no_number_lost():
    far, most = (mean_log_wear(np.zeros(1), np.array([error]))[0] for error in (9.0, MOST_WEAR_ERROR))
    assert far == most and np.isfinite(mean_log_wear(np.array([np.nan]), np.array([np.nan]))).all()


def test_told_wear_follows_the_inputs_drawn_and_its_ends_the_library(boat):
    """Two pieces of 1,200 s; one input that is worth e-fold by one deviation, drawn at +2 on the first piece."""
    rates = SimpleNamespace(log_wear=np.log([1e-6, 2e-6]), log_wear_error=np.array([0.5, 0.5]))
    columns = SimpleNamespace(wear=np.array([[1.0], [1.0]]))
    mean, low, high = wear_told(rates, columns, np.array([[2.0], [0.0]]), np.full(2, 1200.0))
    plain = 1200.0 * (np.exp(2.0) * 1e-6 + 2e-6)
    assert mean == pytest.approx(plain * np.exp(0.125))
    assert low == pytest.approx(plain * np.exp(-0.5 * 1.645), rel=1e-3) and high * low == pytest.approx(plain**2)


def test_a_range_that_opens_in_one_piece_and_closes_in_the_next_counts_once_joined(boat):
    """Halves of 0 to 90 % and back, each by itself half a cycle, as joined; a fall from 90 % in one piece to -30 % in
    the next is a range that neither has alone (ASTM E1049: a half cycle counts half)."""
    curve = foil_curve(boat.foils["port"])
    up, down = np.array([0.0, 0.9]), np.array([0.9, 0.0])
    half = damage_of(curve, [up], apart=True)
    assert half > 0.0
    assert damage_of(curve, [up, down], apart=True) == pytest.approx(2.0 * half)
    assert damage_of(curve, [up, down, up], apart=False) == pytest.approx(3.0 * half)
    high, low = np.array([0.4, 0.9, 0.5]), np.array([0.5, -0.3, 0.2])
    assert damage_of(curve, [high, low], apart=False) > 1.2 * damage_of(curve, [high, low], apart=True)


def test_ways_sum_pieces_of_a_foil_and_leave_out_marches_that_ended(boat):
    worn = np.zeros(PLACES)
    worn[0] = 2.0
    flat = tuple(np.array([0.0, 0.5]) for _ in range(PLACES))
    one = made_case(damage=worn, status=STATUS_DONE, residue=flat)
    ended = made_case(damage=worn, status=STATUS_NOT_FINITE, residue=flat)
    ways = ways_of(boat, np.array([0, 1]), [[one, one, one], [one, ended, one]])
    assert ways.wear == pytest.approx([4.0, 2.0, 4.0], rel=1e-3)
    assert 0.0 <= ways.joined < 1e-3
    mean, low, high = ways.interval()
    assert low <= mean <= high and mean == pytest.approx(10.0 / 3.0, rel=1e-3)
    records = [made_case(residue=tuple(np.array(part) for _ in range(PLACES)), status=STATUS_DONE) for part in
               ([0.4, 0.9, 0.5], [0.5, -0.3, 0.2])]  # fmt: skip
    apart, together = open_cycles(foil_curve(boat.foils["port"]), records)
    assert together > apart > 0.0
