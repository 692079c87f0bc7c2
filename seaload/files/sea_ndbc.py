"""Sea spectra in the text formats of the US National Data Buoy Center: history files and real-time files.

History: one line a record, frequencies in the header; `w` density [m2/Hz], `d` alpha1, `i` alpha2 [deg,
FROM], `j` r1 and `k` r2 in percent. Real time: `.data_spec` with the frequency in brackets behind each
value, and `.swdir`, `.swdir2`, `.swr1`, `.swr2` beside it (r1, r2 as fractions). Years of two digits and
files without a minute column are old records. Column meanings as published by the data centre.
"""

import re
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, PERCENT
from seaload.files.sea_record import checked_bands, checked_record, chosen_index, existing_file, time_text
from seaload.scenario.text_file import file_text, lines_of
from seaload.waves.spreading import buoy_density, cos2s_density, s_from_first_amplitude

MISSING = 99.0  # whole rows of 99, 999 or 9999 and single values from 999 on are missing
DIRECTIONS = 72  # of the two-dimensional density built from buoy moments
HIGHEST_R1 = 0.99  # s = 99; a buoy cannot tell narrower
R_PERCENT, R_SHARE = (0.0, 105.0, PERCENT), (0.0, 1.05, 1.0)  # least, most (noise passes 1), unit of r1 and r2
SPREADING_SHAPES = ("cos2s", "two harmonics")
PAIR = re.compile(r"([-+.\dM]+)\s*\(\s*([.\d]+)\s*\)")


def read_ndbc(path, record_time, direction_files=None, shape="cos2s"):
    """SeaRecord of one record of an NDBC text file.

    record_time such as 1996-03-13T16:00Z, or None for a file of one record. Without `direction_files` the
    record is one-dimensional. With them (dict alpha1, r1 and, for "two harmonics", alpha2, r2, each a path;
    see `ndbc_direction_files`) it is a density over frequency and 72 directions FROM: shape "cos2s" keeps
    alpha1 and r1 exactly, "two harmonics" is the buoy series with weights 2/3 and 1/6, wider but uses all
    four. Raises InputError for a missing file or record, an unreadable line, no energy.
    """
    path = existing_file(path)
    frequency, times, values = ndbc_table(path)
    row = chosen_index(path, times, record_time)
    density, kept, notes = _usable_density(path, values[row], times[row])
    frequency = frequency[kept]
    if direction_files is None:
        notes.append("the record has no direction: heading and spreading are assumed")
        return checked_record(path, times[row], frequency, density, notes=notes)
    if shape not in SPREADING_SHAPES:
        raise InputError(path, "shape", shape, f"one of {SPREADING_SHAPES}")
    moments = _moments_at(direction_files, times[row], frequency, density, notes, shape)
    direction = np.arange(DIRECTIONS) * (2.0 * np.pi / DIRECTIONS)
    spread = _spread(direction, moments, shape)
    notes.append(f"direction from buoy moments, shape {shape}")
    return checked_record(path, times[row], frequency, density[:, None] * spread, direction=direction, notes=notes)


def ndbc_direction_files(path):
    """Files with alpha1, r1, alpha2, r2 that belong to a density file and lie beside it, as a dict of paths.

    History names differ in one letter (w against d, j, i, k), real-time names in the ending. Raises
    InputError when alpha1 or r1 is not there.
    """
    path = Path(path)
    if path.suffix == ".data_spec":
        endings = {"alpha1": ".swdir", "r1": ".swr1", "alpha2": ".swdir2", "r2": ".swr2"}
        candidates = {name: path.with_suffix(ending) for name, ending in endings.items()}
    else:
        parts = re.match(r"(.*[\d_-])w([\d_-].*|\.[^.]*|)$", path.name)
        if parts is None:
            raise InputError(path, "file", path.name, "a density file with the letter w in its name")
        letters = {"alpha1": "d", "r1": "j", "alpha2": "i", "r2": "k"}
        candidates = {name: path.with_name(parts[1] + letter + parts[2]) for name, letter in letters.items()}
    for name in ("alpha1", "r1"):
        if not candidates[name].is_file():
            raise InputError(candidates[name], "file", candidates[name].name, f"no file with {name} beside")
    return {name: found for name, found in candidates.items() if found.is_file()}


def ndbc_table(path):
    """Frequencies (n,) [Hz], times (m,) datetime64 UTC and values (m, n) as printed, nan = missing."""
    path = existing_file(path)
    (_, first), *lines = lines_of(file_text(path)) or [(1, "")]
    if not first.lstrip("#").strip().startswith("YY"):
        raise InputError(path, "first line", first[:40], "a header that starts with YY")
    header = first.lstrip("#").split()
    time_columns = 5 if len(header) > 4 and header[4] == "mm" else 4
    body = [(number, line) for number, line in lines if not line.startswith("#")]
    if not body:
        raise InputError(path, "file", path.name, "holds a header and no record")
    if "(" in first:
        return _bracketed(path, body, time_columns)
    try:
        frequency = [float(word) for word in header[time_columns:]]
    except ValueError:
        raise InputError(path, "first line", first[:40], "frequencies in Hz behind the time columns") from None
    frequency = checked_bands(path, frequency)
    times, rows = [], []
    for number, line in body:
        words = line.split()
        if len(words) != time_columns + len(frequency):
            raise InputError(path, f"line {number}", len(words), f"{time_columns + len(frequency)} columns")
        times.append(_time(path, number, words[:time_columns]))
        rows.append([_number(path, number, word) for word in words[time_columns:]])
    return frequency, np.array(times, dtype="datetime64[m]"), np.array(rows)


def _bracketed(path, body, time_columns):
    times, rows, bands = [], [], []
    for number, line in body:
        pairs = PAIR.findall(line)
        found = [pair[1] for pair in pairs]
        if not pairs or (bands and found != bands):
            raise InputError(path, f"line {number}", line[:40], "value (frequency), the same bands in each line")
        bands = found
        times.append(_time(path, number, line.split()[:time_columns]))
        rows.append([_number(path, number, pair[0]) for pair in pairs])
    try:
        frequency = [float(word) for word in bands]
    except ValueError:
        raise InputError(path, "frequencies", " ".join(bands)[:40], "numbers in brackets, in Hz") from None
    return checked_bands(path, frequency), np.array(times, dtype="datetime64[m]"), np.array(rows)


def _time(path, number, words):
    try:
        year, month, day, hour = (int(word) for word in words[:4])
        minute = int(words[4]) if len(words) > 4 else 0
        if year < 100:
            year += 1900 if year >= 70 else 2000
        return np.datetime64(f"{year:04d}-{month:02d}-{day:02d}T{hour:02d}:{minute:02d}", "m")
    except ValueError:
        raise InputError(path, f"line {number}", " ".join(words), "year month day hour [minute]") from None


def _number(path, number, word):
    if set(word) == {"M"}:
        return np.nan
    try:
        value = float(word)
    except ValueError:
        value = np.nan
    if not np.isfinite(value):
        raise InputError(path, f"line {number}", word, "a number with a decimal point, or MM for missing")
    return np.nan if value >= 999.0 else value


def _usable_density(path, values, time):
    """Density of the bands that are there, their places, and notes. Missing bands are left out."""
    if np.all(values >= MISSING) and np.ptp(values) == 0.0:
        values = np.full_like(values, np.nan)
    kept = np.isfinite(values)
    if not np.any(kept):
        raise InputError(path, f"record {time_text(time)}", "missing", "every band of this record is missing")
    lost = int(np.sum(~kept))
    notes = [f"{lost} of {len(values)} bands missing, bridged by a straight line"] if lost else []
    return values[kept], kept, notes


def _moments_at(direction_files, time, frequency, density, notes, shape):
    """Directions [rad] and first amplitudes [-] at these frequencies; a gap takes its nearest band."""
    names = ("alpha1", "r1") if shape == "cos2s" else ("alpha1", "r1", "alpha2", "r2")
    moments = {}
    for name in names:
        if name not in direction_files:
            raise InputError(direction_files["alpha1"], "file", name, f"shape {shape} needs {name} too")
        path = direction_files[name]
        bands, times, values = ndbc_table(path)
        row = values[chosen_index(path, times, time)]
        valid = np.isfinite(row)
        if not np.any(valid):
            raise InputError(path, f"record {time_text(time)}", "missing", f"no {name} in this record")
        nearest = np.argmin(np.abs(frequency[:, None] - bands[valid][None, :]), axis=1)
        gap = np.abs(frequency - bands[valid][nearest]) > 1e-6
        lost = int(np.sum(gap & (density > 0.0)))
        if lost:
            notes.append(f"{name} missing in {lost} bands, taken from their neighbours")
        taken = row[valid][nearest]
        percent = Path(path).suffix not in (".swr1", ".swr2")
        least, most, unit = (-360.0, 360.0, DEGREE) if name.startswith("alpha") else R_PERCENT if percent else R_SHARE
        wrong = taken[(taken < least) | (taken > most)]
        if len(wrong):
            raise InputError(path, f"record {time_text(time)}", float(wrong[0]), f"{name} is {least:g} to {most:g}")
        moments[name] = taken * unit if name.startswith("alpha") else np.clip(taken * unit, 0.0, HIGHEST_R1)
    return moments


def _spread(direction, moments, shape):
    """Share of energy per radian (n, d), each row with integral one on the even grid."""
    off = direction[None, :] - moments["alpha1"][:, None]
    if shape == "cos2s":
        s = s_from_first_amplitude(np.maximum(moments["r1"], 0.02))
        spread = cos2s_density(off, s[:, None])
    else:
        spread = buoy_density(
            direction[None, :], *(moments[name][:, None] for name in ("alpha1", "r1", "alpha2", "r2"))
        )
    return spread / (spread.sum(axis=1, keepdims=True) * (2.0 * np.pi / DIRECTIONS))
