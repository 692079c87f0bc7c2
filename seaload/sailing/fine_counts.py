"""A finished case counted once more, in bins of load range fine enough for damage-equivalent loads."""

from dataclasses import replace

import numpy as np

from seaload.fatigue.cycle_matrix import LEAST, MEAN_LOW, MEAN_WIDTH, MEANS, RANGES, RATIO, cycle_matrix

BINS = (LEAST, RATIO, RANGES, MEAN_LOW, MEAN_WIDTH, MEANS)


def finely_counted(record, step):
    """A `CaseRecord` that carries its moments, `step` [s] apart, with a fine matrix and without the moments."""
    moments = record.series["bending_moment"][: int(round(record.duration / step))]
    share = moments / record.normal_limit
    return replace(record, rainflow_count=np.stack([cycle_matrix(column) for column in share.T]), series={})
