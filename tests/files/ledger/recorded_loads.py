"""Recorded load for the tests of the ledger: made numbers, in shares of the normal limit."""

import numpy as np

from seaload.fatigue.constant_life import reference_scale
from seaload.files.ledger.curve import Curve
from seaload.files.ledger.stretch import PlaceCounter

STEP = 0.1
MORNING = 20_000 * 86400.0 + 86390.0  # [s] ten seconds before midnight UTC
SCALES = [reference_scale(1.0, 2.5, 1.0, slope) for slope in (10.0, 14.0)]
CURVE = Curve(2e-3, 8e-4, 2.5, 1.0, 10.0, 14.0, *SCALES)


def rough_load(samples, seed=1, mean=0.2, spread=0.25):
    """A load that reverses past its limits now and then."""
    generator = np.random.default_rng(seed)
    white = generator.normal(size=samples + 6)
    smooth = np.convolve(white, np.hanning(6) / np.sqrt((np.hanning(6) ** 2).sum()), mode="valid")[:samples]
    return mean + spread * smooth


def stretches_of(times, load, *, place=1, counted=(), setting="", step=STEP, chunk=997, curve=CURVE):
    """Stretches of one file of one place, of the time that is not counted yet."""
    counter = PlaceCounter(place, curve, np.reshape(counted, (-1, 2)))
    for first in range(0, len(times), chunk):
        here = slice(first, first + chunk)
        counter.add(times[here], load[here], step, setting)
    return counter.take()
