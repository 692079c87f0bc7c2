"""The hold-down line: taut when lift pushes the foil up its shaft, slack when it turns round."""

import numpy as np
import pytest

from seaload.foil.hold_down import axial_force, hold_down_load
from tests.oracles.bearings import bearing_reactions

ANGLE = np.radians(-65.0)
SHAFT = np.cos(ANGLE), np.sin(ANGLE)


def test_upward_force_pushes_the_foil_into_the_hull():
    assert axial_force(0.0, 1000.0, *SHAFT) == pytest.approx(1000.0 * np.sin(np.radians(65.0)))
    assert axial_force(0.0, -1000.0, *SHAFT) < 0.0


def test_a_force_across_the_shaft_pulls_no_line():
    assert axial_force(-SHAFT[1], SHAFT[0], *SHAFT) == pytest.approx(0.0, abs=1e-15)


def test_bearings_hold_moment_and_shear():
    lower, upper = bearing_reactions(75e3, 20e3, 0.9)
    assert lower + upper + 20e3 == pytest.approx(0.0)
    assert upper * 0.9 == pytest.approx(75e3)


def test_friction_is_taken_off_both_bearings():
    lower, upper = bearing_reactions(75e3, 20e3, 0.9)
    expected = 90e3 - 0.1 * (abs(lower) + abs(upper))
    assert hold_down_load(90e3, 75e3, 20e3, 0.9, 0.1) == pytest.approx(expected)
    assert hold_down_load(90e3, 75e3, 20e3, 0.9, 0.0) == pytest.approx(90e3)


def test_slack_in_reverse():
    assert hold_down_load(-5e3, -10e3, -3e3, 0.9, 0.1) == 0.0
    assert hold_down_load(5e3, 200e3, 0.0, 0.9, 0.1) == 0.0  # jammed by its own bearings
