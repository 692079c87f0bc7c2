"""A study small enough for a test, and finished cases made up without a march."""

from dataclasses import fields, replace
from pathlib import Path

import numpy as np

from seaload.basis.records import CaseRecord
from seaload.scenario.records import Gust

STUDIES = Path(__file__).resolve().parents[1] / "scenarios" / "studies"
PLACES, GRID, BLOCKS = 6, 51, 6


def shortened(study, realisations=3, time=20.0):
    """A study with little sea in it: seconds, few components, a short gust."""
    sampling = replace(
        study.sampling, realisation_time=time, run_in=10.0, components=30, realisations=realisations,
        most_realisations=0, precision=0.0,
    )  # fmt: skip
    return replace(study, sampling=sampling, gust=Gust(0.3, 1.0, 1.0, np.inf))


def compile_kernels():
    """Have all machine code there, made by two processes side by side where it is not."""
    from seaload.sailing.block_task import BlockTask
    from seaload.sailing.compile_first import compile_apart
    from seaload.studies.load_study import load_study

    study = shortened(load_study(STUDIES / "bow-quarter-swell.toml"))
    setting = study.settings[0]
    foil = study.boat.foils[study.foil_side]
    compile_apart(BlockTask(study.boat, foil, study.seas[0], ((setting, 0),), study.sampling, study.model))


def made_case(**other):
    """A finished case with quiet numbers, and what is said otherwise."""
    values = {}
    for entry in fields(CaseRecord):
        if entry.type is np.ndarray or entry.type == "np.ndarray":
            values[entry.name] = np.zeros(PLACES)
        elif entry.default is None:
            values[entry.name] = None
        elif entry.name == "series":
            values[entry.name] = {}
        else:
            values[entry.name] = 0.0
    for name in values:
        if name.startswith("grid_"):
            values[name] = np.ones(GRID) if name == "grid_outside" else np.zeros(GRID)
        if name.startswith("place_block"):
            values[name] = None
        if name.startswith("block_worst"):
            values[name] = np.full(BLOCKS, 0.1)
    values.update(
        status=0, duration=60.0, stopped_at=np.nan, block_time=10.0, rainflow_count=np.zeros((PLACES, 48, 28)),
        residue=tuple(np.zeros(2) for _ in range(PLACES)), events_half=0, events_full=0, normal_events=0,
    )  # fmt: skip
    return CaseRecord(**{**values, **other})
