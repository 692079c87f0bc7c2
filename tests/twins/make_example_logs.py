"""Writes the example logs in scenarios/logs: made data, a crew's morning of two files with ordinary faults.

    python -m tests.twins.make_example_logs scenarios/logs
"""

import json
import sys
from pathlib import Path

import numpy as np

from seaload.basis.units import MICROSTRAIN
from seaload.files.ledger.curve import foil_curve
from seaload.files.ledger.stretch import PlaceCounter
from seaload.files.ledger.totals import place_total
from seaload.studies.load_study import load_study
from tests.twins.marched_record import STUDY, marched

SURFING = STUDY.with_name("stern-quarter-surfing.toml")  # the rougher leg: a morning with something to tell
TRUTH = Path(__file__).parent / "data" / "morning_truth.json"

MORNING = np.datetime64("2026-03-13T06:10:00.000", "ms")
SECOND = np.datetime64("2026-03-13T06:32:00.000", "ms")
MINUTES = 4.0
UNLOADED = 25.0  # [s] with the foil drawn up, ahead of each file
NOISE = 3.0  # [microstrain] rms
OFFSET = {2: 24.0}  # [microstrain] of station 3: its zero was not taken off
SECOND_EXTENSION = 70.0


def with_unloaded(record, seed):
    """(time, strain, motion) with a while without load ahead, and the noise of the gauges."""
    generator = np.random.default_rng(seed)
    rate = 1.0 / (record.time[1] - record.time[0])
    ahead = int(UNLOADED * rate)
    strain = np.concatenate([np.zeros((ahead, record.strain.shape[1])), record.strain])
    for station, offset in OFFSET.items():
        strain[:, station] += offset
    strain += NOISE * generator.standard_normal(strain.shape)
    motion = {
        name: np.concatenate([np.full(ahead, values[0]) + 0.02 * generator.standard_normal(ahead), values])
        for name, values in record.motion.items()
    }
    return np.arange(len(strain)) / rate, strain, motion


def with_faults(strain, rate):
    """Two spikes, a gauge that froze for a while, a few samples lost: what a morning brings."""
    spoilt = strain.copy()
    at = lambda second: int(second * rate)  # noqa: E731
    spoilt[at(70.0), 1] += 900.0
    spoilt[at(151.35), 3] -= 700.0
    spoilt[at(200.0) : at(212.0), 4] = spoilt[at(200.0), 4]
    spoilt[at(120.0) : at(120.0) + 3, 0] = np.nan
    return spoilt


def written(path, start, time, strain, motion, left_out=()):
    """One CSV; `left_out` (first, last) [s] rows that the logger never wrote."""
    heads = ["time_utc", *(f"strain_{n + 1}_microstrain" for n in range(strain.shape[1])), *motion]
    lines = [",".join(heads)]
    for i, now in enumerate(time):
        if left_out and left_out[0] <= now < left_out[1]:
            continue
        stamp = start + np.timedelta64(int(round(1000.0 * now)), "ms")
        gauges = ["" if np.isnan(value) else f"{value + 0.0:.1f}" for value in strain[i]]
        lines.append(",".join([f"{stamp}Z", *gauges, *(f"{values[i]:.3f}" for values in motion.values())]))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def wear_of(times, loads):
    """Wear of every station [-] without a fault: loads (n, stations) shares of the normal limit."""
    boat = load_study(STUDY).boat
    curve = foil_curve(boat.foils["port"])
    found = []
    for column in loads.T:
        counter = PlaceCounter(1, curve)
        counter.add(times, np.ascontiguousarray(column), float(np.median(np.diff(times))))
        found.append(float(place_total(counter.take(), curve).damage[0]))
    return found


def truths(record, time, strain, left_out):
    """Wear as marched, and of the log without its faults (noise it has) where the logger wrote; both from the unloaded
    while on. strain (n, stations) [microstrain] without faults.
    """
    ahead = np.zeros((int(UNLOADED / record.step), record.load.shape[1]))
    march = np.concatenate([ahead, record.load])
    kept = np.ones(len(time), dtype=bool)
    if left_out:
        kept = (time < left_out[0]) | (time >= left_out[1])
    strain = strain.copy()
    for station, offset in OFFSET.items():
        strain[:, station] -= offset
    logged = strain * MICROSTRAIN / load_study(STUDY).boat.foils["port"].strain_normal
    return {
        "marched": wear_of(record.step * np.arange(len(march)), march),
        "logged": wear_of(time[kept], logged[kept]),
    }


def main(folder):
    """Both files and the diary; the wear without faults beside this script."""
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    true = {}
    for name, start, extension, realisation, left_out in (
        ("morning-1.csv", MORNING, 80.0, 0, (170.0, 178.0)), ("morning-2.csv", SECOND, SECOND_EXTENSION, 1, ()),
    ):  # fmt: skip
        record = marched(MINUTES, extension_percent=extension, realisation=realisation, study=SURFING)
        time, strain, motion = with_unloaded(record, seed=realisation)
        true[name] = truths(record, time, strain, left_out)
        if realisation == 0:
            strain = with_faults(strain, 1.0 / (time[1] - time[0]))
        written(folder / name, start, time, strain, motion, left_out)
    TRUTH.parent.mkdir(exist_ok=True)
    TRUTH.write_text(json.dumps(true, indent=1) + "\n", encoding="utf-8")
    (folder / "diary.csv").write_text(
        "time,extension_percent,rake_deg,cant_deg,heel_deg,sails\n"
        f"{MORNING}Z,80,2,30,18,full main and jib\n"
        f"{SECOND}Z,{SECOND_EXTENSION:g},2,30,18,\n".replace(".000Z", "Z"),
        encoding="utf-8",
    )


if __name__ == "__main__":
    main(sys.argv[1])
