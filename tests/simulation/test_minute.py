"""The minute round the deepest reverse load, marched again from shortly before: the same bits as the march it is of."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation import block
from seaload.simulation.block import march_block
from seaload.simulation.deepest import MINUTE_STRIDE, WHOLE_STRIDE
from seaload.simulation.layout import LANES
from seaload.simulation.minute import march_minute
from seaload.studies.load_study import load_study

STUDY = Path(__file__).resolve().parents[1] / "boats" / "bow-quarter-swell.toml"
REALISATIONS = (3, 10, 12)  # the last goes deepest, in the middle of its time


@pytest.fixture(scope="module")
def scene():
    """(boat, foil, sea), setting, sampling long enough to forget where the march began."""
    one_blas_thread()
    study = load_study(STUDY)
    sampling = replace(study.sampling, run_in=8.0, realisation_time=150.0, components=60)
    return (study.boat, study.boat.foils[study.foil_side], study.seas[0]), study.settings[0], sampling


@pytest.fixture(scope="module")
def deepest(scene):
    """(realisation, record) of the deepest of a block, and the minute marched again."""
    there, setting, sampling = scene
    records, _ = march_block(*there, [(setting, r) for r in REALISATIONS], sampling, deepest=True)
    (record,) = [record for record in records if record.series]
    r = REALISATIONS[[each is record for each in records].index(True)]
    return r, record, march_minute(*there, (setting, r), sampling, None, record.series["rewind"])


@pytest.fixture(scope="module")
def whole(scene, deepest):
    """Every sample of that realisation, marched alone from the start."""
    there, setting, sampling = scene
    (record,), _ = march_block(*there, [(setting, deepest[0])], sampling, keep=0)
    return record.series


def test_it_begins_well_after_the_start(deepest, scene):
    rewind = deepest[1].series["rewind"]
    assert rewind.step > int(scene[2].run_in / scene[2].step)
    assert rewind.step % block.ANCHOR_STEPS != 0  # between two anchors


def test_the_minute_has_the_bits_of_a_march_from_the_start(deepest, whole, scene):
    _, record, minute = deepest
    first = record.series["rewind"].first - int(scene[2].run_in / scene[2].step)
    rows = slice(first, first + MINUTE_STRIDE * len(minute["time"]), MINUTE_STRIDE)
    assert len(minute["time"]) > 800
    for name, values in whole.items():
        assert values[rows].tobytes() == minute[name].tobytes(), name


def test_the_thinned_series_have_the_same_bits(deepest, whole):
    series = deepest[1].series
    assert {name for name in series if name.endswith("_whole")} == {f"{n}_whole" for n in whole if n != "grid_moment"}
    for name, values in whole.items():
        if name != "grid_moment":
            assert values[::WHOLE_STRIDE].tobytes() == series[f"{name}_whole"].tobytes(), name


def test_the_minute_holds_what_the_record_says_was_deepest(deepest):
    _, record, minute = deepest
    assert np.abs(minute["time"] - record.deepest_reverse_time).min() < 1e-9
    assert record.series["rewind"].share == record.block_worst_reverse.max()


def test_the_minute_is_the_same_after_a_march_in_other_company(deepest, scene):
    there, setting, sampling = scene
    r, _, minute = deepest
    alone, _ = march_block(*there, [(setting, r)], sampling, deepest=True)
    again = march_minute(*there, (setting, r), sampling, None, alone[0].series["rewind"])
    for name, values in minute.items():
        assert values.tobytes() == again[name].tobytes(), name


def test_another_deepest_load_is_refused(deepest, scene):
    there, setting, sampling = scene
    r, record, _ = deepest
    with pytest.raises(RuntimeError, match="of the reverse limit"):
        march_minute(*there, (setting, r), sampling, None, record.series["rewind"]._replace(share=0.5))


def test_a_lane_that_ends_keeps_what_was_counted(scene, monkeypatch):
    there, setting, sampling = scene
    real, calls = block.lanes_gone, []

    def gone(work):
        calls.append(1)
        return real(work) | (np.arange(LANES) == 0) & (len(calls) > 25)

    monkeypatch.setattr(block, "lanes_gone", gone)
    (record,), _ = march_block(*there, [(setting, 0)], sampling, deepest=True)
    series = record.series
    assert 0.0 < record.duration < sampling.realisation_time
    assert series["time_whole"][-1] < sampling.run_in + record.duration
    minute = march_minute(*there, (setting, 0), sampling, None, series["rewind"])
    assert minute["time"][-1] < sampling.run_in + record.duration
    assert np.all(np.isfinite(minute["strip_force"]))
