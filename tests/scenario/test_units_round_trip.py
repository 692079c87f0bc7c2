"""What a person writes in human units arrives in SI, and comes back."""

from math import degrees, inf, isnan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.scenario.risk_spec import GustSpec, RiskSpec, SamplingSpec, UncertainSpec
from seaload.scenario.sea_spec import SeaSpec, direction_from_compass
from seaload.scenario.setting_spec import SettingsSpec


@given(st.floats(1, 45), st.floats(-5, 10), st.floats(0, 100))
def test_a_setting_comes_back_from_si(speed, rake, extension):
    spec = SettingsSpec(speed_knots=speed, rake_deg=rake, extension_percent=extension)
    (setting,) = spec.si()
    assert setting.speed / KNOT == pytest.approx(speed)
    assert setting.rake / DEGREE == pytest.approx(rake)
    assert setting.extension * 100 == pytest.approx(extension)


def test_twenty_knots_and_two_degrees():
    (setting,) = SettingsSpec().si()
    assert setting.speed == pytest.approx(20 * 1852 / 3600)  # knot: exact by definition
    assert setting.rake == pytest.approx(2 * pi / 180)
    assert setting.extension == 0.8


def test_a_grid_counts_with_the_speed_fastest():
    spec = SettingsSpec(extension_percent=[60, 80], rake_deg=[1, 2, 3], speed_knots=[18, "attainable"])
    settings = spec.si()
    assert spec.count == len(settings) == 12
    assert settings[0].extension == 0.6 and settings[-1].extension == 0.8
    assert settings[1].attainable and isnan(settings[1].speed)
    assert not settings[0].attainable


@pytest.mark.parametrize(
    ("from_bow", "mu"),
    [(0, pi), (180, 0.0), (45, 0.75 * pi), (90, 0.5 * pi), (-45, -0.75 * pi), (360, pi), (-180, 0.0)],
)
def test_waves_from_the_bow_become_the_direction_they_travel(from_bow, mu):
    sea = SeaSpec(name="s", spectrum="bretschneider", hs_m=3, tp_s=9, waves_from_bow_deg=from_bow)
    assert sea.si_direction() == pytest.approx(mu)


@given(st.floats(0, 360), st.floats(0, 360))
def test_compass_words_agree_and_tacks_mirror(waves_from, heading):
    from seaload.waves.boat_frame import direction_in_boat

    starboard = direction_from_compass(waves_from, heading, starboard_tack=True)
    port = direction_from_compass(waves_from, heading, starboard_tack=False)
    difference = (starboard + port) % (2 * pi)
    assert min(difference, 2 * pi - difference) == pytest.approx(0, abs=1e-9)
    other = direction_in_boat(waves_from * DEGREE, heading * DEGREE, "starboard")
    off = (other - starboard) % (2 * pi)
    assert min(off, 2 * pi - off) == pytest.approx(0, abs=1e-9)


def test_waves_to_is_the_opposite_of_waves_from():
    common = {"name": "s", "spectrum": "bretschneider", "hs_m": 3.0, "tp_s": 9.0, "heading_deg_true": 40.0}
    came_from = SeaSpec(**common, waves_from_deg_true=70.0).si_direction()
    went_to = SeaSpec(**common, waves_to_deg_true=250.0).si_direction()
    assert degrees(came_from) == pytest.approx(degrees(went_to)) == pytest.approx(150.0)


def test_risk_sampling_gust_and_doubt():
    assert RiskSpec(exposure_hours=3).si().exposure == 3 * HOUR
    sampling = SamplingSpec(hours=3.0).si()
    assert sampling.realisations == 9 and sampling.realisation_time == 1200
    assert SamplingSpec(hours=0.1).si().realisations == 1
    assert SamplingSpec(hours=3.01).si().realisations == 10
    assert SamplingSpec(seed=4).si(7).seed == 7
    assert GustSpec().si().ease_after == inf
    assert GustSpec(strength_percent=-40).si().strength == pytest.approx(-0.4)
    assert UncertainSpec(spread_deg=0.5).si("rake_zero").spread == pytest.approx(0.5 * DEGREE)
    assert UncertainSpec(spread_percent=10).si("lift_slope").kind == "factor"
