"""Gusts as a frozen field: its variance is the wind's, gusts last their length, and every draw is another."""

import numpy as np
import pytest

from seaload.waves.gusts import gust_deviations, gust_field, gust_length, gustiness, kaimal_spectrum


def test_area_of_the_spectrum_is_the_variance():
    rate = np.concatenate([[0.0], np.geomspace(1e-6, 1e7, 20001)])
    density = kaimal_spectrum(rate, 1.7, 50.0)
    assert np.trapezoid(density, rate) == pytest.approx(1.7**2, rel=1e-4)


def test_variance_of_a_realisation_is_the_variance_of_its_band():
    """What waves shorter than two spacings hold is (1 + 6 k L)^(-2/3) of it, by the integral in closed form."""
    scale, spacing, count = 50.0, 2.0, 2**15
    _, each = gust_deviations(count, spacing, 1.3, scale)
    fields = np.array([gust_field(np.random.default_rng(seed), each) for seed in range(40)])
    held = 1.0 - (1.0 + 6.0 * scale / (2.0 * spacing)) ** (-2.0 / 3.0)
    assert np.sum(each**2) == pytest.approx(1.3**2 * held, rel=0.005)
    assert np.mean(fields**2) == pytest.approx(1.3**2 * held, rel=0.02)
    assert np.abs(fields.mean(axis=1)).max() < 1e-12
    assert np.mean(fields**4) / np.mean(fields**2) ** 2 == pytest.approx(3.0, abs=0.1)  # Gaussian


def test_one_wave_alone_has_its_deviation_and_its_length():
    each = np.zeros(65)
    each[4] = 2.0
    fields = np.array([gust_field(np.random.default_rng(seed), each) for seed in range(2000)])
    assert np.mean(fields**2) == pytest.approx(4.0, rel=0.05)
    assert fields[0] == pytest.approx(np.roll(fields[0], 32), abs=1e-12)  # four waves in 128 places
    each[:] = 0.0
    each[-1] = 1.0  # half a band
    fields = np.array([gust_field(np.random.default_rng(seed), each) for seed in range(2000)])
    assert np.mean(fields**2) == pytest.approx(0.5, rel=0.08)


def test_gusts_are_longer_higher_up_and_stronger_in_more_wind():
    assert gust_length(20.0) == pytest.approx(2.0 * gust_length(10.0))
    assert gust_length(90.0) == gust_length(60.0)
    assert 0.08 < gustiness(5.0) < gustiness(15.0) < gustiness(25.0) < 0.12  # 8 to 12 % over open sea, from memory
