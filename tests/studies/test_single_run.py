"""A run from study to file: the same bits for any number of workers, on repeat and from the store."""

import shutil
from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.report.read_answer import read_answer
from seaload.report.run.page import run_page
from seaload.report.shared.result_reading import open_result
from seaload.sailing import block_task, kept_series
from seaload.sailing.sail_cases import Account
from seaload.studies.single_run import run, run_study

# cases more for what is uncertain, all short: as it is, the ensemble's design, nodes and steps, two headings two
# deviations off, and one off, for both left the validity farther off
TOLD = 16 * (1 + 12 + 8 + 4 + 2 + 2)


def assert_same_bits(one, other):
    assert list(one.variables) == list(other.variables)
    for name in one.variables:
        a, b = one[name].values, other[name].values
        assert a.dtype == b.dtype and (a.dtype == object or a.tobytes() == b.tobytes()), name


def test_repeat_in_another_folder_with_two_workers_gives_the_same_bits(small_study, small_run, tmp_path):
    again = run_study(small_study, out=tmp_path, workers=2)
    assert_same_bits(again.dataset, small_run.dataset)
    assert again.dataset.attrs == small_run.dataset.attrs
    # not one clock time inside: the files are the same byte for byte
    assert again.result_path.read_bytes() == small_run.result_path.read_bytes()


def test_a_block_marched_on_a_cluster_has_the_same_bytes(small_study, small_run, tmp_path):
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        again = run_study(small_study, out=tmp_path, scheduler=cluster.scheduler_address)
    assert again.result_path.read_bytes() == small_run.result_path.read_bytes()


def test_second_run_reuses_every_case(small_study, small_run):
    said = []
    again = run_study(small_study, out=small_run.result_path.parents[1], workers=1, account=Account(say=said.append))
    assert (again.done, again.reused) == (0, 6 + TOLD)  # three more with the speed free
    assert_same_bits(again.dataset, small_run.dataset)
    assert f"{6 + TOLD} reused, 0 not needed" in said[0]


def test_going_on_from_a_part_gives_the_same_file(small_study, small_run, tmp_path):
    """Whichever cases an earlier run left: the deepest is marched again when it is among them."""
    fewer = replace(small_study, sampling=replace(small_study.sampling, realisations=2))
    run_study(fewer, out=tmp_path, workers=1, rates_only=True)
    again = run_study(small_study, out=tmp_path, workers=2)
    assert (again.done, again.reused) == (1 + 3 + TOLD, 2)  # three with the speed free: `rates_only` leaves them out
    assert again.result_path.read_bytes() == small_run.result_path.read_bytes()


def test_a_changed_input_is_named_and_the_rest_ignored(small_study, tmp_path):
    few = replace(small_study, sampling=replace(small_study.sampling, realisations=1))
    seen, said = [], []
    run_study(few, out=tmp_path, rates_only=True, account=Account(lambda *now: seen.append(now)))
    assert seen[-1][:2] == (1, 1)  # progress ends with everything done
    other = run_study(few, out=tmp_path, rates_only=True, model={"roll": "fixed"}, account=Account(say=said.append))
    assert (other.done, other.reused) == (1, 0)
    assert "1 not needed; changed since: model" in said[0]
    assert other.dataset["roll_std"].item() == 0.0


def test_series_hold_the_deepest_reverse_load(small_run):
    data = small_run.dataset
    place = data["reverse_limit"].isel(setting=0)
    deepest = float((-data["bending_moment"] / place).max())
    kept = data.isel(realisation=int(data["kept_realisation"]), sea=int(data["kept_sea"]), setting=0)
    worst = float(kept["block_worst_reverse"].max())
    assert deepest <= max(worst, 0.0) * 1.0001 + 1e-9  # places are among all material, and every second step is kept
    time = float(kept["deepest_reverse_time"])
    assert data["time_minute"].values[0] <= time <= data["time_minute"].values[-1]
    assert data["strip_force"].dims == ("time_minute", "strip")
    assert np.all(np.isfinite(data["strip_force"]))


def broken_minute(*given):
    raise RuntimeError("0.61 of the reverse limit where the march before gave 0.62")


@pytest.mark.parametrize(
    ("place", "name", "broken", "why"),
    [
        (block_task, "march_minute", broken_minute, "0.61 of the reverse limit"),
        (kept_series, "same_record", lambda one, other: False, "other numbers when sailed again"),
    ],
    ids=["the minute comes out otherwise", "the case comes out otherwise"],
)
def test_a_minute_that_cannot_be_made_costs_no_result(
    place, name, broken, why, small_study, small_run, tmp_path, monkeypatch
):
    shutil.copytree(small_run.result_path.parent, tmp_path / small_study.name)
    (tmp_path / small_study.name / "result.nc").unlink()
    monkeypatch.setattr(place, name, broken)
    outcome = run_study(small_study, out=tmp_path, workers=1)
    whole, rest = small_run.dataset, outcome.dataset
    gone = set(whole.variables) - set(rest.variables)
    assert {"bending_moment", "strip_force", "time_minute", "kept_sea"} <= gone
    assert_same_bits(whole.drop_vars(gone), rest)
    assert outcome.result_path.is_file() and outcome.failed == small_run.failed
    (missing,) = outcome.missing
    assert "minute round the deepest reverse load" in missing and why in missing
    assert f"missing: {missing}" in rest.attrs["notes"].splitlines()
    saved = open_result(outcome.result_path)  # its page alone: the figures beside it would only cost time
    assert "minute round the deepest reverse load; every number is complete" in run_page(saved, read_answer(saved))


def test_strip_loads_bend_the_foil_as_the_moment_says(small_run):
    """Moment at the bearing from the strips kept, without the bending mode's share: within a few percent of it."""
    data = small_run.dataset.isel(setting=0)
    y = data["foil_edge_lateral"].values
    z = data["foil_edge_height"].values
    middle_y, middle_z = 0.5 * (y[1:] + y[:-1]), 0.5 * (z[1:] + z[:-1])
    along = np.stack([np.diff(y), np.diff(z)]) / np.hypot(np.diff(y), np.diff(z))
    arm = (middle_y - y[0]) * along[0] + (middle_z - z[0]) * along[1]
    moment = data["strip_force"].values @ arm
    bearing = data["bending_moment"].values[:, 0]
    assert np.corrcoef(moment, bearing)[0, 1] > 0.99
    assert np.std(moment - bearing) < 0.1 * np.std(bearing) + 0.02 * np.abs(bearing).max()


def test_realised_sea_has_the_height_asked_for(small_run):
    data = small_run.dataset
    asked = 4.0 * np.sqrt(float(data["spectrum_asked"].sum()) * 0.005)
    assert asked == pytest.approx(float(data["sea_hs"][0]), rel=0.01)  # up to 0.6 Hz


def test_a_list_of_settings_is_refused(small_study, tmp_path):
    two = replace(small_study, settings=small_study.settings * 2)
    with pytest.raises(InputError, match="seaload sweep"):
        run(two, out=tmp_path)
    assert not list(tmp_path.iterdir())
