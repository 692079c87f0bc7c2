"""The wind of a block: steady where it is said to be, one field for all settings, the same bits in any company."""

from dataclasses import fields, replace

import numpy as np
import pytest

from seaload.boat.sail_wind import apparent_wind
from seaload.sailing.gust_event import gust_length, gust_pulls
from seaload.scenario.records import Gust
from seaload.simulation.block import march_block, wind_at_steps
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.wind_table import felt_deviations, gusty_wind
from tests.simulation.still_water import demo_study, still_water_records, varied

GUSTY = model_factors({"wind": "gusts"})
SHORT = {"run_in": 5.0, "realisation_time": 30.0, "components": 30}


def demo(**sea):
    """(boat, sea, setting, sampling) of the first study, seconds of it."""
    study = demo_study()
    sampling = replace(study.sampling, **SHORT)
    return study.boat, replace(study.seas[0], **sea), study.settings[0], sampling


def wind(cases, model=GUSTY, boat=None, **sea):
    own, sea, _, sampling = demo(**sea)
    cases = list(cases) + [cases[-1]] * (LANES - len(cases))
    return gusty_wind(boat or own, sea, cases, sampling, model)


def test_a_steady_wind_has_no_gusts():
    setting = demo()[2]
    assert wind([(setting, 0)], gustiness=0.0) is None
    assert wind([(setting, 0)], true_wind_speed=0.0) is None
    assert wind([(setting, 0)], model=model_factors({"wind": "steady"})) is None
    assert np.all(wind_at_steps(None, 10) == 1.0)


def test_a_lane_has_the_same_wind_in_any_company():
    setting = demo()[2]
    faster = replace(setting, speed=1.3 * setting.speed)
    together = wind([(setting, 3), (faster, 3), (setting, 1), (replace(setting, rake=0.0), 3)])
    alone = wind([(setting, 3)])
    assert together[:, 0].tobytes() == alone[:, 0].tobytes() == together[:, 3].tobytes()
    assert not np.array_equal(together[:, 0], together[:, 1])
    assert not np.array_equal(together[:, 0], together[:, 2])
    assert together.dtype == np.float32 and together.shape == (1751, LANES)


def test_wind_follows_seed_sea_and_realisation_and_nothing_else():
    boat, sea, setting, sampling = demo()
    cases = [(setting, 0)] * LANES
    one = gusty_wind(boat, sea, cases, sampling, GUSTY)
    assert np.array_equal(one, gusty_wind(boat, replace(sea, systems=()), cases, sampling, GUSTY))
    for other in (replace(sampling, seed=2), sampling):
        named = sea if other is not sampling else replace(sea, name="another")
        assert not np.array_equal(one, gusty_wind(boat, named, cases, other, GUSTY))


def test_a_faster_boat_meets_the_same_gusts_sooner():
    """Abeam without trim: at rest she meets the field at the speed of the wind, under way at that of apparent wind."""
    boat, sea, setting, _ = demo(true_wind_angle=np.pi / 2.0)
    boat = replace(boat, trim_time=np.inf)
    cases = [[(replace(setting, speed=v), 0)] for v in (0.01, 6.0)]
    slow, fast = (wind(each, boat=boat, true_wind_angle=np.pi / 2.0)[:, 0] for each in cases)
    time = 0.02 * np.arange(len(slow))
    ratio = np.hypot(*apparent_wind(sea.true_wind_speed, np.pi / 2.0, 6.0)) / sea.true_wind_speed
    felt = np.interp(time * ratio, time, np.sqrt(slow.astype(float)))[time * ratio < time[-1]]
    whole = felt * sea.true_wind_speed  # at rest the pull is the wind squared
    expected = (whole**2 + 36.0) / (sea.true_wind_speed**2 + 36.0)
    lost = np.minimum(np.arctan2(whole, 6.0) / np.arctan2(sea.true_wind_speed, 6.0), 1.0)
    assert fast[: len(felt)] == pytest.approx(expected * lost, abs=0.01)


def test_twice_the_gustiness_is_twice_the_gusts_that_sails_feel():
    boat, sea, _, _ = demo(gustiness=0.05)
    one, two = (felt_deviations(boat, replace(sea, gustiness=g), 100.0) for g in (0.05, 0.1))
    assert two == pytest.approx(2.0 * one, rel=1e-12)
    small = felt_deviations(replace(boat, sail_height=0.5 * boat.sail_height), sea, 100.0)
    assert small[-1] > one[-1]  # small sails feel short gusts


def test_what_is_between_two_knots_lies_between_them():
    setting = demo()[2]
    found = wind([(setting, 0)])[:, 0].astype(float)
    knots = found[::10]
    line = np.interp(np.arange(len(found)), np.arange(0, len(found), 10), knots)
    assert found == pytest.approx(line, abs=1e-6)
    assert np.std(found) > 0.02


def marched(model=None, gust=None, **sea):
    study = demo_study()
    sampling = replace(study.sampling, **SHORT)
    return march_block(
        study.boat, study.boat.foils[study.foil_side], replace(study.seas[0], **sea),
        [(study.settings[0], 0), (study.settings[0], 1)], sampling, model or {"wind": "gusts"}, gust=gust,
    )[0]  # fmt: skip


def bits(record):
    return [np.asarray(getattr(record, f.name)).tobytes() for f in fields(record)
            if not isinstance(getattr(record, f.name), (tuple, dict))]  # fmt: skip


def test_steady_wind_by_choice_by_gustiness_and_by_table_are_the_same_bytes():
    steady = marched({"wind": "steady"})
    assert [bits(r) for r in steady] == [bits(r) for r in marched(gustiness=0.0)]
    assert [bits(r) for r in steady] == [bits(r) for r in marched(gust=np.ones(1751))]
    assert [bits(r) for r in steady] != [bits(r) for r in marched()]


def test_each_lane_feels_its_own_wind():
    both = np.stack([np.ones(1751), np.full(1751, 1.3)], axis=-1)
    one, other = marched({"wind": "steady"}, gust=both)
    alone = marched({"wind": "steady"})
    assert bits(one) == bits(alone[0]) and bits(other) != bits(alone[1])


@pytest.mark.parametrize("strength, sign", [(0.3, 1.0), (-0.3, -1.0), (-1.0, -1.0)])
def test_a_gust_heels_her_to_leeward_and_a_lull_to_windward(strength, sign):
    study, gust = demo_study(), Gust(strength, 3.0, 30.0, np.inf)
    pulls = gust_pulls(gust, study.seas[0], [study.settings[0].speed], 0.0, 0.02, gust_length(gust))
    sampling = replace(study.sampling, run_in=0.0, realisation_time=30.0, components=30)
    records = [march_block(
        study.boat, study.boat.foils[study.foil_side], study.seas[0], [(study.settings[0], 0)], sampling,
        {"hs_factor": 1e-6}, gust=table, keep=0,
    )[0][0] for table in (pulls[:1501], np.ones(1501))]  # fmt: skip
    gusty, steady = (record.series for record in records)
    assert sign * gusty["roll"][-1] > np.radians(3.0) and abs(steady["roll"][-1]) < np.radians(0.1)
    assert sign * (gusty["speed"][-1] - steady["speed"][-1]) > 0.1


def test_gusts_leave_the_mean_heel_and_speed_to_the_crew():
    """Two minutes without waves: she rolls, and sails as fast as in the steady wind."""
    setting = varied(speed_knots=20)
    gusty, steady = (
        still_water_records([setting], seconds=120.0, run_in=60.0, model={"wind": w})[0] for w in ("gusts", "steady")
    )
    assert np.radians(0.5) < gusty.roll_std < np.radians(9.0) and steady.roll_std < 1e-4
    assert gusty.speed_mean == pytest.approx(steady.speed_mean, rel=0.02)
    assert gusty.moment_std[0] > 10.0 * steady.moment_std[0]
