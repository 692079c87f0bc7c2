"""Balance, drag and load of the boat page against what runs are made of: one model, told two ways."""

import numpy as np
import pytest

from seaload.basis.units import KNOT
from seaload.studies.attainable import Reach
from seaload.studies.boat.question import belongs
from tests.simulation.still_water import demo_study, still_water_records, varied
from tests.studies.boat.box_boat import demo_question

PARTS = (
    "drag_hull_friction", "drag_hull_waves", "drag_hull_pressure", "drag_fins", "drag_foil_profile",
    "drag_foil_induced", "drag_other",
)  # fmt: skip


@pytest.fixture(scope="module")
def data(demo_check):
    return demo_check.dataset


def test_the_parts_of_the_drag_add_up_to_the_thrust_that_it_takes(data):
    whole = sum(data[name].values for name in PARTS)
    good = data["balanced"].values > 0
    assert good.mean() > 0.8
    assert whole[good] == pytest.approx(data["thrust_needed"].values[good], rel=1e-6)
    for name in PARTS:
        assert np.nanmin(data[name].values) >= 0.0, name


def test_the_attainable_speed_is_where_thrust_meets_drag_and_the_one_of_a_run(data):
    study = demo_study()
    reach, sea = Reach(study.boat, study.boat.foils["port"], {}), demo_question().sea
    k = int(np.argmin(np.abs(data["extension"].values - 0.8)))
    best = float(data["speed_attainable"].values[k])
    given, needed = (np.interp(best, data["speed"].values, data[f"thrust_{n}"].values[k]) for n in ("given", "needed"))
    assert given == pytest.approx(needed, rel=1e-3)
    assert best == pytest.approx(reach.attainable(study.boat.reference_setting, sea), rel=5e-3)


def test_calm_load_and_trim_are_those_of_a_march_in_still_water(data):
    """The same boat marched for twenty seconds in waves of micrometres."""
    (record,) = still_water_records([varied(extension_percent=80, speed_knots=22, rake_deg=2)])
    k = int(np.argmin(np.abs(data["extension"].values - 0.8)))
    at = lambda values: np.interp(22.0 * KNOT, data["speed"].values, values)  # noqa: E731
    loads = [at(data["calm_load_ratio"].values[k, :, p]) for p in range(data.sizes["place"])]
    limit = np.where(record.moment_mean >= 0.0, record.normal_limit, record.reverse_limit)
    outside = data["place_inside"].values[k] == 0
    assert (record.moment_mean / limit)[outside] == pytest.approx(np.array(loads)[outside], abs=0.01)
    assert record.pitch_mean == pytest.approx(at(data["calm_pitch"].values[k]), abs=3e-4)
    assert record.lift_share_mean == pytest.approx(at(data["foil_lift_share"].values[k]), rel=0.01)
    assert record.leeway_mean == pytest.approx(at(data["leeway"].values[k]), abs=3e-4)


def test_what_does_not_balance_says_why_and_is_no_number(data):
    lost = data["balanced"].values == 0
    assert np.all((data["balance_reason"].values != "") == lost)
    for name in ("calm_pitch", "thrust_needed", "leeway", "ventilation_demand"):
        assert np.array_equal(np.isnan(data[name].values), lost)
    assert np.all(np.isnan(data["calm_load_ratio"].values).all(axis=2) == lost)


def test_righting_at_the_stated_heel_is_that_of_the_curve_over_heel(data):
    """Two ways to one number: over speed at the stated heel, over heel at the racing speed."""
    k = int(np.argmin(np.abs(data["extension"].values - float(data["reference_extension"]))))
    by_speed = np.interp(float(data["racing_speed"]), data["speed"].values, data["righting_calm"].values[k])
    by_heel = np.interp(float(data["heel"]), data["heel_sailed"].values, data["righting_sailed"].values)
    assert by_heel == pytest.approx(by_speed, rel=0.02)
    parts = sum(data[f"righting_sailed_{part}"].values for part in ("hull", "keel", "foil", "fins"))
    assert parts == pytest.approx(data["righting_sailed"].values, rel=1e-6)


def test_defaults_of_the_other_foil_and_of_crew_tables_are_no_matter_of_the_page():
    assert belongs("foil.port.section.cl_max = 1.2", "port")
    assert not belongs("foil.starboard.section.cl_max = 1.2", "port")
    assert not belongs("moves.reef.minutes = 15", "port")
    assert belongs("hull.fullness = 0.0", "port") and belongs("speed_table = not given", "port")
