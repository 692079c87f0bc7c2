"""A result file is whole or not there, and reads back as it was."""

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import CannotRun, InputError
from seaload.files.result_file import RESULT_NAME, read_result, write_result


def small():
    data = xr.Dataset({"speed_mean": (("setting", "sea"), np.random.default_rng(1).normal(size=(40, 5)))})
    return data.assign_attrs(kind="run", source_fingerprint="0" * 16)


def test_reads_back_as_written(tmp_path):
    path = write_result(small(), tmp_path / "new" / "folder")
    assert path.name == RESULT_NAME
    assert read_result(path).identical(small())
    assert [entry.name for entry in path.parent.iterdir()] == [RESULT_NAME]


def test_second_reader_agrees(tmp_path):
    path = write_result(small(), tmp_path)
    with xr.open_dataset(path, engine="h5netcdf") as other:
        assert np.array_equal(other["speed_mean"], small()["speed_mean"])


def test_same_bytes_on_repeat(tmp_path):
    one = write_result(small(), tmp_path / "a").read_bytes()
    assert write_result(small(), tmp_path / "b").read_bytes() == one


def test_a_failure_leaves_the_older_result(tmp_path, monkeypatch):
    path = write_result(small(), tmp_path)
    before = path.read_bytes()

    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(xr.Dataset, "to_netcdf", full)
    with pytest.raises(CannotRun, match="No space left"):
        write_result(small(), tmp_path)
    assert path.read_bytes() == before
    assert [entry.name for entry in tmp_path.iterdir()] == [RESULT_NAME]


def test_unwritable_folder_is_one_line(tmp_path):
    (tmp_path / "taken").write_text("")
    with pytest.raises(CannotRun, match="cannot be written"):
        write_result(small(), tmp_path / "taken")


@pytest.mark.parametrize("content", [b"", b"not a netCDF file"])
def test_other_files_are_refused(tmp_path, content):
    path = tmp_path / "other.nc"
    path.write_bytes(content)
    with pytest.raises(InputError, match="not a readable netCDF"):
        read_result(path)


def test_missing_and_foreign_files_are_refused(tmp_path):
    with pytest.raises(InputError, match="no such file"):
        read_result(tmp_path / "none.nc")
    xr.Dataset({"x": 1.0}).to_netcdf(tmp_path / "foreign.nc")
    with pytest.raises(InputError, match="not a result"):
        read_result(tmp_path / "foreign.nc")


def test_a_name_of_before_beside_its_later_one_is_left(tmp_path):
    """Once a traceback: a name that was taken already was given again."""
    axis = np.arange(3.0)
    for names in (["time"], ["time", "time_minute"]):
        data = small().assign({f"{name}_axis": (name, axis) for name in names}).assign_coords({n: axis for n in names})
        found = read_result(write_result(data, tmp_path))
        assert "time_minute" in found.dims and ("time" in found.dims) == (len(names) == 2)


def test_coordinates_have_no_missing_values(tmp_path):
    """CF-1.11, 2.5.1: a coordinate variable must not have _FillValue; the community's checker finds it."""
    data = small().assign_coords(setting=np.linspace(0.0, 1.0, 40))
    with xr.open_dataset(write_result(data, tmp_path)) as saved:
        assert "_FillValue" not in saved["setting"].encoding and "_FillValue" in saved["speed_mean"].encoding
