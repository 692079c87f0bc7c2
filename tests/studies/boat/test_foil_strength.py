"""Gauges, limits and bending frequency of the boat page, on a straight even plank: closed forms of beam theory."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.units import TONNE_FORCE
from seaload.scenario.crew_records import Sensors
from seaload.studies.boat.foil_strength import foil_geometries, foil_parts
from tests.studies.boat.box_boat import demo_question, plank_question

LENGTH, BEARINGS = 3.0, 0.9
E, K, CHORD, THICK = 85e9, 0.038, 0.6, 0.072
EI = E * K * CHORD * THICK**3


def parts_of(asked):
    return {name: values for name, (_, values) in foil_parts(asked, foil_geometries(asked)).items()}


def shown_as(asked, display, lever=np.nan):
    sensors = Sensors(display, 10.0, 0.0, 0.0, "never", 0.0, lever)
    return replace(asked, boat=replace(asked.boat, sensors=sensors))


def test_a_gauge_reads_force_times_lever_over_its_limit_both_ways():
    """Statics, and limit moment = strain EI / (t/2); between the bearings the moment falls to the upper one."""
    asked = shown_as(plank_question(), "percent_of_own_limit")
    foil, found = asked.foil, parts_of(asked)
    for k, extension in enumerate(asked.extensions):
        bearing = (1.0 - extension) * LENGTH
        for place, s in enumerate((bearing, *foil.stations)):
            lever = LENGTH - max(s, bearing)
            lever *= max(0.0, 1.0 - max(bearing - s, 0.0) / BEARINGS)
            normal, reverse = (strain * EI / (0.5 * THICK) for strain in (foil.strain_normal, foil.strain_reverse))
            assert found["gauge_up"][k, place] == pytest.approx(TONNE_FORCE * lever / normal)
            assert found["gauge_down"][k, place] == pytest.approx(-TONNE_FORCE * lever / reverse)


def test_the_same_load_in_every_unit_of_a_display():
    asked = plank_question()
    share, strain, force = (
        parts_of(shown_as(asked, display, 2.0))["gauge_up"]
        for display in ("percent_of_normal", "microstrain", "tonne_force")
    )
    assert strain == pytest.approx(share * asked.foil.strain_normal)
    assert force == pytest.approx(share * parts_of(asked)["normal_limit"] / 2.0)


def test_up_and_down_are_mirror_images_where_one_limit_is_shown():
    found = parts_of(demo_question())
    assert found["gauge_down"] == pytest.approx(-found["gauge_up"])


def test_a_foil_that_slopes_has_the_lever_of_its_shadow():
    flat, sloping = (parts_of(plank_question(angle=a))["tip_lever"] for a in (0.0, np.radians(-60.0)))
    assert sloping == pytest.approx(0.5 * flat)


def test_own_weight_is_that_of_an_even_beam():
    """Moment of a cantilever under its own weight w L^2/2, w = density x fill x k_A c t x g (any text)."""
    asked = shown_as(plank_question(extensions=(1.0,)), "percent_of_normal")
    foil, found = asked.foil, parts_of(asked)
    weight = foil.density * foil.fill * foil.area_coefficient * CHORD * THICK * STANDARD_GRAVITY
    out = LENGTH - np.array([0.0, *foil.stations])
    assert found["gauge_weight"][0] * found["normal_limit"][0] == pytest.approx(-0.5 * weight * out**2, rel=1e-6)


def test_the_tip_force_to_a_limit_bends_the_first_place_to_it():
    """Even plank: the bearing has the longest lever and goes first, at limit over length outside."""
    asked = plank_question()
    found = parts_of(asked)
    out = asked.extensions * LENGTH
    for side, strain in (("normal", asked.foil.strain_normal), ("reverse", asked.foil.strain_reverse)):
        assert found[f"tip_force_{side}"] == pytest.approx(strain * EI / (0.5 * THICK) / out)
        assert found[f"tip_place_{side}"] == pytest.approx(LENGTH - out)


def beam_frequency(length, mass):
    """First frequency [1/s] of an even beam whose root turns with the spring 3 EI/d of two bearings, free at its end.

    Root of the determinant of w = A sin + B cos + C sinh + D cosh with its four end conditions (any text on vibration).
    """
    spring = 3.0 * length / BEARINGS

    def determinant(b):
        s, c, sh, ch = np.sin(b), np.cos(b), np.sinh(b), np.cosh(b)
        return np.linalg.det([
            [0.0, 1.0, 0.0, 1.0], [spring, b, spring, -b], [-s, -c, sh, ch], [-c, s, ch, sh],
        ])  # fmt: skip

    root = brentq(determinant, 0.5, 1.8751)
    return root**2 / (2.0 * np.pi * length**2) * np.sqrt(EI / mass)


@pytest.mark.parametrize("extension", [0.5, 0.8, 1.0])
def test_bending_frequency_dry_and_wet_is_that_of_an_even_beam(extension):
    """Wet: the added mass of a flat plate, rho pi c^2/4, moves along (any text on vibration in water)."""
    asked = plank_question(extensions=(extension,))
    foil, found = asked.foil, parts_of(asked)
    mass = foil.density * foil.fill * foil.area_coefficient * CHORD * THICK
    added = foil.added_mass_share * 1025.0 * np.pi * 0.25 * CHORD**2
    out = extension * LENGTH
    assert found["bending_frequency_dry"][0] == pytest.approx(beam_frequency(out, mass), rel=2e-3)
    assert found["bending_frequency_wet"][0] == pytest.approx(beam_frequency(out, mass + added), rel=2e-3)


def test_limits_along_the_material_follow_the_section():
    found, foil = parts_of(demo_question()), demo_question().foil
    expected = found["bending_stiffness"] * foil.strain_normal / (0.5 * found["thickness"])
    assert found["grid_normal_limit"] == pytest.approx(expected)
    assert found["grid_reverse_limit"] / found["grid_normal_limit"] == pytest.approx(
        foil.strain_reverse / foil.strain_normal
    )
