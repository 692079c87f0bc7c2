"""How the waves run from one anchor to the next: weights of three anchors at every half step between two.

An anchor holds values and rates along the path. The quintic through three of them (Hermite interpolation, in any text
on numerical analysis) spends its exactness on the longest waves, and misses the short ones, whose slopes count. So its
weights are moved, by least squares, to those that miss least over the sea at hand, met at the speeds a boat has as she
surges: short waves are missed several times less, and anchors can lie half as far apart again.
"""

import numpy as np

from seaload.basis.lane_blend import INSTANTS, PARTS
from seaload.basis.lane_index import lined_up
from seaload.simulation.layout import LANES, Clock

NODES = np.array([-1.0, 0.0, 1.0])  # anchors, in spans from the one before
SPEEDS = np.linspace(0.6, 1.4, 7)  # [-] of the mean speed, that the sea is met at
STIFFNESS = 1e-5  # [-] of a wave's size that a weight is moved for; holds weights where the sea says nothing


def _powers(places, degrees):
    """`places` (n,) to every power below `degrees`, (degrees, n) [-]. Definition."""
    return places ** np.arange(degrees)[:, None]


def _power_slopes(places, degrees):
    """Slopes of `_powers` at `places` (n,), (degrees, n) [-]; `degrees` their number. Calculus."""
    power = np.arange(degrees)[:, None]
    return power * places ** np.maximum(power - 1, 0)


def hermite_weights(shares):
    """Weights (PARTS, n) of values and rates of the three anchors [-] for the value, and for the rate, at `shares`.

    `shares` (n,) [-] of the span between the anchor before and the next; a rate counts a span. Exact for polynomials of
    degree 5 (Hermite interpolation, any text on numerical analysis).
    """
    exact = np.concatenate([_powers(NODES, PARTS), _power_slopes(NODES, PARTS)], axis=1)
    return np.linalg.solve(exact, _powers(shares, PARTS)), np.linalg.solve(exact, _power_slopes(shares, PARTS))


def _fitted(plain, turns, sizes, wanted):
    """Weights (PARTS, n) next to the `plain` ones that miss least of waves.

    `turns` (waves,) [rad] of each over a span, `sizes` (waves,) [-] it counts by, `wanted` (waves, n) complex, what is
    to come out [-].
    """
    values = np.exp(1j * np.outer(turns, NODES))
    rows = np.concatenate([values, 1j * turns[:, None] * values], axis=1)
    missed = sizes[:, None] * (wanted - rows @ plain)
    rows = sizes[:, None] * rows
    holds = STIFFNESS * np.eye(PARTS)
    left = np.concatenate([rows.real, rows.imag, holds])
    right = np.concatenate([missed.real, missed.imag, np.zeros_like(plain)])
    return plain + np.linalg.lstsq(left, right, rcond=None)[0]


def _sizes(components, turns, rate):
    """What each component counts by at one speed [-]: its share in elevation, in rise and, of values, in slope.

    `components` of the sea; `turns` (N,) [rad] over a span; `rate` whether the rates of these are meant.
    """
    a = components.amplitude
    kinds = (a, a * components.omega) if rate else (a, a * components.omega, a * components.wavenumber)
    squares = [(each * turns if rate else each) ** 2 for each in kinds]
    return np.sqrt(sum(each / max(np.sum(each), 1e-300) for each in squares))


def weights_at(components, speed, span, shares):
    """(PARTS, n) weights of values [-] and rates [s] for the value, (PARTS, n) for the rate [1/s], [-], at `shares`.

    `components` of the sea, mean `speed` [m/s] of the boat, `span` [s] between anchors, `shares` (n,) [-] of it. Least
    squares (any text on numerical analysis); what is judged, and by what, is our own choice.
    """
    along = components.wavenumber * np.cos(components.direction)
    met = [span * (along * speed * share - components.omega) for share in SPEEDS]
    turns = np.concatenate(met)
    value, rate = hermite_weights(shares)
    there = np.exp(1j * np.outer(turns, shares))
    sizes = [np.concatenate([_sizes(components, each, kind) for each in met]) for kind in (False, True)]
    value = _fitted(value, turns, sizes[0], there)
    rate = _fitted(rate, turns, sizes[1], 1j * turns[:, None] * there)
    times = np.repeat([1.0, span], len(NODES))[:, None]
    return value * times, rate * times / span


def clock_of(components, speeds, step, anchor_steps, ramp):
    """`Clock` of a march over the sea of `components`, the lanes' mean `speeds` (LANES,) [m/s].

    `step` [s], `anchor_steps` between two anchors, `ramp` [s] from still water to full sea.
    """
    shares = np.arange(1, INSTANTS * anchor_steps + 1) / (INSTANTS * anchor_steps)
    span = step * anchor_steps
    known = {v: np.stack(weights_at(components, v, span, shares)) for v in np.unique(speeds)}  # (2, PARTS, n)
    lanes = np.stack([known[v] for v in speeds], axis=-1)
    blend = np.moveaxis(lanes, 2, 0).reshape(anchor_steps, 2 * INSTANTS * PARTS * LANES)
    return Clock(step, anchor_steps, ramp, lined_up(blend.astype(np.float32)))
