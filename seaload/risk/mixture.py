"""Long-term values of a load met in many seas: exceedances are mixed by the share of time, never return values.

P(x) = sum of w_i P_i(x) over the seas; the value met once in N blocks is where P(x) = 1/N. Source: long-term
extrapolation of loads as wind-turbine practice has it (IEC 61400-1 annex, from memory; REFERENCES, sizing).
"""

import numpy as np
from scipy.optimize import brentq

FAR = 60.0  # [-] scales beyond the highest location, where every exceedance is nothing


def mixed_exceedance(value, weights, locations, scales):
    """Odds [-] that one block exceeds a `value`: sum of w [1 - exp(-exp(-(x - a)/b))] (Gumbel 1958, mixed).

    `weights` (k,) [-] shares of time; `locations` a and `scales` b (k,) of the block's largest value, in the unit of
    `value` [any].
    """
    reduced = (value - np.asarray(locations)) / np.asarray(scales)
    return float(np.sum(np.asarray(weights) * -np.expm1(-np.exp(-np.clip(reduced, -50.0, None)))))


def mixed_return_value(weights, locations, scales, blocks):
    """Value that one block in `blocks` N [-] exceeds on average, all seas together [same unit as the locations].

    `weights`, `locations`, `scales` as in `mixed_exceedance`; solved by Brent's method (1973). Raises ValueError where
    every share is nothing or `blocks` is not over one over their sum.
    """
    weights, locations, scales = (np.asarray(each, dtype=float) for each in (weights, locations, scales))
    used = weights > 0.0
    if not used.any() or not blocks * weights[used].sum() > 1.0:
        raise ValueError("no sea is met often enough for a value met once in so many blocks")
    low = float(np.min(locations[used] - 8.0 * scales[used]))
    high = float(np.max(locations[used] + FAR * scales[used]))
    miss = lambda value: mixed_exceedance(value, weights, locations, scales) * blocks - 1.0  # noqa: E731
    return float(brentq(miss, low, high, xtol=1e-12 * max(abs(low), abs(high), 1e-300)))


def shares_of(weights, locations, scales, value):
    """Share [-] of each sea in the exceedances of a `value`, (k,); `weights`, `locations`, `scales` as in
    `mixed_exceedance` (definition).
    """
    each = [mixed_exceedance(value, [w], [a], [b]) for w, a, b in zip(weights, locations, scales, strict=True)]
    return np.array(each) / max(sum(each), 1e-300)
