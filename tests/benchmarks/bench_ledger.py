"""Rows of recorded logs: counting alone against a plain loop and against its goal, and a whole day's log read, judged,
counted and told.

    python -m tests.benchmarks.bench_ledger          # the counting rows
    python -m tests.benchmarks.bench_ledger 10 50    # ten hours, and the memory of 50 million samples
"""

import json
import resource
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from seaload.files.ledger.stretch import PlaceCounter
from tests.benchmarks.bench_rainflow import load_history
from tests.benchmarks.measuring import alternating, row
from tests.files.ledger.recorded_loads import CURVE

RATE = 50.0  # [Hz]
SAMPLES = 5_000_000
CHUNK = 65_536
GAUGES, MOTIONS = 5, ("heave", "pitch", "roll", "pitch_rate", "roll_rate", "acceleration_x", "acceleration_z", "speed")
START = 20_000 * 86400.0


def plain_turning_points(load):
    """The least that a loop over samples must do: where a history turns."""
    turns, before, way = 0, load[0], 0.0
    for value in load:
        if value != before:
            towards = 1.0 if value > before else -1.0
            turns += towards != way
            way, before = towards, value
    return turns


def counted(times, load):
    """All that is kept of a place: cycles, wear, excursions, extremes."""
    counter = PlaceCounter(1, CURVE)
    for first in range(0, len(load), CHUNK):
        here = slice(first, first + CHUNK)
        counter.add(times[here], load[here], 1.0 / RATE)
    return counter.take()


def counting_rows():
    """Samples a second of one core, and the ratio to the plain loop."""
    load = 0.4 + 0.2 * load_history(SAMPLES)
    times = START + np.arange(SAMPLES) / RATE
    counted(times[:CHUNK], load[:CHUNK])
    short = load[: SAMPLES // 50].tolist()
    ours, loop = alternating([lambda: counted(times, load), lambda: plain_turning_points(short)], 3)
    speed = SAMPLES / ours / 1e6
    return [
        row("log: counting alone, million samples a second of a core", ours, None, 20, ">=", ratio=speed),
        row("log: counting alone, a plain loop's turning points of as many samples", ours, 50 * loop, None, ">="),
    ]


def written_log(folder, hours, kind="nc"):
    """(description, files) of made loads and motions, an hour a file, netCDF or CSV."""
    folder, files = Path(folder), []
    boat = Path(__file__).resolve().parents[2] / "scenarios" / "boats" / "demo.toml"
    units = {"heave": "m", "speed": "m/s", "acceleration_x": "m/s2", "acceleration_z": "m/s2"}
    rates = dict.fromkeys(("pitch_rate", "roll_rate"), "rad/s")
    channels = {f"strain_{n + 1}": "strain" for n in range(GAUGES)}
    channels |= {name: units.get(name, rates.get(name, "rad")) for name in MOTIONS}
    text = f'name = "day"\nboat = "{boat}"\nfoil = "port"\ntime_zone = "UTC"\n'
    text += '[columns.time]\nchannel = "time"\nunit = "s"\n'
    text += "".join(f'[columns.{name}]\nchannel = "{name}"\nunit = "{unit}"\n' for name, unit in channels.items())
    (folder / "log.toml").write_text(text)
    rows = int(3600 * RATE)
    base = load_history(rows, seed=3)
    for hour in range(hours):
        files.append(folder / f"{hour:03d}.{kind}")
        table = {"time": START + 3600.0 * hour + np.arange(rows) / RATE}
        for k, (name, unit) in enumerate(channels.items()):
            scale = 4e-4 * (1.0 - 0.1 * k) if unit == "strain" else 0.05
            table[name] = (8e-4 if unit == "strain" else 0.0) + scale * np.roll(base, 997 * k + 13 * hour)
        (write_csv if kind == "csv" else write_grid)(files[-1], table, channels)
    return folder / "log.toml", files


def write_grid(path, table, units):
    """One netCDF file."""
    import netCDF4

    with netCDF4.Dataset(path, "w") as file:
        file.createDimension("time", len(table["time"]))
        for name, values in table.items():
            variable = file.createVariable(name, "f8" if name == "time" else "f4", ("time",))
            variable.units = units.get(name, "seconds since 1970-01-01 00:00:00")
            variable[:] = values


def write_csv(path, table, _):
    """One CSV file."""
    formats = ["%.2f", *(["%.4g"] * (len(table) - 1))]
    rows = np.column_stack(list(table.values()))
    np.savetxt(path, rows, fmt=formats, delimiter=",", header=",".join(table), comments="")


def whole_log(hours, kind="nc"):
    """(seconds, processor seconds, peak memory [MB]) of reading, judging, counting and telling in a new process."""
    code = (
        "import sys, json, time, resource\n"
        "from seaload.studies.log.read_log import log_files\n"
        "from seaload.report.write_pages import write_log_pages\n"
        "before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3\n"
        "began, used = time.perf_counter(), time.process_time()\n"
        "done = log_files(sys.argv[1], sys.argv[3:], out=sys.argv[2])\n"
        "write_log_pages(done.dataset, done.result_path.parent)\n"
        "peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3\n"
        "print(json.dumps([time.perf_counter() - began, time.process_time() - used, peak, before]))\n"
    )
    with TemporaryDirectory() as folder:
        log, files = written_log(folder, hours, kind)
        words = [sys.executable, "-c", code, str(log), str(Path(folder) / "out"), *map(str, files)]
        told = subprocess.run(words, capture_output=True, text=True, check=True)
    return json.loads(told.stdout.splitlines()[-1])


def main(words):
    """The counting rows; with numbers, that many hours, and that many million samples."""
    for each in counting_rows():
        print(each["name"], each["ratio"], "goal", each["goal"], "met" if each["met"] else "MISSED")
    if words:
        channels = GAUGES + len(MOTIONS)
        whole_log(1, "csv")  # compiled
        whole_log(1)
        many = round(float(words[1]) * 1e6 / channels / 3600 / RATE)
        for hours, kind in ((int(words[0]), "csv"), (int(words[0]), "nc"), (many, "nc")):
            wall, used, peak, before = whole_log(hours, kind)
            million = hours * 3600 * RATE * channels / 1e6
            print(f"{kind}: {hours} h, {million:.0f} million values: {wall:.1f} s, {used:.1f} s of processor, "
                  f"{peak:.0f} MB at most ({before:.0f} before)")  # fmt: skip


if __name__ == "__main__":
    began = time.perf_counter()
    main(sys.argv[1:])
    print(f"{time.perf_counter() - began:.0f} s, {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3:.0f} MB")
