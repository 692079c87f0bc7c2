"""Sails in a wind that changes: pressure of the apparent wind, none without true wind, lasting gusts trimmed away."""

import numpy as np
import pytest

from seaload.boat.sail_wind import apparent_wind, eased_by_trim, sail_admittance, sail_pull

ABEAM, QUARTER, ASTERN = np.pi / 2.0, np.radians(135.0), np.pi


def pull(change, wind, angle, speed):
    return float(sail_pull(np.array([change]), wind, angle, speed)[0])


def test_apparent_wind_is_the_sum_of_both():
    ahead, across = apparent_wind(4.0, ABEAM, 3.0)
    assert np.hypot(ahead, across) == pytest.approx(5.0)  # three, four, five
    assert apparent_wind(10.0, ASTERN, 4.0) == pytest.approx((-6.0, 0.0), abs=1e-12)


@pytest.mark.parametrize("angle", [0.5, ABEAM, QUARTER, ASTERN])
@pytest.mark.parametrize("speed", [0.0, 5.0, 12.0])
def test_in_the_mean_wind_the_pull_is_one_and_more_wind_pulls_more(angle, speed):
    assert pull(0.0, 13.0, angle, speed) == pytest.approx(1.0)
    pulls = sail_pull(np.linspace(-13.0, 26.0, 40), 13.0, angle, speed)
    assert np.all(pulls >= 0.0)
    if angle < ASTERN:
        assert np.all(np.diff(pulls) >= 0.0)


def test_at_anchor_the_pull_is_the_wind_speed_squared():
    assert pull(3.0, 10.0, 1.0, 0.0) == pytest.approx(1.69)
    assert pull(-3.0, 10.0, 1.0, 0.0) == pytest.approx(0.49)


def test_a_boat_under_way_feels_less_of_a_gust():
    """Wind 4 abeam, boat 3: pressure 25. Wind 8: 64 + 9, from further aft. Wind 2: 4 + 9, from further ahead."""
    assert pull(4.0, 4.0, ABEAM, 3.0) == pytest.approx(73.0 / 25.0)
    lost = np.arctan2(2.0, 3.0) / np.arctan2(4.0, 3.0)
    assert pull(-2.0, 4.0, ABEAM, 3.0) == pytest.approx(13.0 / 25.0 * lost)
    assert pull(4.0, 4.0, ABEAM, 3.0) < pull(4.0, 4.0, ABEAM, 0.0)


def test_without_true_wind_there_is_no_pull():
    assert pull(-12.0, 12.0, ABEAM, 10.0) == 0.0
    assert pull(-99.0, 12.0, ABEAM, 10.0) == 0.0
    assert pull(-12.0, 12.0, ASTERN, 6.0) == pytest.approx(0.0, abs=1e-12)


def test_running_as_fast_as_the_wind_gives_numbers():
    pulls = sail_pull(np.array([-1.0, 0.0, 1.0]), 10.0, ASTERN, 10.0)
    assert np.all(np.isfinite(pulls)) and pulls[1] == 1.0 and pulls[2] > 1.0
    assert np.isfinite(sail_pull(np.zeros(1), 0.0, 0.0, 0.0)).all()


def test_sails_feel_long_gusts_whole_and_short_ones_not():
    felt = sail_admittance(np.array([0.0, 1e-4, 1.0 / 20.0, 1.0]), 10.0)
    assert felt[0] == 1.0 and felt[1] > 0.99 and felt[2] == pytest.approx(0.5) and felt[3] < 0.02
    assert np.all(np.diff(felt) < 0.0)


def test_a_lasting_change_is_trimmed_to_37_per_cent_in_the_time_of_trim():
    step = np.concatenate([np.ones(1), np.full(400, 1.5)])
    left = eased_by_trim(step, 0.5, 40.0)
    assert left[1] == pytest.approx(1.5)
    assert left[81] == pytest.approx(1.0 + 0.5 * np.exp(-1.0), rel=1e-9)
    assert left[-1] == pytest.approx(1.0, abs=0.01)
    lull = eased_by_trim(2.0 - step, 0.5, 40.0)
    assert lull - 1.0 == pytest.approx(1.0 - left)  # in lulls as in gusts


def test_a_crew_that_never_trims_leaves_all_and_no_trim_pushes_backwards():
    pulls = 1.0 + np.sin(np.linspace(0.0, 9.0, 200))
    assert eased_by_trim(pulls, 0.2, np.inf) == pytest.approx(pulls)
    long_gust = np.concatenate([np.full(1000, 1.9), np.zeros(5)])
    assert np.all(eased_by_trim(long_gust, 1.0, 30.0) >= 0.0)


def test_quick_gusts_pass_the_crew_by():
    time = 0.1 * np.arange(4000)
    quick, slow = (1.0 + 0.2 * np.sin(2.0 * np.pi * time / period) for period in (5.0, 200.0))
    half = len(time) // 2
    assert np.std(eased_by_trim(quick, 0.1, 20.0)[half:]) > 0.95 * np.std(quick[half:])
    turn = 2.0 * np.pi * 20.0 / 200.0  # first-order high pass: w T/sqrt(1 + (w T)^2)
    left = np.std(eased_by_trim(slow, 0.1, 20.0)[half:]) / np.std(slow[half:])
    assert left == pytest.approx(turn / np.hypot(1.0, turn), rel=0.02)
