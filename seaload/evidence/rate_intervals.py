"""Rates and odds of one setting in one sea, each with its 90 % interval; a case that ended makes them "at
least".
"""

from dataclasses import replace

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.risk.extremes import exponential_bound, tail_rate
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
LOOKED_AT = 2  # places whose tails are fitted, the likeliest first
LOADED = 0.1  # [-] of the limit: blocks under it say nothing about which place is the worst
FEWEST_LOADED = 20  # blocks
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


def sailed_blocks(record):
    """Number of blocks of a case with any sea in them."""
    return int(np.ceil(record.duration / record.block_time - 1e-9))


def block_extremes(records, name):
    """Highest share in each block, (n, blocks), nan where nothing was sailed."""
    rows = []
    for record in records:
        row = np.array(getattr(record, name), dtype=float)
        row[sailed_blocks(record) :] = np.nan
        rows.append(row)
    return np.array(rows)


def place_extremes(records, side):
    """[(n, blocks) highest share of a limit] of every place outside the hull, the likeliest to pass it first.

    Records without extremes of places give those of all places together.
    """
    if any(getattr(record, f"place_block_{side}") is None for record in records):
        return [block_extremes(records, f"block_worst_{side}")]
    stacked = np.array([getattr(record, f"place_block_{side}") for record in records], dtype=float)
    for row, record in zip(stacked, records, strict=True):
        row[:, sailed_blocks(record) :] = np.nan
    places = [stacked[:, p] for p in range(stacked.shape[1]) if np.any(np.isfinite(stacked[:, p]))]
    return sorted(places, key=reach_of)


def common_place(groups, side):
    """(place, [(n, blocks)] of several groups of records there): the place likeliest to pass its limit in any.

    Place -1 stands for all places together, for records without extremes of each.
    """
    if any(getattr(record, f"place_block_{side}") is None for records in groups for record in records):
        return -1, [block_extremes(records, f"block_worst_{side}") for records in groups]
    stacked = [np.array([getattr(r, f"place_block_{side}") for r in records], dtype=float) for records in groups]
    for rows, records in zip(stacked, groups, strict=True):
        for row, record in zip(rows, records, strict=True):
            row[:, sailed_blocks(record) :] = np.nan
    usable = [p for p in range(stacked[0].shape[1]) if all(np.isfinite(rows[:, p]).any() for rows in stacked)]
    place = min(usable, key=lambda p: min(reach_of(rows[:, p]) for rows in stacked))
    return place, [rows[:, place] for rows in stacked]


def mean_share(records, side, place):
    """Mean load at a place [share of the limit of that side, positive towards it]; 0 for all places together."""
    if place < 0 or any(record.normal_limit is None for record in records):
        return 0.0
    weights = np.array([record.duration for record in records])
    if not weights.sum() > 0.0:
        return 0.0
    moments = np.array([record.moment_mean[place] for record in records])
    toward = -1.0 if side == "reverse" else 1.0
    return float(toward * np.average(moments, weights=weights) / getattr(records[0], f"{side}_limit")[place])


def reach_of(extremes):
    """How many widths of its upper tail a place is away from the limit [-]; small = likely to pass it."""
    values = extremes[np.isfinite(extremes)]
    middle, upper = np.quantile(values, [0.8, 0.98])
    return float((1.0 - upper) / max(upper - middle, 1e-12))


def level_of(records, side, places):
    """Share of the limit [-], at most 1, that the worst place has when the worst of all material reaches
    it.
    """
    together = block_extremes(records, f"block_worst_{side}")
    best = np.fmax.reduce(places)
    used = np.isfinite(together) & (np.nan_to_num(best, nan=-1.0) > LOADED)
    if np.count_nonzero(used) < FEWEST_LOADED:
        return 1.0
    top = np.argsort(together[used], kind="stable")[-FEWEST_LOADED:]
    ratio = float(np.mean(best[used][top]) / np.mean(together[used][top]))
    return min(max(ratio, 0.5), 1.0)


def tail_of_places(records, side, limit=1.0):
    """`TailRate` of the place that passes its limit, or `limit` of it, most often by the tails.

    The ends of its interval are the highest of the places looked at.
    """
    places = place_extremes(records, side)
    level = limit * level_of(records, side, places)
    tails = []
    for extremes in places[:LOOKED_AT]:
        tail = tail_rate(extremes, records[0].block_time, level)
        if tail.from_tail:
            sailed = extremes.size * records[0].block_time
            bound = exponential_bound(tail.peaks, tail.threshold, tail.scale / (1.0 - tail.shape), level, sailed)
            tail = replace(tail, high=max(tail.high, bound))
        tails.append(tail)
    fitted = [tail for tail in tails if tail.from_tail]
    if not fitted:
        return tails[0]
    return replace(
        max(fitted, key=lambda tail: tail.high),
        rate=max(tail.rate for tail in fitted),
        low=max(tail.low for tail in fitted),
        high=max(tail.high for tail in tails),
    )


def rates_at(records, side, level):
    """(rate, low, high) [1/s] of passing `level` of a limit at any place, from the blocks' extremes.

    From the tail or from the count at that level, whichever bound is the lower while the two agree.
    """
    tail = tail_of_places(records, side, level)
    counted = tail.direct_rate, tail.direct_low, tail.direct_high
    if not tail.from_tail or not tail.agrees or tail.direct_high < tail.high:
        rates = counted
    else:
        rates = tail.rate, max(min(tail.direct_low, tail.rate), tail.low), tail.high
    return (*rates[:2], np.inf if at_least(records) else rates[2])


def side_odds(side, counted, total, records, exposure):
    """Odds of one side from count and tail, with bounds, and which of the two carried them.

    Both intervals hold the truth, so the tail carries where its upper bound is the lower one and it
    agrees with the count; else the count does. counted : (rate, low, high) of events [1/s].
    """
    open_ended = at_least(records)
    tail = tail_of_places(records, side) if total > 0.0 else None
    fitted = tail is not None and tail.from_tail
    ends = (tail.rate, tail.low, np.inf if open_ended else tail.high) if fitted else (np.nan,) * 3
    agrees = not fitted or (ends[1] <= counted[2] and counted[1] <= ends[2])
    carries = fitted and agrees and tail.high < counted[2]
    rates = (ends[0], max(min(ends[0], counted[1]), ends[1]), ends[2]) if carries else counted
    found = with_bounds(f"{side}_event_rate_tail", *ends)
    found.update(with_bounds(f"{side}_event_rate_deciding", *rates))
    found.update(with_bounds(f"{side}_odds", *(odds_in_exposure(rate, exposure) for rate in rates)))
    found.update(with_bounds(f"{side}_odds_direct", *(odds_in_exposure(rate, exposure) for rate in counted)))
    found[f"{side}_from_tail"] = float(carries)
    found[f"{side}_tail_agrees"] = float(agrees)
    extremes = block_extremes(records, f"block_worst_{side}")
    found[f"{side}_share_worst"] = float(np.nanmax(extremes)) if total > 0.0 else np.nan
    return found


def event_rates(records, total, exposure):
    """Event rates and odds with bounds, from the count and from the tail; `exposure` [s]."""
    open_ended, found = at_least(records), {}
    for name, field in EVENT_RATES.items():
        counts = [getattr(record, field) for record in records]
        found.update(with_bounds(name, *counted_rate(counts, total, open_ended)))
    for side in SIDES:
        counted = [found[f"{side}_event_rate{end}"] for end in ("", "_low", "_high")]
        found.update(side_odds(side, counted, total, records, exposure))
    found["rates_at_least"] = float(open_ended)
    return found
