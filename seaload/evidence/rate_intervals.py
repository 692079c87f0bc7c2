"""Rates and odds of one setting in one sea, each with its 90 % interval; a case that ended makes them "at
least".
"""

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.evidence.places import block_extremes
from seaload.evidence.rate_curve import joined_at
from seaload.risk.poisson import clustered_rate_interval, odds_in_exposure
from seaload.risk.resample import mean_interval

PLACE_RATES = {
    "reverse_excursion_rate": "excursions_full",
    "reverse_excursion_rate_half": "excursions_half",
    "normal_exceedance_rate": "normal_exceedances",
}
EVENT_RATES = {
    "reverse_event_rate": "events_full",
    "reverse_event_rate_half": "events_half",
    "normal_event_rate": "normal_events",
}
SIDES = ("reverse", "normal")


def with_bounds(name, value, low, high):
    """{name, name_low, name_high} as a dictionary."""
    return {name: value, f"{name}_low": low, f"{name}_high": high}


def at_least(records):
    """Whether any case ended early or left the validity: what was counted is then only a lower bound."""
    return any(record.status != STATUS_DONE for record in records)


def counted_rate(counts, total, open_ended):
    """(rate, low, high) of counts (n,) in `total` [s] of n realisations [1/s]; high is infinite when
    open-ended.
    """
    if not total > 0.0:
        return np.nan, 0.0, np.inf
    rate, low, high, _ = clustered_rate_interval(counts, total / len(counts))
    return rate, low, np.inf if open_ended else high


def place_rates(records, total):
    """Excursion rates at the places with bounds, arrays (places,) [1/s]."""
    open_ended, found = at_least(records), {}
    for name, field in PLACE_RATES.items():
        counts = np.array([getattr(record, field) for record in records])
        rows = np.array([counted_rate(column, total, open_ended) for column in counts.T])
        found.update(with_bounds(name, *rows.T))
    return found


def wear_rate(damages, total, open_ended):
    """(rate, low, high, one holds most, too few) of wear per second from damages (n,) of n realisations."""
    if not total > 0.0:
        return np.nan, 0.0, np.inf, False, True
    each = total / len(damages)
    found = mean_interval(damages)
    high = np.inf if open_ended else found.high / each
    return found.mean / each, found.low / each, high, found.one_holds_most, found.too_few


def damage_rates(records, total):
    """Wear at the places with bounds and warnings, arrays (places,)."""
    open_ended, found = at_least(records), {}
    for name, field in (("damage_rate", "damage"), ("damage_rate_steep", "damage_steep")):
        damages = np.array([getattr(record, field) for record in records])
        rows = np.array([wear_rate(column, total, open_ended) for column in damages.T], dtype=float).T
        found.update(with_bounds(name, *rows[:3]))
        if field == "damage":
            found["damage_one_holds_most"], found["damage_too_few"] = rows[3], rows[4]
    return found


def worst_wear(records):
    """Wear of each of several cases at the place that wears most of the bearing and the material outside, (n,)."""
    grid = np.sum([record.grid_damage for record in records], axis=0)
    if records[0].grid_outside is not None:
        grid = np.where(records[0].grid_outside > 0.0, grid, -1.0)
    bearing = sum(record.damage[0] for record in records)
    worst = int(np.argmax(grid))
    return np.array([r.damage[0] if bearing >= grid[worst] else r.grid_damage[worst] for r in records])


def worst_wear_rate(records, total):
    """(rate, low, high) of that wear [1/s]."""
    return wear_rate(worst_wear(records), total, at_least(records))[:3]


def rates_at(records, side, level):
    """(rate, low, high) [1/s] of passing `level` of a limit at any place, from count and tail together."""
    rate, low, high = joined_at(records, side, [level])[0]
    return float(rate), float(low), np.inf if at_least(records) else float(high)


def event_rates(records, total, exposure):
    """Event rates counted and joined, and odds in the `exposure` [s] with forecast and model right; with bounds."""
    open_ended, found = at_least(records), {}
    for name, field in EVENT_RATES.items():
        counts = [getattr(record, field) for record in records]
        found.update(with_bounds(name, *counted_rate(counts, total, open_ended)))
    for side in SIDES:
        rates = rates_at(records, side, 1.0) if total > 0.0 else (np.nan, 0.0, np.inf)
        found.update(with_bounds(f"{side}_event_rate_joined", *rates))
        found.update(with_bounds(f"{side}_odds", *(odds_in_exposure(rate, exposure) for rate in rates)))
        extremes = block_extremes(records, f"block_worst_{side}")
        found[f"{side}_share_worst"] = float(np.nanmax(extremes)) if total > 0.0 else np.nan
    found["rates_at_least"] = float(open_ended)
    return found
