"""The coupon diagram: it falls with load, ends at the static strengths, and the worse face counts."""

import numpy as np

from seaload.fatigue.measured_life import (
    COMPRESSION_STRENGTH,
    LONGEST_LOG_LIFE,
    TENSION_STRENGTH,
    measured_damage,
    measured_log_life,
)


def test_life_falls_with_amplitude_at_every_mean():
    means = np.linspace(-900.0, 1400.0, 24)[:, None]
    lives = measured_log_life(np.linspace(1.0, 1200.0, 60)[None, :], means)
    assert np.all(np.diff(lives, axis=1) <= 1e-9)


def test_static_strength_ends_it():
    assert measured_log_life(1.0, TENSION_STRENGTH + 1.0) == 0.0
    assert measured_log_life(1.0, -COMPRESSION_STRENGTH - 1.0) == 0.0
    assert measured_log_life(1500.0, 0.0) == 0.0


def test_a_small_cycle_costs_nothing():
    assert measured_log_life(1.0, 200.0) > LONGEST_LOG_LIFE - 1e-6
    assert measured_damage([2.0], [200.0], [1e6], 1.0) == 0.0


def test_the_face_in_compression_can_be_the_worse_one():
    """Range 600 about a mean of +700 MPa: nothing much in tension, but the opposite face reaches -1000 MPa."""
    in_tension = 10.0 ** -measured_log_life(300.0, 700.0)
    in_compression = 10.0 ** -measured_log_life(300.0, -700.0)
    assert in_compression > 1e3 * in_tension
    assert measured_damage([600.0], [700.0], [2.0], 1.0) == 2.0 * in_compression
    assert measured_damage([600.0], [-700.0], [2.0], 1.0) == 2.0 * in_compression
