"""Laws of the chosen components: energy, shares, directions, independence of heading and realisation."""

from pathlib import Path

import numpy as np
import pytest

from seaload.basis.random_streams import random_stream
from seaload.files.sea_ndbc import ndbc_table
from seaload.waves import spectra
from seaload.waves.components import (
    LEAST_COUNT,
    bin_edges,
    choose_components,
    cumulative_energy,
    direction_widths,
    kept_band,
    random_phases,
    rayleigh_swings,
    share_out,
)
from seaload.waves.spreading import cos2s_density
from tests.oracles.directional_components import choose_directional_components
from tests.oracles.spreading import first_amplitude_from_s

DATA = Path(__file__).parent.parent / "published" / "data"
OMEGA = spectra.frequency_table(2.0 * np.pi / 9.0)
WIND_SEA = spectra.jonswap(OMEGA, 3.0, 9.0)
SWELL_OMEGA = spectra.frequency_table(2.0 * np.pi / 14.0)
SWELL = spectra.jonswap(SWELL_OMEGA, 1.5, 14.0, 5.0)


def stream(realisation=0, purpose="components", name="a sea"):
    return random_stream(7, name, realisation, purpose)


def kept_energy(omega, density):
    band = cumulative_energy(omega, density, np.array(kept_band(omega, density)))
    return band[1] - band[0]


def test_cumulative_energy_is_exact_for_a_straight_line():
    omega, density = np.array([1.0, 2.0, 4.0]), np.array([0.0, 3.0, 3.0])
    assert cumulative_energy(omega, density, [1.0, 1.5, 2.0, 3.0, 4.0, 9.0]) == pytest.approx(
        [0.0, 0.375, 1.5, 4.5, 7.5, 7.5]
    )
    # integral of 3 (w - 1) w^2 from 1 to 2 = 3 (15/4 - 7/3)
    assert cumulative_energy(omega, density, [2.0], power=2)[0] == pytest.approx(
        3.0 * (15.0 / 4.0 - 7.0 / 3.0)
    )


def test_tabulated_spectrum_holds_its_energy():
    # of a sea cut at 3.6 rad/s, 1.25 (wp/w)^4 is left out by the cut itself
    beyond = 1.25 * 0.6558 * (OMEGA[0] / 0.35 / OMEGA[-1]) ** 4
    assert cumulative_energy(OMEGA, WIND_SEA, OMEGA[-1:])[0] * 16.0 / 9.0 == pytest.approx(
        1.0 - beyond, abs=3e-4
    )


@pytest.mark.parametrize("count", [48, 240, 960])
def test_energy_of_the_components_is_that_of_the_kept_band(count):
    systems = [(OMEGA, WIND_SEA, 2.4, 10.0), (SWELL_OMEGA, SWELL, 0.7, 25.0)]
    chosen = choose_components(systems, count, stream())
    expected = kept_energy(OMEGA, WIND_SEA) + kept_energy(SWELL_OMEGA, SWELL)
    assert len(chosen.omega) == count
    assert np.sum(chosen.amplitude**2) / 2.0 == pytest.approx(expected, rel=1e-12)
    whole = (
        cumulative_energy(OMEGA, WIND_SEA, OMEGA[-1:])[0] + cumulative_energy(SWELL_OMEGA, SWELL, [9.0])[0]
    )
    assert expected == pytest.approx(whole, rel=3e-5)


def test_bins_follow_each_other_and_none_is_wide():
    edges = bin_edges(OMEGA, WIND_SEA, 240)
    assert np.all(np.diff(edges) > 0.0)
    assert (
        np.diff(edges).max() < (edges[-1] - edges[0]) / (0.25 * 240) * 1.001
    )  # the even quarter sees to that
    chosen = choose_components([(OMEGA, WIND_SEA, 0.0, 10.0)], 240, stream())
    assert np.all((chosen.omega > edges[:-1]) & (chosen.omega < edges[1:]))


def test_slope_energy_is_that_of_the_spectrum():
    chosen = choose_components([(OMEGA, WIND_SEA, 2.4, 10.0)], 240, stream())
    m2 = cumulative_energy(OMEGA, WIND_SEA, OMEGA[-1:], power=2)[0]
    assert np.sum(chosen.amplitude**2 * chosen.omega**2) / 2.0 == pytest.approx(m2, rel=0.005)


def test_heading_turns_the_sea_and_changes_nothing_else():
    one = choose_components([(OMEGA, WIND_SEA, 0.3, 10.0)], 120, stream())
    other = choose_components([(OMEGA, WIND_SEA, 2.9, 10.0)], 120, stream())
    assert np.array_equal(one.omega, other.omega)
    assert np.array_equal(one.amplitude, other.amplitude)
    assert np.allclose(other.direction - one.direction, 2.6, atol=1e-12)


def test_same_stream_same_components_and_another_sea_differs():
    systems = [(OMEGA, WIND_SEA, 0.3, 10.0)]
    one, again = (choose_components(systems, 120, stream()) for _ in range(2))
    other = choose_components(systems, 120, stream(name="another sea"))
    assert all(np.array_equal(a, b) for a, b in zip(one, again, strict=True))
    assert not np.array_equal(one.omega, other.omega)


def test_realisations_differ_by_phase_only():
    first = random_phases(stream(0, "phases"), 240)
    second = random_phases(stream(1, "phases"), 240)
    assert np.array_equal(first, random_phases(stream(0, "phases"), 240))
    assert not np.any(first == second)
    assert first.min() >= 0.0 and first.max() < 2.0 * np.pi
    assert abs(np.mean(np.exp(1j * first))) < 3.0 / np.sqrt(240)


@pytest.mark.parametrize("s", [2.0, 10.0, 75.0])
def test_directions_have_the_mean_and_width_of_the_spreading(s):
    r1 = first_amplitude_from_s(s)
    found = []
    for sea in range(10):
        chosen = choose_components([(OMEGA, WIND_SEA, 2.0, s)], 240, stream(name=f"sea {sea}"))
        weight = chosen.amplitude**2 / np.sum(chosen.amplitude**2)
        found.append(np.sum(weight * np.exp(1j * (chosen.direction - 2.0))))
    width = np.sqrt(2.0 * (1.0 - r1))
    assert np.max(np.abs(np.abs(found) - r1)) < 0.02 * width  # of each single sea
    assert np.max(np.abs(np.angle(found))) < 0.06 * width


def test_neighbouring_frequencies_do_not_share_a_direction():
    chosen = choose_components([(OMEGA, WIND_SEA, 0.0, 10.0)], 240, stream())
    assert np.median(np.abs(np.diff(chosen.direction))) > 0.2


def test_long_crested_sea_has_one_direction():
    chosen = choose_components([(OMEGA, WIND_SEA, 1.1, np.inf)], 60, stream())
    assert np.all(chosen.direction == 1.1)


def test_small_system_gets_its_least_share():
    shares = share_out([0.999, 0.001], 240)
    assert shares.sum() == 240 and shares.min() >= LEAST_COUNT
    with pytest.raises(ValueError, match="at least 48 components"):
        share_out([0.5, 0.5], 47)


def test_empty_spectrum_is_refused():
    with pytest.raises(ValueError, match="no energy"):
        choose_components([(OMEGA, 0.0 * OMEGA, 0.0, 10.0)], 60, stream())


def test_random_amplitudes_keep_the_mean_energy():
    chosen = choose_components([(OMEGA, WIND_SEA, 0.0, 10.0)], 240, stream())
    draws = np.array([rayleigh_swings(stream(i, "amplitudes"), 240) for i in range(200)])
    energy = (draws**2) @ chosen.amplitude**2 / np.sum(chosen.amplitude**2)
    assert abs(energy.mean() - 1.0) < 3.5 * energy.std() / np.sqrt(200)
    assert energy.std() > 0.05  # the scatter of a finite Gaussian record comes back
    assert draws.mean() == pytest.approx(np.sqrt(np.pi) / 2.0, abs=0.01)  # mean of a Rayleigh variable, any text


def grid(mean):
    return np.mod(mean + np.arange(72) * (2.0 * np.pi / 72), 2.0 * np.pi)


def directional(direction, mean, s):
    spread = cos2s_density(direction - mean, s)
    spread /= np.sum(spread * direction_widths(direction))
    return WIND_SEA[:, None] * spread[None, :]


def test_directional_spectrum_gives_its_energy_and_directions():
    direction = grid(0.0)
    chosen = choose_directional_components(OMEGA, direction, directional(direction, 4.0, 10.0), 240, stream())
    assert np.sum(chosen.amplitude**2) / 2.0 == pytest.approx(kept_energy(OMEGA, WIND_SEA), rel=1e-12)
    weight = chosen.amplitude**2 / np.sum(chosen.amplitude**2)
    vector = np.sum(weight * np.exp(1j * (chosen.direction - 4.0)))
    assert abs(np.angle(vector)) < 0.03
    assert abs(abs(vector) - first_amplitude_from_s(10.0)) < 0.01


def test_directional_sea_turns_with_the_heading_and_keeps_its_components():
    direction = grid(0.0)
    density = directional(direction, 4.0, 10.0)
    one = choose_directional_components(OMEGA, direction, density, 120, stream())
    turned = choose_directional_components(OMEGA, direction - 1.3, density, 120, stream())
    mirrored = choose_directional_components(OMEGA, -direction, density, 120, stream())
    assert np.array_equal(one.omega, turned.omega)
    assert np.allclose(one.direction - turned.direction, 1.3, atol=1e-9)
    assert np.allclose(np.exp(1j * one.direction), np.exp(-1j * mirrored.direction), atol=1e-9)


def test_crossing_seas_keep_both_directions_at_their_own_frequencies():
    direction = grid(0.0)
    low = OMEGA < 0.8
    spread = np.where(
        low[:, None], cos2s_density(direction - 1.0, 50.0), cos2s_density(direction - 4.0, 50.0)
    )
    chosen = choose_directional_components(OMEGA, direction, WIND_SEA[:, None] * spread, 240, stream())
    for slow, mean in ((True, 1.0), (False, 4.0)):
        picked = (chosen.omega < 0.795) if slow else (chosen.omega > 0.805)
        away = np.angle(np.exp(1j * (chosen.direction[picked] - mean)))
        assert np.abs(away).max() < 1.0 and abs(away.mean()) < 0.05


def test_two_dimensional_record_beside_a_plain_swell():
    direction = grid(0.0)
    bands = directional(direction, 4.0, 10.0)
    plain = (SWELL_OMEGA, SWELL, 1.0, 75.0, None, None)
    record = (OMEGA, WIND_SEA, 0.0, 10.0, direction, bands)  # the mean is not used: the bands decide
    chosen = choose_components([record, plain], 240, stream())
    single = choose_components([record], 240, stream())
    alone = choose_directional_components(OMEGA, direction, bands, 240, stream())
    assert single.direction == pytest.approx(alone.direction) and single.omega == pytest.approx(alone.omega)
    count = share_out(shares_of(record, plain), 240)[0]
    for part, mean in ((slice(0, count), 4.0), (slice(count, None), 1.0)):
        weight = chosen.amplitude[part] ** 2
        assert abs(np.angle(np.sum(weight * np.exp(1j * (chosen.direction[part] - mean))))) < 0.05


def shares_of(*systems):
    energy = np.array(
        [[cumulative_energy(w, density, w[-1:], n)[0] for n in (0, 2)] for w, density, *_ in systems]
    )
    return np.mean(energy / energy.sum(axis=0), axis=1)


def test_directions_that_do_not_go_round_are_refused():
    direction = np.linspace(0.0, 3.0, 30)
    with pytest.raises(ValueError, match="round the circle"):
        choose_directional_components(OMEGA, direction, np.ones((len(OMEGA), 30)), 60, stream())


def test_measured_storm_with_its_tail_becomes_components():
    """Every hour of a real storm, print resolution and empty bands included."""
    frequency, times, values = ndbc_table(DATA / "sea_ndbc_46042_1996_storm_w.txt")
    for hour in range(0, len(times), 6):
        omega, density = spectra.tail_extension(2.0 * np.pi * frequency, values[hour] / (2.0 * np.pi))
        chosen = choose_components([(omega, density, 2.0, 10.0)], 240, stream(name=str(times[hour])))
        whole = cumulative_energy(omega, density, omega[-1:])[0]
        assert np.sum(chosen.amplitude**2) / 2.0 == pytest.approx(whole, rel=2e-3)
        assert np.all(np.isfinite(chosen.direction)) and np.all(np.diff(chosen.omega) > 0.0)


def test_tail_extends_a_buoy_record_and_leaves_it_alone_otherwise():
    measured = np.arange(0.2, 2.5, 0.063)
    density = spectra.bretschneider(measured, 3.0, 8.0)
    omega, longer = spectra.tail_extension(measured, density)
    assert omega[-1] == pytest.approx(3.6) and np.all(np.diff(omega) > 0.0)
    assert np.array_equal(longer[: len(measured)], density)
    assert longer[-1] == pytest.approx(spectra.bretschneider(omega[-1:], 3.0, 8.0)[0], rel=0.02)
    slower = spectra.tail_extension(measured, density, power="omega^-4")[1]
    assert slower[-1] > longer[-1]
    assert np.array_equal(spectra.tail_extension(measured, density, power="none")[0], measured)
    assert np.array_equal(spectra.tail_extension(measured, density, highest=2.0)[0], measured)
    with pytest.raises(ValueError, match="tail must be"):
        spectra.tail_extension(measured, density, power="omega^-3")


def test_waves_between_two_rows_of_a_record_come_from_either():
    """Lowest row all from one side, the next from the other: below the second row both sides are met, above it one."""
    omega, direction = np.array([0.4, 0.8, 1.2]), np.radians(np.arange(0.0, 360.0, 10.0))
    bands = np.zeros((3, 36))
    bands[0, 9], bands[1:, 27] = 1.0, 1.0
    chosen = choose_directional_components(omega, direction, bands, 400, stream())
    first_side = np.sin(chosen.direction) > 0.0
    low = chosen.omega < 0.8
    half_way = low & (np.abs(chosen.omega - 0.6) < 0.05)
    assert np.mean(first_side[half_way]) == pytest.approx(0.5, abs=0.2)
    assert np.mean(first_side[chosen.omega < 0.45]) > 0.8 and not np.any(first_side[~low])
