"""Twins: an invented boat in an invented sea, recorded without fault, and the same record with faults put in.

No log of a foil at sea is public. The clean record is invented: a narrow-band sea (sum of sines), five gauges that
follow it with slams that ring at 4 Hz, motions with their exact rates. Every fault is put in by a seed, and where it
was put is told.
"""

from typing import NamedTuple

import netCDF4
import numpy as np

from seaload.fatigue.cycle_list import list_cycles
from seaload.fatigue.miner import miner_damage
from tests.files.log.log_makers import START, described

RATE = 50.0  # [Hz]
GAUGES = tuple(f"load_share_{n}" for n in range(1, 6))
SHARE_OF_FIRST = (1.0, 0.9, 0.75, 0.5, 0.2)
MOTIONS = ("heave", "pitch", "roll", "pitch_rate", "roll_rate", "acceleration_z", "speed", "heel")
UNITS = {name: "share" for name in GAUGES} | {
    "heave": "m", "pitch": "rad", "roll": "rad", "pitch_rate": "rad/s", "roll_rate": "rad/s",
    "acceleration_z": "m/s2", "speed": "m/s", "heel": "rad",
}  # fmt: skip
UNLOADED = 60.0  # [s] at both ends without load


class Twin(NamedTuple):
    """A record, and the moments in which a fault was put into it."""

    time: np.ndarray
    values: dict
    faults: tuple = ()  # of (channel, first moment, last moment)


def clean(minutes=20.0, seed=1, noise=0.01):
    """Twin without fault."""
    rng = np.random.default_rng(seed)
    n = int(minutes * 60.0 * RATE)
    t = np.arange(n) / RATE
    omega = rng.gamma(16.0, 1.3 / 16.0, 40)
    phase = rng.uniform(0.0, 2.0 * np.pi, 40)
    turns = np.outer(t, omega) + phase
    size = np.sqrt(2.0 / 40.0)
    wave, slope, bend = size * np.cos(turns).sum(1), -size * (np.sin(turns) @ omega), -size * (np.cos(turns) @ omega**2)
    late = size * np.cos(turns + 0.7).sum(1)
    late_rate = -size * (np.sin(turns + 0.7) @ omega)
    load = 0.5 + 0.17 * wave
    for moment in rng.uniform(30.0, t[-1], int(t[-1] / 40.0)):
        first = int(moment * RATE)
        after = t[first : first + 100] - t[first]
        load[first : first + 100] -= rng.gamma(3.0, 0.05) * np.exp(-3.0 * after) * np.sin(2.0 * np.pi * 4.0 * after)
    load *= np.clip(np.minimum(t - UNLOADED, t[-1] - UNLOADED - t) / 5.0, 0.0, 1.0)
    values = {g: share * load + rng.normal(0.0, noise, n) for g, share in zip(GAUGES, SHARE_OF_FIRST, strict=True)}
    values |= {
        "heave": 0.8 * wave,
        "pitch": 0.03 * late,
        "roll": 0.05 * wave,
        "pitch_rate": 0.03 * late_rate,
        "roll_rate": 0.05 * slope,
        "acceleration_z": 9.8 + 0.8 * bend,
        "speed": 10.0 + 0.6 * late,
        "heel": 0.3 + 0.05 * wave,
    }
    spread = {"heave": 0.01, "acceleration_z": 0.1, "speed": 0.02}
    for name in MOTIONS:
        values[name] = values[name] + rng.normal(0.0, spread.get(name, 0.001), n)
    return Twin(START + t, {name: np.round(v, 6) for name, v in values.items()})


def sailing(twin, rng, length, count=1, margin=5.0):
    """First samples of `count` whiles of `length` samples, apart from each other and from the unloaded ends."""
    low, high = int((UNLOADED + margin) * RATE), len(twin.time) - int((UNLOADED + margin) * RATE) - length
    slots = np.arange(low, high, length + 200)
    return np.sort(rng.choice(slots, count, replace=False))


def changed(twin, channel, values, faults):
    """The twin with one channel changed."""
    return twin._replace(values={**twin.values, channel: values}, faults=tuple(faults))


def spikes(twin, rng, channel="load_share_2", count=40, width=1):
    """Single samples (or pairs) 0.2 to 0.9 of the limit off, either way."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, width, count):
        values[first : first + width] += rng.choice([-1.0, 1.0]) * rng.uniform(0.2, 0.9)
        faults.append((channel, twin.time[first], twin.time[first + width - 1]))
    return changed(twin, channel, values, faults)


def pairs(twin, rng, count=20):
    """Spikes of two samples."""
    return spikes(twin, rng, count=count, width=2)


def short_holes(twin, rng, channel="load_share_3"):
    """Missing values, one to three at a time."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, 3, 40):
        length = int(rng.integers(1, 4))
        values[first : first + length] = np.nan
        faults.append((channel, twin.time[first], twin.time[first + length - 1]))
    return changed(twin, channel, values, faults)


def long_holes(twin, rng, channel="load_share_3"):
    """A gauge silent for twenty seconds, twice."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, 1000, 2):
        values[first : first + 1000] = np.nan
        faults.append((channel, twin.time[first], twin.time[first + 999]))
    return changed(twin, channel, values, faults)


def lost_rows(twin, rng):
    """The whole logger silent for ten seconds, three times."""
    keep, faults = np.ones(len(twin.time), dtype=bool), []
    for first in sailing(twin, rng, 500, 3):
        keep[first : first + 500] = False
        faults.append(("", twin.time[first - 1], twin.time[first + 500]))
    return Twin(twin.time[keep], {name: v[keep] for name, v in twin.values.items()}, tuple(faults))


def frozen(twin, rng, channel="load_share_1"):
    """A gauge that stands still for half a minute, twice."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, 1500, 2):
        values[first : first + 1500] = values[first]
        faults.append((channel, twin.time[first], twin.time[first + 1499]))
    return changed(twin, channel, values, faults)


def clipped(twin, rng, channel="load_share_1"):
    """A gauge cut off at 85 % of its highest load."""
    level = round(0.85 * float(np.max(twin.values[channel])), 6)
    over = np.flatnonzero(twin.values[channel] > level)
    faults = [(channel, twin.time[i], twin.time[i]) for i in over]
    return changed(twin, channel, np.minimum(twin.values[channel], level), faults)


def out_of_range(twin, rng, channel="pitch"):
    """A motion at a value no sensor gives, for half a second, five times."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, 25, 5):
        values[first : first + 25] = 30.0
        faults.append((channel, twin.time[first], twin.time[first + 24]))
    return changed(twin, channel, values, faults)


def jumps(twin, rng, channel="load_share_4"):
    """A loose contact: a gauge off by 0.8 of the limit for five samples, twenty times."""
    values = twin.values[channel].copy()
    faults = []
    for first in sailing(twin, rng, 5, 20):
        values[first : first + 5] += 0.8
        faults.append((channel, twin.time[first], twin.time[first + 4]))
    return changed(twin, channel, values, faults)


def zero_step(twin, rng, channel="load_share_2"):
    """A zero that jumps by 0.12 of the limit under way."""
    (at,) = sailing(twin, rng, 100, 1, margin=120.0)
    off = 0.12 * (np.arange(len(twin.time)) >= at)
    return changed(twin, channel, twin.values[channel] + off, [(channel, twin.time[at], twin.time[at])])


def zero_drift(twin, rng, channel="load_share_2"):
    """A zero that drifts by 0.1 of the limit from one unloaded while to the other."""
    share = np.clip((twin.time - twin.time[0]) / (twin.time[-1] - twin.time[0]), 0.0, 1.0)
    return changed(twin, channel, twin.values[channel] + 0.1 * share, [(channel, twin.time[0], twin.time[-1])])


def swapped(twin, rng):
    """Gauges 1 and 5 in each other's place."""
    values = {**twin.values, "load_share_1": twin.values["load_share_5"], "load_share_5": twin.values["load_share_1"]}
    return twin._replace(values=values, faults=(("load_share_5", twin.time[0], twin.time[-1]),))


def swapped_rates(twin, rng):
    """Pitch rate and roll rate in each other's place."""
    values = {**twin.values, "pitch_rate": twin.values["roll_rate"], "roll_rate": twin.values["pitch_rate"]}
    return twin._replace(values=values, faults=(("pitch_rate", twin.time[0], twin.time[-1]),))


def flipped(twin, rng, channel="load_share_3"):
    """A channel of the wrong sign."""
    return changed(twin, channel, -twin.values[channel], [(channel, twin.time[0], twin.time[-1])])


def flipped_rate(twin, rng):
    """Roll rate of the wrong sign."""
    return flipped(twin, rng, "roll_rate")


def slow(twin, rng):
    """One sample in twenty-five: two a second."""
    every = slice(None, None, 25)
    values = {name: v[every] for name, v in twin.values.items()}
    return Twin(twin.time[every], values, tuple((g, twin.time[0], twin.time[-1]) for g in GAUGES))


def written(path, time, values):
    """A netCDF file of a record."""
    with netCDF4.Dataset(path, "w") as dataset:
        dataset.createDimension("time", len(time))
        moments = dataset.createVariable("time", "f8", ("time",))
        moments.units = "seconds since 1970-01-01"
        moments[:] = time
        for name, column in values.items():
            dataset.createVariable(name, "f8", ("time",))[:] = column
    return path


def description(folder, twin, columns=None):
    """`Log` of a twin, its unloaded ends told."""
    columns = {"time": ("time", "iso", "")} | {name: (name, UNITS[name], "") for name in columns or twin.values}
    ends = ((twin.time[0] - 1.0, START + UNLOADED - 1.0), (twin.time[-1] - UNLOADED + 1.0, twin.time[-1] + 1.0))
    whiles = "\n".join(
        f'[[unloaded]]\nstart = "{np.datetime64(int(a), "s")}"\nend = "{np.datetime64(int(b), "s")}"' for a, b in ends
    )
    (folder / "diary.csv").write_text("time,extension_percent\n2026-03-13T05:00Z,100\n", encoding="utf-8")
    return described(folder, columns, more='diary = "diary.csv"\n' + whiles)


def wear(values, slope=10.0):
    """Damage of a load history by the range of its cycles alone (Miner, slope 10); what is missing is passed over."""
    ranges, _, counts, _, _ = list_cycles(values[np.isfinite(values)])
    return miner_damage(ranges, counts, slope, 1e6)


def counted(chunks, channel, unrepaired=False):
    """A channel of judged chunks with what is not to be counted left out."""
    parts = []
    for chunk in chunks:
        column = chunk.unrepaired.get(channel, chunk.values[channel]) if unrepaired else chunk.values[channel]
        parts.append(column if unrepaired else np.where(np.isin(chunk.flags[channel], (4, 9)), np.nan, column))
    return np.concatenate(parts)
