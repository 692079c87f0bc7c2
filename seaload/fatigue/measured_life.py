"""Constant-life diagram built from measured carbon coupons, the named choice beside the shifted-Goodman default.

Coupons of a carbon/epoxy laminate [+-45/0_4]S, six load ratios R = min/max, from the SNL/MSU/DOE Composite
Material Fatigue Database v29.0 (2019, read); straight log-log fits of life on stress range made from its records
(derived, run-outs and static tests left out). Between the six rays and the two static strengths the lines of equal
life are straight in amplitude over mean. It is one laminate in a laboratory, not the foil: what it is good for is
to see how much the straight tent of `constant_life` flatters part-reversed load, where its tip is too high.
"""

import numpy as np

TENSION_STRENGTH = 1545.904762  # [MPa] mean of 21 static tests
COMPRESSION_STRENGTH = 1046.947368  # [MPa] mean of 19
# R = min/max stress, m and log10 K of N = K * range^-m, range in MPa
MEASURED_RAYS = (
    (10.0, 58.78786176, 173.2068513),
    (-2.0, 18.56268945, 60.38505185),
    (-1.0, 23.99211169, 80.0532436),
    (-0.5, 32.87474305, 105.5552295),
    (0.1, 47.02183654, 147.847709),
    (0.5, 89.64381052, 256.42141),
)
LONGEST_LOG_LIFE = 40.0  # beyond this a cycle is counted as harmless


def ray_amplitudes(log_life):
    """(mean, amplitude) of each measured ray at 10^log_life cycles, (6, ...) each [MPa], means rising."""
    amplitudes = np.array([0.5 * 10.0 ** ((log_k - log_life) / m) for _, m, log_k in MEASURED_RAYS])
    ratios = np.array([(1.0 + r) / (1.0 - r) for r, _, _ in MEASURED_RAYS])
    means = ratios.reshape((-1,) + (1,) * (amplitudes.ndim - 1)) * amplitudes
    return means, amplitudes


def amplitude_for_life(mean, log_life):
    """Stress amplitude that lasts 10^log_life cycles at this mean stress [MPa], 0 past a static strength.

    mean, log_life : float or arrays of one shape, mean in MPa (+ tension).
    """
    mean, log_life = np.broadcast_arrays(np.asarray(mean, dtype=float), np.asarray(log_life, dtype=float))
    means, amplitudes = ray_amplitudes(log_life)
    ends = np.full((1,) + mean.shape, 1.0)
    means = np.concatenate([-COMPRESSION_STRENGTH * ends, means, TENSION_STRENGTH * ends])
    amplitudes = np.concatenate([0.0 * ends, amplitudes, 0.0 * ends])
    result = np.zeros(mean.shape)
    for i in range(len(means) - 1):
        width = means[i + 1] - means[i]
        share = (mean - means[i]) / np.where(width > 0.0, width, 1.0)
        inside = (share >= 0.0) & (share <= 1.0) & (width > 0.0)
        between = amplitudes[i] + share * (amplitudes[i + 1] - amplitudes[i])
        result = np.where(inside, np.maximum(result, between), result)
    return result


def measured_log_life(amplitude, mean):
    """Base-10 logarithm of the cycles to failure of the coupons [-], 0 at static failure.

    amplitude, mean : float or arrays [MPa], amplitude >= 0, mean + in tension. By bisection.
    """
    amplitude, mean = np.broadcast_arrays(np.asarray(amplitude, dtype=float), np.asarray(mean, dtype=float))
    low, high = np.zeros(amplitude.shape), np.full(amplitude.shape, LONGEST_LOG_LIFE)
    for _ in range(50):
        middle = 0.5 * (low + high)
        lasts = amplitude_for_life(mean, middle) >= amplitude
        low, high = np.where(lasts, middle, low), np.where(lasts, high, middle)
    return low


def measured_damage(load_ranges, means, counts, normal_stress_per_load):
    """Damage sum of counted cycles by the measured diagram, the worse of the two faces [-].

    load_ranges, means : arrays [load], mean + = normal; counts : array [-];
    normal_stress_per_load : float [MPa/load] stress on the face that normal load puts in tension. The
    opposite face sees the same stresses with the sign turned. Cycles beyond the longest life cost nothing.
    """
    amplitude = 0.5 * np.asarray(load_ranges, dtype=float) * normal_stress_per_load
    mean = np.asarray(means, dtype=float) * normal_stress_per_load
    sums = []
    for side in (1.0, -1.0):
        log_life = measured_log_life(amplitude, side * mean)
        harm = np.where(log_life < LONGEST_LOG_LIFE - 1e-6, 10.0**-log_life, 0.0)
        sums.append(float(np.sum(counts * harm)))
    return max(sums)
