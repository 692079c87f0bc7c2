"""Limits and laws of the spectra: energy, gamma = 1, steepness flag, deep water, buoy densities."""

import numpy as np
import pytest

from seaload.waves import bulk, ochi_hubble, spectra, spreading, torsethaugen
from seaload.waves.fetch_growth import fetch_limited_sea
from tests.oracles import dispersion
from tests.oracles.bulk import deep_enough
from tests.oracles.spectra import pierson_moskowitz, tma_factor
from tests.oracles.torsethaugen_2004 import torsethaugen_2004

OMEGA = np.geomspace(0.05, 400.0, 40001)


@pytest.mark.parametrize("gamma", [1.0, 1.7, 3.3, 7.0])
def test_jonswap_holds_the_asked_height_exactly(gamma):
    sea = bulk.bulk_sea(OMEGA, spectra.jonswap(OMEGA, 4.5, 11.0, gamma))
    assert sea.hs == pytest.approx(4.5, rel=1e-6)
    assert sea.tp == pytest.approx(11.0, rel=1e-3)


def test_gamma_one_is_bretschneider():
    one, other = spectra.jonswap(OMEGA, 2.0, 8.0, 1.0), spectra.bretschneider(OMEGA, 2.0, 8.0)
    assert np.allclose(one, other, rtol=1e-12)


def test_tma_in_deep_water_changes_nothing_and_in_shallow_water_takes_energy():
    omega = np.linspace(0.3, 3.0, 200)
    deep = tma_factor(dispersion.finite_wavenumber(omega, 2000.0), 2000.0)
    shallow = tma_factor(dispersion.finite_wavenumber(omega, 5.0), 5.0)
    assert deep == pytest.approx(np.ones(200), rel=1e-9)
    assert np.all((shallow > 0.0) & (shallow <= 1.0)) and shallow[0] < 0.2


@pytest.mark.parametrize(
    "density",
    [
        lambda w: spectra.bretschneider(w, 2.0, 8.0),
        lambda w: spectra.jonswap(w, 2.0, 8.0),
        lambda w: torsethaugen.torsethaugen_1996(w, 2.0, 8.0),
        lambda w: torsethaugen_2004(w, 2.0, 8.0),
        lambda w: ochi_hubble.ochi_hubble(w, 2.0),
        lambda w: pierson_moskowitz(w, 12.0),
    ],
)
def test_density_is_zero_at_zero_and_never_negative(density):
    with np.errstate(all="raise", under="ignore"):
        values = density(np.concatenate([[0.0, 1e-9, 1e-3], np.linspace(0.01, 50.0, 500)]))
    assert values[0] == 0.0 and np.all(values >= 0.0) and np.all(np.isfinite(values))


@pytest.mark.parametrize("hs, tp", [(1.0, 4.0), (3.0, 9.0), (6.0, 13.0), (8.0, 20.0)])
def test_two_peaked_spectra_hold_their_height(hs, tp):
    assert bulk.bulk_sea(OMEGA, torsethaugen.torsethaugen_1996(OMEGA, hs, tp)).hs == pytest.approx(
        hs, rel=0.006
    )
    assert bulk.bulk_sea(OMEGA, torsethaugen_2004(OMEGA, hs, tp)).hs == pytest.approx(
        hs, rel=0.02
    )


def test_steep_sea_is_flagged():
    steep = bulk.bulk_sea(OMEGA, spectra.jonswap(OMEGA, 4.2, 6.5))
    easy = bulk.bulk_sea(OMEGA, spectra.jonswap(OMEGA, 4.2, 9.0))
    assert steep.steep and not easy.steep
    assert steep.steepness == pytest.approx(4.2 / 65.9, rel=0.01)


def test_depth_under_half_the_peak_wavelength_is_not_deep():
    assert deep_enough(80.0, 10.0) and not deep_enough(75.0, 10.0)  # wavelength 156 m
    assert deep_enough(float("nan"), 10.0)


def test_directions_average_as_vectors():
    direction, r1 = bulk.mean_direction(np.radians([359.0, 1.0]), np.ones(2))
    assert direction == pytest.approx(0.0, abs=1e-12) and r1 == pytest.approx(np.cos(np.radians(1.0)))


def test_two_harmonic_density_stays_positive_and_whole():
    angle = np.linspace(0.0, 2.0 * np.pi, 720, endpoint=False)
    density = spreading.buoy_density(angle, 1.0, 1.0, 1.0, 1.0)
    assert density.min() >= 0.0
    assert density.mean() * 2.0 * np.pi == pytest.approx(1.0)


def test_tabulated_direction_inverts_a_known_density():
    direction = np.arange(360) * np.pi / 180.0 - np.pi
    quantile = np.linspace(0.01, 0.99, 99)
    found = spreading.tabulated_direction(direction, spreading.cos2s_density(direction, 10.0), quantile)
    assert found == pytest.approx(spreading.cos2s_direction(quantile, 10.0), abs=2e-4)


def test_wrong_words_are_refused():
    with pytest.raises(ValueError, match="normalisation"):
        spectra.jonswap(OMEGA, 2.0, 8.0, normalisation="rough")
    with pytest.raises(ValueError, match="gamma"):
        spectra.jonswap(OMEGA, 2.0, 8.0, 0.5)
    with pytest.raises(ValueError, match="family"):
        ochi_hubble.ochi_hubble(OMEGA, 2.0, 11)
    with pytest.raises(ValueError, match="fetch"):
        fetch_limited_sea(10.0, 1e5, "someone")
    with pytest.raises(ValueError, match="no energy"):
        bulk.bulk_sea(OMEGA, 0.0 * OMEGA)
    with pytest.raises(ValueError, match="above zero"):
        dispersion.finite_wavenumber(np.array([0.0, 1.0]), 10.0)


def test_a_buoys_two_harmonics_come_back_as_two_thirds_and_a_sixth():
    """Fourier amplitudes of the weighted series; weights from Longuet-Higgins, Cartwright & Smith 1963."""
    angle = 2.0 * np.pi * np.arange(360) / 360.0
    density = spreading.buoy_density(angle, 0.7, 0.6, 1.9, 0.4)
    turn = 2.0 * np.pi / 360.0
    assert turn * density.sum() == pytest.approx(1.0)
    assert turn * np.sum(density * np.cos(angle - 0.7)) == pytest.approx(2.0 / 3.0 * 0.6)
    assert turn * np.sum(density * np.cos(2.0 * (angle - 1.9))) == pytest.approx(0.4 / 6.0)


def test_even_directions_are_drawn_evenly_all_the_way_round():
    direction = 2.0 * np.pi * np.arange(36) / 36.0
    quantile = np.array([0.0, 0.3, 0.98, 0.995])
    found = spreading.tabulated_direction(direction, np.ones(36), quantile)
    assert found == pytest.approx(2.0 * np.pi * quantile)
