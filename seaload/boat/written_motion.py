"""A motion that a person writes down in rows: the smooth history between them, with its rate and acceleration."""

import numpy as np
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator


def joined(time, rows, at):
    """(value, rate, acceleration) of a history at the times `at` (n,) [s]: each (n,), in the unit of the rows, per
    second, per second squared.

    `time` (k,) [s] rising, two or more; `rows` (k,) [any unit] the values then. Cubics that have one slope where they
    meet, so rates are smooth and accelerations may step at a row; between two rows a history never leaves their values.
    Before the first row and after the last it stands still, and starts and ends at rest. Slopes after Fritsch &
    Butland 1984 (monotone cubics), zero at both ends.
    """
    time, rows, at = (np.asarray(each, dtype=float) for each in (time, rows, at))
    slopes = PchipInterpolator(time, rows).derivative()(time)
    slopes[0] = slopes[-1] = 0.0
    history = CubicHermiteSpline(time, rows, slopes)
    moving = (at >= time[0]) & (at <= time[-1])
    held = np.clip(at, time[0], time[-1])
    return history(held), np.where(moving, history(held, 1), 0.0), np.where(moving, history(held, 2), 0.0)
