"""One measured or modelled sea as it comes out of a file, and the checks every reader shares."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.waves.components import direction_widths

SENSE_FROM = "from"  # compass, clockwise from north, where the waves come from


@dataclass(frozen=True)
class SeaRecord:
    """One spectrum, SI and radians. A one-dimensional record has no direction."""

    time: np.datetime64  # UTC
    omega: np.ndarray  # (n,) [rad/s], rising
    density: np.ndarray  # (n,) [m2 s/rad], or (n, d) [m2 s/rad per rad]
    direction: np.ndarray | None  # (d,) [rad] compass, rising, once round; None for one dimension
    direction_sense: str | None  # always "from" when there is a direction
    notes: tuple = ()  # plain words on what was assumed or left out
    depth: float = float("nan")  # [m] water depth when the file gives it

    @property
    def total(self):
        """Density over frequency alone [m2 s/rad], (n,)."""
        if self.direction is None:
            return self.density
        return self.density @ direction_widths(self.direction)


def checked_record(path, time, frequency, density, direction=None, notes=(), depth=float("nan")):
    """SeaRecord from a file's own units, checked.

    frequency (n,) [Hz]; density (n,) [m2/Hz] or (n, d) [m2/Hz per rad]; direction (d,) [rad] compass FROM
    in any order. Raises InputError for NaN, negative or infinite values, no energy, or frequencies that do
    not rise.
    """
    frequency, density = np.asarray(frequency, dtype=float), np.asarray(density, dtype=float)
    shown = time_text(time)
    if not np.all(np.isfinite(density)):
        raise InputError(path, f"record {shown}", "nan", "every density must be a finite number")
    if np.any(density < 0.0):
        raise InputError(path, f"record {shown}", float(density.min()), "densities must be >= 0")
    if len(frequency) < 3 or np.any(np.diff(frequency) <= 0.0) or frequency[0] <= 0.0:
        raise InputError(path, "frequencies", len(frequency), "at least three, above zero, rising")
    if not density.sum() > 0.0:
        raise InputError(path, f"record {shown}", 0.0, "the spectrum of this record is empty")
    sense = None
    if direction is not None:
        direction = np.mod(np.asarray(direction, dtype=float), 2.0 * np.pi)
        order = np.argsort(direction)
        direction, density = direction[order], density[:, order]
        sense = SENSE_FROM
        if len(direction) < 8 or np.any(np.diff(direction) <= 1e-9):
            raise InputError(path, "directions", len(direction), "at least eight, all different")
    return SeaRecord(
        time=time,
        omega=2.0 * np.pi * frequency,
        density=density / (2.0 * np.pi),
        direction=direction,
        direction_sense=sense,
        notes=tuple(notes),
        depth=float(depth),
    )


def existing_file(path):
    """The path as a Path. Raises InputError when there is no such file."""
    path = Path(path)
    if not path.is_file():
        raise InputError(path, "file", path.name, "no such file")
    return path


def time_text(time):
    """UTC time as people write it in a study: 1996-03-13T16:00Z."""
    return f"{np.datetime_as_string(np.datetime64(time, 'm'))}Z"


def record_time_utc(path, record_time):
    """datetime64 [min], UTC, of a text such as 1996-03-13T16:00Z. Raises InputError for anything else."""
    if isinstance(record_time, np.datetime64):
        return record_time.astype("datetime64[m]")
    allowed = "a UTC time such as 1996-03-13T16:00Z"
    try:
        moment = (
            record_time
            if isinstance(record_time, datetime)
            else datetime.fromisoformat(str(record_time).strip().replace("Z", "+00:00"))
        )
    except ValueError:
        raise InputError(path, "record", record_time, allowed) from None
    if moment.utcoffset():
        raise InputError(path, "record", str(record_time), allowed)
    return np.datetime64(moment.replace(tzinfo=None), "m")


def chosen_index(path, times, record_time):
    """Place of the asked record among `times` (datetime64, any order).

    None is allowed when the file holds one record. Raises InputError that names the nearest record otherwise.
    """
    times = np.asarray(times).astype("datetime64[m]")
    if len(times) == 0:
        raise InputError(path, "record", record_time, "the file holds no record")
    span = f"{len(times)} records from {time_text(times.min())} to {time_text(times.max())}"
    if record_time is None:
        if len(times) == 1:
            return 0
        raise InputError(path, "record", None, f"say which: the file holds {span}")
    wanted = record_time_utc(path, record_time)
    found = np.flatnonzero(times == wanted)
    if len(found):
        return int(found[0])
    nearest = times[np.argmin(np.abs((times - wanted).astype(float)))]
    raise InputError(
        path, "record", str(record_time), f"no such record, the nearest is {time_text(nearest)} ({span})"
    )
