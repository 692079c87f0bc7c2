"""The section formula: shape against integration, load against its parts, nothing strange at its edges."""

import numpy as np
import pytest

from seaload.boat.hull_section import EXIT_DRAG_SHARE, hull_section_load, section_shape

WHOLE = dict(
    immersion=0.2,
    immersion_rate=0.0,
    entry_speed=0.0,
    entry_speed_rate=0.0,
    water_rise=0.0,
    water_acceleration=0.0,
    inverse_chine_height=2.0,
    half_beam=1.5,
    fullness=0.0,
    pile_up=np.pi / 2,
    added_mass_factor=1400.0,
    drag_factor=1000.0,
    buoyancy_factor=1e4,
    density=1025.0,
    radiation_factor=300.0,
)


def load(**changed):
    return hull_section_load(*{**WHOLE, **changed}.values())


@pytest.mark.parametrize("fullness", [0.0, 0.4, 1.0])
def test_area_and_slope_follow_from_the_half_breadth(fullness):
    h = np.linspace(0.0, 0.9, 9001)
    b, slope, area = np.array([section_shape(x, 2.0, 1.5, fullness) for x in h]).T
    assert area[-1] == pytest.approx(np.trapezoid(2.0 * b, h), rel=1e-6)
    below = (h > 0.001) & (h < 0.499)
    assert np.allclose(np.gradient(b, h)[below], slope[below], atol=1e-3)
    assert np.all(slope[h > 0.501] == 0.0) and np.allclose(b[h > 0.501], 1.5)


def test_a_dry_section_feels_nothing():
    assert load(immersion=-0.1, entry_speed=3.0, immersion_rate=2.0, water_rise=1.0) == (0.0, 0.0, 0.0)


def test_padding_of_no_beam_stays_finite():
    assert np.all(np.isfinite(load(half_beam=0.0, inverse_chine_height=1.0, entry_speed=2.0, water_rise=1.0)))


def test_momentum_is_the_rate_of_added_mass_times_speed():
    """Constant entry speed: force is V dm/dt, by difference of the added mass; slow exits the same."""
    dt = 1e-6
    for speed, within in ((1.3, 1e-4), (-0.01, 1e-3)):
        force, _, mass = load(immersion_rate=speed, entry_speed=speed, drag_factor=0.0, buoyancy_factor=0.0)
        later = load(immersion=0.2 + speed * dt)[2]
        assert force == pytest.approx(speed * (later - mass) / dt, rel=within)
        assert force > 0.0  # also when the section leaves


def test_water_cannot_follow_a_fast_exit():
    """The exit term is halved at a Froude number of 0.5 on the wetted half-beam; entry keeps all of it."""
    parts = dict(drag_factor=0.0, buoyancy_factor=0.0)
    wetted = np.sqrt(load()[2] / WHOLE["added_mass_factor"])
    speed = 0.5 * np.sqrt(9.80665 * wetted)
    leaving = load(immersion_rate=-speed, entry_speed=-speed, **parts)[0]
    entering = load(immersion_rate=speed, entry_speed=speed, **parts)[0]
    assert leaving == pytest.approx(0.5 * entering, rel=1e-9)


def test_parts_add_up():
    still = load()[0]
    assert still == pytest.approx(1e4 * section_shape(0.2, 2.0, 1.5, 0.0)[2])
    up = load(water_acceleration=2.0)[0] - still
    assert up == pytest.approx(1025.0 * section_shape(0.2, 2.0, 1.5, 0.0)[2] * 2.0)
    assert load(water_rise=0.5)[0] - still == pytest.approx(300.0 * 0.4 * 0.5)
    inwards, outwards = (load(entry_speed=v)[0] - still for v in (1.0, -1.0))
    assert outwards == pytest.approx(-EXIT_DRAG_SHARE * inwards)
