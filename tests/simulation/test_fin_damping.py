"""What fin, rudders and foil do to the boat's motion, by the march's strip kernel, against closed forms.

A lifting strip that moves across the flow at v meets it at v/U: its force is half rho U c a v a metre, against the
motion (quasi-steady thin-aerofoil theory, any text). Heave damping is the sum of that over all strips, roll damping
the sum with the arms squared, and the force of a fin at leeway its lift slope times the angle.
"""

import numpy as np
import pytest

from seaload.foil.strip_load import surface_factor
from seaload.simulation import layout as L
from seaload.simulation.strip_stage import strip_loads
from seaload.simulation.workspace import load_state
from tests.simulation.test_linear_limit import DEEP, foil_alone

SMALL = 1e-4


def totals(march, speed, **motion):
    """Totals of one lane in deep still water, wake memory off."""
    march.boat[L.BOAT["lag"]] = 0.0
    state = load_state(march, np.float64)
    rigid, wave = state.rigid.reshape(-1, L.LANES), state.wave.reshape(-1, L.LANES)
    rigid[L.SPEED] = speed
    for name, value in motion.items():
        rigid[getattr(L, name)] = value
    first = L.strip_wave_row(march.hull.shape[0], 0)
    wave[first + L.STRIP_WAVE_ROWS * np.arange(march.strip.shape[0])] = DEEP
    strip_loads(march, state, 0.0, 0.0, 0.0, 0.0)
    return state.total.reshape(-1, L.LANES)[:, 0]


def change(march, speed, row, **motion):
    """Change of a total per unit of a small motion, taken both ways."""
    (name, size), = motion.items()
    return (totals(march, speed, **{name: size})[row] - totals(march, speed, **{name: -size})[row]) / (2.0 * size)


def per_velocity(march, speed, strips=slice(None)):
    """(half rho U c a length, strip rows) of strips of one lane, for a normal velocity of 1 m/s [N s/m]."""
    strip = march.strip[strips, :, 0]
    near = np.array([surface_factor(DEEP, chord) for chord in strip[:, L.S_CHORD]])
    slope = strip[:, L.S_SLOPE] * near
    return 0.5 * march.density * speed * strip[:, L.S_CHORD] * strip[:, L.S_LENGTH] * slope, strip


def test_heave_damping_is_that_of_all_strips_together():
    march, speed = foil_alone()
    force, strip = per_velocity(march, speed)
    expected = -np.sum(force * strip[:, L.S_NZ] ** 2)
    assert expected < -1e3
    assert change(march, speed, L.T_FZ, HEAVE_RATE=SMALL) == pytest.approx(expected, rel=2e-3)


def test_roll_damping_is_that_of_all_strips_with_their_arms_squared():
    march, speed = foil_alone()
    force, strip = per_velocity(march, speed)
    arm = strip[:, L.S_Z] * strip[:, L.S_NY] - strip[:, L.S_Y] * strip[:, L.S_NZ]
    expected = -np.sum(force * arm**2)
    assert change(march, speed, L.T_MROLL, ROLL_RATE=SMALL) == pytest.approx(expected, rel=5e-3)


def test_pitch_damping_is_that_of_all_strips_with_their_distance_squared():
    march, speed = foil_alone()
    force, strip = per_velocity(march, speed)
    expected = -np.sum(force * (strip[:, L.S_X] * strip[:, L.S_NZ]) ** 2)
    assert change(march, speed, L.T_MPITCH, PITCH_RATE=SMALL) == pytest.approx(expected, rel=5e-3)


def test_damping_grows_as_speed():
    march, speed = foil_alone()
    one, two = (change(march, u, L.T_FZ, HEAVE_RATE=SMALL) for u in (speed, 2.0 * speed))
    assert two == pytest.approx(2.0 * one, rel=2e-3)


def test_side_force_at_leeway_is_slope_times_angle():
    """Roll moment per radian of leeway: every strip's half rho U^2 c a, its lateral share, and its arm."""
    march, speed = foil_alone()
    force, strip = per_velocity(march, speed)
    arm = strip[:, L.S_Z] * strip[:, L.S_NY] - strip[:, L.S_Y] * strip[:, L.S_NZ]
    expected = -np.sum(force * speed * strip[:, L.S_NY] * arm)
    found = speed * change(march, speed, L.T_MROLL, SWAY=SMALL)
    assert found == pytest.approx(expected, rel=5e-3)


def test_sway_and_yaw_are_damped_by_all_strips_with_their_distance():
    """Side force and turning moment per sway and per turn: half rho U c a, the lateral share squared, and the distance.

    Turning moves a strip sideways by its distance ahead; one beside the centre of gravity it also slows down or speeds
    up, and with it its profile drag, twice as much as the speed.
    """
    march, speed = foil_alone()
    force, strip = per_velocity(march, speed)
    across, ahead = force * strip[:, L.S_NY] ** 2, strip[:, L.S_X]
    drag = march.density * speed * strip[:, L.S_CHORD] * strip[:, L.S_LENGTH] * strip[:, L.S_PROFILE]
    slowed = np.sum(drag * strip[:, L.S_Y] ** 2)
    moved = [{"SWAY": SMALL}, {"YAW_RATE": SMALL}]
    found = [[change(march, speed, row, **motion) for motion in moved] for row in (L.T_FY, L.T_MYAW)]
    both, turning = np.sum(across * ahead), np.sum(across * ahead**2) + slowed
    expected = -np.array([[across.sum(), both], [both, turning]])
    assert np.allclose(found, expected, rtol=2e-3)
    assert expected[0, 0] < -1e3 and expected[1, 1] < -1e4


def test_rudder_turns_the_bow_to_leeward_and_pushes_the_stern_to_windward():
    """Its slope times the angle, at its distance behind."""
    march, speed = foil_alone()
    rudder = slice(march.foil_strips + march.keel_span.shape[1], None)
    force, strip = per_velocity(march, speed, rudder)
    side = np.sum(force * speed * strip[:, L.S_NY])
    assert side < -1e4
    assert change(march, speed, L.T_FY, RUDDER=SMALL) == pytest.approx(side, rel=5e-3)
    assert change(march, speed, L.T_MYAW, RUDDER=SMALL) == pytest.approx(side * strip[0, L.S_X], rel=5e-3)
