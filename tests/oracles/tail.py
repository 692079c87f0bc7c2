"""Load that a tail passes once in a long time."""

import numpy as np


def gpd_return_level(threshold, shape, scale, peak_rate, exposure):
    """Level passed once in `exposure` on average: u + scale/shape ((rate T)^shape - 1); u + scale ln(rate T) at 0."""
    expected = peak_rate * exposure
    if abs(shape) < 1e-9:
        return threshold + scale * np.log(expected)
    return threshold + scale / shape * (expected**shape - 1.0)
