"""Weights of anchors fitted to a sea: what they must do whatever the sea, and what the fit is for."""

import numpy as np
import pytest

from seaload.simulation.layout import LANES
from seaload.simulation.wave_weights import NODES, clock_of, hermite_weights, weights_at
from seaload.waves.components import Components

SPAN = 0.12  # [s]
SHARES = np.arange(1, 13) / 12.0


def sea(*omegas, amplitude=1.0):
    """Waves from ahead of these frequencies [rad/s], as high as a tail has them (Phillips 1958: amplitude of band)."""
    omega = np.array(omegas)
    return Components(
        omega, omega**2 / 9.80665, amplitude * omega**-2.5, np.full(len(omega), np.pi)
    )  # fmt: skip


def missed(weights, turn):
    """Most that a wave of `turn` [rad] a span is missed by [-]."""
    value = np.exp(1j * turn * NODES)
    rows = np.concatenate([value, 1j * turn / SPAN * value])
    return np.abs(rows @ weights - np.exp(1j * turn * SHARES)).max()


def test_hermite_weights_are_exact_for_polynomials_of_degree_five():
    value, rate = hermite_weights(SHARES)
    for degree in range(6):
        parts = np.concatenate([NODES**degree, degree * NODES ** max(degree - 1, 0)])
        assert parts @ value == pytest.approx(SHARES**degree, abs=1e-12)
        assert parts @ rate == pytest.approx(degree * SHARES ** max(degree - 1, 0), abs=1e-12)


def test_the_next_anchor_is_met_as_it_is():
    value, _ = weights_at(sea(*np.linspace(0.4, 3.5, 40)), 10.0, SPAN, SHARES)
    assert value[:, -1] == pytest.approx([0.0, 0.0, 1.0, 0.0, 0.0, 0.0], abs=1e-6)


def test_short_waves_are_missed_less_than_by_the_quintic_and_long_ones_hardly():
    """Slopes of a sea met ahead at ten metres a second: what the fit is for."""
    components, speed = sea(*np.linspace(0.4, 3.5, 40)), 10.0
    value, _ = weights_at(components, speed, SPAN, SHARES)
    plain, _ = hermite_weights(SHARES)
    plain = plain * np.repeat([1.0, SPAN], 3)[:, None]
    turns = SPAN * (components.omega + components.wavenumber * speed)
    assert missed(value, turns[-1]) < 0.3 * missed(plain, turns[-1])
    assert missed(value, turns[0]) < 1e-3 and missed(value, 0.0) < 1e-3


def test_a_single_swell_keeps_the_weights_near_the_quintic():
    """A sea that says little of how weights should be must not throw them about: rounding would grow with them."""
    value, rate = weights_at(sea(0.5), 0.0, SPAN, SHARES)
    plain, slopes = hermite_weights(SHARES)
    times = np.repeat([1.0, SPAN], 3)[:, None]
    assert value == pytest.approx(plain * times, abs=1e-3) and rate * SPAN == pytest.approx(slopes * times, abs=1e-2)


def test_a_lane_has_the_weights_of_its_own_speed_alone():
    components = sea(*np.linspace(0.4, 3.5, 20))
    speeds = np.linspace(4.0, 15.0, LANES)
    mixed = clock_of(components, speeds, 0.02, 6, 10.0).blend.reshape(6, -1, LANES)
    for lane in (0, 7, LANES - 1):
        alone = clock_of(components, np.full(LANES, speeds[lane]), 0.02, 6, 10.0).blend.reshape(6, -1, LANES)
        assert mixed[..., lane].tobytes() == alone[..., 0].tobytes() == alone[..., -1].tobytes()
