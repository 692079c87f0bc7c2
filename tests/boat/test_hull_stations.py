"""Stations of a hull form: plan area kept, relief sums to one, damping fades, heel narrows."""


import numpy as np
import pytest

from seaload.boat.hull_stations import hull_stations, planing_share, radiation_damping, transom_relief
from tests.boat.invented_hull import FORM


@pytest.mark.parametrize("count", [12, 24, 60])
def test_relief_and_beam_do_not_depend_on_the_number_of_stations(count):
    form = FORM._replace(stations=count)
    s = hull_stations(form, 0.3, 10.0, 2.0, 0.45)
    assert np.sum(s.relief_slope * s.dx) == pytest.approx(1.0, abs=1e-9)
    fine = hull_stations(FORM._replace(stations=600), 0.3, 10.0, 2.0, 0.45)
    assert np.sum(s.half_beam * s.dx) == pytest.approx(np.sum(fine.half_beam * fine.dx), rel=2e-3)
    assert np.sum(s.transom_relief * s.dx) == pytest.approx(np.sum(fine.transom_relief * fine.dx), rel=1e-3)
    assert all(np.all(np.isfinite(column)) for column in s)


def test_keel_slope_is_the_slope_of_the_keel():
    s = hull_stations(FORM._replace(stations=900), 0.0, 8.0, 2.0, 0.4)
    assert np.allclose(np.gradient(s.keel_rise, s.x)[2:-2], s.keel_slope[2:-2], atol=2e-3)


def test_heel_narrows_and_deepens_the_stand_in_section():
    flat, heeled = (hull_stations(FORM, heel, 8.0, 2.0, 0.4) for heel in (0.0, 0.3))
    assert np.all(heeled.half_beam < flat.half_beam)
    assert np.all(heeled.inverse_chine_height < flat.inverse_chine_height)


def test_transom_relief_goes_from_open_air_to_whole_pressure():
    tau, slope = transom_relief(np.array([0.0, 50.0]), 4.0, 10.0)
    assert tau[0] == 0.0 and tau[1] == pytest.approx(1.0)
    assert slope[0] > 0.0 and slope[1] == pytest.approx(0.0)


def test_planing_share_runs_from_floating_to_planing():
    assert planing_share(0.0, 17.5) == 0.0 and planing_share(20.0, 17.5) == 1.0
    assert 0.0 < planing_share(8.0, 17.5) < 1.0


def test_wave_damping_vanishes_at_both_ends_of_frequency_and_never_turns_negative():
    omega = np.array([0.05, 0.5, 2.0, 5.0, 20.0])
    damping = np.array([radiation_damping(1.5, 0.2, w) for w in omega])
    assert np.all(damping >= 0.0)
    # towards zero frequency k b -> 0 and the damping goes as 4 rho b^2 omega
    assert damping[0] == pytest.approx(4.0 * 1025.0 * 1.5**2 * 0.05, rel=0.01)
    assert damping[-1] < 0.02 * damping.max()
