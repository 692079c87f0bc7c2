"""How well a library tells seas that it was not told: every sea left out of the surfaces, and told by all others.

What points miss by their own sampled waves is not the library's: their squared errors are taken off, as large as the
surfaces found them to be. What points of an hour state of themselves is up to twice as wide.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.library.load_at_rate import HOUR, RATES
from seaload.deciding.library.load_curves import PARTS, SWING, log_swings, swing_errors
from seaload.deciding.library.point import HELD
from seaload.evidence.verdict import DEVIATE, SIDES

BANDS = ((0.1 / HOUR, 3.0 / HOUR), (0.001 / HOUR, 0.1 / HOUR))  # [1/s] rates past the limit that are told apart
MARGIN = 3  # number in RATES of the load that a margin is told by: once in 3.3 hours
ABOUT = (0.5, 1.5)  # [share of the limit] of that load, where it is looked at


class HeldOut(NamedTuple):
    """Of one side, or of one side and band of rates."""

    points: int
    error: float  # root mean square of what is missed, the points' own errors taken off; nan without points
    own: float  # root mean square of those
    inside: float  # [-] share of points within the 90 % interval foreseen


def compared(missed, own, foreseen):
    """`HeldOut` of what is `missed` (n,), with the points' `own` errors (n,) and errors `foreseen` with those in (n,).

    Squares are weighed by what they tell of the rest, one over the squared variance: a point that hardly knows its own
    number counts little (method of moments, DerSimonian & Laird 1986, with other weights).
    """
    if len(missed) == 0:
        return HeldOut(0, np.nan, np.nan, np.nan)
    weights = 1.0 / (own**2 + np.median(own) ** 2) ** 2
    squared, noise = (float(np.average(part**2, weights=weights)) for part in (missed, own))
    inside = float(np.mean(np.abs(missed) <= DEVIATE * foreseen))
    return HeldOut(len(missed), max(squared - noise, 0.0) ** 0.5, noise**0.5, inside)


def held_out(emulator):
    """({(side, number of one of BANDS): `HeldOut` of ln(rate) past the limit}, {side: of the margin [share of it]})."""
    rates, margins = {}, {}
    for i, side in enumerate(SIDES):
        rows, loads, errors = left_out_loads(emulator, side)
        columns = {name: column[rows] for name, column in emulator.shelf.columns.items()}
        met, own = (columns[name][:, i].astype(float) for name in ("load_at_rate", "load_at_rate_error"))
        own *= emulator.recipe(f"{SWING}_{side}").noise
        (told, told_error), (rate, rate_error) = rates_at_limit(loads, errors), rates_at_limit(met, own)
        for number, (low, high) in enumerate(BANDS):
            used = (told >= np.log(low)) & (told < np.log(high)) & np.isfinite(rate)
            foreseen = np.hypot(told_error, rate_error)
            rates[side, number] = compared((rate - told)[used], rate_error[used], foreseen[used])
        load, own = met[:, MARGIN], own[:, MARGIN]
        used = (load > ABOUT[0]) & (load < ABOUT[1])
        foreseen = np.hypot(errors[:, MARGIN], own)
        margins[side] = compared((load - loads[:, MARGIN])[used], own[used], foreseen[used])
    return rates, margins


def left_out_loads(emulator, side):
    """(rows (n,) of the shelf, loads (n, rates) [share of the limit] as other seas tell them, errors (n, rates))."""
    status, columns = emulator.shelf.columns["status"], emulator.shelf.columns
    known = np.all(np.isfinite(columns["load_at_rate"][:, SIDES.index(side)]), axis=1)
    for part in PARTS:
        known &= np.isin(np.arange(len(known)), emulator.rows_of(f"{part}_{side}"))
    rows = np.flatnonzero((status == HELD) & known)
    told = [left_out(emulator, f"{part}_{side}", rows) for part in PARTS]
    (calm, parts), (calm_error, errors) = ((both[0], np.column_stack(both[1:])) for both in zip(*told, strict=True))
    swing = np.exp(log_swings(parts))
    return rows, calm[:, None] + swing, np.hypot(swing_errors(parts, errors) * swing, calm_error[:, None])


def left_out(emulator, name, rows):
    """(value (n,), standard error (n,)) [any] of a quantity at some `rows` of the shelf as other seas tell it."""
    surface, at = emulator.surface(name), np.isin(emulator.rows_of(name), rows)
    return surface.process.left_out()[0][at], left_out_error(surface)[at]


def left_out_error(surface):
    """Standard error (n,) [any] of what other seas tell of the points of a `Surface`, the points' own taken off."""
    error = surface.process.left_out()[1]
    own = surface.recipe.noise * surface.process.told.errors
    return surface.recipe.widening * np.sqrt(np.maximum(error**2 - own**2, 0.0))


def rates_at_limit(loads, errors):
    """(ln(rate) [ln 1/s] past the limit (n,), its standard error (n,)) on curves of `loads` at RATES with `errors`,
    (n, rates) [share of the limit] each; nan beyond the ends.

    The error is that of the load there over how fast loads rise as rates fall: an interval of the rate itself has no
    lower end where nothing was seen.
    """
    found, spread, ln = np.full(len(loads), np.nan), np.full(len(loads), np.nan), np.log(RATES)
    for row, (load, error) in enumerate(zip(loads, errors, strict=True)):
        rising = load + 1e-9 * np.arange(len(load))
        if np.all(np.isfinite(load)) and rising[0] <= 1.0 <= rising[-1]:
            k = min(max(int(np.searchsorted(rising, 1.0)), 1), len(load) - 1)
            share = (1.0 - rising[k - 1]) / (rising[k] - rising[k - 1])
            found[row] = ln[k - 1] + share * (ln[k] - ln[k - 1])
            first, last = max(k - 2, 0), min(k + 1, len(load) - 1)
            spread[row] = (ln[first] - ln[last]) / (rising[last] - rising[first]) * np.interp(1.0, rising, error)
    return found, spread
