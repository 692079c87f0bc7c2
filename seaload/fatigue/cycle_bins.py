"""Bins of the range-mean matrix, one for simulated and recorded loads, so that the two can be laid side by side."""

RANGE_WIDTH, RANGE_BINS = 0.05, 48  # [-] of the normal limit; the last bin holds all beyond
MEAN_LOW, MEAN_WIDTH, MEAN_BINS = -1.2, 0.1, 28  # the first and last bins hold all beyond
