"""Does the joined rate hold the truth over marched sea? By hand: python -m tests.evidence.rate_coverage FOLDER HOURS

Four settings in four seas with other governing places are marched for HOURS each, kept in FOLDER and reused; the long
record is the truth at levels that are passed about 10, 3, 0.4 and 0.1 times an hour (as far as the hours reach), and
samples of 1, 3, 10 and 30 hours are drawn from it without overlap. Prints a table and writes FOLDER/rate_coverage.json.
"""

import json
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

from seaload.basis.units import DEGREE, HOUR
from seaload.evidence.places import block_extremes
from seaload.evidence.rate_curve import counts_past, rates_of_blocks
from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation.block import march_block
from seaload.simulation.sea_table import GROUP
from tests.benchmarks.first_study import first_study

HOURLY, SAMPLES = (10.0, 3.0, 0.4, 0.1), (1, 3, 10, 30)
LEAST_EVENTS = 20  # in the whole record, or its own rate is too little known to be held against
LEAST_SAMPLES = 8
CASES = {  # name: (extension, rake [degrees], Hs factor, waves turned [degrees], side)
    "80 % out, storm on the bow": (0.8, 2.0, 1.0, 0.0, "reverse"),
    "fully out, storm on the bow": (1.0, 4.0, 1.0, 0.0, "normal"),
    "half out, higher sea, nearer ahead": (0.55, 1.0, 1.2, 25.0, "reverse"),
    "80 % out, abeam": (0.8, 3.0, 0.9, -45.0, "reverse"),
}


def marched_blocks(folder, name, hours):
    """(realisations, blocks) highest share of the limit, marched in groups of GROUP and kept in `folder`."""
    extension, rake, height, turn, side = CASES[name]
    study, whole = first_study(), int(np.ceil(3.0 * hours / GROUP))
    setting = replace(study.settings[0], extension=extension, rake=rake * DEGREE)
    foil = study.boat.foils[study.foil_side]
    model = {**study.model, "hs_factor": height, "heading_shift": turn * DEGREE}
    rows = []
    for group in range(whole):
        kept = folder / f"{name.replace(' ', '-').replace(',', '').replace('%', 'percent')}-{group:04d}.npy"
        if not kept.exists():
            cases = [(setting, GROUP * group + r) for r in range(GROUP)]
            records, _ = march_block(study.boat, foil, study.seas[0], cases, study.sampling, model)
            np.save(kept, block_extremes(records, f"block_worst_{side}"))
        rows.append(np.load(kept))
    return np.concatenate(rows)


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
        rows.append({
            "hours": each, "samples": count, "held": float(np.mean((low <= hourly) & (hourly <= high))),
            "too low": float(np.mean(high < hourly)), "width": float(np.median(high / low)),
        })  # fmt: skip
    return rows


def main(folder, hours):
    """Marches what is missing, tells the coverage, and keeps it."""
    folder.mkdir(parents=True, exist_ok=True)
    one_blas_thread()
    told = []
    for name in CASES:
        blocks = marched_blocks(folder, name, hours)
        for hourly in HOURLY:
            for row in coverage(blocks, hourly):
                told.append({"case": name, "rate an hour": hourly, **row})
                print(f"{name:<36} {hourly:>5g}/h  " + "  ".join(f"{key} {value:.3g}" for key, value in row.items()))
    (folder / "rate_coverage.json").write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]))
