"""Descriptions and text tables of invented logs."""

from pathlib import Path

import numpy as np

from seaload.scenario.log_spec import read_log_spec

BOAT = Path(__file__).resolve().parents[3] / "scenarios" / "boats" / "demo.toml"
START = 1773380400.0  # 2026-03-13T05:40:00Z
COLUMNS = {
    "stamp": ("time", "iso", ""),
    "gauge 1": ("strain_1", "microstrain", ""),
    "nose": ("pitch", "deg", ""),
}


def described(folder, columns=None, zone="UTC", more=""):
    """`Log` of an invented description: columns {name: (channel, unit, further lines)}."""
    parts = [f'name = "invented"\nboat = "{BOAT.as_posix()}"\nfoil = "port"\ntime_zone = "{zone}"\n{more}']
    for name, (channel, unit, lines) in (COLUMNS if columns is None else columns).items():
        parts.append(f'[columns."{name}"]\nchannel = "{channel}"\nunit = "{unit}"\n{lines}')
    path = folder / "log.toml"
    path.write_text("\n".join(parts), encoding="utf-8")
    return read_log_spec(path)


def iso(seconds, places=3):
    """A UTC moment in ISO 8601 with decimals, no zone written."""
    text = str(np.datetime64(0, "us") + np.timedelta64(round(seconds * 1e6), "us"))
    return text[: 20 + places] if "." in text else text + "." + "0" * places


def table(time, columns, separator=",", decimal=".", quote="", end="\n", stamp="stamp", word=""):
    """Text of a table: a header and rows; nan is written as `word`."""
    lines = [separator.join(f"{quote}{name}{quote}" for name in (stamp, *columns))]
    for i, moment in enumerate(time):
        cells = [iso(moment)]
        for values in columns.values():
            text = word if np.isnan(values[i]) else repr(round(float(values[i]), 4)).replace(".", decimal)
            cells.append(text)
        lines.append(separator.join(f"{quote}{cell}{quote}" for cell in cells))
    return end.join(lines) + end


def motion(n, step=0.02, seed=1):
    """(time, {column: values}) of n rows of an invented boat in an invented sea."""
    rng = np.random.default_rng(seed)
    time = START + step * np.arange(n)
    phase = rng.uniform(0.0, 2.0 * np.pi, 2)
    wave = np.sin(0.9 * (time - START) + phase[0]) + 0.3 * np.sin(2.3 * (time - START) + phase[1])
    return time, {
        "gauge 1": np.round(800.0 + 300.0 * wave + rng.normal(0.0, 5.0, n), 3),
        "nose": np.round(2.0 * wave + 0.5, 4),
    }


def whole(chunks):
    """(time, {channel: values}) of all chunks joined."""
    chunks = list(chunks)
    channels = chunks[0].values
    time = np.concatenate([chunk.time for chunk in chunks])
    return time, {c: np.concatenate([chunk.values[c] for chunk in chunks]) for c in channels}
