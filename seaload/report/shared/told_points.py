"""How far apart two worst loads have to be to be told as different."""

import math

import numpy as np

LEAST_TOLD = 1.0  # [% of the limit]: what is read off a page in whole points


def told_points(answer):
    """Least difference of worst loads [% of the limit] that the paired sampling of this result supports: the middle of
    the half widths of all intervals of what a move does."""
    widths = [
        50.0 * (change.high - change.low)
        for sea in answer.seas for found in sea.moves for change in found.worst_change.values()
        if change is not None and math.isfinite(change.low + change.high)
    ]  # fmt: skip
    return max(float(np.median(widths)), LEAST_TOLD) if widths else LEAST_TOLD
