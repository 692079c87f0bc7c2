"""Loads at rates read back from made-up cases whose law is known."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.deciding.library.load_at_rate import LEVELS, RATES, blocks_at, loads_on, union_loads
from seaload.deciding.library.point import HELD, point_of, unreachable_point
from seaload.scenario.records import Setting
from tests.deciding.fake_sailer import SCALE, FakeSailer, location_for
from tests.small_study import made_case

SETTING = Setting(0.8, 0.0, 0.3, 0.5, 0.0, 9.0)


def cases(count, seed=0, rate=0.3 / 3600.0):
    sailer = FakeSailer(None, {(0, 0): SETTING}, made_case, lambda setting, model: location_for(rate), seed=seed)
    return [sailer.draw(0, 0, r) for r in range(count)]


def true_loads(rate=0.3 / 3600.0):
    """Of independent blocks of 10 s with Gumbel's law (Gumbel 1958)."""
    return location_for(rate) - SCALE * np.log(-np.log1p(-RATES * 10.0))


def test_loads_come_back_within_their_errors():
    off = np.array([
        (found.load_at_rate - true_loads()) / found.load_at_rate_error
        for found in (union_loads(cases(9, seed), "reverse") for seed in range(40))
    ])  # fmt: skip
    used = slice(1, 8)  # from 3 an hour, which neighbouring blocks hardly blur, to once in 300 hours
    assert np.all(np.abs(off[:, used].mean(axis=0)) < 0.6)
    assert np.all(off[:, used].std(axis=0) < 1.3)


def test_a_curve_is_read_both_ways():
    levels = np.linspace(0.2, 1.4, 60)
    falling = np.log(RATES[0]) - 12.0 * (levels - 0.3)
    assert loads_on(levels, falling) == pytest.approx(0.3 + (np.log(RATES[0]) - np.log(RATES)) / 12.0, abs=1e-6)


def test_rates_at_levels_and_loads_at_rates_are_one_curve():
    found = union_loads(cases(9), "reverse")
    inside = (LEVELS > found.load_at_rate[1]) & (LEVELS < found.load_at_rate[7])
    assert inside.sum() >= 2
    read = np.interp(LEVELS[inside], found.load_at_rate, np.log(RATES))
    assert found.log_rate[inside] == pytest.approx(read, abs=0.25)


def test_nothing_is_known_of_a_place_inside_the_hull():
    records = cases(3)
    for record in records:
        record.place_block_reverse[2] = np.nan
    assert np.isnan(blocks_at(records, "reverse", 2)).all()
    point = point_of(records)
    assert np.isnan(point["place_load_at_rate"][2, 0]).all() and np.isfinite(point["place_load_at_rate"][1, 0]).all()


def test_a_point_and_one_that_cannot_be_sailed_have_one_shape():
    point = point_of(cases(3))
    nowhere = unreachable_point(point["place_load_at_rate"].shape[0])
    assert point["status"] == HELD and point["duration_total"] == 3600.0
    assert {name: (v.shape, v.dtype) for name, v in point.items()} == {
        name: (v.shape, v.dtype) for name, v in nowhere.items()
    }


def test_channels_have_the_error_of_their_scatter_over_realisations():
    """Standard error of a mean over independent realisations (any text on statistics)."""
    speeds = np.array([8.8, 9.1, 9.4, 8.9])
    records = [replace(record, speed_mean=speed) for record, speed in zip(cases(4), speeds, strict=True)]
    point = point_of(records)
    assert float(point["speed_mean"]) == pytest.approx(speeds.mean(), rel=1e-6)
    assert float(point["speed_mean_error"]) == pytest.approx(speeds.std(ddof=1) / 2.0, rel=1e-5)
    assert float(point_of(records[:1])["speed_mean_error"]) == pytest.approx(0.1 * 8.8, rel=1e-5)
