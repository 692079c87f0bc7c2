"""Recorded logs that are made: the march's loads and motions as a boat's logger would have written them.

No recorded load of a foil at sea is public, so a log with known truth is simulated: marched at 50 Hz, low-passed and
sampled by `[logger]`. Faults are put in afterwards, and the truth stays beside them.
"""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy import signal

from seaload.basis.units import DEGREE, KNOT, MICROSTRAIN
from seaload.foil.geometry import limits_at
from seaload.scenario.crew_records import Logger
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study

STUDY = Path(__file__).resolve().parents[2] / "scenarios" / "studies" / "bow-quarter-swell.toml"
LOGGER = Logger(rate=20.0, filter=8.0)  # where the boat file has no [logger]
FILTER_ORDER = 2  # of the low-pass ahead of the sampling


@dataclass(frozen=True)
class Record:
    """What a logger would have written without any fault."""

    time: np.ndarray  # (n,) [s] from the first sample
    strain: np.ndarray  # (n, stations) [microstrain]
    motion: dict  # {column name: (n,) in the unit of its name}
    load: np.ndarray  # (m, stations) shares of the normal limit, every step of the march, as it was
    step: float  # [s] of the march


def marched(minutes, *, realisation=0, extension_percent=80.0, study=STUDY, run_in=120.0):
    """`Record` of some minutes of the study's first sea."""
    loaded = load_study(study)
    foil = loaded.boat.foils[loaded.foil_side]
    sampling = replace(loaded.sampling, realisation_time=60.0 * minutes, run_in=run_in)
    setting = replace(loaded.settings[0], extension=0.01 * extension_percent)
    cases = [(setting, realisation)]
    (case,), _ = march_block(loaded.boat, foil, loaded.seas[0], cases, sampling, loaded.model, keep=0)
    normal_limit, _ = limits_at(foil, foil.stations)
    gauges = slice(1, 1 + len(foil.stations))  # the bearing is no gauge
    load = case.series["bending_moment"][:, gauges].astype(float) / normal_limit
    motion = {
        "heave_m": case.series["heave"],
        "pitch_deg": case.series["pitch"] / DEGREE,
        "roll_deg": case.series["roll"] / DEGREE,
        "speed_knots": case.series["speed"] / KNOT,
    }
    return logged(load, foil.strain_normal, motion, loaded.boat.logger or LOGGER, sampling.step)


def logged(load, strain_normal, motion, logger, step):
    """`Record` through the logger's low-pass and sampling; load (m, stations) shares of the normal limit."""
    moments = step * np.arange(len(load))
    times = np.arange(0.0, moments[-1], 1.0 / logger.rate)

    def sampled(values):
        values = np.asarray(values, dtype=float)
        if np.isfinite(logger.filter) and logger.filter < 0.5 / step:
            sections = signal.butter(FILTER_ORDER, logger.filter, fs=1.0 / step, output="sos")
            start = signal.sosfilt_zi(sections) * values[0]
            values, _ = signal.sosfilt(sections, values, zi=start)
        return np.interp(times, moments, values)

    strain = np.stack([sampled(column) for column in load.T], axis=1) * strain_normal / MICROSTRAIN
    return Record(times, strain, {name: sampled(values) for name, values in motion.items()}, load, step)
