"""The boat's own display: where its zero was taken, and its scale in tonnes."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.basis.units import TONNE_FORCE
from seaload.deciding.display import shown, zero_moment
from seaload.foil.geometry import own_weight_moments, strips_outside
from tests.simulation.still_water import demo_study

PLACES = demo_study().boat.foils["port"].stations


@pytest.fixture(scope="module")
def boat():
    return demo_study().boat


def sensors(**changed):
    return SimpleNamespace(**{"display": "percent_of_normal", "zero_taken": "retracted", **changed})


def test_a_weight_hung_at_the_lever_reads_as_that_weight():
    weight, lever = 3.0 * TONNE_FORCE, 2.0
    read = shown(np.array([[weight * lever]]), 1.0, 1.0, sensors(display="tonne_force", lever=lever), 2e-3)
    assert read.item() / TONNE_FORCE == pytest.approx(3.0)


def test_own_weight_is_the_sum_of_masses_at_their_arms(boat):
    foil = boat.foils["port"]
    s = strips_outside(foil, 1.0)
    mass = foil.density * foil.fill * foil.area_coefficient * s.chord * s.thickness * s.length  # as DESIGN of the file
    by_hand = -STANDARD_GRAVITY * np.sum(mass * s.y)
    assert own_weight_moments(foil, 1.0, np.array([0.0]))[0] == pytest.approx(by_hand, rel=1e-6)


def test_a_foil_as_heavy_as_water_weighs_nothing_below_it(boat):
    floating = replace(boat.foils["port"], density=SEA_WATER_DENSITY, fill=1.0)
    assert own_weight_moments(floating, 1.0, PLACES, np.inf) == pytest.approx(0.0, abs=1e-9)


def test_zero_taken_drawn_in_shows_the_weight_of_the_foil_that_is_out(boat):
    foil = boat.foils["port"]
    zero = zero_moment(boat, foil, 1.0, PLACES, sensors())
    out = own_weight_moments(foil, 1.0, PLACES)
    assert np.all(out - zero < 1e-9) and (out - zero)[0] < -500.0  # [N m], the tip bends down


def test_zero_taken_alongside_depends_on_the_extension_and_never_is_never(boat):
    foil = boat.foils["port"]
    short, long = (zero_moment(boat, foil, e, PLACES, sensors(zero_taken="alongside")) for e in (0.6, 1.0))
    assert not np.allclose(short, long)
    assert np.all(long >= own_weight_moments(foil, 1.0, PLACES))  # buoyancy takes weight off
    assert not zero_moment(boat, foil, 1.0, PLACES, sensors(zero_taken="never")).any()
