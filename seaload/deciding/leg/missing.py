"""Seas of a leg that a library does not tell: which would have to be marched so that it does."""

from typing import NamedTuple

import numpy as np

from seaload.waves.bulk import deep_wavelength

HEIGHT_STEP, PERIOD_STEP, ANGLE_STEP = 0.5, 0.1, np.radians(30.0)  # [m], [-] of ln(period), [rad]; our own choice
MOST_SEAS = 24  # marched at once


class Missing(NamedTuple):
    """Seas that are not covered."""

    seas: np.ndarray  # (k, 3) height [m], period [s], angle [rad] to march, those met most first
    share: float  # [-] of the seas that may be met
    steep: float  # [-] of them steeper than a march is valid for: they stay untold


def missing_seas(hs, tp, angle, outside, steepest):
    """`Missing` of seas (r,) that may be met, `outside` (r,) bool those that the library does not cover; steepest : [-]
    height over peak wavelength that a march is valid for.

    One for each cell of a coarse grid, the highest in it: what lies between is then covered.
    """
    seas = np.column_stack([hs, tp, angle])[outside]
    steep = seas[:, 0] > steepest * deep_wavelength(seas[:, 1])
    able = seas[~steep]
    share, lost = (float(len(part)) / max(len(outside), 1) for part in (seas, seas[steep]))
    if not len(able):
        return Missing(np.zeros((0, 3)), share, lost)
    cells = np.floor(np.column_stack([
        able[:, 0] / HEIGHT_STEP, np.log(able[:, 1]) / PERIOD_STEP, able[:, 2] / ANGLE_STEP,
    ])).astype(int)  # fmt: skip
    _, number, count = np.unique(cells, axis=0, return_inverse=True, return_counts=True)
    number = number.reshape(-1)
    order = np.lexsort((*able.T[::-1], -able[:, 0], number))
    first = np.concatenate([[True], np.diff(number[order]) > 0])
    highest = able[order[first]]
    return Missing(highest[np.argsort(-count, kind="stable")][:MOST_SEAS], share, lost)
