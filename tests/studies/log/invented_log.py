"""A recorded log without files: chunks as the reader gives them, of made loads in shares of the normal limit."""

from pathlib import Path

import numpy as np

from seaload.files.log.log_chunk import (
    AFTER_GAP,
    CONTINUES,
    FAIL,
    FIRST,
    GOOD,
    MISSING,
    Judgement,
    LogChunk,
    LogSetting,
)
from tests.files.ledger.recorded_loads import rough_load

BOAT = Path(__file__).parents[2] / "boats" / "former.toml"
STEP = 0.05
NOON = 20_000 * 86400.0 + 43200.0
SETTINGS = (LogSetting(extension=0.8, rake=0.0349), LogSetting(extension=0.7, rake=0.0349, sails="small"))


def log_file(folder, stations=3):
    """Path of a description of a log with strain at some stations, pitch and speed."""
    columns = "".join(
        f'[columns.e{n}]\nchannel = "strain_{n}"\nunit = "microstrain"\n' for n in range(1, stations + 1)
    )
    path = folder / "log.toml"
    path.write_text(
        f'name = "morning"\nboat = "{BOAT}"\nfoil = "port"\ntime_zone = "UTC"\n'
        f'[columns.t]\nchannel = "time"\nunit = "s"\n{columns}'
        '[columns.pitch]\nchannel = "pitch"\nunit = "deg"\n[columns.speed]\nchannel = "speed"\nunit = "knots"\n'
    )
    return path


def loads_of(samples, stations=3):
    """(samples, stations) shares of the normal limit."""
    whole = rough_load(samples, mean=0.2, spread=0.25)
    return np.stack([whole * (1.0 - 0.2 * k) for k in range(stations)], axis=1)


def judged(files, *, chunk=500, spoil=(), settings=SETTINGS):
    """Chunks, then the judgement; `files` : [(name, first second since NOON, loads (n, stations))]. spoil : of
    (channel, index in its file 0, raw value or nan, repaired or not).
    """
    items, samples = [], 0
    for number, (name, start, loads) in enumerate(files):
        times = NOON + start + STEP * np.arange(len(loads))
        for first in range(0, len(loads), chunk):
            here = slice(first, first + chunk)
            values = {f"strain_{k + 1}": 2e-3 * loads[here, k] for k in range(loads.shape[1])}
            values["pitch"] = 0.01 * np.sin(times[here])
            values["speed"] = np.full(len(times[here]), 10.0)
            flags = {channel: np.full(len(v), GOOD, np.uint8) for channel, v in values.items()}
            unrepaired = {}
            for channel, index, raw, repaired in spoil:
                if number == 0 and first <= index < first + len(times[here]):
                    i = index - first
                    unrepaired.setdefault(channel, values[channel].copy())[i] = raw
                    if not repaired:
                        values[channel][i] = raw
                        flags[channel][i] = MISSING if np.isnan(raw) else FAIL
            begins = first == 0
            reason = (FIRST if number == 0 else AFTER_GAP) if begins else CONTINUES
            setting = settings[number % len(settings)]
            items.append(LogChunk(times[here], values, flags, name, begins, reason, setting, unrepaired))
            samples += len(times[here])
    channels = tuple(items[0].values)
    counts = {channel: {"aggregate": {GOOD: samples}} for channel in channels}
    end = float(items[-1].time[-1])
    found = Judgement(channels, samples, float(items[0].time[0]), end, 20.0, counts, (), (), (), (), 0, 0)
    return iter([*items, found])
