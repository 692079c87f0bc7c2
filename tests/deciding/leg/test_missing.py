"""Which seas of a leg a library lacks."""

import numpy as np
import pytest

from seaload.deciding.leg.missing import MOST_SEAS, missing_seas
from seaload.waves.bulk import deep_wavelength

STEEPEST = 1.0 / 16.0


def test_the_highest_of_each_cell_those_met_most_first():
    hs = np.array([5.1, 5.3, 5.2, 6.2, 2.0])
    tp, angle = np.full(5, 11.0), np.full(5, 0.1)
    found = missing_seas(hs, tp, angle, np.array([True, True, True, True, False]), STEEPEST)
    assert found.seas[:, 0].tolist() == [5.3, 6.2]
    assert found.share == pytest.approx(0.8) and found.steep == 0.0


def test_seas_too_steep_to_march_are_said_and_not_marched():
    """Height over g T^2/(2 pi) past one in sixteen (deep water)."""
    tp = 7.0
    hs = np.array([0.9, 1.1]) * STEEPEST * deep_wavelength(tp)
    found = missing_seas(hs, np.full(2, tp), np.zeros(2), np.ones(2, dtype=bool), STEEPEST)
    assert found.seas[:, 0].tolist() == [hs[0]] and found.steep == pytest.approx(0.5)


def test_none_is_missing_and_never_more_than_may_be_marched_at_once():
    none = missing_seas(np.ones(3), np.full(3, 9.0), np.zeros(3), np.zeros(3, dtype=bool), STEEPEST)
    assert len(none.seas) == 0 and none.share == 0.0
    angles = np.tile(np.radians(np.arange(-175.0, 180.0, 30.0)), 4)
    hs = np.repeat([5.1, 5.6, 6.1, 6.6], 12)
    many = missing_seas(hs, np.full(48, 12.0), angles, np.ones(48, dtype=bool), STEEPEST)
    assert len(many.seas) == MOST_SEAS
