"""Log rows: ten hours of five gauges and eight motions at 50 Hz, a text table, read, judged and counted."""

import tempfile
import time
import tracemalloc
from pathlib import Path

import numpy as np

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.rainflow import count_chunk, new_counter
from seaload.files.log.judge import judge
from seaload.files.log.log_chunk import FAIL, Judgement
from seaload.files.log.read_log import read_log
from seaload.scenario.log_spec import read_log_spec
from tests.benchmarks.measuring import row
from tests.files.log.log_makers import BOAT
from tests.files.log.log_twins import GAUGES, UNITS, clean

HOURS, RATE = 10.0, 50.0
GOAL = 30.0  # [s] on two cores; processor time of the one process is told, as the machine may be busy
MEMORY = 400e6  # [bytes]


def described(folder):
    """`Log` of the invented record."""
    columns = {"time": ("time", "iso")} | {name: (name, unit) for name, unit in UNITS.items()}
    parts = [f'name = "ten-hours"\nboat = "{BOAT.as_posix()}"\nfoil = "port"\ntime_zone = "UTC"']
    parts += [f'[columns.{name}]\nchannel = "{channel}"\nunit = "{unit}"' for name, (channel, unit) in columns.items()]
    (folder / "log.toml").write_text("\n".join(parts), encoding="utf-8")
    return read_log_spec(folder / "log.toml")


def written(path, hours):
    """A text table of so many hours: twenty invented minutes over and over, their stamps going on."""
    twin = clean(20.0)
    rows = [",".join(f"{v:.5f}" for v in values) for values in zip(*twin.values.values(), strict=True)]
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(",".join(("time", *twin.values)) + "\n")
        for number in range(int(hours * 3)):
            start = np.datetime64("2026-03-13T05:40:00.000") + np.timedelta64(1_200_000 * number, "ms")
            stamps = np.datetime_as_string(start + np.arange(len(rows)) * np.timedelta64(20, "ms"))
            stream.writelines(f"{stamp},{rest}\n" for stamp, rest in zip(stamps, rows, strict=True))
    return path


def counted(log, path):
    """Samples of the gauges counted, and the judgement."""
    counters = {gauge: new_counter() for gauge in GAUGES}
    histogram, damage, samples, judgement = np.zeros((64, 64)), np.zeros(2), 0, None
    for item in judge(log, [path]):
        if isinstance(item, Judgement):
            judgement = item
            continue
        for gauge, (stacks, states) in counters.items():
            load = item.values[gauge][item.flags[gauge] < FAIL]
            samples += len(load)
            count_chunk(
                load, stacks[0], states[0], CycleBins(0.05, -2.0, 0.1), histogram, damage,
                WearCurve(2.5, 2.5, 10.0, 14.0, 1.0, 1.0),
            )  # fmt: skip
    return samples, judgement


def run():
    """Log rows."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        log = described(folder)
        counted(log, written(folder / "short.csv", 1.0))
        path = written(folder / "long.csv", HOURS)
        began, wall = time.process_time(), time.perf_counter()
        samples, judgement = counted(log, path)
        taken, wall = time.process_time() - began, time.perf_counter() - wall
        assert samples == len(GAUGES) * int(HOURS * 3600.0 * RATE) == len(GAUGES) * judgement.samples
        began = time.process_time()
        for _ in read_log(log, [path]):
            pass
        reading = time.process_time() - began
        sizes = [peak(log, folder / "short.csv"), peak(log, path)]
    name = "log, ten hours of 13 channels at 50 Hz"
    return [
        row(f"{name}: read, judged, counted [processor s]", taken, GOAL, GOAL, "<=", ratio=taken),
        row(f"{name}: the same [s on the clock]", wall, GOAL, GOAL, "<=", ratio=wall),
        row(f"{name}: read once [processor s]", reading, GOAL, None, "<=", ratio=reading),
        row(f"{name}: memory [bytes] over that for one hour", *sizes[::-1], 1.1, "<=", ratio=sizes[1] / sizes[0]),
        row(f"{name}: memory [bytes] beside the libraries", sizes[1], MEMORY, MEMORY, "<=", ratio=sizes[1]),
    ]


def peak(log, path):
    """Peak bytes that reading and judging take."""
    tracemalloc.start()
    counted(log, path)
    size = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return size
