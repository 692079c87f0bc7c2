"""Range-mean matrices fine enough for damage-equivalent loads: bins of range in even steps of its logarithm.

A cycle told as the middle of its bin is off by half a step at most, 1.5 %, whatever the slope and wherever in the
matrix it lies; so is every damage-equivalent range worked out from it. Even steps of range, as the march counts, would
be off by as much again at every halving of the load.
"""

import numpy as np

from seaload.fatigue.cycle_list import list_cycles

LEAST, RATIO, RANGES = 0.005, 1.03, 230  # [-] of the normal limit; smaller ones are left out, the last holds all beyond
MEAN_LOW, MEAN_WIDTH, MEANS = -1.5, 0.05, 60  # the first and last bins hold all beyond


def range_edges():
    """Edges of the bins of range [-], (RANGES + 1,), each RATIO times the one before (definition)."""
    return LEAST * RATIO ** np.arange(RANGES + 1)


def range_middles():
    """Geometric middles of the bins of range [-], (RANGES,) (definition)."""
    edges = range_edges()
    return np.sqrt(edges[1:] * edges[:-1])


def mean_middles():
    """Middles of the bins of mean [-], (MEANS,) (definition)."""
    return MEAN_LOW + MEAN_WIDTH * (np.arange(MEANS) + 0.5)


def cycle_matrix(history):
    """Cycles of a load `history` (n,) [-] by range and mean, (RANGES, MEANS) [-], single precision: counts are whole
    and half numbers (ASTM E1049-85; bins: our own).
    """
    found, middle, count, _, _ = list_cycles(history)
    return matrix_of(found, middle, count)


def matrix_of(ranges, means, counts):
    """(RANGES, MEANS) [-] of cycles of `ranges`, `means` [-] of the normal limit and their `counts` [-], (k,) each
    (definition).
    """
    matrix = np.zeros((RANGES, MEANS), dtype=np.float32)
    kept = ranges >= LEAST
    row = np.minimum((np.log(ranges[kept] / LEAST) / np.log(RATIO)).astype(int), RANGES - 1)
    column = np.clip(((means[kept] - MEAN_LOW) / MEAN_WIDTH).astype(int), 0, MEANS - 1)
    np.add.at(matrix, (row, column), counts[kept].astype(np.float32))
    return matrix
