"""What a log leaves behind: its ledger and its Dataset, over files that come in any order, twice, or spoilt."""

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.basis.vocabulary import attributes
from seaload.fatigue.cycle_list import list_cycles
from seaload.studies.log.read_log import log_files
from tests.studies.log.invented_log import BOAT, NOON, STEP, judged, loads_of, log_file

LOADS = loads_of(4000)
FILES = [("a.csv", 0.0, LOADS[:2000]), ("b.csv", 3600.0, LOADS[2000:])]


def done(folder, files=FILES, **how):
    return log_files(log_file(folder), [], out=folder / "results", judged=judged(files, **how))


def done_in(folder, files=FILES, **how):
    folder.mkdir()
    return done(folder, files, **how)


@pytest.fixture(scope="module")
def outcome(tmp_path_factory):
    return done(tmp_path_factory.mktemp("log"))


def test_cycles_of_both_files_stand_in_the_ledger(outcome):
    """The two files have settings of their own and a gap between: each is closed by itself."""
    data = outcome.dataset
    for k in range(3):
        expected = sum(list_cycles(loads[:, k])[2].sum() for _, _, loads in FILES)
        assert float(data["rainflow_count"].isel(place=k).sum()) == expected
    assert data["gaps_broken"].values.tolist() == [1, 1, 1]
    assert np.allclose(data["ledger_duration"].sum(("day", "setting")), 4000 * STEP)
    assert data["extension"].values.tolist() == [0.7, 0.8] and data["sails"].values.tolist() == ["small", ""]


def test_extremes_are_shares_of_their_own_limits(outcome):
    data = outcome.dataset
    assert np.allclose(data["load_ratio_max"], LOADS.max(axis=0))
    assert np.allclose(data["load_ratio_min"], LOADS.min(axis=0) * 2000 / 800)  # the demo boat's strain limits


def test_what_is_written_is_what_is_given(outcome):
    assert outcome.result_path.is_file() and outcome.dataset.attrs["kind"] == "log"
    plain = {"units", "calendar", "flag_values", "flag_meanings", "bounds", "coverage_content_type"}
    for name, variable in outcome.dataset.variables.items():
        said = {k: v for k, v in variable.attrs.items() if k not in plain}
        assert said == {k: v for k, v in attributes(name).items() if k != "units"}, name


def test_the_deepest_moments_are_ten_seconds_apart_and_hold_their_trace(outcome):
    data = outcome.dataset
    depth, when = data["moment_depth"].values, data["moment_time"].values.astype("datetime64[ms]").astype(float) / 1e3
    assert len(depth) == 10 and np.all(np.diff(depth) <= 0.0) and np.min(np.diff(np.sort(when))) >= 10.0
    assert depth[0] == pytest.approx(-LOADS.min() * 2000 / 800)
    whole = [loads[:, 0].min() for _, _, loads in FILES]
    start = [NOON, NOON + 3600.0][int(np.argmin(whole))]
    assert when[0] == pytest.approx(start + STEP * FILES[int(np.argmin(whole))][2][:, 0].argmin(), abs=2e-3)
    at_zero = int(np.nanargmin(np.abs(data["moment_offset"].values[0])))
    assert float(data["moment_trace"][0, at_zero, 0]) == pytest.approx(LOADS.min())
    assert data["trace_channel"].values.tolist() == ["strain_1", "strain_2", "strain_3", "pitch", "speed"]


def test_read_again_it_adds_nothing(tmp_path):
    first, again = done(tmp_path), done(tmp_path)
    assert (first.done, first.reused) == (2, 0) and (again.done, again.reused) == (0, 2)
    assert first.dataset["ledger_damage"].equals(again.dataset["ledger_damage"])
    assert first.dataset["log_damage"].equals(again.dataset["log_damage"])


def test_overlapping_files_in_any_order_make_the_same_ledger(tmp_path):
    whole = done_in(tmp_path / "whole", [("all.csv", 0.0, LOADS)])
    done_in(tmp_path / "parts", [("late.csv", 1500 * STEP, LOADS[1500:])])
    parts = done(tmp_path / "parts", [("early.csv", 0.0, LOADS[:3000])])
    assert parts.dataset["rainflow_count"].equals(whole.dataset["rainflow_count"])
    assert np.allclose(parts.dataset["ledger_damage"], whole.dataset["ledger_damage"], rtol=1e-12)


def test_wear_is_told_with_and_without_the_repairs(tmp_path):
    """A spike of 2.4 times the normal limit, repaired; a dropped sample."""
    spoil = [("strain_1", 700, 2.4 * 2e-3, True), ("strain_2", 900, np.nan, False)]
    plain, spoilt = done_in(tmp_path / "plain"), done_in(tmp_path / "spoilt", spoil=spoil)
    kept, raw = (spoilt.dataset[f"log_damage{end}"].values for end in ("", "_as_recorded"))
    assert kept[0] == plain.dataset["log_damage"].values[0] and raw[0] > 2.0 * kept[0]
    assert raw[2] == kept[2]


def test_a_failed_sample_is_left_out_of_the_ledger(tmp_path):
    spoilt = done(tmp_path, spoil=[("strain_1", 700, 2.4 * 2e-3, False)])
    assert float(spoilt.dataset["load_ratio_max"][0]) == pytest.approx(LOADS[:, 0].max())


def test_quality_is_counted_minute_by_minute(tmp_path):
    data = done(tmp_path, spoil=[("strain_1", 700, np.nan, False)]).dataset
    assert int(data["quality_count"].sum()) == 5 * 4000
    assert int(data["quality_count"].sel(flag=9).sum()) == 1
    assert float(data["span_length"]) == 60.0


def test_a_foil_without_a_name_of_its_own_is_refused(tmp_path):
    log = log_file(tmp_path)
    nameless = tmp_path / "boat.toml"
    nameless.write_text(BOAT.read_text().replace('id = "former-port-1"', "").replace("speed_table", "# speed_table"))
    log.write_text(log.read_text().replace(str(BOAT), str(nameless)))
    with pytest.raises(InputError, match="boat.toml: foil.port.id"):
        log_files(log, [], out=tmp_path, judged=judged(FILES))


def test_a_log_without_loads_is_refused(tmp_path):
    with pytest.raises(InputError, match="columns = 'no load'"):
        log_files(log_file(tmp_path, stations=0), [], out=tmp_path, judged=judged(FILES))
