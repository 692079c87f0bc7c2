"""A result of each version opens in every later one: it can be read and its tables can be printed.

`versions/VERSION` holds one small result of each kind; those of 0.1.0 are from before its release.
"""

from pathlib import Path

import netCDF4
import pytest

from seaload.files.result_file import read_result
from seaload.report.read_answer import read_answer
from seaload.report.run.replay_data import can_replay
from seaload.report.shared.result_reading import check_result
from seaload.report.write_pages import KINDS

VERSIONS = Path(__file__).parent / "versions"
KEPT = sorted(VERSIONS.glob("*/*.nc"))
LARGEST = 400_000  # [bytes]


def table_of(path):
    """The tables of a saved result."""
    dataset = read_result(path)
    from seaload.report.boat.table import boat_table
    from seaload.report.leg.table import leg_table
    from seaload.report.library.table import library_table
    from seaload.report.log.table import log_table
    from seaload.report.size.table import size_table

    own = {"log": log_table, "boat": boat_table, "library": library_table, "leg": leg_table, "size": size_table}
    if dataset.attrs["kind"] in own:
        return own[dataset.attrs["kind"]](dataset)
    check_result(dataset, path)
    from seaload.report.run.table import run_table
    from seaload.report.sweep.table import sweep_table

    return {"run": run_table, "sweep": sweep_table}[dataset.attrs["kind"]](dataset, read_answer(dataset))


@pytest.mark.parametrize("path", KEPT, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_an_older_result_is_told(path):
    assert path.stat().st_size < LARGEST and read_result(path).attrs["kind"] == path.stem
    assert len(table_of(path).splitlines()) > 5


def test_the_minute_of_an_older_run_is_drawn():
    """Its series are along `time`, which is `time_minute` since."""
    with netCDF4.Dataset(VERSIONS / "0.1.0" / "run.nc") as raw:
        assert "time" in raw.dimensions
    assert can_replay(read_result(VERSIONS / "0.1.0" / "run.nc"))


def test_one_of_each_kind_is_kept():
    assert {path.stem for path in KEPT} >= {*KINDS, "library"}
