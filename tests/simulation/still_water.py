"""Runs of the demonstration boat in all but still water, for checks of direction and size."""

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from seaload.basis.units import KNOT
from seaload.scenario.records import Sampling
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study

STUDIES = Path(__file__).resolve().parents[2] / "scenarios" / "studies"
STILL = {"hs_factor": 1e-6}


@lru_cache
def demo_study():
    """The first study of the demonstration boat."""
    return load_study(STUDIES / "bow-quarter-swell.toml")


def varied(**changes):
    """The first study's setting with changes in knots, percent and degrees."""
    setting = demo_study().settings[0]
    units = {"speed_knots": ("speed", KNOT), "extension_percent": ("extension", 0.01)}
    units["rake_deg"] = ("rake", np.pi / 180.0)
    units["ballast_shift_m"] = ("ballast_shift", 1.0)
    return replace(setting, **{units[k][0]: v * units[k][1] for k, v in changes.items()})


def still_water_records(settings, seconds=20.0, run_in=20.0, model=None, gust=None):
    """Records of settings side by side in waves of micrometres."""
    study = demo_study()
    sampling = Sampling(seed=1, realisations=1, realisation_time=seconds, run_in=run_in, components=30)
    records, _ = march_block(
        study.boat, study.boat.foils[study.foil_side], study.seas[0],
        [(s, 0) for s in settings], sampling, {**STILL, **(model or {})}, gust=gust,
    )  # fmt: skip
    return records
