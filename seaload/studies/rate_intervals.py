"""Rates and odds of one setting in one sea, each with its 90 % interval; a case that ended makes them "at
least".
"""

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.risk.extremes import tail_rate
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
SIDES = {"reverse": ("block_worst_reverse", "events_full"), "normal": ("block_worst_normal", "normal_events")}


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


def worst_damage(records, total, outside):
    """Wear with bounds at the worst place of the bearing and the material outside (`outside`, bool of the
    grid).
    """
    grid = np.where(outside, np.sum([record.grid_damage for record in records], axis=0), -1.0)
    bearing = sum(record.damage[0] for record in records)
    worst = int(np.argmax(grid))
    column = [r.damage[0] if bearing >= grid[worst] else r.grid_damage[worst] for r in records]
    return with_bounds("damage_rate_worst", *wear_rate(column, total, at_least(records))[:3])


def block_extremes(records, name):
    """Highest share in each block, (n, blocks), nan where nothing was sailed."""
    rows = []
    for record in records:
        row = np.array(getattr(record, name), dtype=float)
        sailed = int(np.ceil(record.duration / record.block_time - 1e-9))
        row[sailed:] = np.nan
        rows.append(row)
    return np.array(rows)


def side_odds(side, counted, extremes, total, records, exposure):
    """Odds of one side from count and tail, with bounds, and which of the two carried them.

    Both intervals hold the truth, so the tail carries where its upper bound is the lower one and it
    agrees with the count; else the count does. counted : (rate, low, high) [1/s]; extremes : (n, blocks)
    [-].
    """
    open_ended = at_least(records)
    tail = tail_rate(extremes, records[0].block_time, 1.0) if total > 0.0 else None
    fitted = tail is not None and tail.from_tail
    ends = (tail.rate, tail.low, np.inf if open_ended else tail.high) if fitted else (np.nan,) * 3
    carries = fitted and tail.agrees and tail.high < tail.direct_high
    rates = (ends[0], max(min(ends[0], counted[1]), ends[1]), ends[2]) if carries else counted
    found = with_bounds(f"{side}_event_rate_tail", *ends)
    found.update(with_bounds(f"{side}_event_rate_deciding", *rates))
    found.update(with_bounds(f"{side}_odds", *(odds_in_exposure(rate, exposure) for rate in rates)))
    found.update(with_bounds(f"{side}_odds_direct", *(odds_in_exposure(rate, exposure) for rate in counted)))
    found[f"{side}_from_tail"] = float(carries)
    found[f"{side}_tail_agrees"] = float(tail.agrees) if tail is not None else 1.0
    found[f"{side}_share_worst"] = float(np.nanmax(extremes)) if total > 0.0 else np.nan
    return found


def event_rates(records, total, exposure):
    """Event rates and odds with bounds, from the count and from the tail; `exposure` [s]."""
    open_ended, found = at_least(records), {}
    for name, field in EVENT_RATES.items():
        counts = [getattr(record, field) for record in records]
        found.update(with_bounds(name, *counted_rate(counts, total, open_ended)))
    for side, (blocks, _) in SIDES.items():
        counted = [found[f"{side}_event_rate{end}"] for end in ("", "_low", "_high")]
        found.update(side_odds(side, counted, block_extremes(records, blocks), total, records, exposure))
    found["rates_at_least"] = float(open_ended)
    return found
