"""Sway and yaw of the march: nothing moves in calm water, she goes with a long swell, a push dies out as her fin and
helm say, and what is held stays held.
"""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.records import Sampling
from seaload.simulation import layout as L
from seaload.simulation.block import prepared_run
from seaload.simulation.prepared import Prepared
from seaload.simulation.sea_table import sea_shapes
from seaload.waves.components import Components
from seaload.waves.dispersion import deep_wavenumber
from tests.simulation.still_water import STILL, demo_study

STEPS = 50  # a second


def made_ready(seconds, model=None, boat=None, prepared=None):
    """A block of the demonstration boat about to march, in waves of micrometres unless the model says otherwise."""
    study = demo_study()
    boat = boat or study.boat
    sampling = Sampling(seed=1, realisations=1, realisation_time=seconds, run_in=0.0, components=30)
    run, _ = prepared_run(
        boat, boat.foils[study.foil_side], study.seas[0], [(study.settings[0], 0)], sampling,
        {**study.model, **STILL, **(model or {})}, prepared=prepared,
    )  # fmt: skip
    return run


def states(run, seconds, every=STEPS // 5):
    """States of the first lane five times a second, (times, RIGID_ROWS)."""
    rows = [run.work.state[:, 0].copy()]
    for first in range(0, int(seconds * STEPS), every):
        run.go_on(first, every)
        rows.append(run.work.state[:, 0].copy())
    return np.array(rows)


def test_in_calm_water_she_stays_on_her_heading_at_her_leeway():
    """A minute: what moves at first is the foil that springs to its load."""
    run = made_ready(60.0)
    found = states(run, 60.0)
    assert np.all(np.abs(found[:, L.HEADING]) < 0.05 * DEGREE)
    late = found[len(found) // 2 :]
    assert np.all(np.abs(late[:, L.HEADING]) < 4e-3 * DEGREE) and np.all(np.abs(late[:, L.YAW_RATE]) < 1e-3 * DEGREE)
    leeway = run.trim.leeway[0]
    assert late[:, L.SWAY] / late[:, L.SPEED] == pytest.approx(leeway, rel=2e-3)
    assert found[-1, L.ASIDE] == pytest.approx(leeway * found[-1, L.PATH], rel=2e-3)
    assert np.all(np.abs(late[:, L.RUDDER]) < 5e-3 * DEGREE)


def pushed(row, size, seconds=8.0, **options):
    """Her states after a push in still water, less those without one."""
    runs = [made_ready(seconds, **options) for _ in range(2)]
    runs[1].work.state[row] += size
    still, moved = (states(run, seconds) for run in runs)
    return moved - still


def test_a_helm_brings_her_back_to_her_heading():
    found = pushed(L.HEADING, 5.0 * DEGREE, 20.0)[:, L.HEADING] / DEGREE
    assert found[0] == pytest.approx(5.0) and np.all(np.abs(found[20:]) < 1.0) and np.all(np.abs(found[-10:]) < 0.4)


def test_a_push_in_roll_dies_out_at_every_speed_with_any_foil():
    """Her crew's slow hold of the heel and her helm never drive each other: half a degree is gone in two minutes.

    An integral alone, without the share that the crew gives at once, swings up from 24 kn on with little foil out.
    """
    study = demo_study()
    knots_and_rake = ((12.0, 2.0), (16.0, 2.0), (20.0, 2.0), (24.0, 1.0), (27.0, 0.0))
    settings = [
        replace(study.settings[0], speed=knots * KNOT, rake=rake * DEGREE, extension=extension)
        for knots, rake in knots_and_rake for extension in (0.6, 0.8, 1.0)
    ]  # fmt: skip
    sampling = Sampling(seed=1, realisations=1, realisation_time=150.0, run_in=0.0, components=30)
    foil = study.boat.foils[study.foil_side]
    cases = [(setting, 0) for setting in settings]
    run, _ = prepared_run(study.boat, foil, study.seas[0], cases, sampling, {**study.model, **STILL})
    run.work.state[L.ROLL] += 0.5 * DEGREE
    found = []
    for second in range(150):
        run.go_on(second * STEPS, STEPS)
        found.append(run.work.state[[L.ROLL, L.HEADING], : len(settings)].copy())
    assert np.ptp(found[120:], axis=0).max() < 0.05 * DEGREE


def test_her_fin_stops_a_sway_within_a_second():
    """A boat of mass m and added mass on a fin of slope a: m over half rho U S a, a third of a second here."""
    found = pushed(L.SWAY, 0.5)[:, L.SWAY]
    assert found[0] == pytest.approx(0.5) and np.all(np.abs(found[6:]) < 0.2) and np.all(np.abs(found[20:]) < 0.05)


def test_without_a_helm_a_rudder_turns_her_to_its_side():
    """Three degrees carried by a helm that does not look: she goes on turning to that side."""
    study = demo_study()
    loose = replace(study.boat.steering, gain=0.0, rate_gain=0.0, trim_rate=0.0)
    found = pushed(L.HELM_HOLD, 3.0 * DEGREE, 4.0, boat=replace(study.boat, steering=loose))
    assert np.all(np.diff(found[2:, L.HEADING]) > 0.0)
    assert found[2:, L.RUDDER] == pytest.approx(3.0 * DEGREE)


def test_held_leeway_holds_sway_and_heading():
    run = made_ready(10.0, model={"leeway": "held", "hs_factor": 1.0})
    found = states(run, 10.0)
    assert np.all(found[:, [L.HEADING, L.YAW_RATE, L.RUDDER]] == 0.0)
    assert np.std(found[:, L.SPEED]) > 1e-3
    assert found[:, L.SWAY] / found[:, L.SPEED] == pytest.approx(0.5 * DEGREE, rel=1e-4)


class OneWave(Prepared):
    """A sea of one wave: its period [s], height [m] and direction [rad]."""

    def __init__(self, period, height, direction):
        super().__init__()
        omega = np.array([2.0 * np.pi / period])
        self.wave = Components(omega, deep_wavenumber(omega), np.array([0.5 * height]), np.array([direction]))

    def sea(self, boat, foil, sea, sampling, model, group=0):
        return self.wave, sea_shapes(boat, foil, self.wave)


def in_one_wave(period, height, direction, seconds):
    """(states five times a second, `Components`, phase [rad]) of the demonstration boat in a wave."""
    sea = OneWave(period, height, direction)
    run = made_ready(seconds, model={"hs_factor": 1.0, "amplitudes": "fixed"}, prepared=sea)
    return states(run, seconds), sea.wave, run.table.phase[0, 0]


def test_she_goes_sideways_with_the_water_of_a_long_swell():
    """A wave of 30 s and 1 m from abeam, eight hundred times as long as she is deep: she sways as the water does."""
    seconds = 90.0
    found, wave, phase = in_one_wave(30.0, 1.0, 0.5 * np.pi, seconds)
    time = np.linspace(0.0, seconds, len(found))
    water = wave.amplitude * wave.omega * np.cos(wave.wavenumber * found[:, L.ASIDE] - wave.omega * time + phase)
    late = time >= 30.0
    sway = found[late, L.SWAY] - found[late, L.SWAY].mean()
    water = water[late] - water[late].mean()
    share = np.sum(sway * water) / np.sum(water**2)
    assert share == pytest.approx(1.0, abs=0.1) and np.corrcoef(sway, water)[0, 1] > 0.97
