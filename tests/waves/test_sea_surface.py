"""Laws of the realised sea: variance, shape, crossings, crests, no repeat, what a moving point meets."""

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.random_streams import random_stream
from seaload.waves import spectra
from seaload.waves.bulk import spectral_moment
from seaload.waves.components import Components, choose_components, random_phases
from tests.oracles import direct_sum
from tests.oracles.sea_statistics import crest_exceedance, upcrossing_rate

OMEGA = spectra.frequency_table(2.0 * np.pi / 8.0)
DENSITY = spectra.jonswap(OMEGA, 3.0, 8.0)
M0 = spectral_moment(OMEGA, DENSITY, 0)
M2 = spectral_moment(OMEGA, DENSITY, 2)
TIME = np.arange(0.0, 1200.0, 0.25)  # Tz/25, one record
RECORDS = 36


def sea(count=240, name="open water"):
    systems = [(OMEGA, DENSITY, 2.4, 10.0)]
    return choose_components(systems, count, random_stream(3, name, 0, "components"))


def phases(realisation, count=240, name="open water"):
    return random_phases(random_stream(3, name, realisation, "phases"), count)


@pytest.fixture(scope="module")
def records():
    """Elevation (RECORDS, time) at a fixed point, by one matrix product for speed."""
    chosen = sea()
    turn = np.exp(-1j * np.outer(chosen.omega, TIME))
    drawn = np.array([phases(i) for i in range(RECORDS)])
    rows = (chosen.amplitude * np.exp(1j * drawn)) @ turn
    assert rows[0, :50].real == pytest.approx(direct_sum.elevation(chosen, drawn[0], 0.0, 0.0, TIME[:50]))
    return rows.real


def within_sampling(values, expected):
    """Mean of independent values against an expectation, 3.5 standard errors."""
    values = np.asarray(values, dtype=float)
    return abs(values.mean() - expected) < 3.5 * values.std(ddof=1) / np.sqrt(len(values))


def test_variance_is_m0(records):
    assert within_sampling(np.mean(records**2, axis=1), M0)
    assert np.mean(records**2) == pytest.approx(M0, rel=0.04)
    assert within_sampling(np.mean(records, axis=1), 0.0)


def test_surface_is_gaussian(records):
    scaled = records / np.sqrt(M0)
    assert within_sampling(np.mean(scaled**3, axis=1), 0.0)  # skewness
    assert within_sampling(np.mean(scaled**4, axis=1), 3.0)  # kurtosis


def test_upcrossing_rate_is_rices(records):
    for level in (0.0, 1.0, 2.0):
        above = records > level * np.sqrt(M0)
        counts = np.sum(~above[:, :-1] & above[:, 1:], axis=1)
        expected = upcrossing_rate(level * np.sqrt(M0), M0, M2) * TIME[-1]
        assert within_sampling(counts, expected)
        assert counts.mean() == pytest.approx(expected, rel=0.08)


def test_crests_between_crossings_are_rayleigh(records):
    """Within the known narrow-band error: Rayleigh is an upper bound that high crests approach."""
    crests = []
    for row in records:
        starts = np.flatnonzero((row[:-1] <= 0.0) & (row[1:] > 0.0))
        crests += [row[a : b + 1].max() for a, b in zip(starts[:-1], starts[1:], strict=True)]
    crests = np.array(crests)
    for level in (1.0, 2.0, 2.5):
        share = np.mean(crests > level * np.sqrt(M0))
        expected = crest_exceedance(level * np.sqrt(M0), M0)
        error = np.sqrt(expected / len(crests)) * 1.5  # crests come in groups
        assert expected * 0.85 - 3.0 * error < share < expected + 3.0 * error


def test_record_does_not_repeat():
    """Correlation of the sea with itself stays low at every shift within a record of 23 minutes."""
    chosen = sea()
    shift = np.arange(60.0, 1400.0, 0.5)
    correlation = np.cos(np.outer(shift, chosen.omega)) @ chosen.amplitude**2 / np.sum(chosen.amplitude**2)
    assert np.abs(correlation).max() < 0.4
    even = np.arange(0.35, 3.6, 0.0136)  # equally spaced, for contrast: repeats after 462 s
    density = np.interp(even, OMEGA, DENSITY)
    assert np.abs(np.cos(np.outer(shift, even)) @ density / density.sum()).max() > 0.95


def test_doubling_the_count_changes_neither_height_nor_extremes():
    energy, highest = {}, {}
    for count in (240, 480):
        chosen = sea(count)
        energy[count] = np.sum(chosen.amplitude**2) / 2.0
        turn = np.exp(-1j * np.outer(chosen.omega, TIME[::2]))
        drawn = np.array([phases(i, count, f"count {count}") for i in range(60)])
        rows = ((chosen.amplitude * np.exp(1j * drawn)) @ turn).real / np.sqrt(M0)
        highest[count] = np.concatenate([rows.max(axis=1), -rows.min(axis=1)])
    assert energy[240] == pytest.approx(energy[480], rel=1e-12)
    error = np.sqrt(sum(np.var(values, ddof=1) / len(values) for values in highest.values()))
    assert abs(highest[240].mean() - highest[480].mean()) < 3.0 * error
    assert error < 0.06  # standard deviations: the comparison can see 2 % of the extreme


def test_sea_is_the_same_everywhere():
    """Mean energy over time does not depend on the place: no two directions share a frequency."""
    chosen, drawn = sea(), phases(0)
    places = np.linspace(-300.0, 300.0, 7)
    time = np.arange(0.0, 3600.0, 1.0)[:, None]
    rows = direct_sum.elevation(chosen, drawn, places, 0.5 * places, time)
    assert np.mean(rows**2, axis=0) == pytest.approx(np.full(7, M0), rel=0.12)


def single_wave(omega, direction):
    omega = np.array([omega])
    return Components(omega, omega**2 / STANDARD_GRAVITY, np.array([0.8]), np.array([direction]))


@pytest.mark.parametrize("direction", [0.3, 1.9, -2.5])
def test_velocities_accelerations_and_slopes_are_derivatives_of_each_other(direction):
    chosen, drawn, step = single_wave(0.9, direction), np.array([0.7]), 1e-4
    x, y, t, d = 3.0, -4.0, 11.0, 1.5
    rate = direct_sum.velocities(chosen, drawn, x, y, t + step, d) - direct_sum.velocities(
        chosen, drawn, x, y, t - step, d
    )
    assert direct_sum.accelerations(chosen, drawn, x, y, t, d) == pytest.approx(rate / (2 * step), rel=1e-6)
    rise = direct_sum.elevation(chosen, drawn, x, y, t + step) - direct_sum.elevation(
        chosen, drawn, x, y, t - step
    )
    assert direct_sum.velocities(chosen, drawn, x, y, t, 0.0)[2] == pytest.approx(rise / (2 * step), rel=1e-6)
    along = [
        (
            direct_sum.elevation(chosen, drawn, x + a, y + b, t)
            - direct_sum.elevation(chosen, drawn, x - a, y - b, t)
        )
        / (2 * step)
        for a, b in ((step, 0.0), (0.0, step))
    ]
    assert direct_sum.slopes(chosen, drawn, x, y, t) == pytest.approx(np.array(along), rel=1e-6)


def test_water_velocity_has_no_divergence_and_no_curl():
    """Potential flow below a fixed level: depth stands for -z, so d/dz = -d/d(depth)."""
    chosen, drawn, h = sea(60), phases(2, 60), 1e-4
    at = (5.0, 2.0, 30.0, 2.0)

    def slope(axis):
        low, high = list(at), list(at)
        low[axis] -= h
        high[axis] += h
        x, y, t, d = zip(low, high, strict=True)
        both = direct_sum.velocities(chosen, drawn, x, y, t, d)
        return (both[:, 1] - both[:, 0]) / (2 * h)

    by_x, by_y, by_z = slope(0), slope(1), -slope(3)
    scale = np.abs(by_x).max() + np.abs(by_z).max()
    assert abs(by_x[0] + by_y[1] + by_z[2]) < 1e-6 * scale
    assert max(abs(by_z[0] - by_x[2]), abs(by_z[1] - by_y[2]), abs(by_y[0] - by_x[1])) < 1e-6 * scale


def test_waves_from_windward_travel_to_leeward():
    """mu = 90 degrees: the crest that is here now is further to leeward, + y, a moment later."""
    chosen = single_wave(1.0, 0.5 * np.pi)
    y = np.linspace(-10.0, 10.0, 2001)
    now = y[np.argmax(direct_sum.elevation(chosen, np.zeros(1), 0.0, y, 0.0))]
    later = y[np.argmax(direct_sum.elevation(chosen, np.zeros(1), 0.0, y, 0.5))]
    assert later - now == pytest.approx(0.5 * STANDARD_GRAVITY, abs=0.02)  # phase speed g/omega


def test_moving_point_counts_the_encountered_crossings():
    """Up-crossings met at speed follow the moment m2 of the encounter, in head and in following seas."""
    chosen = sea()
    for speed in (-10.0, 10.0):
        met = chosen.omega - chosen.wavenumber * speed * np.cos(chosen.direction)
        m2 = np.sum(chosen.amplitude**2 * met**2) / 2.0
        counts = []
        for i in range(12):
            row = direct_sum.elevation(chosen, phases(i), speed * TIME, 0.0, TIME)
            counts.append(np.sum((row[:-1] <= 0.0) & (row[1:] > 0.0)))
        assert np.mean(counts) == pytest.approx(upcrossing_rate(0.0, M0, m2) * TIME[-1], rel=0.06)
        assert (np.min(met) < 0.0) == (speed < 0.0)  # travelling with the waves some are overtaken
