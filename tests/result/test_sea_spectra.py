"""The spectrum that the boats met, from the components: energy, shape to the last band, direction."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.result.sea_spectra import BAND, HIGHEST, asked_spectrum, frequency_bands, mean_from_bow, realised_spectrum


@pytest.fixture(scope="module")
def told(small_study):
    """(asked, realised, Hs of each realisation) of the first study's sea in full length and number of components."""
    sampling = replace(small_study.sampling, components=240, realisation_time=1200.0)
    sea = small_study.seas[0]
    return sea, asked_spectrum(sea), *realised_spectrum(sea, sampling, 8, {})


def test_energy_asked_and_met_is_that_of_the_height(told):
    sea, asked, met, heights = told
    assert 4.0 * np.sqrt(np.sum(asked) * BAND) == pytest.approx(sea.hs, rel=0.01)
    assert 4.0 * np.sqrt(np.sum(met) * BAND) == pytest.approx(sea.hs, rel=0.03)
    assert np.mean(heights) == pytest.approx(sea.hs, rel=0.03)


def test_short_waves_are_met_up_to_the_highest_frequency_told(told):
    """Sampled too seldom, waves past half the sampling frequency would fold back and leave the last bands empty."""
    sea, asked, met, _ = told
    middles = frequency_bands()
    last = min(HIGHEST, sea.systems[0].omega[-1] / (2.0 * np.pi))
    short = (middles > 0.5) & (middles < last - BAND)
    assert short.sum() >= 5
    assert np.sum(met[short]) == pytest.approx(np.sum(asked[short]), rel=0.5)


def test_waves_come_from_where_the_study_says(told):
    assert np.degrees(mean_from_bow(told[0])) == pytest.approx(45.0, abs=1.0)


def test_as_many_realisations_are_told_as_were_simulated(small_run, small_study):
    assert small_run.dataset.sizes["realisation"] == small_study.sampling.realisations
    assert np.all(np.isfinite(small_run.dataset["load_ratio_max"].values))
