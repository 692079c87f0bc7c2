"""Writes a result as one netCDF-4 file, whole or not at all, and reads it back."""

import os
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from seaload.basis.errors import CannotRun, InputError
from seaload.files.sole_writer import KEPT

RESULT_NAME = "result.nc"
PART_NAME = ".{}.part.nc"
EARLIER = {"time": "time_minute"}  # names of before 0.1.0 was released; a `time` is one of the calendar to others
LEAST_FREE = 1_000_000  # bytes; a disk with less is called full where a file could not be written
SMALL = 64  # values; below it packing costs more than it saves


def fetch_files():
    """Have the libraries of result files at hand, and those that they fetch at their first file: work for a
    time when others wait for something else.
    """
    import xarray as xr

    with TemporaryDirectory() as folder:
        xr.Dataset({"nothing": 0.0}).to_netcdf(Path(folder) / RESULT_NAME, format="NETCDF4", engine="netcdf4")


def write_result(dataset, folder, name=RESULT_NAME):
    """Path of the file `name` in `folder`: written beside it, flushed, then put in place of the old one.

    CannotRun when the folder refuses or the disk is full; an older result then stays as it was.
    """
    folder = Path(folder)
    part, target = folder / PART_NAME.format(Path(name).stem), folder / name
    packed = {
        name: {"zlib": True, "complevel": 4, "shuffle": True}
        for name, variable in dataset.variables.items()
        if variable.dtype.kind in "fiu" and variable.size > SMALL
    }
    for name in dataset.coords:  # CF-1.11, 2.5.1: a coordinate has no missing values
        if dataset[name].dtype.kind == "f":
            packed.setdefault(name, {})["_FillValue"] = None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        dataset.to_netcdf(part, format="NETCDF4", engine="netcdf4", encoding=packed)
        with open(part, "rb+") as stream:
            os.fsync(stream.fileno())
        os.replace(part, target)
        flush_folder(folder)
    except (OSError, RuntimeError) as error:  # the netCDF library raises RuntimeError for a full disk
        if part.exists():
            part.unlink()
        reason = reason_of(error, folder)
        raise CannotRun(f"{target}: cannot be written: {reason}; {KEPT}") from None
    return target


def reason_of(error, folder):
    """Why a file could not be written in a `folder`: the netCDF library has no words for a full disk."""
    try:
        full = isinstance(error, RuntimeError) and shutil.disk_usage(folder).free < LEAST_FREE
    except OSError:
        full = False
    return "No space left on device" if full else getattr(error, "strerror", None) or str(error)


def flush_folder(folder):
    """Make the new name in the folder survive a power cut, where the system can."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)


def read_result(path, field="RESULT"):
    """The Dataset of a saved result, loaded whole; InputError, of the `field`, when it is missing or no result of
    seaload.
    """
    import xarray as xr

    path = Path(path)
    if not path.is_file():
        raise InputError(path.name, field, path.name, "no such file; give a saved result.nc")
    try:
        with xr.open_dataset(path, engine="netcdf4") as opened:
            dataset = opened.load()
    except MemoryError:
        raise
    except Exception:  # damaged and foreign bytes make the libraries fail in every way they can
        raise InputError(path.name, field, path.name, "not a readable netCDF file") from None
    if "source_fingerprint" not in dataset.attrs or "kind" not in dataset.attrs:
        raise InputError(path.name, field, path.name, "not a result of seaload")
    earlier = {old: new for old, new in EARLIER.items() if old in dataset.variables and new not in dataset.variables}
    return dataset.rename(earlier)
