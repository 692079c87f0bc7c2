"""Ratio of two means over the same waves, with its interval."""

import numpy as np
from scipy.special import stdtrit

from seaload.risk.poisson import CONFIDENCE
from seaload.risk.resample import RESAMPLES, resampled_means


def paired_ratio_interval(first, second, *, confidence=CONFIDENCE, resamples=RESAMPLES, generator=None):
    """(ratio, low, high) of the means `first` / `second` over the same realisations [-].

    Arguments as `paired_difference_interval`, both means > 0. The wider of resampling the pairs and
    Student's t on the linearised logarithm of the ratio.
    """
    pair = np.stack([np.asarray(first, dtype=float), np.asarray(second, dtype=float)], axis=1)
    n, means = len(pair), pair.mean(axis=0)
    ratio = means[0] / means[1]
    scaled = pair / means
    generator = np.random.default_rng(0) if generator is None else generator
    drawn = resampled_means(scaled, resamples, generator)
    drawn = drawn[:, 0] / np.where(drawn[:, 1] > 0.0, drawn[:, 1], np.nan)
    low, high = np.nanquantile(drawn, [0.5 - 0.5 * confidence, 0.5 + 0.5 * confidence])
    spread = (scaled[:, 0] - scaled[:, 1]).std(ddof=1)
    half = stdtrit(n - 1, 0.5 + 0.5 * confidence) * spread / np.sqrt(n)
    return ratio, ratio * min(low, np.exp(-half)), ratio * max(high, np.exp(half))
