"""The fast march against the plain one: series until paths separate, statistics throughout.

The short test runs twelve seconds of sea with every test run, the slow ones half a minute and ten minutes. Two right
marches part in time where the flow switches (a strip ventilates one step later), so series are held tight before the
first switch that lands apart, loosely after it, and statistics over the whole. Measured: with the waves summed at every
step and all loads in double precision the fast march parts from the plain one just as far, 7e-3 of the roll
at full extension, because one switch falls a step later; until then the two differ by 2e-4 of it.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from seaload.boat.heeling import heeled
from seaload.simulation import block, sea_table, wave_rows
from seaload.simulation import layout as L
from seaload.simulation.block import march_block
from seaload.simulation.calm import calm_trim
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, lane_centre, march_arrays
from seaload.simulation.prepare_foil import KEEL_STRIPS, RUDDER_STRIPS
from seaload.simulation.sea_table import phases_of, sea_components, station_positions, swings_of
from seaload.simulation.wind_table import gusty_wind
from seaload.studies.load_study import load_study
from seaload.waves.encounter import mean_encounter_frequency
from tests.reference_march.plain_march import PlainMarch
from tests.reference_march.plain_waves import PlainWaves

ROOT = Path(__file__).resolve().parents[2]
STUDY = ROOT / "tests" / "boats" / "bow-quarter-swell.toml"
EXAMPLE = ROOT / "scenarios" / "studies" / "bow-quarter-swell.toml"
REALISATION = 3
PARTING = {0.5: 8.0, 0.8: 12.0, 1.0: 7.0}  # [s] from calm until the first switch that lands apart, by extension
# [-] root mean square of the difference over the spread of each: until then, and until 20 s
EARLY = {"heave": 3e-4, "pitch": 8e-4, "roll": 1e-3, "speed": 6e-4, "moment": 3e-3}
FINE = {"heave": 2e-4, "pitch": 3e-4, "roll": 1e-3, "speed": 3e-4, "moment": 2e-3}  # with fine wave tables
LATER = {"heave": 5e-3, "pitch": 1e-2, "roll": 1e-2, "speed": 5e-3, "moment": 2e-2}


def plain_march(study, setting, sampling):
    """A `PlainMarch` of one case of a study, and the (edge, weight) of every load channel."""
    boat, foil, sea = study.boat, study.boat.foils[study.foil_side], study.seas[0]
    model = model_factors(study.model)
    components = sea_components(sea, sampling.seed, sampling.components, model)
    settings = [setting] * L.LANES
    encounter = [mean_encounter_frequency(components, setting.speed)] * L.LANES
    march, reading, _ = march_arrays(boat, foil, settings, encounter, model)
    trim = calm_trim(march, model, carried_righting(boat, settings))
    phases = phases_of(sea, sampling.seed, [REALISATION], len(components.omega))[:, 0]
    swings = swings_of(sea, sampling.seed, [REALISATION], len(components.omega), model)[:, 0]
    components = components._replace(amplitude=components.amplitude * swings)
    centre = lane_centre(boat, setting)
    ahead = boat.cg_from_transom
    places = np.repeat(
        [foil.exit_x - ahead, boat.keel.root_x - ahead, boat.rudder.root_x - ahead],
        [march.foil_strips, KEEL_STRIPS, RUDDER_STRIPS],
    )
    strip = march.strip[:, :, 0]
    aside = heeled(*centre[1:], setting.heel)[0]
    waves = PlainWaves(
        components, phases, station_positions(boat)[0], places, strip[:, L.S_Y] + aside, strip[:, L.S_NY],
        strip[:, L.S_NZ],
    )  # fmt: skip
    return PlainMarch(march, 0, waves, trim, sampling.step), reading.edge[:, 0], reading.weight[:, 0]


def both(seconds, path=STUDY, amplitudes="fixed", wind="steady", **changed):
    """(fast series, plain series) of one case, dicts of arrays; the moment is that at the bearing.

    Fixed amplitudes and steady wind: the times at which the marches part were found in those waves.
    """
    study = load_study(path)
    study = replace(study, model={**study.model, "amplitudes": amplitudes, "wind": wind})
    setting = replace(study.settings[0], **changed)
    sampling = replace(study.sampling, run_in=0.0, realisation_time=seconds)
    foil = study.boat.foils[study.foil_side]
    (record,), _ = march_block(
        study.boat, foil, study.seas[0], [(setting, REALISATION)], sampling, study.model, keep=0
    )  # fmt: skip
    plain, edge, weight = plain_march(study, setting, sampling)
    if wind == "gusts":
        cases = [(setting, REALISATION)] * L.LANES
        plain.wind = gusty_wind(study.boat, study.seas[0], cases, sampling, model_factors(study.model))[:, 0]
    rows = [plain.advance() for _ in range(int(round(seconds / sampling.step)))]
    slow = {name: np.array([row[name] for row in rows]) for name in ("heave", "pitch", "roll", "speed")}
    moment = np.array([row["moment"] for row in rows])
    at = (1.0 - weight) * moment[:, edge] + weight * moment[:, edge + 1]
    slow["moment"] = at[:, 0]
    fast = {name: record.series[name] for name in ("heave", "pitch", "roll", "speed")}
    fast["moment"] = record.series["bending_moment"][:, 0]
    return fast, slow, sampling.step


def apart(fast, slow, name, until):
    """Root mean square difference over the spread of the plain series."""
    a, b = fast[name][:until], slow[name][:until]
    return float(np.sqrt(np.mean((a - b) ** 2)) / np.std(slow[name]))


def hold_series(fast, slow, step, extension, later=20.0):
    """The bounds on every series; the loose ones hold until `later` [s]."""
    for bounds, until in (EARLY, PARTING[extension]), (LATER, later):
        for name, bound in bounds.items():
            assert apart(fast, slow, name, int(round(until / step))) <= bound, (name, until)


@pytest.mark.parametrize("extension", [pytest.param(0.5, marks=pytest.mark.slow), 1.0])  # 0.5 below, held tighter
def test_twelve_seconds_of_sea(extension):
    hold_series(*both(12.0, extension=extension), extension, 12.0)


def test_with_fine_wave_tables_the_two_marches_are_one(monkeypatch):
    """The example boat at half extension parts by 1.4e-3 of her roll over twelve seconds with the tables of a run: by
    1.7e-3 with waves summed at every step, by 3e-4 with every shape of the sea kept, by 1e-4 with both and more lateral
    nodes. What is left out of the tables is the cause, neither the step nor a switch (measured). Since she yaws, the
    sea is run through a few headings: with these as they are the heave parts by 1e-4, with headings 0.04 rad apart by
    7e-6 and the roll by 1.4e-5 (measured).
    """
    monkeypatch.setattr(block, "ANCHOR_STEPS", 1)
    monkeypatch.setattr(wave_rows, "RANK_TOLERANCE", 1e-7)
    for name, count in (("FOIL_NODES", 9), ("KEEL_NODES", 9), ("RUDDER_NODES", 5), ("MOST_NODES", 9)):
        monkeypatch.setattr(sea_table, name, count)
    fast, slow, _ = both(12.0, EXAMPLE, "random", "gusts", extension=0.5)
    for name, bound in FINE.items():
        assert apart(fast, slow, name, None) <= bound, name


@pytest.mark.slow
@pytest.mark.parametrize("extension", [0.5, 1.0])
def test_half_a_minute_of_sea(extension):
    hold_series(*both(24.0, extension=extension), extension)


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_ten_minutes_of_sea():
    fast, slow, step = both(600.0)
    hold_series(fast, slow, step, 0.8)
    kept = slice(int(round(60.0 / step)), None)
    for name in fast:
        a, b = fast[name][kept], slow[name][kept]
        assert abs(a.mean() - b.mean()) <= 0.02 * b.std(), name
        assert abs(a.std() / b.std() - 1.0) <= 0.02, name
    for share in (0.01, 0.1, 0.5, 0.9, 0.99):
        a, b = (np.quantile(each["moment"][kept], share) for each in (fast, slow))
        assert abs(a - b) <= 0.05 * slow["moment"][kept].std(), share
