"""One measured or modelled sea as it comes out of a file, and the checks every reader shares."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.scenario.sea_spec import STEEPEST
from seaload.scenario.text_file import shown
from seaload.waves.components import direction_widths

SENSE_FROM = "from"  # compass, clockwise from north, where the waves come from
LOWEST_BAND, HIGHEST_BAND = 0.002, 10.0  # [Hz] far beyond what buoys and wave models give
MOST_BANDS = 2000  # frequencies or directions
LEAST_SEA, MOST_SEA = 0.01, 25.0  # [m] Hs; 19 m is the highest measured (World Meteorological Organization 2016)
SHORTEST_PEAK, LONGEST_PEAK = 1.0, 30.0  # [s]
HIDDEN = 0.1  # share of the energy below which one band is not looked at
WIDEST_GAP = 46.0 * DEGREE  # between neighbouring directions: at least eight, once round


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
    in any order. Raises InputError for NaN, negative or infinite values, no energy, frequencies that do
    not rise or are not those of waves, directions that do not go once round, and what no sea can be.
    """
    frequency, density = checked_bands(path, frequency), np.asarray(density, dtype=float)
    field = f"record {time_text(time)}"
    if not np.all(np.isfinite(density)):
        raise InputError(path, field, "nan", "every density must be a finite number")
    if np.any(density < 0.0):
        raise InputError(path, field, float(density.min()), "densities must be >= 0")
    if not density.sum() > 0.0:
        raise InputError(path, field, 0.0, "the spectrum of this record is empty")
    sense = None
    if direction is not None:
        direction, density = once_round(path, direction, density)
        sense = SENSE_FROM
    record = SeaRecord(
        time=time,
        omega=2.0 * np.pi * frequency,
        density=density / (2.0 * np.pi),
        direction=direction,
        direction_sense=sense,
        notes=tuple(notes),
        depth=float(depth),
    )
    refuse_no_sea(path, field, frequency, record)
    return record


def checked_bands(path, frequency):
    """The frequencies (n,) [Hz] as floats. InputError unless they are finite, rise, and are those of sea waves."""
    frequency = np.asarray(frequency, dtype=float)
    if not np.all(np.isfinite(frequency)):
        raise InputError(path, "frequencies", "nan", "every frequency must be a finite number, in Hz")
    if not 3 <= len(frequency) <= MOST_BANDS or np.any(np.diff(frequency) <= 0.0):
        raise InputError(path, "frequencies", len(frequency), f"3 to {MOST_BANDS} of them, above zero, rising")
    for value in (frequency[0], frequency[-1]):
        if not LOWEST_BAND <= value <= HIGHEST_BAND:
            allowed = f"sea waves have {LOWEST_BAND:g} to {HIGHEST_BAND:g} Hz; give the frequencies in Hz"
            raise InputError(path, "frequencies", float(value), allowed)
    return frequency


def once_round(path, direction, density):
    """(directions (d,) [rad] 0 to 2 pi, rising; density (n, d) in that order). InputError unless they go once round."""
    direction = np.asarray(direction, dtype=float)
    if not np.all(np.isfinite(direction)):
        raise InputError(path, "directions", "nan", "every direction must be a finite number")
    direction = np.mod(direction, 2.0 * np.pi)
    order = np.argsort(direction)
    direction, density = direction[order], density[:, order]
    gaps = np.diff(np.append(direction, direction[:1] + 2.0 * np.pi))
    if not 8 <= len(direction) <= MOST_BANDS or np.any(gaps <= 1e-9):
        raise InputError(path, "directions", len(direction), f"8 to {MOST_BANDS}, all different")
    if gaps.max() > WIDEST_GAP:
        allowed = f"a gap of {gaps.max() / DEGREE:.0f} degrees: they must go once round, in steps of 45 degrees at most"
        raise InputError(path, "directions", len(direction), allowed)
    return direction, density


def refuse_no_sea(path, field, frequency, record):
    """InputError for a record that no sea can be: too high, too flat, too long, too short, or steeper than waves are.

    `frequency` (n,) [Hz] of the `record`; `field` names it. A wave of the energy of one band is as high as sqrt(8 m0).
    """
    total = record.total * 2.0 * np.pi
    with np.errstate(over="ignore"):
        hs = 4.0 * float(np.sqrt(np.trapezoid(total, frequency)))
    if not LEAST_SEA <= hs <= MOST_SEA:
        allowed = f"the significant wave height of a sea is {LEAST_SEA:g} to {MOST_SEA:g} m; densities are m2/Hz"
        raise InputError(path, field, f"Hs {hs:.4g} m", allowed)
    peak = float(frequency[int(np.argmax(total))])
    if not SHORTEST_PEAK <= 1.0 / peak <= LONGEST_PEAK:
        allowed = f"the peak period of a sea is {SHORTEST_PEAK:g} to {LONGEST_PEAK:g} s"
        raise InputError(path, field, f"peak at {1.0 / peak:.3g} s", allowed)
    energy = total * np.gradient(frequency)
    steepness = np.sqrt(8.0 * energy) * 2.0 * np.pi * frequency**2 / STANDARD_GRAVITY
    worst = int(np.argmax(np.where(energy > HIDDEN * energy.sum(), steepness, 0.0)))
    if energy[worst] > HIDDEN * energy.sum() and steepness[worst] > STEEPEST:
        allowed = f"one band holds waves 1/{1.0 / steepness[worst]:.1f} of their length high; no wave passes 1/7"
        raise InputError(path, field, f"{total[worst]:.4g} m2/Hz at {frequency[worst]:.4g} Hz", allowed)


def existing_file(path):
    """The path as a Path. Raises InputError when there is no such file, or its name does not print."""
    path = Path(path)
    if not path.is_file() or not str(path).isprintable():
        raise InputError(shown(path), "file", shown(path.name), "no such file")
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
    known = times[~np.isnat(times)]
    if len(known) == 0:
        raise InputError(path, "record", record_time, "the file holds no record")
    span = f"{len(times)} records from {time_text(known.min())} to {time_text(known.max())}"
    if record_time is None:
        if len(times) == 1:
            return 0
        raise InputError(path, "record", None, f"say which: the file holds {span}")
    wanted = record_time_utc(path, record_time)
    found = np.flatnonzero(times == wanted)
    if len(found) > 1:
        raise InputError(path, "record", str(record_time), f"stands {len(found)} times in the file: leave one of them")
    if len(found):
        return int(found[0])
    nearest = known[np.argmin(np.abs((known - wanted).astype(float)))]
    raise InputError(path, "record", str(record_time), f"no such record, the nearest is {time_text(nearest)} ({span})")
