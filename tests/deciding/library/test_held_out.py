"""What seas left out missed, their own errors taken off: on an invented boat, where the truth is known."""

import numpy as np
import pytest

from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.held_out import BANDS, MARGIN, compared, held_out, left_out_loads, rates_at_limit
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.shelf import Shelf
from seaload.evidence.verdict import SIDES
from tests.deciding.library.invented import MADE_FOR, SETTINGS, invented_shelf, truth

LOADS = ("load_at_rate", "load_at_rate_error", "load_mean", "load_calm", "tail_swing", "tail_swing_error")
FEW = SETTINGS[[0, 4, 8, 9, 13, 17]]


@pytest.fixture(scope="module")
def shelf():
    found = invented_shelf(40, settings=FEW, noise=0.004)  # small beside what lies between 40 seas
    louder = {name: 3.0 * found.columns[name] for name in LOADS}
    return Shelf(MADE_FOR, found.columns | louder)  # so that the limit is passed


def test_own_errors_are_taken_off():
    """Variance of a sum of independent errors (any text on statistics); 90 % within 1.645 deviations."""
    draws = np.random.default_rng(3)
    own = np.full(20_000, 0.4)
    found = compared(draws.normal(0.0, np.hypot(0.3, own)), own, np.hypot(0.3, own))
    assert found.points == 20_000 and found.own == pytest.approx(0.4)
    assert found.error == pytest.approx(0.3, abs=0.02) and found.inside == pytest.approx(0.9, abs=0.01)
    assert compared(own[:0], own[:0], own[:0]).points == 0


def test_left_out_errors_are_near_those_of_the_truth(shelf):
    """What is told of a sea left out is as far from its truth as the number says that takes the points' errors off."""
    emulator = Emulator(shelf)
    rates, margins = held_out(emulator)
    for i, side in enumerate(SIDES):
        rows, loads, _ = left_out_loads(emulator, side)
        true = 3.0 * truth(shelf.coordinates[rows])[:, i, MARGIN]
        load = shelf.columns["load_at_rate"][rows, i, MARGIN]
        used = (load > 0.5) & (load < 1.5)
        real = float(np.sqrt(np.mean((loads[used, MARGIN] - true[used]) ** 2)))
        assert margins[side].points == used.sum() >= 40
        assert 0.5 * real < margins[side].error < 1.6 * real
    assert sum(rates[side, band].points for side in SIDES for band in range(len(BANDS))) > 30


def test_rates_past_the_limit_are_read_off_the_loads():
    loads = 0.7 + 0.05 * np.arange(len(RATES))[None]
    rate, error = rates_at_limit(np.concatenate([loads, loads - 0.5]), np.full((2, len(RATES)), 0.02))
    assert rate[0] == pytest.approx(np.log(RATES[6]), abs=1e-6) and np.isnan(rate[1]) and np.isnan(error[1])
    assert error[0] == pytest.approx(0.02 * np.log(RATES[4] / RATES[7]) / 0.15, rel=1e-5)
