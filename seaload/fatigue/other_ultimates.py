"""What other ultimate loads would make of wear that has been counted: the histogram of cycles weighed again."""

import numpy as np

from seaload.fatigue.constant_life import cycle_damage, reference_scale
from seaload.fatigue.cycle_bins import BINS


def binned_wear(counts, normal_ultimate, reverse_ultimate, slope):
    """Wear of counted cycles [-], each taken at the middle of its bin, relative to the reference block.

    `counts` (ranges, means) of `cycle_bins`, in shares of the normal limit; `normal_ultimate`, `reverse_ultimate` [-]
    of the normal limit; `slope` [-] m. ValueError as `reference_scale`. Miner's sum by `cycle_damage`.
    """
    scale = reference_scale(1.0, normal_ultimate, reverse_ultimate, slope)
    worn = 0.0
    for i, j in zip(*np.nonzero(counts), strict=True):
        load_range, mean = (i + 0.5) * BINS.range_width, BINS.mean_low + (j + 0.5) * BINS.mean_width
        worn += counts[i, j] * cycle_damage(load_range, mean, normal_ultimate, reverse_ultimate, slope, scale)
    return worn


def ln_wear_change(counts, ultimates, slope, factors):
    """ln(wear) with both ultimates multiplied by `factors` less that without [-]; nan where no wear can be told so.

    `counts` as in `binned_wear`, `ultimates` (normal, reverse) [-] of the normal limit, `slope` [-], `factors`
    (normal, reverse) [-]. As a boat file with those ultimates would have it (Miner 1945, twice); the width of the bins
    drops out.
    """
    try:
        before = binned_wear(counts, *ultimates, slope)
        after = binned_wear(counts, ultimates[0] * factors[0], ultimates[1] * factors[1], slope)
    except ValueError:
        return np.nan
    return float(np.log(after / before)) if before > 0.0 and after > 0.0 else np.nan
