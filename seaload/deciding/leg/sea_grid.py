"""Seas as places between the nodes of one grid of height, period, angle and lead time, so that a library is asked of a
few seas where a forecast holds thousands.

The grid begins at the lowest height and the longest period that are covered, which lower and longer seas are taken as.
"""

from typing import NamedTuple

import numpy as np

HEIGHT_STEP = 0.2  # [m]
PERIOD_STEP = 0.03  # [-] of ln(period)
ANGLE_STEP = np.radians(5.0)  # [rad], a whole number of them goes round
LEAD_STEP = 0.5 * 86400.0  # [s]
ROUND = int(round(2.0 * np.pi / ANGLE_STEP))
NEAR = 1e-6  # [-] of a step: on a node


class Cells(NamedTuple):
    """Where r seas lie."""

    nodes: np.ndarray  # (k, 4) whole numbers of the nodes they lie between
    corner: np.ndarray  # (r, 16) number in `nodes` of each corner
    weight: np.ndarray  # (r, 16) [-] of each, sum 1


def cells_of(seas, lowest, longest):
    """`Cells` of `seas` (r, 4): height [m], period [s], angle [rad], lead time [s]; the least height and the longest
    period of the grid.
    """
    hs, tp, angle, lead = np.asarray(seas, dtype=float).T
    turned = np.mod(angle, 2.0 * np.pi) / ANGLE_STEP
    places = np.column_stack([
        (hs - lowest) / HEIGHT_STEP, (np.log(longest) - np.log(tp)) / PERIOD_STEP, turned, lead / LEAD_STEP,
    ])  # fmt: skip
    whole = np.floor(places + NEAR)
    share = np.where(places - whole < NEAR, 0.0, places - whole)
    corners, weights = [], []
    for step in np.ndindex(2, 2, 2, 2):
        weight = np.prod(np.where(np.array(step) == 1, share, 1.0 - share), axis=1)
        at = np.where((weight > 0.0)[:, None], whole + step, whole).astype(int)
        at[:, 2] %= ROUND
        corners.append(at)
        weights.append(weight)
    nodes, number = np.unique(np.concatenate(corners), axis=0, return_inverse=True)
    return Cells(nodes, number.reshape(len(corners), -1).T, np.array(weights).T)


def seas_at(nodes, lowest, longest):
    """Seas (k, 4), as of `cells_of`, at whole numbers `nodes` (k, 4)."""
    hs, period, angle, lead = np.asarray(nodes, dtype=float).T
    return np.column_stack([
        lowest + HEIGHT_STEP * hs, longest * np.exp(-PERIOD_STEP * period),
        np.mod(ANGLE_STEP * angle + np.pi, 2.0 * np.pi) - np.pi, LEAD_STEP * lead,
    ])  # fmt: skip
