"""Righting and floating of the boat page, on a box: closed forms of hydrostatics (any text on naval architecture)."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.studies.boat.findings import righting_findings, trim_findings
from seaload.studies.boat.righting import REST_HEELS, floating_parts, rest_parts
from tests.studies.boat.box_boat import (
    BEAM,
    CENTRE_HEIGHT,
    DRAUGHT,
    LENGTH,
    MASS,
    SIDE,
    box_question,
)

BM = BEAM**2 / (12.0 * DRAUGHT)
GM = 0.5 * DRAUGHT + BM - CENTRE_HEIGHT


def value(parts, name):
    return parts[name][1]


def test_metacentric_height_of_a_box():
    """GM = KB + BM - KG, BM = beam^2/(12 draught); the slope of the curve through the hull's own sections."""
    assert value(floating_parts(box_question()), "metacentric_height") == pytest.approx(GM, rel=1e-3)


def test_the_curve_at_rest_is_that_of_a_wall_sided_hull():
    """GZ = sin(heel) (GM + BM tan(heel)^2/2) while the sides cross the water, here up to the bilge's coming out."""
    parts = rest_parts(box_question())
    crossing = REST_HEELS < np.arctan(2.0 * DRAUGHT / BEAM)
    heel = REST_HEELS[crossing]
    expected = MASS * STANDARD_GRAVITY * np.sin(heel) * (GM + 0.5 * BM * np.tan(heel) ** 2)
    assert len(heel) > 4
    assert value(parts, "righting_at_rest")[crossing] == pytest.approx(expected, rel=1e-4, abs=1.0)


def test_canting_adds_the_bulb_times_its_way_and_shrinks_with_heel():
    """Statics: bulb weight times span (sin(cant) cos(heel) - (1 - cos(cant)) sin(heel))."""
    asked = box_question()
    boat, cant = replace(asked.boat, bulb_mass=2000.0), np.radians(30.0)
    asked = replace(asked, boat=boat, setting=replace(asked.setting, cant=cant))
    pull = 2000.0 * STANDARD_GRAVITY * boat.keel.span
    expected = pull * (np.sin(cant) * np.cos(REST_HEELS) - (1.0 - np.cos(cant)) * np.sin(REST_HEELS))
    assert value(rest_parts(asked), "righting_at_rest_keel") == pytest.approx(expected, rel=1e-6, abs=1.0)


def test_righting_vanishes_where_the_wall_sided_curve_crosses_zero():
    """Canted to windward a box that is unstable upright rights herself up to where the lever of the bulb is used up:
    there its moment equals the wall-sided one of the hull.
    """
    asked = box_question(height=2.2)
    cant, gm = np.radians(20.0), 0.5 * DRAUGHT + BM - 2.2
    boat = replace(asked.boat, bulb_mass=500.0)
    parts = rest_parts(replace(asked, boat=boat, setting=replace(asked.setting, cant=cant)))
    heel = value(parts, "vanishing_heel")
    lever = 500.0 / MASS * boat.keel.span
    hull = np.sin(heel) * (gm + 0.5 * BM * np.tan(heel) ** 2)
    keel = lever * (np.sin(cant) * np.cos(heel) - (1.0 - np.cos(cant)) * np.sin(heel))
    assert gm < 0.0 < heel < np.arctan(2.0 * DRAUGHT / BEAM)
    assert hull + keel == pytest.approx(0.0, abs=1e-4)


def test_trim_at_rest_is_the_shift_of_gravity_over_the_longitudinal_metacentre():
    """tan(trim) = shift / GM_L, GM_L = length^2/(12 draught) + KB - KG; gravity forward: bow down."""
    along = LENGTH**2 / (12.0 * DRAUGHT) + 0.5 * DRAUGHT - CENTRE_HEIGHT
    for ahead in (-0.2, 0.0, 0.2):
        trim = value(floating_parts(box_question(ahead=ahead)), "trim_at_rest")
        assert trim == pytest.approx(-ahead / along, abs=2e-4)


def test_freeboard_of_a_heeled_box():
    asked = box_question()
    assert value(floating_parts(asked), "freeboard_least") == pytest.approx(SIDE - DRAUGHT, abs=1e-6)
    heel = np.radians(10.0)
    heeled = floating_parts(replace(asked, setting=replace(asked.setting, heel=heel)))
    lower = np.cos(heel) * (SIDE - DRAUGHT) - 0.5 * BEAM * np.sin(heel)
    assert value(heeled, "freeboard_least") == pytest.approx(lower, abs=1e-6)


def test_what_capsizes_upright_and_what_trims_by_the_head_is_said():
    high = box_question(height=2.6)
    words = [finding.words for finding in righting_findings(high, rest_parts(high))]
    assert any("capsizes" in text for text in words)
    ahead = box_question(ahead=0.5)
    nothing = np.full((len(ahead.extensions), len(ahead.speeds)), np.nan)
    parts = {name: ((), nothing) for name in ("calm_pitch", "leeway", "rudder", "plunge_area")}
    parts["speed_attainable"] = ((), np.full(len(ahead.extensions), np.nan))
    (found,) = trim_findings(ahead, {**parts, **floating_parts(ahead)})
    assert "at rest she trims -" in found.words and "abaft" in found.words
