"""Surf-riding of the demonstration boat: never in head seas, the sooner the higher the following sea."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.simulation.prepare import lane_mass
from seaload.studies.surf_riding import carried_from, push_of, surf_riding_speed

SPEEDS = np.linspace(4.0, 18.0, 16)


def threshold(study, *, hs=0.3, tp=3.2, direction=0.0, resistance=lambda u: 100.0 * u**2 + 6.0 * u**3):
    """Threshold [m/s] of the study's boat with the resistance of the published example, in one long-crested sea."""
    system = replace(study.seas[0].systems[0], direction=direction, band_direction=None, band_density=None)
    sea = replace(study.seas[0], hs=hs, tp=tp, systems=(system,))
    curve = SimpleNamespace(speeds=SPEEDS, thrust=resistance(SPEEDS), balanced=np.ones(len(SPEEDS), dtype=bool))
    return surf_riding_speed(SimpleNamespace(boat=study.boat, curve=lambda setting: curve), study.settings[0], sea)


def test_waves_from_forward_and_abeam_carry_nobody(small_study):
    assert threshold(small_study, direction=np.pi, hs=4.0, tp=9.0) == np.inf
    assert threshold(small_study, direction=0.5 * np.pi, hs=4.0, tp=9.0) == np.inf


def test_the_higher_the_following_sea_the_sooner(small_study):
    speeds = [threshold(small_study, hs=hs, tp=4.5) for hs in (0.0001, 0.2, 0.5, 1.5)]
    assert np.all(np.diff(speeds) <= 0.0) and speeds[-1] < speeds[1]
    celerity = 9.80665 * 0.7 * 4.5 / (2.0 * np.pi)  # of the shortest of the high waves
    assert speeds[0] == pytest.approx(celerity, abs=SPEEDS[1] - SPEEDS[0])  # all but still


def test_too_few_trims_say_nothing(small_study):
    system = replace(small_study.seas[0].systems[0], direction=0.0, band_direction=None, band_density=None)
    sea = replace(small_study.seas[0], hs=1.0, tp=4.5, systems=(system,))
    curve = SimpleNamespace(speeds=SPEEDS, thrust=SPEEDS, balanced=SPEEDS < 5.0)
    reach = SimpleNamespace(boat=small_study.boat, curve=lambda setting: curve)
    assert np.isnan(surf_riding_speed(reach, small_study.settings[0], sea))


def test_sails_that_give_nothing_at_the_waves_speed_neither_push_nor_hold_her_there(small_study):
    """A boat whose sails end before the wave's speed c, against a resistance a u: its work over the orbit,
    a (c - 2 V/pi) with V = 2 sqrt(f/(k m)), ends at the push f = k m (pi c/4)^2, whatever a is (derived).
    """
    boat, setting = replace(small_study.boat, thrust_slope=4.0), small_study.settings[0]
    speeds, celerity = np.linspace(4.0, 8.0, 9), 11.0
    number = 9.80665 / celerity**2
    mass = lane_mass(boat, setting) * (1.0 + boat.surge_added_mass)
    height = number * mass * (0.25 * np.pi * celerity) ** 2 / push_of(boat, setting, number, 1.0)
    for slope in (30.0, 3000.0):  # [N s/m]
        curve = speeds, slope * speeds
        assert carried_from(boat, setting, curve, (number, 1.0, 0.999 * height)) == np.inf
        assert carried_from(boat, setting, curve, (number, 1.0, 1.001 * height)) == speeds[0]
