"""Bins of the range-mean matrix, one for simulated and recorded loads, so that the two can be laid side by side."""

from typing import NamedTuple


class CycleBins(NamedTuple):
    """Where the bins of a range-mean matrix stand; what lies beyond goes into the last (first) one."""

    range_width: float  # [load]
    mean_low: float  # [load] lower edge of the first bin of means
    mean_width: float  # [load]


RANGE_WIDTH, RANGE_BINS = 0.05, 48  # [-] of the normal limit; the last bin holds all beyond
MEAN_LOW, MEAN_WIDTH, MEAN_BINS = -1.2, 0.1, 28  # the first and last bins hold all beyond
BINS = CycleBins(RANGE_WIDTH, MEAN_LOW, MEAN_WIDTH)
