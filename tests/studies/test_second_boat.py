"""A boat unlike the demonstration boat goes through a run and a sweep, and no place of hers is cut off silently."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.boat.heeling import heeled
from seaload.boat.hydrostatics import flotation
from seaload.boat.wetted_surface import wetted_surface
from seaload.deciding import choice, uncertainty, variants
from seaload.evidence.verdict import DECISION_NAMES
from seaload.scenario.read_boat import read_boat
from seaload.scenario.records import Setting
from seaload.simulation.block import prepared_run
from seaload.simulation.layout import LANES, O_DEPTH, S_Y, STRIP_OUT_ROWS
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import lane_centre, march_arrays
from seaload.simulation.prepare_foil import KEEL_STRIPS, RUDDER_STRIPS
from seaload.simulation.windows import MOTION_TIMES_SQUARE, deepest_place, depth_scale, lateral_windows
from seaload.studies.attainable import Reach
from seaload.studies.load_study import load_study
from seaload.studies.single_run import run_study
from seaload.studies.sweep import sweep_study
from tests.small_study import shortened

ROOT = Path(__file__).resolve().parents[2]
BOATS = {"demo": ROOT / "scenarios" / "boats" / "demo.toml", "second": ROOT / "tests" / "boats" / "second.toml"}
STUDY = """
name = "second-boat"
boat = '{boat}'
[[sea]]
name = "short sea"
spectrum = "jonswap"
hs_m = {hs}
tp_s = 6.5
waves_from_bow_deg = 60.0
[settings]
extension_percent = {extension}
rake_deg = 1.5
heel_deg = {heel}
cant_deg = 25
speed_knots = {speed}
"""


def study_of(folder, *, extension=70, heel=15, speed=14, hs=1.5):
    """A study of the second boat, written and read."""
    path = folder / "study.toml"
    path.write_text(STUDY.format(boat=BOATS["second"], extension=extension, heel=heel, speed=speed, hs=hs))
    return load_study(path)


@pytest.fixture(scope="module")
def outcome(tmp_path_factory):
    """A run of two realisations of two minutes."""
    folder = tmp_path_factory.mktemp("second")
    study = shortened(study_of(folder), realisations=2, time=120.0)
    return run_study(study, out=folder, workers=1, rates_only=True)


def test_a_run_of_another_boat_ends_with_plausible_loads(outcome):
    data = outcome.dataset
    assert not outcome.failed and data.sizes["place"] == 4
    assert float(data["speed_mean"].mean()) == pytest.approx(14.0 * KNOT, rel=0.08)
    assert 0.05 < float(data["load_ratio_mean"].max()) < 0.6
    assert float(data["load_ratio_mean"].max()) < float(data["load_ratio_max"].max()) < 1.5
    assert -0.5 < float(data["load_ratio_min"].min()) < float(data["load_ratio_mean"].min())
    assert 0.05 < float(data["heave_std"].max()) < 1.3 * 1.5 / 4.0  # as the waves themselves, or a little past them
    assert float(data["pitch_std"].max()) < 3.0 * DEGREE
    assert 0.05 < float(data["vertical_lift_mean"].mean()) / (3000.0 * 9.80665) < 0.5


def test_a_sweep_of_another_boat_ends_with_an_answer(tmp_path, monkeypatch):
    monkeypatch.setattr(choice, "GUST_REALISATIONS", 2)
    for module in (uncertainty, variants):
        monkeypatch.setattr(module, "REALISATIONS", 4)
    study = shortened(study_of(tmp_path, extension="[60, 95]"), realisations=2)
    data = sweep_study(study, out=tmp_path, workers=1).dataset
    assert data["decision"].attrs["flag_meanings"].split() == ["not_sailed", *DECISION_NAMES]
    assert data["choice_reason"].values[0]
    more, less = data["vertical_lift_mean"].values[1].mean(), data["vertical_lift_mean"].values[0].mean()
    assert more > less > 0.0  # more foil out, more lift


def test_her_calm_trim_is_a_planing_boats(outcome):
    """Bow up by nought to two degrees from 10 to 22 kn (common practice, no source)."""
    study = study_of(outcome.result_path.parent)
    curve = Reach(study.boat, study.boat.foils["port"], study.model).curve(study.settings[0])
    inside = (curve.speeds > 10.0 * KNOT) & (curve.speeds < 22.0 * KNOT)
    assert curve.balanced[inside].all() and np.all(curve.thrust[inside] > 0.0)
    run, _ = prepared_run(
        study.boat, study.boat.foils["port"], study.seas[0],
        [(replace(study.settings[0], speed=float(speed)), 0) for speed in curve.speeds[inside]],
        shortened(study).sampling, study.model,
    )  # fmt: skip
    assert np.all((run.trim.pitch > 0.0) & (run.trim.pitch < 2.0 * DEGREE))


def test_without_a_table_the_reference_setting_holds_the_reference_speed(outcome):
    boat = study_of(outcome.result_path.parent).boat
    sea = study_of(outcome.result_path.parent).seas[0]
    speed = Reach(boat, boat.foils["port"], None).attainable(boat.reference_setting, sea)
    assert speed == pytest.approx(boat.reference_speed, rel=0.05)


@pytest.mark.parametrize("name", BOATS)
def test_every_setting_that_is_let_through_lies_inside_the_windows(name):
    _, boat = read_boat(BOATS[name])
    foil = boat.foils["port"]
    groups = np.repeat([0, 1, 2], [foil.strips, KEEL_STRIPS, RUDDER_STRIPS])
    windows = np.array(lateral_windows(boat, foil))
    for heel in np.linspace(*boat.heel_window, 5):
        settings = [
            Setting(extension, 0.0, float(heel), float(cant), 0.0, 8.0)
            for cant in np.linspace(*boat.cant_window, LANES // 2)
            for extension in (foil.least_extension, 1.0)
        ]
        march, _, _ = march_arrays(boat, foil, settings, [1.0] * LANES, model_factors())
        side = [heeled(*lane_centre(boat, setting)[1:], setting.heel)[0] for setting in settings]
        place = march.strip[:, S_Y] + np.array(side)
        assert np.all((place >= windows[groups, 0, None]) & (place <= windows[groups, 1, None]))


@pytest.mark.parametrize("name", BOATS)
def test_the_water_is_worked_out_deeper_than_calm_water_asks_for(name):
    _, boat = read_boat(BOATS[name])
    foil = boat.foils["port"]
    assert depth_scale(boat, foil) >= deepest_place(boat, foil) + MOTION_TIMES_SQUARE / boat.hull.length**2
    longer = replace(boat, keel=replace(boat.keel, span=boat.keel.span + 2.0))
    assert depth_scale(longer, foil) >= depth_scale(boat, foil) + 1.0


def test_no_strip_goes_deeper_in_a_rough_sea_than_the_water_is_worked_out(tmp_path):
    """Hs 3 m at 6.5 s is steeper than the limit of validity; full extension, upright keel: the deepest there is."""
    study = study_of(tmp_path, extension=100, hs=3.0)
    setting = replace(study.settings[0], cant=0.0)
    cases = [(setting, realisation) for realisation in range(LANES)]
    sampling = shortened(study, time=60.0).sampling
    foil = study.boat.foils["port"]
    run, _ = prepared_run(study.boat, foil, study.seas[0], cases, sampling, study.model)
    deepest = 0.0
    for first in range(0, run.steps, 20):
        run.go_on(first, 20)
        deepest = max(deepest, run.work.loads.out.reshape(-1, STRIP_OUT_ROWS, LANES)[:, O_DEPTH].max())
    assert deepest < run.march.depth_scale


@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("heel_deg", [0.0, 12.0, 18.0])
def test_wetted_surface_afloat_is_near_that_of_the_heeled_sections(name, heel_deg):
    """Between what the hull wets with half and with all of the mass on it, within a fifth."""
    _, boat = read_boat(BOATS[name])
    ours = wetted_surface(boat.hull, heel_deg * DEGREE, 0.5)
    half, whole = (flotation(boat.hull, share * boat.mass, heel_deg * DEGREE).wetted_surface for share in (0.5, 1.0))
    assert half / 1.2 < ours < 1.2 * whole


@pytest.mark.parametrize("heel", [3, 30])
def test_a_heel_that_the_waves_are_not_worked_out_for_is_refused(tmp_path, heel):
    with pytest.raises(InputError, match=r"settings.heel_deg = .*5\.0 to 27\.0 degrees; \[worked.heel_deg\]"):
        study_of(tmp_path, heel=heel)


@pytest.mark.parametrize("written, said", [
    (("reference_extension_percent = 70", "reference_extension_percent = 40"), "from 50 to 100 percent"),
    (("span_m = 2.4", "span_m = 8.5"), "keel.span_m"),
])  # fmt: skip
def test_a_boat_that_the_model_cannot_hold_is_refused(tmp_path, written, said):
    path = tmp_path / "boat.toml"
    path.write_text(BOATS["second"].read_text().replace(*written))
    with pytest.raises(InputError, match=said):
        read_boat(path)
