"""What a change does to the loads: the foil changed as written, shift and growth, jackknife, effects put together."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.deciding.size.changes import changed_foil, high, jackknife, moved, paired, relative
from seaload.deciding.size.model_doubt import spreads, with_crests
from seaload.foil.geometry import limits_at
from seaload.scenario.crew_records import UncertainInput
from seaload.scenario.size_records import FoilChange
from tests.deciding.size.test_limits import FOIL


def test_the_foil_is_changed_as_written():
    """Chord by a straight line from the bearing to the tip; a limit goes as chord times thickness squared, so as the
    cube of the chord (section modulus, any text), and as the stiffness.
    """
    changed = changed_foil(FOIL, FoilChange("x", tip_chord=0.1, tip_angle=0.05, stiffness=0.2))
    assert changed.chord[0] == FOIL.chord[0] and changed.chord[-1] == pytest.approx(1.1 * FOIL.chord[-1])
    assert changed.tip_angle == pytest.approx(FOIL.tip_angle + 0.05)
    assert changed.shaft_angle == FOIL.shaft_angle
    places = FOIL.material_s[[0, -1]]
    ratio = np.array(limits_at(changed, places)) / np.array(limits_at(FOIL, places))
    assert ratio == pytest.approx(np.array([[1.2, 1.2 * 1.1**3]] * 2), rel=1e-9)


def test_a_load_shifts_and_grows():
    """Mean 10 to 12 and a fluctuation of 20 to 30: what was 50 comes as often as 12 + 40 * 1.5 now."""
    base, other = (np.array([10.0]), np.array([30.0])), (np.array([12.0]), np.array([42.0]))
    assert moved(np.array([50.0]), base, other) == pytest.approx([72.0])
    assert relative(np.array([50.0]), base, other) == pytest.approx([0.44])
    assert relative(np.array([0.0]), base, other) == pytest.approx([0.0])  # a place that needs no limit


def test_a_high_load_is_the_mean_of_the_highest_tenth():
    blocks = np.arange(40.0).reshape(2, 1, 20)
    blocks[1, 0, -1] = np.nan  # not sailed
    assert high(blocks) == pytest.approx([np.mean([35.0, 36.0, 37.0, 38.0])])


def test_the_jackknife_of_a_mean_is_its_standard_error():
    """Tukey's jackknife of a mean is exactly s over root n (any text on statistics)."""
    values = np.random.default_rng(0).normal(size=12)
    value, low, high_end = paired(lambda kept: values[kept].mean(), 12)
    half = 1.6448536269514722 * values.std(ddof=1) / np.sqrt(12.0)
    assert (value, low, high_end) == pytest.approx((values.mean(), values.mean() - half, values.mean() + half))
    assert jackknife(1.0, np.ones(5)) == (1.0, 1.0, 1.0)


def test_crests_act_as_the_height_by_their_own_deviation():
    effects = {side: tuple(np.full((1, 2), x) for x in (0.03, 0.02, 0.04)) for side in ("reverse", "normal")}
    crests = UncertainInput("second_order_crests", "normal", 0.05, "factor", "")
    names, more = with_crests(
        ("lift_slope",), effects, SimpleNamespace(uncertain=(crests,)),
        {side: np.array([0.8, 1.6]) for side in ("reverse", "normal")},
    )  # fmt: skip
    assert names == ("lift_slope", "second_order_crests")
    assert more["normal"][0][1] == pytest.approx([0.04, 0.08])
    assert spreads(more)["reverse"] == pytest.approx([np.hypot(0.03, 0.04), np.hypot(0.03, 0.08)])
