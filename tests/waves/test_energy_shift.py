"""More or less energy in the tail or the wind sea, over the same draws."""

import numpy as np
import pytest

from seaload.basis.random_streams import random_stream
from seaload.simulation.model_options import model_factors
from seaload.simulation.sea_table import sea_components
from seaload.waves import spectra
from seaload.waves.components import choose_components
from seaload.waves.energy_shift import TAIL_STARTS, energy_factors, in_tail, in_wind_sea

PEAKS = 2.0 * np.pi / np.array([12.0, 6.0])


def components(*systems):
    """240 components of JONSWAP systems (hs [m], tp [s])."""
    parts = []
    for hs, tp in systems:
        omega = spectra.frequency_table(2.0 * np.pi / tp)
        parts.append((omega, spectra.jonswap(omega, hs, tp), 2.0, 10.0))
    return choose_components(parts, 240, random_stream(1, "a sea", 0, "components"))


def share(found, factors, part):
    """Share of the energy in a part."""
    energy = found.amplitude**2 * factors
    return energy[part].sum() / energy.sum()


def test_nothing_asked_for_changes_no_bit():
    assert np.array_equal(energy_factors(components((2.5, 12.0)), PEAKS[:1], 1.0, 1.0), np.ones(240))


@pytest.mark.parametrize("factor", [0.4, 1.3, 3.0])
def test_the_ratio_of_wind_sea_to_swell_is_multiplied_and_the_height_stays(factor):
    found = components((2.5, 12.0), (1.8, 6.0))
    young = in_wind_sea(found.omega, found.system, PEAKS)
    assert np.array_equal(young, found.system == 1)
    factors, before = energy_factors(found, PEAKS, 1.0, factor), share(found, np.ones(240), young)
    after = share(found, factors, young)
    assert after / (1.0 - after) == pytest.approx(factor * before / (1.0 - before), rel=1e-12)
    assert factors @ found.amplitude**2 == pytest.approx(found.amplitude @ found.amplitude, rel=1e-12)


def test_without_a_partition_the_wind_sea_is_what_lies_above_twice_the_peak():
    found = components((4.0, 12.0))
    assert np.array_equal(in_wind_sea(found.omega, found.system, PEAKS[:1]), found.omega > 2.0 * PEAKS[0])


def test_the_tail_starts_at_a_quarter_hertz_and_in_short_seas_above_twice_the_peak():
    assert TAIL_STARTS / (2.0 * np.pi) == 0.25
    omega = np.array([1.5, 1.7, 2.0, 2.2])
    assert list(in_tail(omega, np.zeros(4, dtype=int), PEAKS)) == [False, True, True, True]
    assert list(in_tail(omega, np.ones(4, dtype=int), PEAKS)) == [False, False, False, True]


def test_more_tail_is_added_to_the_sea():
    found = components((4.0, 11.0))
    peaks = PEAKS[:1] * 12.0 / 11.0
    tail = in_tail(found.omega, found.system, peaks)
    factors = energy_factors(found, peaks, 1.5, 1.0)
    assert np.array_equal(factors, np.where(tail, 1.5, 1.0))
    assert 0.005 < share(found, np.ones(240), tail) < 0.06  # small in energy, of a storm's swell


def test_both_together_are_the_two_one_after_the_other():
    found = components((2.5, 12.0), (1.8, 6.0))
    both = energy_factors(found, PEAKS, 1.4, 0.7)
    assert both == pytest.approx(energy_factors(found, PEAKS, 1.4, 1.0) * energy_factors(found, PEAKS, 1.0, 0.7))


def test_the_model_numbers_reach_the_sea_and_move_nothing_but_amplitudes(small_study):
    sea = small_study.seas[0]
    plain = sea_components(sea, 1, 60, model_factors())
    for name in ("tail_factor", "wind_sea_factor"):
        other = sea_components(sea, 1, 60, {**model_factors(), name: 1.5})
        assert np.array_equal(other.omega, plain.omega) and np.array_equal(other.direction, plain.direction)
        assert not np.array_equal(other.amplitude, plain.amplitude)
