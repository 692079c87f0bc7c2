"""Does the joined rate hold the truth over marched sea? By hand: python -m tests.evidence.rate_coverage FOLDER HOURS

Four settings in four seas with other governing places are marched for HOURS each; the long record is the truth at
levels that are passed about 10, 3, 0.4 and 0.1 times an hour (as far as the hours reach), and samples of 1, 3, 10 and
30 hours are drawn from it without overlap. 1,200 hours make 400 samples of three hours and 40 of thirty. Marched groups
are kept in a folder named by the sources of the model inside FOLDER, so that it goes on where it was stopped, with as
many threads as there are cores. Prints a table and writes FOLDER/rate_coverage.json. Wanted: at least 85 % held, at
most 97 % where five or more events are expected, and a width that falls with the hours.
"""

import json
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np

from seaload.basis.machine_code import source_fingerprint
from seaload.basis.units import DEGREE, HOUR
from seaload.evidence.places import block_extremes
from seaload.evidence.rate_curve import counts_past, rates_of_blocks
from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.executor import all_cores
from seaload.simulation.block import march_block
from seaload.simulation.sea_table import GROUP
from tests.benchmarks.first_study import first_study

HOURLY, SAMPLES = (10.0, 3.0, 0.4, 0.1), (1, 3, 10, 30)
LEAST_EVENTS = 20  # in the whole record, or its own rate is too little known to be held against
LEAST_SAMPLES = 8
LEAST_HELD, MOST_HELD, MANY = 0.85, 0.97, 5.0  # shares of samples, the most of them where so many events are expected
CASES = {  # name: (extension, rake [degrees], Hs factor, waves turned [degrees], side)
    "80 % out, storm on the bow": (0.8, 2.0, 1.0, 0.0, "reverse"),
    "fully out, storm on the bow": (1.0, 4.0, 1.0, 0.0, "normal"),
    "half out, higher sea, nearer ahead": (0.55, 1.0, 1.2, 25.0, "reverse"),
    "80 % out, abeam": (0.8, 3.0, 0.9, -45.0, "reverse"),
}


def marched_group(folder, name, group):
    """(GROUP, blocks) highest share of the limit in the waves of one group, marched where `folder` does not hold it."""
    kept = folder / f"{name.replace(' ', '-').replace(',', '').replace('%', 'percent')}-{group:04d}.npy"
    if not kept.exists():
        extension, rake, height, turn, side = CASES[name]
        study = first_study()
        setting = replace(study.settings[0], extension=extension, rake=rake * DEGREE)
        model = {**study.model, "hs_factor": height, "heading_shift": turn * DEGREE}
        cases = [(setting, GROUP * group + r) for r in range(GROUP)]
        foil = study.boat.foils[study.foil_side]
        records, _ = march_block(study.boat, foil, study.seas[0], cases, study.sampling, model)
        begun = kept.with_suffix(".part.npy")
        np.save(begun, block_extremes(records, f"block_worst_{side}"))
        begun.replace(kept)  # whole or not at all
    return np.load(kept)


def marched_blocks(folder, name, hours):
    """(realisations, blocks) highest share of the limit of one of the CASES in at least so many `hours`."""
    groups = range(int(np.ceil(3.0 * hours / GROUP)))
    with ThreadPoolExecutor(all_cores()) as pool:
        return np.concatenate(list(pool.map(lambda group: marched_group(folder, name, group), groups)))


def level_for(blocks, hourly, hours):
    """Level that groups of blocks pass `hourly` times an hour."""
    low, high = 0.0, 5.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if counts_past(blocks, middle).sum() > hourly * hours else (low, middle)
    return low


def coverage(blocks, hourly):
    """[{hours of a sample, samples, share that hold the rate of all, share below, median ratio of the ends}]."""
    hours, rows = len(blocks) / 3.0, []
    if hourly * hours < LEAST_EVENTS:
        return rows
    level = level_for(blocks, hourly, hours)
    for each in SAMPLES:
        count = len(blocks) // (3 * each)
        if count < LEAST_SAMPLES or level <= 0.0:
            continue
        pieces = [blocks[3 * each * i : 3 * each * (i + 1)] / level for i in range(count)]
        _, low, high = np.array([rates_of_blocks(piece, 10.0, [1.0])[0] for piece in pieces]).T * HOUR
        held = float(np.mean((low <= hourly) & (hourly <= high)))
        rows.append({
            "hours": each, "samples": count, "held": held, "too low": float(np.mean(high < hourly)),
            "width": float(np.median(high / low)),
            "met": bool(held >= LEAST_HELD and (hourly * each < MANY or held <= MOST_HELD)),
        })  # fmt: skip
    return rows


def main(folder, hours):
    """Marches what is missing, tells the coverage, and keeps it."""
    marched = folder / source_fingerprint()
    marched.mkdir(parents=True, exist_ok=True)
    one_blas_thread()
    told = []
    for name in CASES:
        began = time.process_time()
        blocks = marched_blocks(marched, name, hours)
        print(f"{name}: {len(blocks) / 3.0:.0f} h, {(time.process_time() - began) / 60.0:.1f} core-minutes now")
        for hourly in HOURLY:
            for row in coverage(blocks, hourly):
                told.append({"case": name, "rate an hour": hourly, **row})
                print(f"{name:<36} {hourly:>5g}/h  " + "  ".join(f"{key} {value:.3g}" for key, value in row.items()))
    (folder / "rate_coverage.json").write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]))
