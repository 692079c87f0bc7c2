"""A boat counts as broaching while she is far off her heading and her rudder has stood at its limit for a second."""

import numpy as np
import pytest

from seaload.basis.units import DEGREE
from seaload.simulation.count_broach import count_broach
from seaload.simulation.layout import LANES

STEP, LIMIT = 0.02, 25.0 * DEGREE


def counted(heading, rudder, cuts=()):
    """Time [s] that counts of a history in degrees, in as many pieces as there are `cuts`."""
    broach = np.zeros(2)
    pieces = zip(np.split(heading, cuts), np.split(rudder, cuts), strict=True)
    for psi, delta in pieces:
        rows = [np.repeat((each * DEGREE).astype(np.float32), LANES) for each in (psi, delta)]
        count_broach(*rows, len(psi), STEP, LIMIT, 3, broach)
    return broach[0] * STEP


def test_a_second_at_the_limit_comes_first():
    heading, rudder = np.full(200, 30.0), np.full(200, -25.0)  # four seconds
    assert counted(heading, rudder) == pytest.approx(3.0, abs=2 * STEP)


@pytest.mark.parametrize(("heading", "rudder"), [(30.0, 20.0), (15.0, 25.0), (0.0, 0.0)])
def test_neither_alone_is_a_broach(heading, rudder):
    assert counted(np.full(200, heading), np.full(200, rudder)) == 0.0


def test_a_rudder_that_comes_off_its_limit_begins_anew():
    rudder = np.where(np.arange(300) % 50 == 0, 10.0, 25.0)  # off it once a second
    assert counted(np.full(300, -30.0), rudder) == 0.0


def test_a_history_in_pieces_counts_as_in_one():
    draw = np.random.default_rng(2)
    heading, rudder = (np.repeat(draw.uniform(-40.0, 40.0, 20), 100) for _ in range(2))
    rudder = np.clip(rudder, -25.0, 25.0)
    whole = counted(heading, rudder)
    assert 0.0 < whole < 20.0
    assert counted(heading, rudder, (130, 131, 700)) == whole
